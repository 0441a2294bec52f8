package analysis

import (
	"cmp"
	"math"
	"slices"

	"tautline/analysis/body"
)

// pathSamples is how many postures a movement phase is looked at, both ends
// included.
const pathSamples = 9

// Along returns the coordinates at fraction t of the way from one posture to
// another, t from 0 to 1. Speed rises and falls smoothly (minimum jerk: no
// acceleration at either end); every coordinate takes the same course.
func Along(from, to *Findings, t float64) []float64 {
	s := t * t * t * (10 - 15*t + 6*t*t)
	q := make([]float64, len(from.Coords))
	for i := range q {
		q[i] = from.Coords[i] + s*(to.Coords[i]-from.Coords[i])
	}
	return q
}

// Between says what a movement from one posture to another does to every muscle.
func (a *Analyser) Between(from, to *Findings) *Movement {
	m := a.Model
	n := len(m.Muscles)
	mv := &Movement{Muscles: make([]MovementFinding, n), Groups: []GroupChange{}, Joints: []JointChange{}}
	p := a.pose()
	defer a.poses.Put(p)
	lo, hi := make([]float64, n), make([]float64, n)
	for i := range n {
		l0, l1 := from.Muscles[i].Length, to.Muscles[i].Length
		lo[i], hi[i] = math.Min(l0, l1), math.Max(l0, l1)
		mv.Muscles[i] = MovementFinding{Muscle: body.MuscleID(i), Change: l1 - l0,
			PlaceFrom: from.Muscles[i].Place, PlaceTo: to.Muscles[i].Place}
	}
	for k := 1; k < pathSamples-1; k++ {
		p.Set(Along(from, to, float64(k)/(pathSamples-1)))
		p.Measure()
		for i := range n {
			l := p.Length(body.MuscleID(i))
			// Passing an extreme counts once it shows against the whole change.
			if l < lo[i]-leastContribution || l > hi[i]+leastContribution {
				mv.Muscles[i].Turns = true
			}
		}
	}
	for _, g := range a.groups {
		total, change := 0.0, 0.0
		for _, id := range g.members {
			w := m.Muscles[id].PCSA
			total += w
			change += w * (mv.Muscles[id].PlaceTo - mv.Muscles[id].PlaceFrom)
		}
		if change /= total; math.Abs(change) >= leastPlaceChange {
			members := slices.Clone(g.members)
			slices.SortStableFunc(members, func(x, y body.MuscleID) int {
				return cmp.Compare(math.Abs(mv.Muscles[y].Change), math.Abs(mv.Muscles[x].Change))
			})
			mv.Groups = append(mv.Groups, GroupChange{g.movement, g.toward, change, members})
		}
	}
	slices.SortStableFunc(mv.Groups, func(x, y GroupChange) int { return cmp.Compare(math.Abs(y.Change), math.Abs(x.Change)) })
	for id := range m.Movements {
		v0, v1 := from.value(body.MovementID(id)), to.value(body.MovementID(id))
		if math.Abs(v1-v0) >= leastTurn {
			mv.Joints = append(mv.Joints, JointChange{body.MovementID(id), v0, v1})
		}
	}
	slices.SortStableFunc(mv.Joints, func(x, y JointChange) int {
		return cmp.Compare(math.Abs(y.To-y.From), math.Abs(x.To-x.From))
	})
	return mv
}

const (
	leastPlaceChange = 0.15              // of the span, for a group to be named
	leastTurn        = 5 * math.Pi / 180 // rad, the error of an estimate by eye
)
