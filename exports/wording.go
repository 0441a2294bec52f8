package exports

import (
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// Kind tells what a statement is about.
type Kind string

const (
	Work      Kind = "work"      // a group works, as firmly as its grade says
	Long      Kind = "long"      // a group is drawn long
	Short     Kind = "short"     // a group is near its shortest
	Untold    Kind = "untold"    // what cannot be told
	Lengthens Kind = "lengthens" // a group lengthens over a movement
	Shortens  Kind = "shortens"  // a group shortens over a movement
	Caution   Kind = "caution"   // a specific caution
	Care      Kind = "care"      // the caution of every export
)

// Statement is one finding in one sentence, as it would be said aloud. It
// claims no more than the finding: lengths are geometry and stated, work is
// hedged by its grade.
type Statement struct {
	Kind    Kind
	Grade   analysis.Grade
	Text    string // a whole sentence
	Brief   string // the same in fewer words, a whole sentence too; may be empty
	Figures string // what the sentence rests on, in numbers, for the technical voice; may be empty
	Groups  []int  // where it comes from: indices into the groups of the findings or the movement
}

// subject is who a sentence is about.
type subject struct {
	nouns  []string // "calf"; "plantar flexors"
	plural bool
	side   side
}

// side is where a subject is, in words.
type side string

const (
	nowhere side = ""
	onRight side = "right"
	onLeft  side = "left"
	onBoth  side = "both"
)

// phrase gives ", on both sides" and its like for the end of a clause.
func (s side) phrase() string {
	switch s {
	case onRight, onLeft:
		return " on the " + string(s)
	case onBoth:
		return " on both sides"
	}
	return ""
}

// brief is the side in the fewest words.
func (s side) brief() string {
	if s == onBoth {
		return ", both sides"
	}
	if s == nowhere {
		return ""
	}
	return ", " + string(s)
}

// the gives the subject with its articles: "the calf and the front of the hip".
func (s subject) the() string {
	with := make([]string, len(s.nouns))
	for i, n := range s.nouns {
		with[i] = "the " + n
	}
	return list(with)
}

// pick chooses the form of a verb.
func (s subject) pick(one, many string) string {
	if s.plural {
		return many
	}
	return one
}

// list joins up to three things as they are said: "a, b and c".
func list(items []string) string {
	switch n := len(items); n {
	case 0:
		return ""
	case 1:
		return items[0]
	default:
		return strings.Join(items[:n-1], ", ") + " and " + items[n-1]
	}
}

// sentence makes a clause a sentence.
func sentence(clause string) string { return upperFirst(clause) + "." }

// named is the longest list that a sentence holds.
const named = 3

// subjectOf names a functional group: in plain voice by the muscles that the
// finding rests on, in technical voice by what the group does.
func subjectOf(m *body.Model, movement body.MovementID, toward bool, muscles []body.MuscleID, v Voice) subject {
	mv := &m.Movements[movement]
	s := subject{side: sideOf(m, mv, muscles)}
	if v == Technical {
		s.nouns, s.plural = []string{mv.Agents}, true
		if !toward {
			s.nouns[0] = mv.Against
		}
		return s
	}
	s.nouns = plainNouns(m, muscles)
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

// sideOf tells on which side a group is. Movements of the trunk and the neck
// have no side of their own; their muscles may all lie on one.
func sideOf(m *body.Model, mv *body.Movement, muscles []body.MuscleID) side {
	if mv.Side != body.Middle {
		return side(mv.Side.String())
	}
	found := nowhere
	for i, id := range muscles {
		s := side(m.Muscles[id].Side.String())
		if i > 0 && s != found {
			return nowhere
		}
		found = s
	}
	return found
}

// plainNouns names muscles in everyday words without their side. Parts that
// share their last word are named by it alone ("calf") when no other part of
// that name is left out; otherwise each keeps its own name.
func plainNouns(m *body.Model, muscles []body.MuscleID) []string {
	var nouns []string
	for _, id := range muscles {
		noun := plainNoun(&m.Muscles[id])
		if head := headWord(noun); head != "" && wholeHead(m, head, muscles) {
			noun = head
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

// wholeHead reports whether muscles hold every part of the model that shares
// the head word, on every side that they hold at all, and more than one.
func wholeHead(m *body.Model, head string, muscles []body.MuscleID) bool {
	held := map[body.MuscleID]bool{}
	sides := map[body.Side]bool{}
	for _, id := range muscles {
		held[id] = true
		sides[m.Muscles[id].Side] = true
	}
	parts := 0
	for i := range m.Muscles {
		mu := &m.Muscles[i]
		noun := plainNoun(mu)
		if !sides[mu.Side] || noun != head && headWord(noun) != head {
			continue
		}
		if !held[body.MuscleID(i)] {
			return false
		}
		parts++
	}
	return parts > 1
}

// plural reports whether a plain name is a plural: "hamstrings", but not
// "biceps", "gluteus" or "back of the knees".
func plural(noun string) bool {
	for _, tail := range []string{" of ", " between ", " under ", " beside ", ",", " ("} {
		noun, _, _ = strings.Cut(noun, tail)
	}
	word := noun[strings.LastIndexByte(noun, ' ')+1:]
	for _, one := range []string{"ceps", "us", "is", "ss", "as", "res"} {
		if strings.HasSuffix(word, one) {
			return false
		}
	}
	return strings.HasSuffix(word, "s")
}

// appendNew appends a word that is not yet there.
func appendNew(words []string, word string) []string {
	for _, w := range words {
		if w == word {
			return words
		}
	}
	return append(words, word)
}
