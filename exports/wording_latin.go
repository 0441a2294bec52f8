package exports

import (
	"fmt"
	"slices"
	"strings"

	"tautline/analysis/body"
)

// Names chooses the language of the muscles' names in the technical voice. What
// groups of muscles do together has no Latin name.
type Names string

const (
	English Names = "english" // "medial head of the gastrocnemius"
	Latin   Names = "latin"   // "gastrocnemius (caput mediale)"
)

// ParseNames reads the name of a language of names.
func ParseNames(name string) (Names, error) {
	switch n := Names(name); n {
	case English, Latin:
		return n, nil
	}
	return "", fmt.Errorf("there are no names in %q: names are %s or %s", name, English, Latin)
}

// speaker makes the speaker that the options ask for.
func (o Options) speaker(m *body.Model) *speaker {
	sp := newSpeaker(m, o.Voice)
	sp.latin = o.Names == Latin
	return sp
}

// trade is what the trade calls a muscle, without its side.
func (sp *speaker) trade(mu *body.Muscle) string {
	if sp.latin {
		whole, part := latinName(mu)
		if part != "" {
			return whole + " (" + part + ")"
		}
		return whole
	}
	return spokenName(bareName(mu.Name, mu.Side))
}

// latinName takes a Latin name apart: "gastrocnemius" and "caput mediale". The
// word for muscle goes without saying.
func latinName(mu *body.Muscle) (whole, part string) {
	name := mu.Latin
	if name == "" {
		return spokenName(bareName(mu.Name, mu.Side)), ""
	}
	for _, word := range []string{"musculus ", "musculi "} {
		name = strings.TrimPrefix(name, word)
	}
	whole, part, _ = strings.Cut(name, ", ")
	return whole, part
}

// latinNouns names muscles in Latin: a muscle all of whose parts are meant goes by
// its own name, and other parts by theirs.
func (sp *speaker) latinNouns(muscles []body.MuscleID) (nouns, parents []string) {
	for _, id := range muscles {
		mu := &sp.model.Muscles[id]
		whole, _ := latinName(mu)
		noun := whole
		for i := range sp.model.Muscles {
			other := &sp.model.Muscles[i]
			if name, _ := latinName(other); name == whole && other.Side == mu.Side && !slices.Contains(muscles, body.MuscleID(i)) {
				noun = sp.trade(mu)
				break
			}
		}
		if !slices.Contains(nouns, noun) {
			nouns, parents = append(nouns, noun), append(parents, whole)
		}
	}
	return nouns, parents
}
