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

// Effort is what holding a posture asks of the muscles as a whole.
type Effort struct {
	// Held says that the muscles can hold the posture on its supports. When
	// false, Short names what is missing and no muscle is said to work.
	Held bool
	Cost float64 // Σ a² / 2 of the best way
	// NearBest is what the muscles around a joint may spend in a near-best way,
	// as a multiple of what they spend in the best.
	NearBest float64
	Short    []Shortfall // of a posture that is not held; never nil
	Forces   []SupportForce
	// Unmet are the cues that nothing resists; the rest is found without them.
	Unmet []Unmet // never nil
	// Solved is false when no proof was found either way: then nothing is said
	// to work, and nothing is said to be missing.
	Solved bool
	// Check is the certificate of the best way, from code that shares nothing
	// with the solver: the largest part of an equation missed, and the gap to a
	// proven bound.
	Primal, Gap float64
}

// Shortfall is a moment or force that no muscles can give.
type Shortfall struct {
	Coord  body.CoordID
	Moment float64 // N·m, or N for the whole body in space
}

// SupportForce is what one support carries in the best way.
type SupportForce struct {
	Patch string
	Force geom.Vec // N on the body, world
}

const (
	// nearBest is how much more than the best way the muscles around the joints
	// in question may spend in a near-best way, unless a person says otherwise.
	nearBest = 1.10
	// leastActive is the activation below which a muscle is called quiet: five
	// per cent of its maximum, under which measured activity is commonly called
	// none.
	leastActive = 0.05
	// groupActive is the share of what a group could do from which it is said to
	// work: less than for one muscle, since a group seldom shares evenly. From
	// groupUsed on, a way of holding the posture does not leave the group out.
	groupActive, groupUsed = 0.02, 0.01
	// What the certificate must show: the largest part of an equation that is
	// missed, and the gap to the proven bound, relative.
	primalHolds, gapHolds = 1e-8, 1e-8
)

// effort solves one posture's equilibrium and its bounds.
type effort struct {
	b      *balance
	solver solve.Solver
	best   solve.Solution
	out    Effort
	cost   []float64
	bound  solve.Solution
	glance bool // the best way is all that is asked for
}

// newEffort finds the best way of holding the posture that p is set to.
func newEffort(a *Analyser, p *pose.Pose, f *Findings, supports []body.Support, posture body.Posture) *effort {
	e := &effort{out: Effort{NearBest: a.NearBest, Short: []Shortfall{}, Forces: []SupportForce{}, Unmet: []Unmet{}}}
	e.heed(func(cues []cueRow) *balance { return newBalance(a, p, f, supports, posture, cues) }, a.cueRows(p, posture.Cues))
	if e.out.Held {
		e.forces()
	} else if e.best.Status == solve.Infeasible {
		most := 0.0
		for i, v := range e.best.Shortfall {
			if i < len(e.b.rows) {
				most = math.Max(most, math.Abs(v))
			}
		}
		for i, v := range e.best.Shortfall {
			if i < len(e.b.rows) && v != 0 && math.Abs(v) >= math.Min(most, leastShort) {
				e.out.Short = append(e.out.Short, Shortfall{e.b.rows[i], v})
			}
		}
	}
	e.cost = make([]float64, len(e.b.prog.C))
	return e
}

// solve finds the best way of the balance as it is built, and reports whether
// there is one with a certificate that holds.
func (e *effort) solve() bool {
	e.solver.Load(&e.b.prog)
	e.best.Status = solve.Unsolved // no guess of another shape
	e.solver.Minimise(&e.best)
	if e.best.Status == solve.Infeasible && e.next() {
		e.solver.Load(&e.b.prog)
		e.best.Status = solve.Unsolved
		e.solver.Minimise(&e.best)
	}
	c := solve.Check(&e.b.prog, &e.best)
	e.out.Primal, e.out.Gap = c.Primal, c.Gap
	e.out.Held = e.best.Status == solve.Optimal && c.Primal <= primalHolds && math.Abs(c.Gap) <= gapHolds && c.Limits <= primalHolds
	e.out.Solved = e.out.Held || e.best.Status == solve.Infeasible
	e.out.Cost = 0
	if e.out.Held {
		e.out.Cost = e.best.Objective
	}
	return e.out.Held
}

// next lets a shortfall pass that is within what the figures are worth, and
// reports whether there was only that: next to nothing is missing, so next to
// nothing is left out of the equations.
func (e *effort) next() bool {
	for i, v := range e.best.Shortfall {
		if math.Abs(v) > leastShort || i >= len(e.b.rows) && v != 0 {
			return false
		}
	}
	for i, v := range e.best.Shortfall {
		if i < len(e.b.rows) {
			e.b.prog.B[i] -= v
		}
	}
	return true
}

// leastShort is the shortfall that is worth naming beside a larger one, N·m or N.
const leastShort = 0.1

// forces sums what every support carries in the best way.
func (e *effort) forces() {
	n := len(e.b.a.Model.Muscles)
	for k, c := range e.b.force {
		if c.patch == nil {
			continue
		}
		f := c.dir.Scale(e.best.X[n+k])
		if i := slices.IndexFunc(e.out.Forces, func(s SupportForce) bool { return s.Patch == c.patch.Key }); i >= 0 {
			e.out.Forces[i].Force = e.out.Forces[i].Force.Add(f)
		} else {
			e.out.Forces = append(e.out.Forces, SupportForce{c.patch.Key, f})
		}
	}
}

// Bounds is how much something must and may be used, as shares of its full use.
type Bounds struct {
	Best   float64 // in the best way
	Least  float64 // in any way of holding the posture
	Lo, Hi float64 // in near-best ways
}

// cap is what a near-best way may cost when some muscles are looked at: the best
// way's cost and a tenth of what the muscles around the same joints spend in it.
// Effort elsewhere in the body buys no freedom here.
func (e *effort) cap(around []body.CoordID) float64 {
	m, p := e.b.a.Model, e.b.p
	local := 0.0
	for i := range m.Muscles {
		id := body.MuscleID(i)
		if x := e.best.X[i]; x > 0 && crossesAny(p, id, around) {
			local += x * x / 2
		}
	}
	return e.out.Cost + (e.b.a.NearBest-1)*math.Max(local, leastActive*leastActive/2)
}

// reach is how far an activation can be from its best value in a near-best way:
// effort is half the sum of squares and least at the best way, so that a way at
// distance d costs at least d²/2 more.
func (e *effort) reach(around []body.CoordID) float64 {
	return math.Sqrt(2 * math.Max(0, e.cap(around)-e.out.Cost))
}

// crossesAny reports whether a muscle crosses one of the coordinates.
func crossesAny(p *pose.Pose, id body.MuscleID, around []body.CoordID) bool {
	coords, _ := p.Arms(id)
	for _, c := range coords {
		if slices.Contains(around, c) {
			return true
		}
	}
	return false
}

// bounds measures a linear use of the activations about some joints: its value
// in the best way, the least over all ways, and the least over near-best ways.
// Unless it must be exact, the last is left at the least over all ways where
// that alone settles the grade.
func (e *effort) bounds(use []share, around []body.CoordID, exact bool) Bounds {
	b := Bounds{Best: used(use, e.best.X)}
	b.Hi = b.Best
	if b.Best <= 1e-9 || e.glance {
		return b
	}
	e.measure(use, 1)
	e.solver.Bound(e.cost, &e.bound)
	if e.bound.Status == solve.Optimal {
		b.Least = math.Max(0, e.bound.Objective)
	}
	b.Lo = b.Least
	if !exact && b.Least >= leastActive {
		return b // every way uses it: what near-best ways do decides nothing
	}
	e.solver.BoundWithin(e.cost, e.cap(around), &e.bound)
	if e.bound.Status == solve.Optimal {
		b.Lo = math.Max(b.Least, e.bound.Objective)
	}
	return b
}

// most gives the most over near-best ways.
func (e *effort) most(use []share, around []body.CoordID) float64 {
	e.measure(use, -1)
	e.solver.BoundWithin(e.cost, e.cap(around), &e.bound)
	best := used(use, e.best.X)
	if e.bound.Status != solve.Optimal {
		return best
	}
	return math.Max(best, -e.bound.Objective)
}

// measure writes a use into the cost, times a factor.
func (e *effort) measure(use []share, factor float64) {
	clear(e.cost)
	for _, u := range use {
		e.cost[u.muscle] = factor * u.part
	}
}

// grade turns bounds into a grade: must when every way uses it, likely when
// every near-best way does, may when some near-best way does. Less than least
// counts as no use.
func (b Bounds) grade(least float64) (Grade, bool) {
	switch {
	case b.Least >= least:
		return Must, true
	case b.Lo >= least:
		return Likely, true
	case b.Best >= least || b.Hi >= mayActive:
		return May, true
	}
	return Geometry, false
}

// mayActive is the activation from which a muscle that near-best ways may leave
// out is worth speaking of.
const mayActive = 0.10

// String gives the bounds for a debugger.
func (b Bounds) String() string {
	return fmt.Sprintf("best %.3f, at least %.3f, near best %.3f to %.3f", b.Best, b.Least, b.Lo, b.Hi)
}
