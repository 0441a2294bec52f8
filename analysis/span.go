package analysis

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// span finds a muscle's shortest and longest length over the ranges of the
// movements it crosses, m. It goes along one movement at a time, over a grid
// of its range, until nothing changes; from two starts, because a muscle over
// two joints can have two valleys.
func span(p *pose.Pose, id body.MuscleID) (shortest, longest float64) {
	s := newSpanSearch(p, id)
	shortest, longest = math.Inf(1), math.Inf(-1)
	for _, sign := range []float64{1, -1} {
		for _, start := range []float64{0, 0.8} {
			v := sign * s.best(sign, start)
			shortest, longest = math.Min(shortest, v), math.Max(longest, v)
		}
	}
	return shortest, longest
}

const (
	spanGrid   = 9 // points along one movement
	spanSweeps = 4 // rounds over all movements at most
)

// spanSearch is the length of one muscle as a function of movements.
type spanSearch struct {
	p      *pose.Pose
	id     body.MuscleID
	vars   []body.MovementID
	girdle bool // some variable is resolved by the rhythm
	rest   []body.CoordID
	at     []float64 // the value of each variable, then of each rest coordinate
	q      []float64
}

func newSpanSearch(p *pose.Pose, id body.MuscleID) *spanSearch {
	m := p.Model
	s := &spanSearch{p: p, id: id, q: make([]float64, len(m.Coords))}
	crossed, _ := p.Arms(id)
	left := map[body.CoordID]bool{}
	for _, c := range crossed {
		left[c] = true
	}
	for i, mv := range m.Movements {
		if mv.Girdle {
			joint := false
			for _, c := range crossed {
				joint = joint || girdleJoint(m, c) && m.Coords[c].Side == mv.Side
			}
			if joint {
				s.vars, s.girdle = append(s.vars, body.MovementID(i)), true
			}
			continue
		}
		if len(mv.Shares) == 1 && left[mv.Shares[0].Coord] {
			s.vars = append(s.vars, body.MovementID(i))
			delete(left, mv.Shares[0].Coord)
		}
	}
	for _, c := range crossed {
		if left[c] && !girdleJoint(m, c) {
			s.rest = append(s.rest, c)
		}
	}
	s.at = make([]float64, len(s.vars)+len(s.rest))
	return s
}

// girdleJoint reports whether a coordinate belongs to the shoulder girdle or
// the glenohumeral joint.
func girdleJoint(m *body.Model, c body.CoordID) bool {
	switch body.Bare(m.Joints[m.Coords[c].Joint].Key) {
	case "sternoclavicular", "acromioclavicular", "glenohumeral":
		return true
	}
	return false
}

// bounds gives the range of variable i.
func (s *spanSearch) bounds(i int) (lo, hi float64) {
	if i < len(s.vars) {
		mv := &s.p.Model.Movements[s.vars[i]]
		return mv.Lo, mv.Hi
	}
	c := &s.p.Model.Coords[s.rest[i-len(s.vars)]]
	return c.Lo, c.Hi
}

// best returns the least of sign × length that one descent finds.
func (s *spanSearch) best(sign, start float64) float64 {
	for i := range s.at {
		lo, hi := s.bounds(i)
		s.at[i] = max(lo, min(hi, start*hi))
	}
	value := sign * s.length()
	for range spanSweeps {
		before := value
		for i := range s.at {
			lo, hi := s.bounds(i)
			keep := s.at[i]
			for k := range spanGrid {
				s.at[i] = lo + (hi-lo)*float64(k)/(spanGrid-1)
				if v := sign * s.length(); v < value {
					value, keep = v, s.at[i]
				}
			}
			s.at[i] = keep
		}
		if before-value < 1e-6 {
			break
		}
	}
	return value
}

// length is the muscle's length at the present values, m.
func (s *spanSearch) length() float64 {
	m := s.p.Model
	if s.girdle {
		var po body.Posture
		var flex, abd *float64
		for i, id := range s.vars {
			po.Positions = append(po.Positions, body.Position{Movement: id, Value: s.at[i]})
		}
		for i := range po.Positions {
			switch body.Bare(m.Movements[po.Positions[i].Movement].Key) {
			case "shoulder_flexion":
				flex = &po.Positions[i].Value
			case "shoulder_abduction":
				abd = &po.Positions[i].Value
			}
		}
		if flex != nil && abd != nil {
			swingWithin(m, flex, abd)
		}
		copy(s.q, m.Resolve(po).Coords)
	} else {
		for i, id := range s.vars {
			sh := m.Movements[id].Shares[0]
			s.q[sh.Coord] = sh.Factor * s.at[i]
		}
	}
	for i, c := range s.rest {
		s.q[c] = s.at[len(s.vars)+i]
	}
	s.p.Set(s.q)
	s.p.MeasureOne(s.id)
	return s.p.Length(s.id)
}

// swingWithin draws an arm raised forward and sideways at once back to where
// arms go: inside the ellipse through the ends of both ranges.
func swingWithin(m *body.Model, flex, abd *float64) {
	f, a := m.Movements[m.MustMovement("shoulder_flexion_r")], m.Movements[m.MustMovement("shoulder_abduction_r")]
	end := func(v, lo, hi float64) float64 {
		if v < 0 {
			return -lo
		}
		return hi
	}
	n := math.Hypot(*flex/end(*flex, f.Lo, f.Hi), *abd/end(*abd, a.Lo, a.Hi))
	if n > 1 {
		*flex, *abd = *flex/n, *abd/n
	}
}
