package exports

import (
	"strings"

	"tautline/analysis/body"
)

// speaker knows what the muscles and the groups of one model are called in one
// voice.
type speaker struct {
	model *body.Model
	voice Voice
	plain []string       // of each muscle: its plain name without its side
	heads []string       // of each muscle: the last word of its plain name, or ""
	parts map[headAt]int // how many muscles share a head word on one side
}

// headAt is a head word on one side.
type headAt struct {
	word string
	side body.Side
}

func newSpeaker(m *body.Model, v Voice) *speaker {
	sp := &speaker{m, v, make([]string, len(m.Muscles)), make([]string, len(m.Muscles)), map[headAt]int{}}
	for i := range m.Muscles {
		mu := &m.Muscles[i]
		sp.plain[i] = plainNoun(mu)
		sp.heads[i] = headWord(sp.plain[i])
		word := sp.heads[i]
		if word == "" {
			word = sp.plain[i] // a muscle that is called by the head word alone
		}
		sp.parts[headAt{word, mu.Side}]++
	}
	return sp
}

// subject names a functional group: in plain voice by the muscles that the
// finding rests on, in technical voice by what the group does.
func (sp *speaker) subject(movement body.MovementID, toward bool, muscles []body.MuscleID) subject {
	mv := &sp.model.Movements[movement]
	if sp.voice == Technical {
		s := subject{nouns: []string{groupName(mv, toward)}, plural: true}
		if mv.Side != body.Middle { // else the name says it: "left side benders"
			s.side = side(mv.Side.String())
		}
		return s
	}
	s := subject{side: sp.side(mv, muscles), nouns: sp.nouns(muscles)}
	if len(s.nouns) == 0 || len(s.nouns) > named {
		// Too many to name: say what they do together.
		does := mv.Plain
		if !toward {
			does = mv.PlainAway
		}
		s.nouns, s.plural = []string{"muscles for " + does}, true
		return s
	}
	s.plural = len(s.nouns) > 1 || plural(s.nouns[0])
	return s
}

// side tells on which side a group is. Movements of the trunk and the neck have
// no side of their own; their muscles may all lie on one.
func (sp *speaker) side(mv *body.Movement, muscles []body.MuscleID) side {
	if mv.Side != body.Middle {
		return side(mv.Side.String())
	}
	found := nowhere
	for i, id := range muscles {
		s := side(sp.model.Muscles[id].Side.String())
		if i > 0 && s != found {
			return nowhere
		}
		found = s
	}
	return found
}

// nouns names muscles in everyday words without their side. Parts that share
// their last word are named by it alone ("calf") when every part of that name
// is among them; otherwise each keeps its own name, for the head word would
// claim more.
func (sp *speaker) nouns(muscles []body.MuscleID) []string {
	held := map[headAt]int{}
	for _, id := range muscles {
		if word := sp.heads[id]; word != "" {
			held[headAt{word, sp.model.Muscles[id].Side}]++
		}
	}
	var nouns []string
	for _, id := range muscles {
		noun := sp.plain[id]
		at := headAt{sp.heads[id], sp.model.Muscles[id].Side}
		if n := held[at]; n > 1 && n == sp.parts[at] {
			noun = at.word
		}
		nouns = appendNew(nouns, noun)
	}
	return nouns
}

// plainNoun is a muscle's plain name without its side.
func plainNoun(mu *body.Muscle) string {
	name := mu.Plain
	if name == "" {
		name = mu.Name
	}
	return bareName(name, mu.Side)
}

// bareName takes the side off the front of a name.
func bareName(name string, s body.Side) string {
	return strings.TrimPrefix(name, s.String()+" ")
}

// spokenName turns a name of the tables, "gastrocnemius, medial head", into the
// way it is said: "medial head of the gastrocnemius".
func spokenName(name string) string {
	whole, part, ok := strings.Cut(name, ", ")
	if !ok || strings.Contains(part, ",") {
		return name
	}
	return part + " of the " + whole
}

// headWord is the last word of a name of two words or more, such as "calf" in
// "inner calf"; names with a tail ("front of the hip", "neck, deep") have none.
func headWord(noun string) string {
	if strings.Contains(noun, " of ") || strings.Contains(noun, ",") {
		return ""
	}
	if i := strings.LastIndexByte(noun, ' '); i >= 0 {
		return noun[i+1:]
	}
	return ""
}

// groupName is the technical name of a functional group.
func groupName(mv *body.Movement, toward bool) string {
	if toward {
		return mv.Agents
	}
	return mv.Against
}
