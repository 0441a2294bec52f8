package analysis

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// act names what a muscle does at the joint next to one of its ends, the one
// that moves: its main action there, else its main action anywhere, else what
// its arm is longest for there; and where that end goes.
func (a *Analyser) act(p *pose.Pose, id body.MuscleID, moves, held body.SegmentID) (mv body.MovementID, toward bool, way Way) {
	m := a.Model
	near := m.Segments[moves].Joint // of the joint between moves and the next segment on the path
	if !a.above(held, moves) {
		s := held
		for s != body.Ground && m.Segments[s].Parent != moves {
			s = m.Segments[s].Parent
		}
		if s != body.Ground {
			near = m.Segments[s].Joint
		}
	}
	mv = -1
	longest, rank := 0.0, 0
	try := func(k body.MovementID, r int, want int) {
		arm := p.MovementArm(id, k)
		if want*int(math.Copysign(1, arm)) < 0 || math.Abs(arm) < leastArm || r < rank {
			return
		}
		if r > rank || math.Abs(arm) > longest {
			mv, toward, longest, rank = k, arm > 0, math.Abs(arm), r
		}
	}
	for _, ac := range m.Muscles[id].Actions {
		want := 1
		if !ac.Toward {
			want = -1
		}
		if !ac.Main {
			continue
		}
		if a.at(ac.Movement, near) {
			try(ac.Movement, 3, want)
		} else {
			try(ac.Movement, 2, want)
		}
	}
	if mv < 0 {
		for k := range m.Movements {
			if a.at(body.MovementID(k), near) {
				try(body.MovementID(k), 1, 0)
			}
		}
	}
	if mv >= 0 {
		way = a.wayOf(p, id, moves, mv)
	}
	return mv, toward, way
}

// leastArm is the moment arm under which a muscle does nothing about a joint, m.
const leastArm = 0.001

// above reports whether segment s is not beyond t: t does not carry it.
func (a *Analyser) above(s, t body.SegmentID) bool {
	for ; s != body.Ground; s = a.Model.Segments[s].Parent {
		if s == t {
			return false
		}
	}
	return true
}

// at reports whether a movement turns a joint.
func (a *Analyser) at(mv body.MovementID, j body.JointID) bool {
	for _, s := range a.Model.Movements[mv].Shares {
		if a.Model.Coords[s.Coord].Joint == j {
			return true
		}
	}
	return false
}

// wayOf is where a segment goes when a muscle turns it at the joint of a
// movement: what lies away from the joint, in the segment's own directions.
func (a *Analyser) wayOf(p *pose.Pose, id body.MuscleID, s body.SegmentID, mv body.MovementID) Way {
	m := a.Model
	j := &m.Joints[m.Coords[m.Movements[mv].Shares[0].Coord].Joint]
	coords, arms := p.Arms(id)
	var moment geom.Vec
	var centre geom.Vec
	for i, c := range coords {
		if c >= j.First && c < j.First+j.Count {
			axis, at := p.Axis(c)
			moment, centre = moment.Add(axis.Scale(arms[i])), at
		}
	}
	if a.above(s, j.Child) { // the joint's parent side turns the other way
		moment = moment.Scale(-1)
	}
	f := p.Frames[s]
	l := f.Rot.ApplyInverse(moment)
	up := 1.0
	if f.Local(centre).Y > m.Segments[s].Centre.Y {
		up = -1 // it hangs from the joint
	}
	x, y, z := math.Abs(l.X), math.Abs(l.Y), math.Abs(l.Z)
	pick := func(positive bool, yes, no Way) Way {
		if positive {
			return yes
		}
		return no
	}
	switch { // X forward, Y up, Z to the right
	case z >= x && z >= y:
		return pick(up*l.Z > 0, Backward, Forward)
	case x >= y:
		return pick(up*l.X > 0, ToRight, ToLeft)
	default:
		return pick(l.Y > 0, TurnLeft, TurnRight)
	}
}
