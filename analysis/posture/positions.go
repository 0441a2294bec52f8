package posture

import (
	"math"
	"slices"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// What is read of an angle in degrees.
const (
	turn     = 360 // nothing turns further than once around
	decimals = 9   // finer than anything means, and writable without loss
)

// readPosition reads a clause that states joint positions.
func (r *reader) readPosition(u []atom) {
	c := r.cut(u, "joint")
	inherited := len(c.nouns) == 0
	if inherited {
		if c.nouns = slices.Clone(r.last.nouns); len(c.nouns) == 0 {
			r.fail(u, "no joint is named")
			return
		}
		for i := range c.nouns {
			c.nouns[i].said = false
		}
	}
	if len(c.strength) > 0 {
		r.fail(c.strength, "an effort goes with pull, push or brace: “knees pulled straight firmly”")
		return
	}
	if len(c.amounts) > 1 {
		r.fail(u, "two amounts are given; say one")
		return
	}
	if len(c.without(r.x, "soft")) == 0 && !r.neutral(c) {
		c.residual = r.last.residual
		if len(c.residual) == 0 {
			r.fail(u, "which movement is not said", r.directions(c)...)
			return
		}
	}
	var found []item
	for _, n := range c.nouns {
		items, why, near := r.positions(c, n)
		if why != "" {
			r.fail(u, why, near...)
			return
		}
		found = append(found, items...)
	}
	for _, it := range found {
		r.add(u, it)
	}
	r.last = c
}

// neutral tells whether a clause says only that joints are neutral.
func (r *reader) neutral(c clause) bool {
	if len(c.amounts) != 1 {
		return false
	}
	t, ok := c.amounts[0].has("amount")
	return ok && number(t.means) == 0
}

// positions gives the positions that a clause states of one joint, or why it
// states none.
func (r *reader) positions(c clause, n noun) (items []item, why string, near []string) {
	if len(c.without(r.x, "soft")) == 0 { // neutral in everything
		if r.middle(n.means[0]) && (n.said || len(c.loose) > 0) {
			return nil, noSide(n.means[0]), nil
		}
		one := clause{nouns: []noun{n}, loose: c.loose}
		one.spread()
		n = one.nouns[0]
		for _, mv := range r.movements(n) {
			items = append(items, r.position(n, mv, 0))
		}
		return items, "", nil
	}
	for _, joint := range n.means {
		name, sideUsed, ok := r.form(c, joint)
		if !ok {
			continue
		}
		if r.middle(joint) && n.said && (len(c.loose) > 0 || !sideUsed) {
			return nil, noSide(joint), nil
		}
		if len(c.loose) > 0 && !sideUsed {
			if r.middle(joint) {
				return nil, noSide(joint), nil
			}
			one := clause{nouns: []noun{n}, loose: c.loose}
			one.spread()
			n = one.nouns[0]
		}
		for i, mv := range r.movements(n, joint) {
			m := &r.x.m.Movements[mv]
			toward := m.Toward == name
			if name == "straight" && (i >= len(n.sides) || i > 0 && m.Side == body.Middle) {
				break // straight speaks of the joint's first movement
			}
			if !toward && m.Away != name && name != "straight" {
				continue
			}
			deg, why, near := r.amount(c, m, name, toward)
			if why != "" {
				return nil, why, near
			}
			items = append(items, r.position(n, mv, deg))
		}
		return items, "", nil
	}
	return nil, "not a movement of the " + n.atom.key + " that is known here", r.directions(c)
}

// noSide says that a middle part was given a side.
func noSide(part string) string { return "the " + part + " has no left and right for that" }

// form finds the movement that a clause's words name for a joint. Middle joints
// take "left" and "right" as part of the movement; used tells that they did.
func (r *reader) form(c clause, joint string) (name string, used, ok bool) {
	all := strings.Join(c.residual, " ")
	bare := strings.Join(c.without(r.x, "soft"), " ")
	side := strings.Join(c.loose, " ")
	for _, n := range c.nouns {
		if r.middle(joint) && n.said && n.atom.key != "" && side == "" {
			side = n.sides[0].String() // "right trunk rotation"
		}
	}
	if side == "right" || side == "left" {
		for _, key := range []string{all + " " + side, bare + " " + side, side + " " + bare} {
			if name, ok := r.named(key, joint); ok {
				return name, true, true
			}
		}
	}
	for _, key := range []string{all, bare} {
		if name, ok := r.named(key, joint); ok {
			return name, false, true
		}
	}
	return "", false, false
}

// named finds the movement of a joint that a saying names.
func (r *reader) named(key, joint string) (string, bool) {
	forms := r.x.forms[key]
	for _, special := range []bool{true, false} { // sayings of this joint before those of any
		for _, f := range forms {
			if special != (len(f.joints) > 0) || special && !slices.Contains(f.joints, joint) {
				continue
			}
			if f.name == "straight" || slices.ContainsFunc(r.x.m.Movements, func(m body.Movement) bool {
				return m.Joint == joint && (m.Toward == f.name || m.Away == f.name)
			}) {
				return f.name, true
			}
		}
	}
	return "", false
}

// middle tells whether a joint belongs to neither side.
func (r *reader) middle(joint string) bool {
	i := slices.IndexFunc(r.x.m.Movements, func(m body.Movement) bool { return m.Joint == joint })
	return i >= 0 && r.x.m.Movements[i].Side == body.Middle
}

// movements lists the movements of a noun on its sides; without a joint, of the
// first joint that the noun means.
func (r *reader) movements(n noun, joint ...string) []body.MovementID {
	if len(joint) == 0 {
		joint = n.means[:1]
	}
	var out []body.MovementID
	for id, m := range r.x.m.Movements {
		if m.Joint == joint[0] && (m.Side == body.Middle || slices.Contains(n.sides, m.Side)) {
			out = append(out, body.MovementID(id))
		}
	}
	return out
}

// position makes an item of a position in degrees.
func (r *reader) position(n noun, mv body.MovementID, deg float64) item {
	rank := explicit
	if n.said {
		rank += oneSide
	}
	return item{rank: rank, position: &body.Position{Movement: mv, Value: geom.Deg(deg)}}
}

// amount gives the degrees, positive toward the movement's first name.
func (r *reader) amount(c clause, m *body.Movement, name string, toward bool) (deg float64, why string, near []string) {
	sign, limit := -1.0, -geom.Degrees(m.Lo)
	if toward {
		sign, limit = 1, geom.Degrees(m.Hi)
	}
	limit = max(0, round(limit, 6))
	if name == "straight" {
		if len(c.amounts) > 0 {
			if t, ok := c.amounts[0].has("amount"); !ok || number(t.means) != 100 {
				return 0, "straight leaves no room for an amount", nil
			}
		}
		return 0, "", nil
	}
	if len(c.amounts) == 0 {
		if limit == 0 {
			return 0, "", nil // the range that way ends in the anatomical position
		}
		return 0, "how far is not said: in degrees, or slightly, half or fully", r.amounts(m, name)
	}
	a := c.amounts[0]
	share := math.NaN()
	if t, ok := a.has("amount"); ok {
		share = number(t.means)
	} else if a.toks[0].unit == "percent" {
		share = a.toks[0].value
	}
	if !math.IsNaN(share) {
		if limit == 0 && share > 0 && share != 100 {
			return 0, "the published range ends where that begins; say degrees", nil
		}
		// to a tenth of a degree, which is finer than any of the ranges
		deg = round(share/100*limit, 1)
	} else {
		deg = round(a.toks[0].value, decimals)
	}
	if math.Abs(deg) > turn {
		return 0, "no joint turns that far", nil
	}
	return sign*deg + 0, "", nil // + 0 turns a negative zero positive
}

// amounts offers a movement with the amounts that can be said in words.
func (r *reader) amounts(m *body.Movement, name string) []string {
	what := r.x.joints(m) + " " + r.x.participle[name]
	return []string{what + " slightly", what + " half", what + " fully"}
}

// directions offers the movements of a clause's first joint.
func (r *reader) directions(c clause) []string {
	var out []string
	n := noun{means: c.nouns[0].means, sides: []body.Side{body.Right}}
	for _, joint := range n.means {
		for _, mv := range r.movements(n, joint) {
			m := &r.x.m.Movements[mv]
			for _, name := range []string{m.Toward, m.Away} {
				out = append(out, r.x.joints(m)+" "+r.x.participle[name])
			}
		}
	}
	return out[:min(len(out), 6)]
}

// round rounds to a number of decimal places.
func round(v float64, places int) float64 {
	f := math.Pow(10, float64(places))
	if s := v * f; math.Abs(s) < 1<<52 {
		return math.Round(s) / f
	}
	return v
}
