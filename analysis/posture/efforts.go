package posture

import (
	"slices"
	"strings"

	"tautline/analysis/body"
)

// The loads of one place that are read: outside them a unit must be wrong.
const (
	leastLoad = 1e-6  // kg or N
	mostMass  = 1000  // kg
	mostForce = 10000 // N
)

// readSupport reads a clause that says what rests on what.
func (r *reader) readSupport(u []atom) {
	c := r.cut(u, "patch")
	c.spread()
	switch {
	case len(c.nouns) == 0:
		r.fail(u, "no part of the body is named that rests there")
	case len(c.surfaces) != 1:
		r.fail(u, "two surfaces are named; say each by itself")
	case len(c.without(r.x, "resting", "soft", "thing")) > 0 || len(c.amounts)+len(c.strength) > 0:
		r.fail(u, "a support says only what rests on what: “heels on the floor”")
	case slices.ContainsFunc(c.nouns, r.wrongSide):
		r.fail(u, "one of these parts has no left and right")
	default:
		for _, n := range c.nouns {
			r.rest(u, n, c.surfaces[0])
		}
	}
}

// rest adds the supports of one noun on one surface.
func (r *reader) rest(u []atom, n noun, on string) {
	t, _ := n.atom.has("patch")
	if bar, ok := n.atom.has("onbar"); ok && on == body.Bar {
		t = bar
	}
	for _, key := range r.patches(list(t.means), n.sides) {
		r.add(u, item{support: &body.Support{Patch: key, On: on}})
	}
}

// patches gives the keys of bare patches on some sides.
func (r *reader) patches(bare []string, sides []body.Side) []string {
	var keys []string
	for _, p := range r.x.m.Patches {
		if slices.Contains(bare, body.Bare(p.Key)) && (p.Side == body.Middle || slices.Contains(sides, p.Side)) {
			keys = append(keys, p.Key)
		}
	}
	return keys
}

// wrongSide tells a noun that names only middle patches, on a side.
func (r *reader) wrongSide(n noun) bool {
	return n.said && !slices.ContainsFunc(r.patches(n.means, n.sides), func(key string) bool { return body.Bare(key) != key })
}

// readLoad reads a clause with a mass or a force. Without "each" a load of both
// hands is theirs together; without any place it is in the hands.
func (r *reader) readLoad(u []atom) {
	c := r.cut(u, "carrier", "patch")
	if len(c.nouns) == 0 {
		c.nouns = []noun{{means: []string{"palm"}}}
		c.nouns[0].sides, _ = chosen(nil)
	}
	load := body.Load{Kind: body.Carry}
	for _, w := range c.residual {
		if t, ok := r.x.meaning(w, "cue"); ok {
			load.Kind = body.LoadKind(t.means)
		}
		if t, ok := r.x.meaning(w, "direction"); ok {
			load.Direction = t.means
		}
	}
	if len(c.loose) == 1 && load.Kind != body.Carry && load.Direction == "" && c.loose[0] != "both" && c.loose[0] != "each" {
		load.Direction = c.loose[0]
	} else {
		c.spread()
	}
	extra := c.without(r.x, "carry", "cue", "direction", "thing", "soft", "resting")
	force := slices.ContainsFunc(c.amounts, func(a atom) bool { return a.number("force") })
	most := float64(mostMass)
	if force {
		most = mostForce
	}
	switch {
	case len(c.amounts) != 1:
		r.fail(u, "one amount is wanted: kilograms to carry, newtons to push or pull")
	case len(c.nouns) > 1:
		r.fail(u, "the share of each place is not said; say each by itself")
	case len(extra) > 0 || len(c.surfaces)+len(c.strength) > 0:
		r.fail(u, "a load says what carries how much: “right hand carries 2 kg”")
	case load.Kind != body.Carry && load.Kind != body.Push && load.Kind != body.Pull:
		r.fail(u, "a load is carried, pushed or pulled")
	case force && load.Kind == body.Carry:
		r.fail(u, "newtons are pushed or pulled; what is carried is said in kilograms")
	case !force && load.Kind != body.Carry:
		r.fail(u, "a push or a pull is said in newtons")
	case force && load.Direction == "":
		r.fail(u, "the direction is not said: up, down, forward, backward, right or left")
	case r.wrongSide(c.nouns[0]):
		r.fail(u, noSide(c.nouns[0].atom.key))
	default:
		n := c.nouns[0]
		keys := r.patches(n.means, n.sides)
		value := c.amounts[0].toks[0].value
		if !c.each {
			value /= float64(len(keys))
		}
		if value < leastLoad || value > most {
			r.fail(u, "not a load that a person holds")
			return
		}
		if load.Mass = value; force {
			load.Mass, load.Force = 0, value
		} else {
			load.Direction = ""
		}
		for _, key := range keys {
			it := item{load: &body.Load{Kind: load.Kind, Patch: key, Mass: load.Mass, Force: load.Force, Direction: load.Direction}}
			if n.said {
				it.rank = oneSide
			}
			r.add(u, it)
		}
	}
}

// readCue reads a clause that asks for an effort.
func (r *reader) readCue(u []atom) {
	c := r.cut(u, "joint", "patch")
	var intensity float64
	var ok bool
	if intensity, ok = r.intensity(c); !ok {
		r.fail(u, "one strength is wanted: lightly, firmly or strongly")
		return
	}
	if len(c.nouns) == 0 {
		r.fail(u, "no joint or part of the body is named")
		return
	}
	if len(c.verbs) != 1 {
		r.fail(u, "two efforts are asked for; say each by itself")
		return
	}
	before := len(r.items)
	for _, n := range c.nouns {
		var why string
		switch c.verbs[0] {
		case "push":
			why = r.cueAt(u, c, n, body.PushAway, "pushed", intensity)
		case "brace":
			why = r.cueJoint(u, c, n, body.Brace, intensity)
		default:
			if why = r.cueJoint(u, c, n, body.PullIn, intensity); why != "" && r.cueAt(u, c, n, body.DrawIn, "pulledin", intensity) == "" {
				why = ""
			}
		}
		if why != "" {
			r.items = r.items[:before]
			r.fail(u, why)
			return
		}
	}
}

// intensity gives the share of capacity that a clause asks for; firmly when
// none is said.
func (r *reader) intensity(c clause) (float64, bool) {
	switch {
	case len(c.strength) == 1 && len(c.amounts) == 0:
		t, _ := c.strength[0].has("intensity")
		return number(t.means) / 100, true
	case len(c.strength) == 0 && len(c.amounts) == 1 && c.amounts[0].number("percent"):
		v := round(c.amounts[0].toks[0].value, 6) / 100
		return v, v > 0 && v <= 1
	case len(c.strength)+len(c.amounts) == 0:
		t, _ := r.x.meaning("firmly", "intensity")
		return number(t.means) / 100, true
	}
	return 0, false
}

// cueAt adds a push or pull at a contact.
func (r *reader) cueAt(u []atom, c clause, n noun, kind body.CueKind, words string, intensity float64) (why string) {
	patch, ok := n.atom.has("patch")
	extra := c.without(r.x, words, "soft")
	switch {
	case !ok:
		return "the " + n.atom.key + " is no place that pushes or pulls at a contact"
	case len(extra) > 0 || len(c.surfaces) > 1 || kind == body.DrawIn && len(c.residual) == 0:
		return "not a known effort: a contact is pushed away or pulled in"
	}
	c.nouns = []noun{n}
	c.spread()
	n = c.nouns[0]
	n.means = list(patch.means)
	if r.wrongSide(n) {
		return noSide(n.atom.key)
	}
	for _, key := range r.patches(list(patch.means), n.sides) {
		r.add(u, item{cue: &body.Cue{Kind: kind, Movement: -1, Patch: key, Intensity: intensity}, rank: sideRank(n)})
	}
	if len(c.surfaces) == 1 {
		r.rest(u, n, c.surfaces[0]) // what pushes into the wall is on the wall
	}
	return ""
}

// cueJoint adds a pull into the end of range or a brace at a joint. A brace
// without a movement is of the joint's first one.
func (r *reader) cueJoint(u []atom, c clause, n noun, kind body.CueKind, intensity float64) (why string) {
	t, ok := n.atom.has("joint")
	if !ok {
		return "the " + n.atom.key + " is no joint"
	}
	plain := len(c.without(r.x, "soft")) == 0
	if len(c.surfaces) > 0 || plain && kind == body.PullIn {
		return "which way to pull is not said: “knees pulled into extension”"
	}
	for _, joint := range list(t.means) {
		name, used, ok := "", false, plain
		if !plain {
			for _, verb := range []string{"", "pulled ", "drawn ", "turned ", "bent "} {
				say := c
				say.residual = slices.Clone(c.residual)
				if verb != "" && len(say.residual) > 0 {
					say.residual[0] = verb + say.residual[0]
				}
				if name, used, ok = r.form(say, joint); ok {
					break
				}
			}
		}
		if !ok {
			continue
		}
		one := clause{nouns: []noun{n}, loose: c.loose}
		if r.middle(joint) && (n.said && (len(c.loose) > 0 || !used) || len(c.loose) > 0 && !used) {
			return noSide(joint)
		}
		if len(c.loose) > 0 && !used {
			one.spread()
		}
		all := r.movements(one.nouns[0], joint)
		for i, mv := range all {
			m := &r.x.m.Movements[mv]
			first := i == 0 || i == 1 && m.Side == body.Left && body.Bare(m.Key) == body.Bare(r.x.m.Movements[all[0]].Key)
			if m.Toward == name || m.Away == name || (name == "straight" || plain) && first {
				toward := kind == body.PullIn && m.Toward == name
				r.add(u, item{cue: &body.Cue{Kind: kind, Movement: mv, Toward: toward, Intensity: intensity}, rank: sideRank(one.nouns[0])})
			}
		}
		return ""
	}
	return "not a movement of the " + n.atom.key + " that is known here: " + strings.Join(c.residual, " ")
}

func sideRank(n noun) int {
	if n.said {
		return oneSide
	}
	return 0
}
