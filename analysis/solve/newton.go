package solve

import "math"

// newton solves b - A x(y) = delta (y - yk) for y, to rounding.
func (q *quadratic) newton() bool {
	full := false
	for range q.patience {
		changed := q.answer()
		if full && !changed || largest(q.g) <= max(q.near/10*q.size, q.noise) {
			return true
		}
		q.refactor()
		copy(q.dy, q.g)
		back(q.l, q.dy, q.m)
		q.steps++
		for j := range q.p {
			q.p[j] = q.times(j, q.dy)
		}
		t := q.search()
		if t == 0 {
			break
		}
		if t*largest(q.dy) <= ulps/4*largest(q.y) {
			// y has no digits left: what remains is for the polish.
			q.noise = max(q.noise, largest(q.g)/2)
			return true
		}
		add(q.y, t, q.dy)
		full = t == 1
	}
	return largest(q.g) <= max(q.near*q.size, 2*q.noise)
}

// answer sets v, x and the gradient g for the multipliers y, brings the set of
// k to the columns that are between their limits, and reports whether it changed.
func (q *quadratic) answer() (changed bool) {
	q.size, q.noise = max(largest(q.b), idleSize*q.reference), 0
	top := largest(q.y)
	copy(q.g, q.b)
	for i := range q.g {
		q.g[i] -= q.delta * (q.y[i] - q.yk[i])
	}
	moves := 0
	for j := range q.x {
		v := q.times(j, q.y) - q.c[j] + q.rho[j]*q.xk[j]
		q.v[j] = v
		x := v / q.d[j]
		free := q.lo[j] <= x && x <= q.hi[j]
		x = min(max(x, q.lo[j]), q.hi[j])
		q.x[j] = x
		if x != 0 {
			q.spread(j, -x, q.g)
			q.size = max(q.size, math.Abs(x))
		}
		if free {
			q.noise = max(q.noise, ulps*(top+math.Abs(q.c[j]))/q.d[j])
		}
		if free != q.in[j] {
			moves++
			q.move(j, free)
		}
	}
	if q.drift > 4*q.n {
		q.rebuild()
	}
	return moves > 0
}

// search finds how far to go along dy. The slope of the concave function is
//
//	g·dy - t delta |dy|² - sum p_j (x_j(t) - x_j(0)),
//
// falling in t. Any t will do where it has fallen to less than half and not
// below zero, but for rounding; one is tried first, as it ends the search when
// the columns between their limits stay the same.
func (q *quadratic) search() float64 {
	first := dot(q.g, q.dy)
	if !(first > 0) {
		return 0
	}
	damp := q.delta * dot(q.dy, q.dy)
	low, high, t := 0.0, math.Inf(1), 1.0
	for range 100 {
		slope, curve := first-t*damp, damp
		for j, p := range q.p {
			if p == 0 {
				continue
			}
			x := (q.v[j] + t*p) / q.d[j]
			if x < q.lo[j] {
				x = q.lo[j]
			} else if x > q.hi[j] {
				x = q.hi[j]
			} else {
				curve += p * p / q.d[j]
			}
			slope -= p * (x - q.x[j])
		}
		switch {
		case slope > first/2:
			low = t
		case slope >= -first/1000:
			return t
		default:
			high = t
		}
		next := t + slope/curve
		if !(next > low && next < high) {
			if math.IsInf(high, 1) {
				next = 4 * t
			} else {
				next = (low + high) / 2
			}
		}
		if next == t {
			break
		}
		t = next
	}
	return low
}
