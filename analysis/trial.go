package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/pose"
	"tautline/analysis/solve"
)

// trial is the best way of holding a posture that differs a little from the one
// that was said: joint angles, moment arms and masses moved within what they are
// known to.
type trial struct {
	a *Analyser
	p *pose.Pose
	x []float64 // activations, by MuscleID
}

const (
	trials    = 6
	angleSlip = 5 * math.Pi / 180 // rad: an estimate by eye
	armSlip   = 0.10              // of every moment arm
	massSlip  = 0.05              // of every mass
	// tensionSlip is what specific tension, one figure for all muscles, is off by.
	tensionSlip = 0.10
)

// tryAround solves the posture again at small errors. The errors are spread by a
// fixed rule, half the signs each way and different for every coordinate and
// muscle, so that the same posture always gives the same grades. The body is
// rested on its supports again each time. Trials that cannot be held are left out; what they would say is said by the balance.
func (a *Analyser) tryAround(f *Findings, free func(body.CoordID) bool, supports []body.Support, posture body.Posture, cues []cueRow, best *solve.Solution) []trial {
	m := a.Model
	var list []trial
	for k := range trials {
		p := a.pose()
		q := f.Coords
		moved := append([]float64(nil), q...)
		for c := range m.Coords {
			co := &m.Coords[c]
			if co.Slide || m.Joints[co.Joint].Parent == body.Ground || co.Side == body.Left {
				continue
			}
			if co.Side == body.Middle && co.Axis.Z == 0 {
				continue // bends and rotations: so that mirrored postures are tried alike
			}
			d := angleSlip / 2 * sign(k, c)
			moved[c] = within(q[c]+d, q[c], co)
			if other, ok := m.Coord(body.Bare(co.Key) + "_l"); ok && co.Side == body.Right {
				moved[other] = within(q[other]+d, q[other], &m.Coords[other])
			}
		}
		p.Place(moved, supports, free) // whoever stands a little differently still keeps the balance
		p.Measure()
		b := newBalance(a, p, f, supports, posture, cues)
		b.slip(k)
		var s solve.Solver
		var sol solve.Solution
		if rows, columns := b.prog.A.Dims(); len(best.Y) == rows && len(best.X) == columns {
			sol.Status, sol.X, sol.Y = best.Status, slices.Clone(best.X), slices.Clone(best.Y) // a guess
		}
		s.Load(&b.prog)
		s.Minimise(&sol)
		if sol.Status == solve.Optimal {
			list = append(list, trial{a, p, append([]float64(nil), sol.X[:len(m.Muscles)]...)})
		} else {
			a.poses.Put(p)
		}
	}
	return list
}

// within keeps a moved value inside the coordinate's range, unless it was
// outside before.
func within(v, was float64, co *body.Coordinate) float64 {
	return math.Max(math.Min(co.Lo, was), math.Min(math.Max(co.Hi, was), v))
}

// sign is +1 or -1 by a fixed scramble of two numbers.
func sign(k, i int) float64 {
	h := uint32(k+1)*2654435761 ^ uint32(i+1)*2246822519
	h ^= h >> 15
	h *= 2654435761
	if h>>16&1 == 0 {
		return 1
	}
	return -1
}

// slip changes a balance's strengths and loads by their errors.
func (b *balance) slip(k int) {
	n := len(b.a.Model.Muscles)
	strength := 1 + tensionSlip*sign(k, 7000)
	for j := range n {
		mu := &b.a.Model.Muscles[j]
		i := j
		if mu.Side == body.Left {
			i = int(mu.Mirror)
		}
		rows, values := b.prog.A.Column(j)
		for v, row := range rows {
			if row < len(b.rows) { // what a cue asks stays as it was said
				values[v] *= strength * (1 + armSlip*sign(k, 1000+i))
			}
		}
	}
	for i := range b.rows {
		b.prog.B[i] *= 1 + massSlip*sign(k, 5000)
	}
}

// share is how much of a group's capacity the trial uses.
func (t trial) share(g group) float64 { return used(g.use(t.a, t.p), t.x) }

// tried lowers a grade by one when the finding disappears in some trial, and by
// two when it disappears in most. It reports false when nothing is left to say.
func (g Grade) tried(list []trial, least float64, active func(trial) float64) (Grade, bool) {
	gone := 0
	for _, t := range list {
		if active(t) < least/2 {
			gone++
		}
	}
	steps := 0
	switch {
	case gone == 0:
	case gone*2 <= len(list):
		steps = 1
	default:
		steps = 2
	}
	ladder := []Grade{Must, Likely, May, NotTold}
	for i, have := range ladder {
		if have == g {
			if i+steps >= len(ladder) {
				return NotTold, false
			}
			return ladder[i+steps], true
		}
	}
	return g, true
}

// release gives the trials' workspaces back.
func (a *Analyser) release(list []trial) {
	for _, t := range list {
		a.poses.Put(t.p)
	}
}
