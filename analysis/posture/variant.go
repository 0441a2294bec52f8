package posture

import (
	"math"
	"slices"
	"strings"

	"tautline/analysis/body"
)

// Vary reads a variant of a posture: statements that stand against what the
// base says of the same thing, and leave the rest as it is. The reading is of
// the variant's own words; its Posture and Canonical are the whole state that
// comes of it.
//
// Some words have a meaning only against a base: "palms turned" turns the
// forearms to the other side, "without load" and "without cues" take away, and
// supports that make another stance of the base's ("heels down" on the toes) are
// that stance.
func Vary(m *body.Model, base body.Posture, words string) Reading {
	rest, turned, unloaded, uncued := against(words)
	r := Read(m, rest)
	p := Override(m, base, r.Posture)
	if unloaded {
		p.Loads = slices.Clone(r.Posture.Loads)
	}
	if uncued {
		p.Cues = slices.Clone(r.Posture.Cues)
	}
	if turned {
		turnPalms(m, &p)
	}
	Sort(m, &p)
	r.Posture, r.Canonical = p, Write(m, p)
	return r
}

// Override puts the statements of a variant over those of a base.
func Override(m *body.Model, base, variant body.Posture) body.Posture {
	p := body.Posture{Stance: base.Stance}
	supports := base.Supports
	if variant.Stance != "" {
		p.Stance, supports = variant.Stance, nil // another stance rests otherwise
	}
	p.Positions = over(base.Positions, variant.Positions, func(a, b body.Position) bool { return a.Movement == b.Movement })
	p.Hanging = base.Hanging
	for _, side := range []body.Side{body.Right, body.Left} {
		moved := func(pos body.Position) bool { return m.SetsArm(pos.Movement, side) }
		switch {
		case variant.Hanging.Of(side):
			p.Hanging = p.Hanging.With(side, true)
			p.Positions = slices.DeleteFunc(p.Positions, func(pos body.Position) bool {
				return moved(pos) && !slices.Contains(variant.Positions, pos)
			})
		case slices.ContainsFunc(variant.Positions, moved):
			p.Hanging = p.Hanging.With(side, false)
		}
	}
	p.Supports = over(supports, variant.Supports, func(a, b body.Support) bool { return a.Patch == b.Patch })
	p.Loads = over(base.Loads, variant.Loads, func(a, b body.Load) bool {
		return a.Patch == b.Patch && a.Kind == b.Kind && a.Direction == b.Direction
	})
	p.Cues = over(base.Cues, variant.Cues, func(a, b body.Cue) bool {
		return a.Kind == b.Kind && a.Movement == b.Movement && a.Patch == b.Patch
	})
	if variant.Stance == "" && len(variant.Supports) > 0 {
		anotherStance(m, &p)
	}
	if st, ok := m.Stance(p.Stance); ok { // what the stance rests on anyway is not said again
		p.Supports = slices.DeleteFunc(p.Supports, func(s body.Support) bool { return slices.Contains(st.Supports, s) })
	}
	Sort(m, &p)
	return p
}

// over gives the base's items that no item of the variant is about, and the
// variant's.
func over[T any](base, variant []T, same func(a, b T) bool) []T {
	list := []T{}
	for _, a := range base {
		if !slices.ContainsFunc(variant, func(b T) bool { return same(a, b) }) {
			list = append(list, a)
		}
	}
	return append(list, variant...)
}

// anotherStance makes a stance with more supports the stance that rests on all
// of them, if there is one.
func anotherStance(m *body.Model, p *body.Posture) {
	have, ok := m.Stance(p.Stance)
	if !ok || !slices.ContainsFunc(p.Supports, func(s body.Support) bool { return !slices.Contains(have.Supports, s) }) {
		return
	}
	all := append(slices.Clone(have.Supports), p.Supports...)
	for i := range m.Stances {
		st := &m.Stances[i]
		if len(st.Supports) > len(have.Supports) && within(have.Supports, st.Supports) && within(st.Supports, all) {
			p.Stance = st.Key
			return
		}
	}
}

func within(some, all []body.Support) bool {
	return !slices.ContainsFunc(some, func(s body.Support) bool { return !slices.Contains(all, s) })
}

// against takes the statements that mean something only against a base out of
// the words, leaving blanks so that places in the text stay.
func against(words string) (rest string, turned, unloaded, uncued bool) {
	out := []byte(words)
	from := 0
	for from <= len(words) {
		n := strings.IndexAny(words[from:], ";\n")
		to := len(words)
		if n >= 0 {
			to = from + n
		}
		known := true
		switch strings.Join(strings.Fields(strings.ToLower(words[from:to])), " ") {
		case "palms turned", "turn the palms", "turn palms", "palms the other way", "palms turned over":
			turned = true
		case "without load", "without loads", "without the load", "no load", "unloaded", "hands empty":
			unloaded = true
		case "without cues", "without cue", "no cues", "without effort":
			uncued = true
		default:
			known = false
		}
		if known {
			for i := from; i < to; i++ {
				out[i] = ' '
			}
		}
		from = to + 1
	}
	return string(out), turned, unloaded, uncued
}

// turnPalms turns each forearm to the end of its range on the other side.
func turnPalms(m *body.Model, p *body.Posture) {
	now := m.Resolve(body.Posture{Stance: p.Stance, Positions: p.Positions})
	for _, side := range []body.Side{body.Right, body.Left} {
		id, ok := m.Movement("forearm_pronation" + side.Suffix())
		if !ok {
			continue
		}
		value := m.Movements[id].Lo
		if now.Movements[id] < 0 || now.Movements[id] == 0 && math.Abs(m.Movements[id].Lo) < m.Movements[id].Hi {
			value = m.Movements[id].Hi
		}
		p.Positions = over(p.Positions, []body.Position{{Movement: id, Value: value}}, func(a, b body.Position) bool { return a.Movement == b.Movement })
	}
}
