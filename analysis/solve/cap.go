package solve

import (
	"fmt"
	"math"
)

// The least of d·x under a cap on effort is found among the solutions x(t) of
//
//	minimise  effort(x) + t d·x,   t >= 0.
//
// Effort rises and d·x falls with t. At the t where effort meets the cap, x(t) is
// the answer: the multiplier of the cap is 1/t and that of the rows y/t. x(t) is
// piecewise linear, so on each piece effort is a parabola in t: solve at one t,
// go to where this piece's parabola meets the cap, and end when that lies on the
// piece itself, with the exact answer.
const (
	// capMet is how closely the cap is met, relative to it.
	capMet = 1e-13
	// capRoom is the least room above the least effort, relative to it.
	capRoom  = 1e-9
	maxJumps = 80
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
	if !s.startCap() {
		if s.cap.status == Infeasible && s.startLP(sol) {
			return
		}
		return
	}
	if !(cap-s.cap.effort > capRoom*s.cap.effort) {
		return
	}
	s.restore()
	s.climb(c, cap, sol)
	for j, v := range sol.X {
		sol.Objective += cost[j] * v
	}
	sol.Steps = s.qp.steps
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
	clear(s.qp.xk)
	clear(s.qp.yk)
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

// effort is that of the point where the search stands.
func (q *quadratic) effort() float64 {
	sum := 0.0
	for j, w := range q.w {
		sum += w * q.x[j] * q.x[j]
	}
	return sum / 2
}

// climb follows x(t) from t = 0 until effort meets the cap.
func (s *Solver) climb(c []float64, cap float64, sol *Solution) {
	q, b := &s.qp, &s.cap
	t, low, high := 0.0, 0.0, math.Inf(1)
	for range maxJumps {
		effort := q.effort()
		if t > 0 && math.Abs(effort-cap) <= capMet*cap {
			break
		}
		if effort <= cap {
			low = max(low, t)
		} else {
			high = min(high, t)
		}
		if !q.direction(c, b) {
			return
		}
		to := q.meets(effort, cap, b.dx)
		down, up := q.piece(c, b, t)
		if math.IsInf(to, 1) && math.IsInf(up, 1) && effort <= cap { // it never binds
			q.polish()
			s.take(sol, Optimal, q.x, b.dy)
			return
		}
		if t > 0 && to >= down && to <= up && !math.IsInf(to, 1) {
			t += to
			q.advance(to, b)
			break
		}
		next := t + to
		switch { // where the effort does not change, to the next piece
		case math.IsInf(to, 1) && effort <= cap:
			next = (t + up) * (1 + 1e-6)
		case math.IsInf(to, 1):
			next = (t + down) * (1 - 1e-6)
		}
		if !(next > low && next < high) {
			if math.IsInf(high, 1) {
				next = 2 * max(low, math.SmallestNonzeroFloat64)
			} else {
				next = (low + high) / 2
			}
			if next == low || next == high {
				break
			}
		}
		q.advance(next-t, b)
		t = next
		for j := range q.c {
			q.c[j] = t * c[j]
		}
		copy(q.xk, q.x)
		copy(q.yk, q.y)
		if !q.run() {
			return
		}
	}
	for j := range q.c {
		q.c[j] = t * c[j]
	}
	if !q.polish() || !(t > 0) {
		return
	}
	for i := range q.y {
		q.y[i] /= t
	}
	s.take(sol, Optimal, q.x, q.y)
	sol.Price = 1 / t
}

// direction finds the change of x and y per unit of t on the present piece: the
// columns between their limits move, and
//
//	w dx = A·dy - c,  A dx = 0
//
// is solved by the same rounds of small pulls as the program itself.
func (q *quadratic) direction(c []float64, b *capped) bool {
	q.refactor()
	clear(b.dx)
	clear(b.dy)
	for range 12 {
		// A step from dx, dy: the rest of the rows and of the columns.
		clear(q.g)
		worst, size, far := 0.0, math.SmallestNonzeroFloat64, math.SmallestNonzeroFloat64
		for j, in := range q.in {
			if !in {
				continue
			}
			pull := q.times(j, b.dy)
			r := pull - c[j] - q.w[j]*b.dx[j]
			worst = max(worst, math.Abs(r))
			size = max(size, math.Abs(pull), math.Abs(c[j]))
			far = max(far, math.Abs(b.dx[j]))
			q.p[j] = r / q.d[j]
			q.spread(j, -(b.dx[j] + q.p[j]), q.g)
		}
		if worst <= 1e-13*size && largest(q.g) <= near*far {
			return true
		}
		copy(q.dy, q.g)
		back(q.l, q.dy, q.m)
		q.steps++
		for j, in := range q.in {
			if in {
				b.dx[j] += q.p[j] + q.times(j, q.dy)/q.d[j]
			}
		}
		add(b.dy, 1, q.dy)
	}
	return true
}

// meets is how far along dx the effort meets the cap: ahead when it is below
// the cap, behind when above, +Inf when dx does not change it.
func (q *quadratic) meets(effort, cap float64, dx []float64) float64 {
	slope, curve := 0.0, 0.0
	for j, w := range q.w {
		slope += w * q.x[j] * dx[j]
		curve += w * dx[j] * dx[j]
	}
	room := cap - effort
	slope = max(slope, 0) // effort never falls along the path
	if root := slope + math.Sqrt(max(slope*slope+2*curve*room, 0)); root > 0 {
		if to := 2 * room / root; to < 1e100 {
			return to
		}
	}
	return math.Inf(1)
}

// piece returns how far back and ahead the present piece reaches: until a
// moving column meets a limit or the reduced cost of a resting one changes sign.
func (q *quadratic) piece(c []float64, b *capped, t float64) (down, up float64) {
	down, up = math.Inf(-1), math.Inf(1)
	cut := func(value, rate float64) { // value >= 0 must stay so
		value = max(value, 0)
		if rate < 0 {
			up = min(up, -value/rate)
		} else if rate > 0 {
			down = max(down, -value/rate)
		}
	}
	for j, in := range q.in {
		switch {
		case in:
			cut(q.x[j]-q.lo[j], b.dx[j])
			cut(q.hi[j]-q.x[j], -b.dx[j])
		case q.lo[j] == q.hi[j]:
		default:
			z := q.w[j]*q.x[j] + t*c[j] - q.times(j, q.y)
			rate := c[j] - q.times(j, b.dy)
			if q.x[j] > q.lo[j] {
				z, rate = -z, -rate
			}
			cut(z, rate)
		}
	}
	return down, up
}

// advance moves along the piece.
func (q *quadratic) advance(by float64, b *capped) {
	for j, in := range q.in {
		if in {
			q.x[j] = min(max(q.x[j]+by*b.dx[j], q.lo[j]), q.hi[j])
		}
	}
	add(q.y, by, b.dy)
}
