package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
)

// Along returns the coordinates at fraction t of the way from one posture to
// another, t from 0 to 1. Speed rises and falls smoothly (minimum jerk: no
// acceleration at either end); every coordinate takes the same course.
func Along(from, to *Findings, t float64) []float64 { return toward(from, to, ease(t)) }

// toward returns the coordinates at the share s of the way.
func toward(from, to *Findings, s float64) []float64 {
	q := make([]float64, len(from.Coords))
	for i := range q {
		q[i] = from.Coords[i] + s*(to.Coords[i]-from.Coords[i])
	}
	return q
}

// ease is how much of the way is done at time t, both 0 to 1.
func ease(t float64) float64 { return t * t * t * (10 - 15*t + 6*t*t) }

// Between says what a movement from one posture to another does to every muscle,
// and what works on the way. duration is what it takes, s; 0 where no time
// passes or none is known, and then it is taken as slow.
//
// A movement quicker than QuickBelow carries the inertia of the body's parts in
// its equilibrium; a slower one is a row of postures held still.
func (a *Analyser) Between(from, to *Findings, duration float64) *Movement {
	m := a.Model
	n := len(m.Muscles)
	mv := &Movement{Muscles: make([]MovementFinding, n), Groups: []GroupChange{}, Joints: []JointChange{}, Work: []GroupWork{}, Doubts: []Doubt{}}
	p := a.pose()
	defer a.poses.Put(p)
	swings := a.swings(p, from, to)
	mv.QuickBelow = quickBelow(swings)
	mv.Quick = duration > 0 && duration < mv.QuickBelow
	mv.Doubts = append(mv.Doubts, mv.pace(duration)...)
	if !mv.Quick {
		swings = nil
	}
	for k := range swings {
		swings[k].in(duration)
	}
	w := a.follow(p, from, to, swings)
	mv.Held, mv.Looked = w.held(), len(w.samples)
	mv.Doubts = append(mv.Doubts, w.doubts()...)
	for i := range n {
		l0, l1 := from.Muscles[i].Length, to.Muscles[i].Length
		lo, hi := math.Min(l0, l1), math.Max(l0, l1)
		mv.Muscles[i] = MovementFinding{Muscle: body.MuscleID(i), Change: l1 - l0,
			PlaceFrom: from.Muscles[i].Place, PlaceTo: to.Muscles[i].Place}
		for _, s := range w.samples {
			// Passing an extreme counts once it shows against the whole change.
			if s.length[i] < lo-leastContribution || s.length[i] > hi+leastContribution {
				mv.Muscles[i].Turns = true
			}
		}
	}
	w.work(mv)
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
				return more(math.Abs(mv.Muscles[x].Change), math.Abs(mv.Muscles[y].Change))
			})
			mv.Groups = append(mv.Groups, GroupChange{g.movement, g.toward, change, members})
		}
	}
	slices.SortStableFunc(mv.Groups, func(x, y GroupChange) int { return more(math.Abs(x.Change), math.Abs(y.Change)) })
	for id := range m.Movements {
		v0, v1 := from.value(body.MovementID(id)), to.value(body.MovementID(id))
		if math.Abs(v1-v0) >= leastTurn {
			mv.Joints = append(mv.Joints, JointChange{body.MovementID(id), v0, v1})
		}
	}
	slices.SortStableFunc(mv.Joints, func(x, y JointChange) int {
		return more(math.Abs(x.To-x.From), math.Abs(y.To-y.From))
	})
	return mv
}

const (
	leastPlaceChange = 0.15              // of the span, for a group to be named
	leastTurn        = 5 * math.Pi / 180 // rad, the error of an estimate by eye
)
