package analysis

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// Pull is the way a muscle pulls: from the end that would move to the end that
// is held. It is told of every muscle, whether it works or not.
type Pull struct {
	Muscle      body.MuscleID
	Moves, Held body.SegmentID
	// At is where the muscle takes hold of what moves, world, m; Dir is the unit
	// direction in which it draws it, along the first straight part of its path.
	At, Dir geom.Vec
	// Movement and Toward name what happens at the joint, whichever end moves:
	// for gluteus maximus hip extension, thigh held or free. -1 when nothing can
	// be named.
	Movement body.MovementID
	Toward   bool
	// Reverse is true when the end that moves is the origin, which textbooks call
	// the fixed one.
	Reverse bool
	// Way is where what moves goes, in its own directions; Other is where the
	// held end would go if it were the free one, as in "thigh held: turns the
	// pelvis backward; thigh free: it moves backward".
	Way, Other Way
	// By says what decided which end is held.
	By HeldBy
}

// Way is where the part of a segment away from the joint goes, in the directions
// of a person standing in the anatomical position who has that segment.
type Way string

const (
	Forward   Way = "forward"
	Backward  Way = "backward"
	ToRight   Way = "to the right"
	ToLeft    Way = "to the left"
	TurnRight Way = "turning right"
	TurnLeft  Way = "turning left"
)

// HeldBy is what decided which end of a muscle is held.
type HeldBy string

const (
	Nearer    HeldBy = "nearer"    // fewer joints that can give lie between it and a support
	Carries   HeldBy = "carries"   // both are as near, and its supports carry more
	ByCustom  HeldBy = "by custom" // supports do not tell: the origin is taken as held
	Unsettled HeldBy = "unsettled" // nothing supports the body; the origin is taken as held
)

// leastCarried is the share of the body's weight under which a support holds
// nothing still.
const leastCarried = 0.01

// holds are the supports of a posture as seen from the ends of muscles.
type holds struct {
	m     *body.Model
	gives []bool // by JointID: it can give; false where ligaments or stops hold it
	seats []seat
}

// seat is one supporting segment with all that it carries, N.
type seat struct {
	segment body.SegmentID
	carried float64
}

// pulls says of every muscle which of its ends is held in the pose that p is
// measured at.
//
// The held end is the one nearer to a support: with fewer joints between that
// can give. Joints that ligaments hold or that stand at their stop pass the hold
// on: a straight elbow makes the arm one strut. As near, the end whose supports
// carry more is held. Where the supports of both ends reach the muscle between
// its ends, as the feet reach trapezius by way of the chest, no end has a hold of
// its own, and the origin counts as held, as textbooks have it.
func (a *Analyser) pulls(f *Findings, p *pose.Pose, e *effort) []Pull {
	h := newHolds(a, f, e)
	list := make([]Pull, len(a.Model.Muscles))
	var line []geom.Vec
	for i := range list {
		id := body.MuscleID(i)
		path := a.Model.Muscles[i].Path
		origin, insertion := path[0].Segment, path[len(path)-1].Segment
		pl := Pull{Muscle: id}
		var first bool
		if first, pl.By = h.originHeld(origin, insertion); first {
			pl.Held, pl.Moves = origin, insertion
		} else {
			pl.Held, pl.Moves, pl.Reverse = insertion, origin, true
		}
		line = p.Line(id, line[:0])
		pl.At, pl.Dir = arrow(line, first)
		pl.Movement, pl.Toward, pl.Way = a.act(p, id, pl.Moves, pl.Held)
		_, _, pl.Other = a.act(p, id, pl.Held, pl.Moves)
		list[i] = pl
	}
	return list
}

func newHolds(a *Analyser, f *Findings, e *effort) *holds {
	m := a.Model
	h := &holds{m: m, gives: make([]bool, len(m.Joints))}
	stopped := map[body.CoordID]bool{}
	for _, s := range e.b.stops {
		if s.inward {
			stopped[m.Movements[s.movement].Shares[0].Coord] = true
		}
	}
	for j := range m.Joints {
		for c := m.Joints[j].First; c < m.Joints[j].First+m.Joints[j].Count; c++ {
			h.gives[j] = h.gives[j] || e.b.row[c] >= 0 && !stopped[c]
		}
	}
	add := func(patch string, n float64) {
		pt, ok := m.Patch(patch)
		if !ok {
			return
		}
		for i := range h.seats {
			if h.seats[i].segment == pt.Segment {
				h.seats[i].carried += n
				return
			}
		}
		h.seats = append(h.seats, seat{pt.Segment, n})
	}
	for _, s := range f.Effort.Forces {
		if n := s.Force.Norm(); n >= leastCarried*e.b.weight {
			add(s.Patch, n)
		}
	}
	if len(h.seats) == 0 {
		for _, c := range f.Contacts {
			add(c.Patch, 1)
		}
	}
	return h
}

// originHeld says whether a muscle's origin is its held end, and why.
func (h *holds) originHeld(origin, insertion body.SegmentID) (bool, HeldBy) {
	if len(h.seats) == 0 {
		return true, Unsettled
	}
	from, to := h.nearest(origin, insertion), h.nearest(insertion, origin)
	const same = 0.02 // of what is carried: left and right of one posture
	switch {
	case from.between && to.between:
		return true, ByCustom
	case from.joints != to.joints:
		return from.joints < to.joints, Nearer
	case math.Abs(from.carried-to.carried) > same*(from.carried+to.carried):
		return from.carried > to.carried, Carries
	}
	return true, ByCustom
}

// hold is the nearest support of one end of a muscle.
type hold struct {
	joints  int     // that can give, between
	carried float64 // N, by all supports as near
	between bool    // the way to it leaves the muscle between its ends
}

func (h *holds) nearest(end, other body.SegmentID) hold {
	best := hold{joints: math.MaxInt}
	_, length := h.apart(end, other)
	for _, s := range h.seats {
		joints, steps := h.apart(end, s.segment)
		_, back := h.apart(other, s.segment)
		along := (steps - back + length) / 2 // steps from the end to where the way leaves the muscle
		switch {
		case joints < best.joints:
			best = hold{joints, s.carried, along > 0 && along < length}
		case joints == best.joints:
			best.carried += s.carried
			best.between = best.between && along > 0 && along < length
		}
	}
	return best
}

// apart counts the joints between two segments: those that can give, and all.
func (h *holds) apart(a, b body.SegmentID) (give, all int) {
	for a != b { // a parent has a lower number than its child
		if a < b {
			a, b = b, a
		}
		if h.gives[h.m.Segments[a].Joint] {
			give++
		}
		all++
		a = h.m.Segments[a].Parent
	}
	return give, all
}

// arrow gives the start and direction of a pull along a line from origin to
// insertion, from its last point when the origin is held.
func arrow(line []geom.Vec, originHeld bool) (at, dir geom.Vec) {
	const least = 0.003 // m: a shorter part has no direction worth drawing
	n := len(line)
	point := func(i int) geom.Vec {
		if originHeld {
			return line[n-1-i]
		}
		return line[i]
	}
	at = point(0)
	for i := 1; i < n; i++ {
		if d := point(i).Sub(at); d.Norm() > least {
			return at, d.Unit()
		}
	}
	return at, geom.Vec{}
}
