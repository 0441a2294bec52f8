package posture

import (
	"slices"
	"strings"

	"tautline/analysis/body"
)

// noun is one named place of a clause with the sides meant.
type noun struct {
	atom  atom
	means []string // joints or bare patch keys: of the first kind asked for that the word has
	sides []body.Side
	said  bool // the side was said and is one side
}

// clause is a clause cut into its parts.
type clause struct {
	nouns    []noun
	loose    []string // sides that belong to no noun: "left", "right", "both", "each"
	residual []string // words that say what is done
	amounts  []atom   // numbers and words for amounts
	strength []atom   // intensities
	surfaces []string
	verbs    []string
	together bool
	each     bool
}

// cut sorts a clause's atoms. kind is the kind of its nouns: "joint", "patch" or
// "carrier"; with a cue a noun may be either a joint or a patch.
func (r *reader) cut(u []atom, kinds ...string) clause {
	var c clause
	// A word that names a place and also says what is done ("back") is a place
	// only where nothing else is.
	pure := slices.ContainsFunc(u, func(a atom) bool { return a.is(kinds...) && !r.residual(a) })
	var sides []string
	for i, a := range u {
		switch {
		case a.is("side"):
			t, _ := a.has("side")
			sides = append(sides, t.means)
		case a.is("surface") && slices.Contains(kinds, "patch") && !(a.is(kinds...) && !r.laterSurface(u[:i])):
			t, _ := a.has("surface")
			c.surfaces = append(c.surfaces, t.means)
		case a.is(kinds...) && (!pure || !r.residual(a)):
			n := noun{atom: a}
			for _, k := range kinds {
				if t, ok := a.has(k); ok {
					n.means = list(t.means)
					break
				}
			}
			n.sides, n.said = chosen(sides)
			if len(sides) == 0 && len(c.nouns) > 0 && !a.plural() && c.nouns[len(c.nouns)-1].said {
				// "left knee and hip": the hip is the left one too
				n.sides, n.said = c.nouns[len(c.nouns)-1].sides, true
			}
			c.each = c.each || slices.Contains(sides, "each")
			sides = nil
			c.nouns = append(c.nouns, n)
		case a.is("amount") || a.number("", "degree", "percent", "mass", "force"):
			c.amounts = append(c.amounts, a)
		case a.is("intensity"):
			c.strength = append(c.strength, a)
		case a.is("cue") && slices.Contains(kinds, "joint") && slices.Contains(kinds, "patch"):
			t, _ := a.has("cue")
			c.verbs = append(c.verbs, t.means)
		case a.is("together") && slices.Contains(kinds, "carrier"):
			c.together = true
		default:
			c.residual = append(c.residual, a.key)
		}
	}
	c.loose = sides
	c.each = c.each || slices.Contains(sides, "each")
	return c
}

// residual tells whether all words of an atom also say movements.
func (r *reader) residual(a atom) bool {
	for _, w := range strings.Fields(a.key) {
		if !r.x.formWord[w] {
			return false
		}
	}
	return true
}

// laterSurface tells whether a place was named before, so that a word such as
// "seat" is what it rests on.
func (r *reader) laterSurface(before []atom) bool {
	return slices.ContainsFunc(before, func(a atom) bool { return a.is("patch") })
}

// chosen turns side words into sides; one is true when they name one side.
func chosen(words []string) (sides []body.Side, one bool) {
	right, left := slices.Contains(words, "right"), slices.Contains(words, "left")
	switch {
	case right && !left:
		return []body.Side{body.Right}, true
	case left && !right:
		return []body.Side{body.Left}, true
	}
	return []body.Side{body.Right, body.Left}, false
}

// spread gives loose sides to the nouns that have none of their own.
func (c *clause) spread() {
	if len(c.loose) == 0 {
		return
	}
	sides, one := chosen(c.loose)
	for i := range c.nouns {
		if !c.nouns[i].said {
			c.nouns[i].sides, c.nouns[i].said = sides, one
		}
	}
}

// without drops the words of some kinds from the residual.
func (c *clause) without(x *lexicon, kinds ...string) []string {
	return slices.DeleteFunc(slices.Clone(c.residual), func(w string) bool {
		return slices.ContainsFunc(kinds, func(k string) bool { _, ok := x.meaning(w, k); return ok })
	})
}
