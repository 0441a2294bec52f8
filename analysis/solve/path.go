package solve

import "math"

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
	// still is the part of the movement without rows that counts as none.
	still = 1e-11
	// never is the step in t, in least ones, that stands for no end.
	never = 1e12
	// rateNoise is the rate of change that counts as none, relative to the
	// largest: rounding has neither sign nor meaning.
	rateNoise = 1e-12
	// leastJump is the least step in t, as a part of the t at which effort would
	// meet the cap without rows and limits.
	leastJump = 1e-3
	maxJumps  = 80
	// maxEnds is how often an answer is brought back to the cap.
	maxEnds = 4
)

// effort is that of the point where the search stands.
func (q *quadratic) effort() float64 {
	sum := 0.0
	for j, w := range q.w {
		sum += w * q.x[j] * q.x[j]
	}
	return sum / 2
}

// follower is a way of keeping to x(t): the fast search or the careful one. Both
// leave the point, its multipliers and the columns between their limits in the
// fast search's workspace.
type follower interface {
	// turn finds the change of x and y per unit of t on the present piece; it
	// reports false where weightless columns have nowhere to stop.
	turn(c []float64, b *capped) bool
	// at goes to x(t), or finds out that cost falls there for ever.
	at(t float64, c []float64) outcome
}

// climb follows x(t) from t = 0 until effort meets the cap.
func (s *Solver) climb(way follower, c []float64, cap float64, sol *Solution) {
	q, b := &s.qp, &s.cap
	t, low, high := 0.0, 0.0, math.Inf(1)
	free := 0.0 // the effort of one t without rows or limits, twice
	for j, v := range c {
		free += v * v / q.d[j]
	}
	if free == 0 {
		return
	}
	least := leastJump * math.Sqrt(2*(cap-b.effort)/free)
	price := func(t float64) {
		for j := range q.c {
			q.c[j] = t * c[j]
		}
	}
	ends := 0
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
		to, down, up := math.Inf(1), math.Inf(-1), 0.0
		if way.turn(c, b) {
			to = q.meets(effort, cap, c, b.dx)
			down, up = q.piece(c, b, t)
			if to > never*least {
				to = math.Inf(1)
			}
			if up > never*least {
				up = math.Inf(1)
			}
		} else { // a jump: weightless columns have a long way to go at once
			clear(b.dx)
			clear(b.dy)
			up = t
		}
		if math.IsInf(to, 1) && math.IsInf(up, 1) && effort <= cap { // it never binds
			s.slack(c, sol)
			return
		}
		if t > 0 && to >= down && to <= up && !math.IsInf(to, 1) {
			t += to
			q.advance(to, b)
			price(t)
			if ends++; ends >= maxEnds || !q.polish() {
				break
			}
			continue // what the polish moved may have changed the effort
		}
		next := t + to
		switch { // where the effort does not change, to the next piece
		case math.IsInf(to, 1) && effort <= cap:
			next = max((t+up)*(1+1e-6), t+least)
		case math.IsInf(to, 1):
			next = (t + down) * (1 - 1e-6)
		}
		if !(next > low && next < high) {
			if math.IsInf(high, 1) {
				next = 2*low + least
			} else {
				next = (low + high) / 2
			}
			if next == low || next == high {
				break
			}
		}
		if next > never*least && effort <= cap { // nor will it ever
			s.slack(c, sol)
			return
		}
		q.advance(next-t, b)
		t = next
		price(t)
		switch way.at(t, c) {
		case lost:
			return
		case endless:
			s.take(sol, Unbounded, b.x, b.y)
			s.takeRay(sol, s.slow.ray)
			return
		}
	}
	if !(t > 0) {
		return
	}
	price(t)
	aim := t * largest(c) / 10 // the proof is divided by t, so more is asked of it
	sure := func() bool {
		return q.amiss(1, q.c, q.y) <= sound*aim || q.gap(1, q.c, q.y) <= weighty*t*(1+math.Abs(dot(c, q.x)))
	}
	if !(q.polish() && sure()) && !(way == follower(quick{s}) && q.settle() && sure()) {
		return
	}
	for i := range q.y {
		q.y[i] /= t
	}
	s.take(sol, Optimal, q.x, q.y)
	sol.Price = 1 / t
}

// quick follows by the fast search.
type quick struct{ s *Solver }

func (f quick) at(t float64, c []float64) outcome {
	q := &f.s.qp
	for try := range 2 {
		if try > 0 {
			f.s.restore() // once more from the least effort
		}
		copy(q.xk, q.x)
		copy(q.yk, q.y)
		if q.run() {
			return least
		}
	}
	return lost
}

// turn lets the columns between their limits move:
//
//	w dx = A·dy - c,  A dx = 0
//
// is solved by the same rounds of small pulls as the program itself.
func (f quick) turn(c []float64, b *capped) bool {
	q := &f.s.qp
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
			far = max(far, math.Abs(b.dx[j]), 1e-4*math.Abs(c[j])/q.d[j])
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
	return false // endless: weightless columns have nowhere to stop
}

// meets is how far along dx the effort meets the cap: ahead when it is below
// the cap, behind when above, +Inf when dx does not change it.
func (q *quadratic) meets(effort, cap float64, c, dx []float64) float64 {
	slope, curve, free := 0.0, 0.0, 0.0
	for j, w := range q.w {
		slope += w * q.x[j] * dx[j]
		curve += w * dx[j] * dx[j]
		if w > 0 && q.in[j] {
			free += c[j] * c[j] / w // what it would be without rows
		}
	}
	if curve <= still*still*free {
		return math.Inf(1)
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
	cut := func(value, rate, size float64) { // value >= 0 must stay so
		value = max(value, 0)
		if rate < -rateNoise*size {
			up = min(up, -value/rate)
		} else if rate > rateNoise*size {
			down = max(down, -value/rate)
		}
	}
	far, force := largest(b.dx), largest(b.dy)
	for j, in := range q.in {
		switch {
		case in:
			cut(q.x[j]-q.lo[j], b.dx[j], far)
			cut(q.hi[j]-q.x[j], -b.dx[j], far)
		case q.lo[j] == q.hi[j]:
		default:
			z := q.w[j]*q.x[j] + t*c[j] - q.times(j, q.y)
			rate := c[j] - q.times(j, b.dy)
			if q.x[j] > q.lo[j] {
				z, rate = -z, -rate
			}
			cut(z, rate, max(force, math.Abs(c[j])))
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
