package posture

import (
	"slices"
	"strings"
)

// atom is the longest stretch of a statement that one saying covers, or a
// single word that no saying covers.
type atom struct {
	key   string
	terms []term
	toks  []token
}

func (a atom) from() int { return a.toks[0].from }
func (a atom) to() int   { return a.toks[len(a.toks)-1].to }

// has gives the atom's term of a kind.
func (a atom) has(kind string) (term, bool) {
	for _, t := range a.terms {
		if t.kind == kind {
			return t, true
		}
	}
	return term{}, false
}

func (a atom) is(kinds ...string) bool {
	return slices.ContainsFunc(a.terms, func(t term) bool { return slices.Contains(kinds, t.kind) })
}

// number tells whether the atom is a number with one of the units.
func (a atom) number(units ...string) bool {
	return len(a.toks) == 1 && a.toks[0].kind == numberToken && slices.Contains(units, a.toks[0].unit)
}

// plural tells whether the atom was said in the plural.
func (a atom) plural() bool {
	return slices.ContainsFunc(a.toks, func(t token) bool { return t.plural })
}

// atoms covers a statement with sayings, longest first from the left. Without
// whole, sayings for whole postures (phrases) are left aside, stances are not.
func (x *lexicon) atoms(toks []token, whole bool) []atom {
	var out []atom
	for i := 0; i < len(toks); {
		n := min(x.longest, len(toks)-i)
		for ; n > 1; n-- {
			if a, ok := x.cover(toks[i:i+n], whole); ok && !(a.is("phrase") && x.sideOfNext(toks[i:], n)) {
				break
			}
		}
		a, _ := x.cover(toks[i:i+n], whole)
		out = append(out, a)
		i += n
	}
	return out
}

// sideOfNext tells whether the last of n tokens is a side that belongs to the
// word after it: "bend right" is no lean to the right in "bend right knee".
func (x *lexicon) sideOfNext(toks []token, n int) bool {
	if _, side := x.meaning(toks[n-1].word, "side"); !side || n >= len(toks) {
		return false
	}
	_, joint := x.meaning(toks[n].word, "joint")
	_, patch := x.meaning(toks[n].word, "patch")
	return joint || patch
}

// cover looks a stretch of tokens up. Where a phrase has "#", a number or a word
// for an amount may stand; where it has "@", a number.
func (x *lexicon) cover(toks []token, whole bool) (atom, bool) {
	words, amounts, numbers := make([]string, len(toks)), make([]string, len(toks)), make([]string, len(toks))
	for i, t := range toks {
		words[i] = t.word
		if t.kind == commaToken {
			words[i] = ","
		}
		if t.kind == numberToken && (t.unit == "mass" || t.unit == "force") {
			words[i] = "# " // no saying has it
		}
		amounts[i], numbers[i] = words[i], words[i]
		if words[i] == "#" {
			numbers[i] = "@"
		}
		if _, ok := x.meaning(words[i], "amount"); ok {
			amounts[i] = "#"
		}
	}
	a := atom{key: strings.Join(words, " "), toks: toks}
	for _, key := range []string{a.key, strings.Join(amounts, " "), strings.Join(numbers, " ")} {
		for _, t := range x.terms[key] {
			if t.kind == "phrase" && !whole || t.kind != "phrase" && key != a.key || t.kind == "number" {
				continue
			}
			a.terms = append(a.terms, t)
		}
		if len(a.terms) > 0 {
			return a, true
		}
	}
	return a, false
}

// amountText gives the text that stands for a phrase's "#" or "@".
func (x *lexicon) amountText(a atom) string {
	for _, t := range a.toks {
		if t.kind == numberToken {
			if t.unit == "percent" {
				return decimal(t.value) + " %"
			}
			return decimal(t.value)
		}
	}
	for _, t := range a.toks {
		if _, ok := x.meaning(t.word, "amount"); ok {
			return t.raw
		}
	}
	return ""
}
