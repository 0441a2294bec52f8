// Package analysis says what a posture means for the body: for every muscle and
// functional group where it stands in its own span, what it may have to hold,
// and why, with doubts and cautions.
//
// The chain of computation for one posture, all in SI units and radians:
//
//	posture  --body.Resolve-->  coordinates below the pelvis
//	         --pose.Place---->  the body on its supports
//	         --pose.Measure-->  lengths L and moment arms r = -∂L/∂q
//	L, span  ---------------->  place in the span, fibre length, short or long
//	weights, loads, contacts ->  the whole body's equilibrium, by the least effort
//	its bounds, small errors ->  what must, likely or may work
//	prices of its joints ----->  the part each muscle plays
//	supports ----------------->  which end of each muscle is held
//	all of these ------------->  findings, with a grade and reasons
//
// Between two postures the same is done along a smooth way.
package analysis

import (
	"math"
	"runtime"
	"sync"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// Analyser holds what is computed once for a model: the spans of its muscles
// and their lengths in the anatomical position. It is safe for use by several
// goroutines.
type Analyser struct {
	Model *body.Model
	// NearBest is how much the muscles around a joint may spend in a near-best
	// way, as a multiple of what they spend in the best: above one, 1.10 unless
	// changed. Set it before the first use.
	NearBest float64

	anatomical []float64 // m, by MuscleID
	lo, hi     []float64 // the span: shortest and longest length, m, by MuscleID
	groups     []group
	poses      sync.Pool
}

// New prepares a model. It takes some tenths of a second: every muscle's
// shortest and longest length is searched for over the ranges of the joints
// that it crosses.
func New(m *body.Model) *Analyser {
	a := &Analyser{Model: m, NearBest: nearBest, groups: groupsOf(m)}
	a.poses.New = func() any { return pose.New(m) }
	n := len(m.Muscles)
	a.anatomical, a.lo, a.hi = make([]float64, n), make([]float64, n), make([]float64, n)
	p := a.pose()
	p.Set(make([]float64, len(m.Coords)))
	p.Measure()
	for i := range n {
		a.anatomical[i] = p.Length(body.MuscleID(i))
	}
	a.poses.Put(p)

	var wait sync.WaitGroup
	next := make(chan body.MuscleID)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			p := a.pose()
			defer a.poses.Put(p)
			for id := range next {
				a.lo[id], a.hi[id] = span(p, id)
			}
		})
	}
	for i, mu := range m.Muscles {
		if mu.Side == body.Right {
			next <- body.MuscleID(i)
		}
	}
	close(next)
	wait.Wait()
	for i, mu := range m.Muscles {
		if mu.Side == body.Left { // the mirror image has the same span
			a.lo[i], a.hi[i] = a.lo[mu.Mirror], a.hi[mu.Mirror]
		}
	}
	return a
}

// pose borrows a workspace; give it back to a.poses.
func (a *Analyser) pose() *pose.Pose { return a.poses.Get().(*pose.Pose) }

// Span returns a muscle's shortest and longest length over the published ranges
// of the joints it crosses, m.
func (a *Analyser) Span(id body.MuscleID) (shortest, longest float64) { return a.lo[id], a.hi[id] }

// Anatomical returns a muscle's length in the anatomical position, m.
func (a *Analyser) Anatomical(id body.MuscleID) float64 { return a.anatomical[id] }

// place is where a length stands in the span: 0 shortest, 1 longest. It passes
// these ends only for postures past the published ranges.
func (a *Analyser) place(id body.MuscleID, length float64) float64 {
	return (length - a.lo[id]) / math.Max(a.hi[id]-a.lo[id], 1e-9)
}

// fibre is the fibre length relative to the optimal one: the length in the
// anatomical position changed by what the path changed, with the distance
// between the tendon sheets constant, so that pennate fibres turn as they
// shorten:
//
//	h = lo sin α,  l = sqrt(h² + (sqrt(la² - h²) + ΔL)²)
//
// The tendon's own stretch, a few per cent of its length at full force, is left
// out; at rest it is nearly nothing.
func (a *Analyser) fibre(id body.MuscleID, length float64) float64 {
	mu := &a.Model.Muscles[id]
	h := math.Sin(mu.Pennation)
	along := math.Sqrt(math.Max(0, mu.AnatomicalFibre*mu.AnatomicalFibre-h*h)) + (length-a.anatomical[id])/mu.Fibre
	return math.Hypot(h, math.Max(0, along))
}
