package analysis

import (
	"fmt"
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/analysis/solve"
)

// pathSamples is how many postures a movement phase is looked at, both ends
// included, evenly in time.
const pathSamples = 9

// sample is one posture on the way.
type sample struct {
	length []float64   // m, by MuscleID
	active []float64   // by MuscleID; nil where it cannot be held
	groups [][]float64 // by group, of each member: its part of the group's capacity in use; nil where it cannot be held
}

// way is a movement as it is looked at.
type way struct {
	a        *Analyser
	from, to *Findings
	shared   []body.Support // what both ends rest on
	same     bool           // they rest on the same
	posture  body.Posture   // the loads and cues that both ends have
	stated   map[body.CoordID]bool
	samples  []sample
	solver   solve.Solver
	sol      solve.Solution
}

// follow looks at every sample of the way. swings are the forces of inertia, by
// sample, or nil for a slow movement.
//
// A sample rests on what both ends rest on, and on whatever else of either end
// is still within stillRests of its surface. It is held by the least effort with
// the loads and the cues of joints that both ends have; at the ends it is what
// was found of them.
// Supports that nothing shares leave the whole body on a straight way.
func (a *Analyser) follow(p *pose.Pose, from, to *Findings, swings []swing) *way {
	w := &way{a: a, from: from, to: to, stated: map[body.CoordID]bool{}}
	w.shared, w.same = sharedContacts(from, to)
	w.posture = body.Posture{
		Loads: slices.DeleteFunc(slices.Clone(from.Posture.Loads), func(l body.Load) bool { return !slices.Contains(to.Posture.Loads, l) }),
		Cues: slices.DeleteFunc(slices.Clone(from.Posture.Cues), func(c body.Cue) bool {
			return c.Movement < 0 || !slices.Contains(to.Posture.Cues, c)
		}),
	}
	for _, f := range []*Findings{from, to} {
		for _, pos := range f.Posture.Positions {
			for _, s := range a.Model.Movements[pos.Movement].Shares {
				w.stated[s.Coord] = true
			}
		}
	}
	for k := range pathSamples {
		switch k {
		case 0:
			w.end(p, from)
		case pathSamples - 1:
			w.end(p, to)
		default:
			w.between(p, float64(k)/(pathSamples-1), swings, k)
		}
	}
	return w
}

// stillRests is how far from its surface a patch of one end still counts as
// resting on it, m: twice what a misfit is reported from.
const stillRests = 0.02

// sharedContacts lists the supports of both postures, and whether that is all.
func sharedContacts(from, to *Findings) (shared []body.Support, same bool) {
	on := func(f *Findings, c Contact) bool {
		return slices.ContainsFunc(f.Contacts, func(o Contact) bool { return o.Patch == c.Patch && o.On == c.On })
	}
	for _, c := range from.Contacts {
		if on(to, c) {
			shared = append(shared, body.Support{Patch: c.Patch, On: c.On})
		}
	}
	return shared, len(shared) == len(from.Contacts) && len(shared) == len(to.Contacts)
}

// end takes over what was found of one end.
func (w *way) end(p *pose.Pose, f *Findings) {
	p.Set(f.Coords)
	p.Measure()
	var active []float64
	if f.Effort.Held {
		active = make([]float64, len(f.Muscles))
		for i := range f.Muscles {
			active[i] = f.Muscles[i].Best
		}
	}
	w.keep(p, active)
}

// keep records the pose that p is measured at.
func (w *way) keep(p *pose.Pose, active []float64) {
	s := sample{length: make([]float64, len(w.a.Model.Muscles)), active: active}
	for i := range s.length {
		s.length[i] = p.Length(body.MuscleID(i))
	}
	if active != nil {
		s.groups = make([][]float64, len(w.a.groups))
		for g, gr := range w.a.groups {
			s.groups[g] = make([]float64, len(gr.members))
			capacity := gr.capacity(w.a, p)
			if capacity <= 0 {
				continue
			}
			for i, id := range gr.members {
				can := math.Max(0, gr.sign()*p.MovementArm(id, gr.movement)) * w.a.strength(id)
				s.groups[g][i] = can / capacity * active[id]
			}
		}
	}
	w.samples = append(w.samples, s)
}

// between looks at the way at time t, a share of the whole.
func (w *way) between(p *pose.Pose, t float64, swings []swing, k int) {
	supports := w.rest(p, Along(w.from, w.to, t))
	p.Measure()
	f := &Findings{}
	for id := range w.a.Model.Movements {
		v0, v1 := w.from.value(body.MovementID(id)), w.to.value(body.MovementID(id))
		if v0 != 0 || v1 != 0 {
			f.Joints = append(f.Joints, JointValue{Movement: body.MovementID(id), Value: v0 + ease(t)*(v1-v0)})
		}
	}
	if swings == nil && w.topples(p, supports) {
		w.keep(p, nil)
		return
	}
	for _, cues := range [][]cueRow{w.a.cueRows(p, w.posture.Cues), nil} { // a cue that nothing resists on the way is let go
		b := newBalance(w.a, p, f, supports, w.posture, cues)
		if swings != nil {
			q := swings[k].generalised(p)
			for i, c := range b.rows {
				b.prog.B[i] -= q[c]
			}
		}
		w.solver.Load(&b.prog)
		w.solver.Minimise(&w.sol) // from the last sample's answer, where its shape is the same
		c := solve.Check(&b.prog, &w.sol)
		if w.sol.Status == solve.Optimal && c.Primal <= primalHolds && math.Abs(c.Gap) <= gapHolds && c.Limits <= primalHolds {
			w.keep(p, slices.Clone(w.sol.X[:len(w.a.Model.Muscles)]))
			return
		}
		if len(cues) == 0 {
			break
		}
	}
	w.keep(p, nil)
}

// topples reports, without a search, that no forces of the supports can hold the
// weight: there are none, or all are on the floor and the weight is not even
// inside the rectangle around them, give or take stillRests.
func (w *way) topples(p *pose.Pose, supports []body.Support) bool {
	if slices.ContainsFunc(supports, func(s body.Support) bool { return s.On != body.Floor }) ||
		slices.ContainsFunc(w.posture.Loads, func(l body.Load) bool { return l.Kind != body.Carry }) {
		return false
	}
	var at geom.Vec
	weight := 0.0
	for _, f := range w.a.weights(p, w.posture.Loads) {
		at, weight = at.Add(f.at.Scale(f.f.Y)), weight+f.f.Y
	}
	at = at.Scale(1 / weight)
	x0, x1, z0, z1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, s := range supports {
		patch, ok := w.a.Model.Patch(s.Patch)
		if !ok {
			continue
		}
		for _, pt := range patch.Points {
			v := p.Point(patch.Segment, pt)
			x0, x1, z0, z1 = math.Min(x0, v.X), math.Max(x1, v.X), math.Min(z0, v.Z), math.Max(z1, v.Z)
		}
	}
	return at.X < x0-stillRests || at.X > x1+stillRests || at.Z < z0-stillRests || at.Z > z1+stillRests
}

// rest sets p to q resting on what carries it on the way, and says what does.
func (w *way) rest(p *pose.Pose, q []float64) []body.Support {
	if len(w.shared) > 0 {
		m := w.a.Model
		placed := slices.Clone(q)
		p.Place(placed, w.shared, func(c body.CoordID) bool { return !w.stated[c] })
		for _, key := range []string{"pelvis_tilt", "pelvis_list"} {
			if c := m.MustCoord(key); math.Abs(placed[c]-q[c]) > mostLean {
				p.Set(q) // too little is shared to say how it stands
			}
		}
	} else {
		p.Set(q)
	}
	if w.same {
		return w.shared
	}
	supports := slices.Clone(w.shared)
	for _, f := range []*Findings{w.from, w.to} {
		for _, c := range f.Contacts {
			s := body.Support{Patch: c.Patch, On: c.On}
			patch, ok := w.a.Model.Patch(c.Patch)
			if !ok || c.On == body.Wall || slices.Contains(supports, s) {
				continue
			}
			level := c.At.Y - c.Gap
			if math.Abs(middle(p, patch).Y-level) <= stillRests {
				supports = append(supports, s)
			}
		}
	}
	return supports
}

// mostLean is how far what is shared may lean the body away from the straight
// way before the straight way is taken instead, rad.
const mostLean = 30 * math.Pi / 180

// held counts the samples that can be held.
func (w *way) held() int {
	n := 0
	for _, s := range w.samples {
		if s.active != nil {
			n++
		}
	}
	return n
}

// doubts says what the way was taken to be.
func (w *way) doubts() []Doubt {
	list := []Doubt{}
	if !w.same {
		list = append(list, Doubt{Kind: "support", Text: fmt.Sprintf("The two postures rest on different things; on the way the body is taken to rest on what they share, and on what is within %.0f cm of where it rests.", 100*stillRests)})
	}
	if n := len(w.samples) - w.held(); n > 0 {
		list = append(list, Doubt{Kind: "balance", Text: fmt.Sprintf("%d of %d positions looked at on the way cannot be held as they stand; what works there is not counted.", n, len(w.samples)),
			Mend: "Mark a posture on the way."})
	}
	return list
}
