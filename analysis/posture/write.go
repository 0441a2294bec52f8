package posture

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// Write gives a posture in canonical words: the stance, positions, supports,
// loads and cues, in the order of the model, joined by "; ". Both sides are one
// statement where they are equal. Reading it gives the same posture; angles that
// no decimal number of degrees gives are written to 1e-9 degrees.
func Write(m *body.Model, p body.Posture) string {
	x := lexiconOf(m)
	p.Positions, p.Supports = slices.Clone(p.Positions), slices.Clone(p.Supports)
	p.Loads, p.Cues = slices.Clone(p.Loads), slices.Clone(p.Cues)
	Sort(m, &p)
	var out []string
	if p.Stance != "" {
		st, ok := m.Stance(p.Stance)
		if !ok {
			panic("posture: no stance " + p.Stance)
		}
		out = append(out, st.Name)
	}
	out = append(out, pairs(p.Positions, func(a, b body.Position) bool {
		ma, mb := &m.Movements[a.Movement], &m.Movements[b.Movement]
		return a.Value == b.Value && opposite(ma.Key, mb.Key)
	}, x.position)...)
	var arms []body.Side
	for _, side := range []body.Side{body.Right, body.Left} {
		if p.Hanging.Of(side) {
			arms = append(arms, side)
		}
	}
	out = append(out, pairs(arms, func(a, b body.Side) bool { return true }, func(s body.Side, both bool) string {
		return x.sided("arm", s, both) + " hanging"
	})...)
	out = append(out, pairs(p.Supports, func(a, b body.Support) bool {
		return a.On == b.On && opposite(a.Patch, b.Patch)
	}, x.support)...)
	out = append(out, pairs(p.Loads, func(a, b body.Load) bool {
		return opposite(a.Patch, b.Patch) && a.Kind == b.Kind && a.Mass == b.Mass && a.Force == b.Force && a.Direction == b.Direction
	}, x.load)...)
	out = append(out, pairs(p.Cues, func(a, b body.Cue) bool {
		if a.Kind != b.Kind || a.Toward != b.Toward || a.Intensity != b.Intensity {
			return false
		}
		if a.Patch != "" || b.Patch != "" {
			return opposite(a.Patch, b.Patch)
		}
		return opposite(m.Movements[a.Movement].Key, m.Movements[b.Movement].Key)
	}, x.cue)...)
	return strings.Join(out, "; ")
}

// Statement gives one position in canonical words: "right knee flexed 30°".
func Statement(m *body.Model, p body.Position) string {
	return lexiconOf(m).position(p, false)
}

// Participle gives how a movement's name is said of a joint: "flexed" for
// "flexion". The name itself when the table has none.
func Participle(m *body.Model, name string) string {
	if p, ok := lexiconOf(m).participle[name]; ok {
		return p
	}
	return name
}

// Degrees writes an angle [rad] in degrees, without a sign of degree.
func Degrees(radians float64) string { return exact(radians) }

// opposite tells whether two keys are one thing on either side.
func opposite(a, b string) bool {
	return a != b && body.Bare(a) == body.Bare(b) && body.Bare(a) != a && body.Bare(b) != b
}

// pairs writes a list, items that belong together as one.
func pairs[T any](list []T, paired func(a, b T) bool, write func(t T, both bool) string) []string {
	var out []string
	done := make([]bool, len(list))
	for i, a := range list {
		if done[i] {
			continue
		}
		both := false
		for j := i + 1; j < len(list) && !both; j++ {
			if !done[j] && paired(a, list[j]) {
				done[j], both = true, true
			}
		}
		out = append(out, write(a, both))
	}
	return out
}

// sided names a word on its side.
func (x *lexicon) sided(word string, s body.Side, both bool) string {
	switch {
	case both && x.pluralOf(word) == word: // "fingers" are many on one side
		return "left and right " + word
	case both:
		return "both " + x.pluralOf(word)
	case s == body.Middle:
		return word
	}
	return s.String() + " " + word
}

// joints names a movement's joint without a side.
func (x *lexicon) joints(m *body.Movement) string {
	if m.Side == body.Middle {
		return m.Joint
	}
	return x.pluralOf(m.Joint)
}

func (x *lexicon) position(p body.Position, both bool) string {
	m := &x.m.Movements[p.Movement]
	who := x.sided(m.Joint, m.Side, both)
	switch {
	case p.Value == 0 && x.straight(m):
		return who + " straight"
	case p.Value == 0:
		return who + " neutral in " + m.Toward
	case p.Value > 0:
		return who + " " + x.participle[m.Toward] + " " + exact(p.Value) + "°"
	}
	return who + " " + x.participle[m.Away] + " " + exact(-p.Value) + "°"
}

// straight tells whether a movement's zero is what "straight" says of the joint.
func (x *lexicon) straight(m *body.Movement) bool {
	for i := range x.m.Movements {
		if first := &x.m.Movements[i]; first.Joint == m.Joint {
			if body.Bare(first.Key) != body.Bare(m.Key) {
				return false
			}
			break
		}
	}
	_, ok := (&reader{x: x}).named("straight", m.Joint)
	return ok
}

func (x *lexicon) patch(key string) *body.Patch {
	p, ok := x.m.Patch(key)
	if !ok {
		panic("posture: no patch " + key)
	}
	return p
}

func (x *lexicon) support(s body.Support, both bool) string {
	p := x.patch(s.Patch)
	who := x.sided(p.Word, p.Side, both)
	if s.On == body.Wall {
		return who + " against the " + s.On
	}
	return who + " on the " + s.On
}

func (x *lexicon) load(l body.Load, both bool) string {
	p := x.patch(l.Patch)
	who, many, share := x.sided(x.carrier(p), p.Side, both), both || x.pluralOf(p.Word) == p.Word, 1.0
	if both {
		who, share = who+" together", 2 // both sides share it
	}
	if l.Kind == body.Carry {
		return who + " " + verb("carry", "carries", many) + " " + decimal(share*l.Mass) + " kg"
	}
	push := verb("push", "pushes", many)
	if l.Kind == body.Pull {
		push = verb("pull", "pulls", many)
	}
	return who + " " + push + " " + l.Direction + " " + decimal(share*l.Force) + " N"
}

// carrier is what a patch is called when it carries something.
func (x *lexicon) carrier(p *body.Patch) string {
	if word, ok := x.carriers[body.Bare(p.Key)]; ok {
		return word
	}
	return p.Word
}

func verb(many, one string, plural bool) string {
	if plural {
		return many
	}
	return one
}

func (x *lexicon) cue(c body.Cue, both bool) string {
	strength := "at " + decimal(round(100*c.Intensity, 6)) + " %"
	for _, n := range x.intensities {
		if n.value == c.Intensity {
			strength = n.word
		}
	}
	if c.Patch != "" {
		p := x.patch(c.Patch)
		who := x.sided(p.Word, p.Side, both)
		if c.Kind == body.DrawIn {
			return who + " pulled in " + strength
		}
		return who + " pushed away " + strength
	}
	m := &x.m.Movements[c.Movement]
	who := x.sided(m.Joint, m.Side, both)
	switch {
	case c.Kind == body.Brace:
		return who + " braced in " + m.Toward + " " + strength
	case c.Toward:
		return who + " pulled into " + m.Toward + " " + strength
	}
	return who + " pulled into " + m.Away + " " + strength
}

// exact writes radians as the shortest number of degrees that reads back to
// the same value, if one with up to nine decimals does.
func exact(radians float64) string {
	deg := geom.Degrees(radians)
	for n := 0; n <= decimals; n++ {
		s := strconv.FormatFloat(deg, 'f', n, 64)
		if v, _ := strconv.ParseFloat(s, 64); geom.Deg(v) == radians {
			return s
		}
	}
	return decimal(round(deg, decimals))
}

// decimal writes a number without an exponent and without trailing zeros.
func decimal(v float64) string {
	if math.Abs(v) < 1e-12 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
