package analysis

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/analysis/solve"
)

// balance is one posture's equilibrium as a convex program.
//
// Every coordinate q_i that ligaments do not hold gives one row, those of the
// whole body in space included (virtual work):
//
//	Σ_j r_ij F_j a_j + Σ_k J_ki g_k + Σ_s e_is s + p_i = -Q_i      [N·m or N]
//
// with the muscles' activations a_j in [0, 1] and strengths F_j, the supports'
// forces g_k >= 0 (four edges of the friction cone at every supporting point),
// the stops s >= 0 of joints that stand at the end of their range, the ribs'
// push on the shoulder blade, and the passive moments p_i, as published and
// within the error of a joint angle. Q_i is what weights and loads do about q_i. Muscles
// carry no passive force of their own: it is in p_i, and counted once.
//
// Strength is taken at optimal fibre length: without the tendon's give the
// model's fibre lengths are not good enough to say how much is lost.
type balance struct {
	a      *Analyser
	p      *pose.Pose
	q      []float64 // values of movements, rad, by MovementID
	row    []int     // by CoordID: its row, or -1 where ligaments hold
	rows   []body.CoordID
	load   []float64 // Q by CoordID
	weight float64   // of the body, N: the unit of supporting forces
	prog   solve.Program
	force  []contactColumn // columns after the muscles
	stops  []stopColumn
	cues   []cueRow
	col    []float64 // one column being built
}

// contactColumn is one edge of a friction cone, or the push of the ribs.
type contactColumn struct {
	patch           *body.Patch // nil for the ribs
	at, normal, dir geom.Vec    // world: m, of the surface, and N per unit of the variable
}

// stopColumn is the one-way moment of a joint's end, or a passive moment.
type stopColumn struct {
	movement body.MovementID
	inward   bool // a stop pushes back into the range; else a passive moment
}

const (
	// stopNear is how near the end of its range a joint counts as resting on
	// its stop, rad: three degrees, a third of the error of an estimate by eye.
	stopNear = 3 * math.Pi / 180
	// passiveError is the joint-angle error that passive moments are known
	// within, rad.
	passiveError = 3 * math.Pi / 180
	// leastStray is the least error that a passive moment is priced at, N·m.
	// To stray by all of it costs as much as one muscle that is just active.
	leastStray = 0.2
	// quietWeight is what supports, ribs, stops and soft tissue cost, in
	// units of the body's weight or of momentUnit: just enough for the answer
	// to be one, and a thousandth of what a muscle costs.
	quietWeight = 1e-3
	momentUnit  = 100 // N·m
)

// newBalance builds the program for the pose that p is set to and measured at.
func newBalance(a *Analyser, p *pose.Pose, f *Findings, supports []body.Support, posture body.Posture, cues []cueRow) *balance {
	m := a.Model
	b := &balance{a: a, p: p, row: make([]int, len(m.Coords)), q: make([]float64, len(m.Movements))}
	for _, j := range f.Joints {
		b.q[j.Movement] = j.Value
	}
	b.chooseRows()
	b.load = generalised(p, a.weights(p, posture.Loads))
	b.weight = gravity * m.Person.Mass
	b.at(cues)
	n := len(b.rows) + len(b.cues)
	b.col = make([]float64, n)
	b.prog.A = solve.NewMatrix(n)
	b.prog.B = make([]float64, n)
	for i, c := range b.rows {
		b.prog.B[i] = -b.load[c]
	}
	for i, c := range b.cues {
		b.prog.B[len(b.rows)+i] = c.least
	}
	for i := range m.Muscles {
		b.muscle(body.MuscleID(i))
	}
	for _, s := range supports {
		b.support(s)
	}
	b.ribs()
	b.jointEnds()
	b.passives()
	b.softTissue()
	for i := range b.cues {
		b.col[len(b.rows)+i] = -1 // more than asked is allowed
		b.add(0, 0, 1)
	}
	b.prog.Miss = make([]float64, n)
	for i := range b.prog.Miss {
		b.prog.Miss[i] = 1
	}
	return b
}

// chooseRows leaves out the coordinates that ligaments hold.
func (b *balance) chooseRows() {
	m := b.a.Model
	for c := range m.Coords {
		b.row[c] = 0
	}
	for _, h := range m.Held {
		if h.When < 0 || b.q[h.When] < h.Below {
			b.row[h.Coord] = -1
		}
	}
	for c := range m.Coords {
		if b.row[c] >= 0 {
			b.row[c] = len(b.rows)
			b.rows = append(b.rows, body.CoordID(c))
		}
	}
}

// add appends the column that was built.
func (b *balance) add(weight, lo, hi float64) {
	b.prog.A.Append(b.col)
	b.prog.C = append(b.prog.C, 0)
	b.prog.W = append(b.prog.W, weight)
	b.prog.Lo = append(b.prog.Lo, lo)
	b.prog.Hi = append(b.prog.Hi, hi)
	clear(b.col)
}

func (b *balance) put(c body.CoordID, v float64) {
	if i := b.row[c]; i >= 0 {
		b.col[i] += v
	}
}

func (b *balance) muscle(id body.MuscleID) {
	coords, arms := b.p.Arms(id)
	strength := b.a.strength(id)
	hi := 1.0
	if b.a.Model.Muscles[id].Passive {
		hi = 0 // a band pulls only as a passive moment, which is counted elsewhere
	}
	for k, c := range coords {
		b.put(c, arms[k]*strength)
	}
	for i, c := range b.cues {
		for _, u := range c.use {
			if u.muscle == id {
				b.col[len(b.rows)+i] = u.part
			}
		}
	}
	b.add(1, 0, hi)
}

// reach puts a force on a segment into the column: what it does about every
// coordinate between the ground and the segment.
func (b *balance) reach(s body.SegmentID, at, f geom.Vec) {
	m := b.a.Model
	for ; s != body.Ground; s = m.Segments[s].Parent {
		j := &m.Joints[m.Segments[s].Joint]
		for c := j.First; c < j.First+j.Count; c++ {
			axis, centre := b.p.Axis(c)
			if m.Coords[c].Slide {
				b.put(c, axis.Dot(f))
			} else {
				b.put(c, axis.Dot(at.Sub(centre).Cross(f)))
			}
		}
	}
}

// support adds what a surface can do to a patch: at every point a friction
// cone about the surface's normal.
func (b *balance) support(s body.Support) {
	patch, ok := b.a.Model.Patch(s.Patch)
	if !ok {
		return
	}
	normal := geom.V(0, 1, 0)
	switch {
	case s.On == body.Wall:
		// The wall stands on the far side of what leans on it: it pushes back
		// toward the body, whichever way a hand lies on it.
		normal = geom.V(math.Copysign(1, b.p.CentreOfMass().X-middle(b.p, patch).X), 0, 0)
	case s.On == body.Bar && body.Bare(patch.Key) == "grip":
		b.closedHand(patch)
		return
	}
	for _, pt := range patch.Points {
		b.cone(patch, patch.Segment, b.p.Point(patch.Segment, pt), normal)
	}
}

// closedHand lets a hand that is closed around a bar press it between fingers
// and palm: the bar presses back on the finger bones and on the palm, so that who
// bends the fingers can hold on, and the wrist is held with them. An open hand
// slips off: the bar gives it nothing.
func (b *balance) closedHand(grip *body.Patch) {
	m := b.a.Model
	side := grip.Side.Suffix()
	closed := m.MustMovement("fingers_flexion" + side)
	if b.q[closed] < m.Movements[closed].Hi/2 {
		return
	}
	palm, okPalm := m.Patch("palm" + side)
	tips, okTips := m.Patch("fingertips" + side)
	if !okPalm || !okTips {
		return
	}
	inward := b.p.Frames[palm.Segment].Dir(palm.Normal).Scale(-1)
	for _, pt := range grip.Points {
		b.cone(grip, grip.Segment, b.p.Point(grip.Segment, pt), inward)
	}
	// The pads of the other finger bones lie as far toward the palm as those of
	// the tips.
	for bone := tips.Segment; bone != grip.Segment && bone != body.Ground; bone = m.Segments[bone].Parent {
		inward = b.p.Frames[bone].Dir(tips.Normal).Scale(-1)
		for _, pt := range tips.Points {
			half := m.Segments[bone].From.Lerp(m.Segments[bone].To, 0.5)
			b.cone(grip, bone, b.p.Point(bone, geom.V(pt.X, half.Y, pt.Z)), inward)
		}
	}
}

// cone adds the four edges of the friction cone at one point; the force is
// counted to the patch that was named.
func (b *balance) cone(patch *body.Patch, on body.SegmentID, at, normal geom.Vec) {
	across := geom.V(0, 0, 1)
	if math.Abs(normal.Z) > math.Abs(normal.X) && math.Abs(normal.Z) > math.Abs(normal.Y) {
		across = geom.V(1, 0, 0)
	}
	along := across.Cross(normal)
	along = along.Scale(1 / along.Norm())
	across = normal.Cross(along)
	for _, slip := range []geom.Vec{along, along.Scale(-1), across, across.Scale(-1)} {
		dir := normal.Add(slip.Scale(b.a.Model.Friction)).Scale(b.weight)
		b.reach(on, at, dir)
		for i := range b.cues {
			b.col[len(b.rows)+i] = b.cues[i].presses(b.p, patch, at, normal, dir.Scale(1/b.weight))
		}
		b.add(quietWeight, 0, math.Inf(1))
		b.force = append(b.force, contactColumn{patch, at, normal, dir})
	}
}

// ribs lets the ribcage push the shoulder blade outward where it lies on it.
func (b *balance) ribs() {
	m := b.a.Model
	thorax, _ := m.Segment("thorax")
	for _, r := range m.Ribs {
		blade, _ := m.Segment("scapula" + r.Side.Suffix())
		plane := m.Girdle.PlaneAngle
		out := geom.V(-math.Cos(plane), 0, math.Sin(plane)*float64(r.Side))
		dir := b.p.Frames[blade].Dir(out).Scale(b.weight)
		at := b.p.Point(blade, r.At)
		b.reach(blade, at, dir)
		b.reach(thorax, at, dir.Scale(-1))
		b.add(quietWeight, 0, math.Inf(1))
		b.force = append(b.force, contactColumn{nil, at, dir, dir})
	}
}

// jointEnds adds the stops of joints that stand at the end of their range.
func (b *balance) jointEnds() {
	for id, mv := range b.a.Model.Movements {
		if mv.Girdle || len(mv.Shares) != 1 {
			continue
		}
		c, sign := mv.Shares[0].Coord, 1.0
		switch v := b.p.Coords[c] / mv.Shares[0].Factor; {
		case v <= mv.Lo+stopNear:
		case v >= mv.Hi-stopNear:
			sign = -1
		default:
			continue
		}
		b.put(c, momentUnit*sign*mv.Shares[0].Factor)
		b.add(quietWeight, 0, math.Inf(1))
		b.stops = append(b.stops, stopColumn{body.MovementID(id), true})
	}
}

// passives adds the published passive moments. Each may stray by what an error
// of the joint angles makes of it, at a price: no way of holding a posture is
// best because its tables are wrong.
func (b *balance) passives() {
	m := b.a.Model
	for id := range m.Movements {
		if _, ok := m.Passive[body.MovementID(id)]; !ok {
			continue
		}
		mv := &m.Movements[id]
		side := mv.Side.Suffix()
		at := func(key string) float64 { return b.p.Coords[m.MustCoord(key+side)] }
		ankle, knee, hip := at("ankle_dorsiflexion"), at("knee_flexion"), at("hip_flexion")
		lo, hi, known := math.Inf(1), math.Inf(-1), 0.0
		for _, e := range []float64{-passiveError, passiveError, 0} {
			da, dk, dh := 0.0, 0.0, 0.0
			switch body.Bare(mv.Key) {
			case "ankle_dorsiflexion":
				da = e
			case "knee_flexion":
				dk = e
			default:
				dh = e
			}
			v := m.PassiveMoment(body.MovementID(id), ankle+da, knee+dk, hip+dh)
			lo, hi, known = math.Min(lo, v), math.Max(hi, v), v
		}
		b.passive(body.MovementID(id), known, lo-known, hi-known)
	}
	for i := range m.PassiveCurves {
		c := &m.PassiveCurves[i]
		s := m.Movements[c.Movement].Shares[0]
		at := b.p.Coords[s.Coord] / s.Factor
		stray := c.Stray(at, passiveError)
		b.passive(c.Movement, c.Value(at), -stray, stray)
	}
}

// passive adds one passive moment about a movement [N·m] and by how much it may
// stray from it.
func (b *balance) passive(id body.MovementID, known, lo, hi float64) {
	s := b.a.Model.Movements[id].Shares[0]
	if i := b.row[s.Coord]; i >= 0 {
		b.prog.B[i] -= known * s.Factor
	}
	if hi <= lo {
		return
	}
	b.put(s.Coord, momentUnit*s.Factor)
	stray := math.Max(hi-lo, leastStray) / 2 / momentUnit
	b.add(math.Pow(leastActive/stray, 2), lo/momentUnit, hi/momentUnit)
	b.stops = append(b.stops, stopColumn{id, false})
}

// softTissue adds what capsules and ligaments give at every joint.
func (b *balance) softTissue() {
	for _, c := range b.rows {
		if give := b.a.Model.Soft[c]; give > 0 {
			b.put(c, momentUnit)
			b.add(quietWeight, -give/momentUnit, give/momentUnit)
		}
	}
}

// generalised turns forces into what they do about every coordinate.
func generalised(p *pose.Pose, forces []force) []float64 {
	m := p.Model
	q := make([]float64, len(m.Coords))
	for _, f := range forces {
		for s := f.segment; s != body.Ground; s = m.Segments[s].Parent {
			j := &m.Joints[m.Segments[s].Joint]
			for c := j.First; c < j.First+j.Count; c++ {
				axis, centre := p.Axis(c)
				if m.Coords[c].Slide {
					q[c] += axis.Dot(f.f)
				} else {
					q[c] += axis.Dot(f.at.Sub(centre).Cross(f.f))
				}
			}
		}
	}
	return q
}
