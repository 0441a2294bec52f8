package exports

import (
	"strings"

	"tautline/analysis"
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
	// Groups is where it comes from: indices into the groups of the findings, or
	// of the movement; of work over a movement, into Movement.Work.
	Groups []int
}

// forms lists a statement's sentences, the fullest first.
func (s Statement) forms() []string {
	if s.Brief == "" {
		return []string{s.Text}
	}
	return []string{s.Text, s.Brief}
}

// subject is who a sentence is about.
type subject struct {
	nouns   []string // "calf"; "plantar flexors"
	parents []string // of each noun: the region that it is a part of, or ""
	plural  bool
	side    side
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

// sentences makes every clause of a list a sentence.
func sentences(clauses []string) []string {
	said := make([]string, len(clauses))
	for i, c := range clauses {
		said[i] = sentence(c)
	}
	return said
}

// named is the longest list that a sentence holds.
const named = 3

// plural reports whether a plain name is a plural: "hamstrings", but not
// "biceps", "gluteus" or "back of the knees".
func plural(noun string) bool {
	for _, tail := range []string{" of ", " for ", " between ", " under ", " beside ", " behind ", " that ", ",", " ("} {
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
