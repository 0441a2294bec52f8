package solve

import "fmt"

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
	s.loaded()
	if !finite(cap) {
		panic(fmt.Sprintf("solve: a cap of %g", cap))
	}
	c := s.scaleCost(cost)
	sol.shape(s.m, s.n)
	defer func() { sol.Objective = dot(cost, sol.X) }()
	if !s.startCap() {
		if s.cap.status == Infeasible {
			s.startLP(sol)
		}
		return
	}
	if !(cap-s.cap.effort > capRoom*s.cap.effort) || s.known(c, cap*(1+capUsed), sol) {
		return
	}
	s.restore()
	s.climb(quick{s}, c, cap, sol)
	sol.Steps = s.qp.steps
	if !s.spent(cost, cap, sol) || s.grand(sol.Price, sol.Price*cap, cost, sol) {
		before := s.slow.steps
		sol.Status, sol.Price = Unsolved, 0
		if s.startSlow(sol) && (sure{s}).at(0, c) == least {
			s.climb(sure{s}, c, cap, sol)
		}
		sol.Steps += s.slow.steps - before
		if !s.spent(cost, cap, sol) {
			sol.Status, s.wset = Unsolved, false
		}
	}
	if sol.Status == Optimal {
		s.witness(s.qp.x)
	}
}

// spent reports whether a capped answer proves itself and, where the cap has a
// price, uses it up.
func (s *Solver) spent(cost []float64, cap float64, sol *Solution) bool {
	over := s.p.Effort(sol.X) - cap
	switch {
	case over > capUsed*cap || sol.Price > 0 && -over > capUsed*cap:
		return false
	case sol.Status == Unbounded && s.p.Effort(sol.Ray) > 0:
		return false
	}
	return sol.Status != Infeasible && s.fits(sol.Price, sol.Price*cap, cost, sol)
}

// slack writes the answer where the cap does not bind: the direction of y is its
// proof, unless rounding spoils it.
func (s *Solver) slack(c []float64, sol *Solution) {
	q, b := &s.qp, &s.cap
	if q.polish() && q.amiss(0, c, b.dy) <= sound/10*max(largest(c), largest(b.dy)) {
		s.take(sol, Optimal, q.x, b.dy)
	}
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
	b.best.shape(s.m, s.n)
	if s.qp.run() {
		s.take(&b.best, Optimal, s.qp.x, s.qp.y)
	}
	if !s.fits(1, 0, b.x, &b.best) {
		s.carefully(b.x, b.x, &b.best)
	}
	if b.status = b.best.Status; b.status != Optimal {
		return false
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
