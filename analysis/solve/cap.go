package solve

import (
	"fmt"
	"math"
)

const (
	// capRoom is the least room above the least effort, relative to it.
	capRoom = 1e-9
	// capUsed is how closely an answer must use the cap up, relative to it.
	capUsed = 1e-10
)

// capped is the workspace of the capped bounds: the least-effort solution that
// all of them start from, and the direction of the piece.
type capped struct {
	status Status
	effort float64 // the least
	x, y   []float64
	in     []bool
	k, l   []float64
	drift  int
	dx, dy []float64
	dxk    []float64
	best   Solution
}

// BoundWithin finds the least value of cost·x over all x that meet the rows and
// limits with an effort of at most cap. The program's own cost C plays no part.
// The cap must lie above the least effort, by a billionth of it at least;
// otherwise the answer is Unsolved. Bounds of one loaded program share the work
// of finding the least effort.
func (s *Solver) BoundWithin(cost []float64, cap float64, sol *Solution) {
	s.within(cost, cap, sol)
	if sol.Status != Infeasible && s.unfit(cost, sol) {
		sol.Status = Unsolved // left open, but never wrong
	}
}

// unfit reports whether an answer is so far off that it proves nothing: a row is
// missed, or some column would gain by moving.
func (s *Solver) unfit(cost []float64, sol *Solution) bool {
	const far = 1e-6    // of the largest price, or of a column
	const amiss = 1e-10 // of a row
	if s.off(sol.X) > amiss {
		return true
	}
	if sol.Status != Optimal {
		return false
	}
	size := max(1, largest(cost), largest(sol.Y))
	for j, x := range sol.X {
		z := cost[j] + sol.Price*s.p.W[j]*x
		rows, values := s.p.A.Column(j)
		for k, i := range rows {
			z -= values[k] * sol.Y[i]
		}
		if x > s.p.Lo[j]+far && z > far*size || x < s.p.Hi[j]-far && z < -far*size {
			return true
		}
	}
	return false
}

// off is the largest part of a row that x misses, of the terms in the row.
func (s *Solver) off(x []float64) float64 {
	s.rest, s.terms = append(s.rest[:0], s.p.B...), resize(s.terms, s.m)
	for i, v := range s.p.B {
		s.terms[i] = max(math.Abs(v), 1/s.r[i])
	}
	for j, v := range x {
		rows, values := s.p.A.Column(j)
		for k, i := range rows {
			s.rest[i] -= values[k] * v
			s.terms[i] += math.Abs(values[k] * v)
		}
	}
	worst := 0.0
	for i, r := range s.rest {
		worst = max(worst, math.Abs(r)/s.terms[i])
	}
	return worst
}

func (s *Solver) within(cost []float64, cap float64, sol *Solution) {
	s.loaded()
	if !finite(cap) {
		panic(fmt.Sprintf("solve: a cap of %g", cap))
	}
	c := s.scaleCost(cost)
	sol.shape(s.m, s.n)
	if !s.startCap() {
		if s.cap.status == Infeasible && s.startLP(sol) {
			return
		}
		return
	}
	if !(cap-s.cap.effort > capRoom*s.cap.effort) {
		return
	}
	if s.known(c, cap*(1+capUsed), sol) {
		sol.Objective = dot(cost, sol.X)
		return
	}
	s.restore()
	s.climb(c, cap, sol)
	if off := s.p.Effort(sol.X) - cap; sol.Status != Optimal || off > capUsed*cap || sol.Price > 0 && -off > capUsed*cap {
		s.uncapped(c, cap, sol)
	} else {
		s.witness(s.qp.x)
	}
	sol.Objective = dot(cost, sol.X)
	sol.Steps = s.qp.steps
}

// slack writes the answer where the cap does not bind: the direction of y is its
// proof, unless rounding spoils it.
func (s *Solver) slack(c []float64, sol *Solution) {
	q, b := &s.qp, &s.cap
	if q.polish() && q.amiss(0, c, b.dy) <= sound/10*max(largest(c), largest(b.dy)) {
		s.take(sol, Optimal, q.x, s.mended(0, c, q.x, b.dy))
	}
}

// uncapped tries what the bound is without the cap, after the path was lost. It
// stands where the effort there happens to be low enough, and where the gain is
// endless and effortless.
func (s *Solver) uncapped(c []float64, cap float64, sol *Solution) {
	sol.Price = 0
	s.linear(c, sol)
	switch {
	case sol.Status == Optimal && s.p.Effort(sol.X) <= cap:
		return
	case sol.Status == Optimal && s.qp.effort() <= cap && s.qp.polish() &&
		s.qp.gap(0, c, s.lp.y) <= weighty*(1+math.Abs(sol.Objective)):
		// As low, with less effort.
		s.take(sol, Optimal, s.qp.x, s.lp.y)
		return
	case sol.Status == Unbounded && s.p.Effort(sol.Ray) == 0:
		s.take(sol, Unbounded, s.cap.x, s.cap.y)
		return
	}
	sol.Status = Unsolved
}

// startCap finds the least effort and keeps it as the start of every bound.
func (s *Solver) startCap() bool {
	b := &s.cap
	if s.cset {
		return b.status == Optimal
	}
	s.cset = true
	b.x, b.y, b.dx, b.dxk, b.dy = resize(b.x, s.n), resize(b.y, s.m), resize(b.dx, s.n), resize(b.dxk, s.n), resize(b.dy, s.m)
	clear(b.x)
	s.startQP(b.x)
	if s.qp.far = !s.done; s.done {
		copy(s.qp.xk, s.qp.x)
		copy(s.qp.yk, s.qp.y)
	} else {
		clear(s.qp.xk)
		clear(s.qp.yk)
	}
	b.status = Optimal
	if !s.qp.run() {
		c := s.c
		s.c = b.x
		b.best.shape(s.m, s.n)
		s.trouble(&b.best)
		s.c = c
		if b.status = b.best.Status; b.status != Optimal {
			return false
		}
	}
	copy(b.x, s.qp.x)
	copy(b.y, s.qp.y)
	b.in = append(b.in[:0], s.qp.in...)
	s.qp.pull(pullY*s.qp.sigma, 1)
	s.qp.rebuild()
	s.qp.refactor()
	b.k = append(b.k[:0], s.qp.k...)
	b.l = append(b.l[:0], s.qp.l...)
	b.effort = s.qp.effort()
	s.witness(b.x)
	return true
}

// restore puts the search back to the least effort.
func (s *Solver) restore() {
	b, q := &s.cap, &s.qp
	q.pull(pullY*q.sigma, 1)
	copy(q.x, b.x)
	copy(q.y, b.y)
	copy(q.in, b.in)
	copy(q.k, b.k)
	copy(q.l, b.l)
	q.drift, q.fresh, q.steps = 0, true, 0
}
