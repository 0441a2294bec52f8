package solve

import "math"

// settle ends a search near its solution with strong pulls.
func (q *quadratic) settle() bool {
	copy(q.xk, q.x)
	copy(q.yk, q.y)
	q.pull(q.delta, firm)
	q.near = near / 1e4
	return q.rounds()
}

// polish takes the rest out of the rows by moving x itself and not through y.
func (q *quadratic) polish() bool {
	short := q.short()
	for range 8 {
		if short <= q.fine {
			return true
		}
		q.refactor()
		copy(q.dy, q.g)
		back(q.l, q.dy, q.m)
		q.steps++
		for j, in := range q.in {
			if in {
				x := q.x[j] + q.times(j, q.dy)/q.d[j]
				q.x[j] = min(max(x, q.lo[j]), q.hi[j])
				if x != q.x[j] { // at its limit, no longer free to help
					q.move(j, false)
				}
			}
		}
		// Where the rows left y open, dy may be large for next to nothing.
		before := q.amiss(1, q.c, q.y)
		add(q.y, 1, q.dy)
		if q.amiss(1, q.c, q.y) > before {
			add(q.y, -1, q.dy)
		}
		short = q.short()
	}
	return short <= tolerable
}

// short puts b - A x into g and returns its largest part relative to x.
func (q *quadratic) short() float64 {
	size := max(q.missing(q.g, q.x), idleSize*q.reference, math.SmallestNonzeroFloat64)
	return largest(q.g) / size
}

// amiss is the largest reduced cost at multipliers y that does not fit where
// its column stands, with effort at a price of one or none.
func (q *quadratic) amiss(price float64, c, y []float64) float64 {
	worst := 0.0
	for j, x := range q.x {
		z := price*q.w[j]*x + c[j] - q.times(j, y)
		if x == q.lo[j] {
			z = min(z, 0)
		}
		if x == q.hi[j] {
			z = max(z, 0)
		}
		worst = max(worst, math.Abs(z))
	}
	return worst
}

// weighty is the gap that casts doubt on an answer, relative to the cost.
const weighty = 2e-11

// proven reports whether the gap of a least-effort answer is small.
func (q *quadratic) proven() bool {
	cost := 0.0
	for j, x := range q.x {
		cost += q.w[j]*x*x/2 + math.Abs(q.c[j]*x)
	}
	return q.gap(1, q.c, q.y) <= weighty*(1+cost)
}

// gap is about what the point lies above the bound that multipliers y prove: what
// the rows still miss, weighed by the multipliers, and the reduced costs, weighed
// by the way to the limit.
func (q *quadratic) gap(price float64, c, y []float64) float64 {
	q.short()
	gap := 0.0
	for i, g := range q.g {
		gap += math.Abs(g * y[i])
	}
	for j, x := range q.x {
		z := price*q.w[j]*x + c[j] - q.times(j, y)
		way := x - q.lo[j]
		if z < 0 {
			way = min(q.hi[j]-x, max(1, math.Abs(x)))
		}
		if w := price * q.w[j]; w > 0 { // it would not go further than this
			way = min(way, math.Abs(z)/w)
		}
		gap += math.Abs(z) * way
	}
	return gap
}
