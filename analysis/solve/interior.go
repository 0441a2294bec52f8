package solve

import "math"

// Newton's method on the rows can creep: where a program has many quiet columns
// between narrow limits, each step is cut short at the next bend. The interior
// point method (Mehrotra 1992) keeps away from the limits until the end and so
// takes some twenty steps on any program that can be met. It stops short of the
// exact answer, which Newton's method then finds from next door.
//
// With u = x - lo, t = hi - x and prices zl, zu >= 0 of the limits it follows
//
//	w x + c - Aᵀy - zl + zu = 0,  A x = b,  u zl = t zu = mu,  mu -> 0.
const (
	// insideGap is the gap at which the interior search hands over, relative to
	// the terms of the cost.
	insideGap = 1e-11
	// insideRows is the part of the rows that may be missing then, relative to x.
	insideRows = 1e-10
	// insideNear is the gap that is good enough to hand over when rounding stops
	// all progress.
	insideNear = 1e-6
	// insideKeep is the part of the way to a limit that a step may take.
	insideKeep = 0.995
	// insidePull is the weight on the change of y, relative to the largest
	// stiffness: it keeps rows that repeat each other apart.
	insidePull = 1e-14
	maxInside  = 60
)

// interior is the workspace of the interior search. Slices are by column.
type interior struct {
	zl, zu   []float64 // prices of the limits
	dx       []float64
	dl, du   []float64 // changes of the prices
	theta    []float64 // 1 / stiffness of a column against its limits
	rd, r    []float64 // what the prices miss; the right side of a step
	cl, cu   []float64 // the wanted products less the present ones
	mu, size float64
	pairs    float64 // limits that have a price
}

// inside moves the centres xk and yk next to the solution and reports whether
// it got there.
func (q *quadratic) inside() bool {
	s := &q.deep
	for _, v := range []*[]float64{&s.zl, &s.zu, &s.dx, &s.dl, &s.du, &s.theta, &s.rd, &s.r, &s.cl, &s.cu} {
		*v = resize(*v, q.n)
		clear(*v)
	}
	q.enter(s)
	defer q.drop()
	best, idle := math.Inf(1), 0
	for range maxInside {
		gap, rows := q.stand(s)
		if gap <= insideGap && rows <= insideRows {
			break
		}
		if worst := max(gap, rows); worst < best/1.5 {
			best, idle = worst, 0
		} else if idle++; idle > 8 {
			break
		}
		q.stiff(s)
		if !q.predict(s) {
			break
		}
		q.moveInside(s)
	}
	gap, rows := q.stand(s)
	if gap <= insideNear && rows <= insideNear {
		copy(q.xk, q.x)
		copy(q.yk, q.y)
		return true
	}
	return false
}

// enter starts well between the limits.
func (q *quadratic) enter(s *interior) {
	clear(q.y)
	s.pairs, s.mu = 0, 0
	worth := 0.0
	for j, lo := range q.lo {
		span := q.hi[j] - lo
		switch {
		case span == 0:
			q.x[j] = lo
			continue
		case math.IsInf(span, 1):
			q.x[j] = lo + max(q.reference/10, math.SmallestNonzeroFloat64)
			s.pairs++
		default:
			q.x[j] = min(max(0, lo+span/4), q.hi[j]-span/4)
			s.pairs += 2
		}
		x := q.x[j] - lo
		worth = max(worth, q.w[j]*x*x+math.Abs(q.c[j])*x)
	}
	s.mu = max(worth, 1e-30)
	for j, lo := range q.lo {
		if q.hi[j] == lo {
			continue
		}
		s.zl[j] = s.mu / (q.x[j] - lo)
		if !math.IsInf(q.hi[j], 1) {
			s.zu[j] = s.mu / (q.hi[j] - q.x[j])
		}
	}
}

// stand computes what the rows (g) and prices (rd) miss, and mu.
func (q *quadratic) stand(s *interior) (gap, rows float64) {
	s.size = max(q.missing(q.g, q.x), math.SmallestNonzeroFloat64)
	terms, sum, off := 0.0, 0.0, 0.0
	for j, x := range q.x {
		if q.hi[j] == q.lo[j] {
			continue
		}
		s.rd[j] = q.times(j, q.y) + s.zl[j] - s.zu[j] - q.w[j]*x - q.c[j]
		off += math.Abs(s.rd[j]) * max(math.Abs(x), x-q.lo[j])
		terms += q.w[j]*x*x/2 + math.Abs(q.c[j]*x)
		sum += s.zl[j] * (x - q.lo[j])
		if s.zu[j] > 0 {
			sum += s.zu[j] * (q.hi[j] - x)
		}
	}
	s.mu = sum / max(s.pairs, 1)
	gap = (sum + off) / max(terms, math.SmallestNonzeroFloat64)
	return gap, largest(q.g) / s.size
}

// stiff sums and factors the stiffness of the rows.
func (q *quadratic) stiff(s *interior) {
	clear(q.k)
	for j, lo := range q.lo {
		if q.hi[j] == lo {
			continue
		}
		d := q.w[j] + s.zl[j]/(q.x[j]-lo)
		if s.zu[j] > 0 {
			d += s.zu[j] / (q.hi[j] - q.x[j])
		}
		s.theta[j] = 1 / d
		q.stiffen(j, s.theta[j])
	}
	top := 0.0
	for i := range q.m {
		top = max(top, q.k[i*q.m+i])
	}
	pull := max(insidePull*top, math.SmallestNonzeroFloat64)
	for i := range q.m {
		q.k[i*q.m+i] += pull
	}
	cholesky(q.l, q.k, q.m, pull)
	q.steps++
}

// predict finds the step: first straight to mu = 0, which tells how far mu can
// fall, then with that aim and the bend of the products along the way.
func (q *quadratic) predict(s *interior) bool {
	for j, x := range q.x {
		s.cl[j] = -s.zl[j] * (x - q.lo[j])
		s.cu[j] = 0
		if s.zu[j] > 0 {
			s.cu[j] = -s.zu[j] * (q.hi[j] - x)
		}
	}
	q.stepInside(s)
	a := q.reach(s)
	sum := 0.0
	for j, x := range q.x {
		sum += (s.zl[j] + a*s.dl[j]) * (x + a*s.dx[j] - q.lo[j])
		if s.zu[j] > 0 {
			sum += (s.zu[j] + a*s.du[j]) * (q.hi[j] - x - a*s.dx[j])
		}
	}
	share := sum / max(s.pairs, 1) / s.mu
	aim := s.mu * share * share * share
	for j := range q.x {
		if s.zl[j] > 0 {
			s.cl[j] += aim - s.dx[j]*s.dl[j]
		}
		if s.zu[j] > 0 {
			s.cu[j] += aim + s.dx[j]*s.du[j]
		}
	}
	q.stepInside(s)
	return !math.IsNaN(dot(q.dy, q.dy)) && !math.IsInf(largest(q.dy), 1)
}

// stepInside solves for the changes that bring the products by cl and cu. Those
// of the prices are u dl = cl - zl dx and t du = cu + zu dx, which leaves
// dx = theta (Aᵀdy + r), and A dx = g gives dy.
func (q *quadratic) stepInside(s *interior) {
	copy(q.dy, q.g)
	for j, x := range q.x {
		if q.hi[j] == q.lo[j] {
			continue
		}
		r := s.rd[j] + s.cl[j]/(x-q.lo[j])
		if s.zu[j] > 0 {
			r -= s.cu[j] / (q.hi[j] - x)
		}
		s.r[j] = r
		q.spread(j, -s.theta[j]*r, q.dy)
	}
	back(q.l, q.dy, q.m)
	for j, x := range q.x {
		if q.hi[j] == q.lo[j] {
			continue
		}
		s.dx[j] = s.theta[j] * (q.times(j, q.dy) + s.r[j])
		u := x - q.lo[j]
		s.dl[j] = (s.cl[j] - s.zl[j]*s.dx[j]) / u
		if s.zu[j] > 0 {
			s.du[j] = (s.cu[j] + s.zu[j]*s.dx[j]) / (q.hi[j] - x)
		}
	}
}

// reach is the longest step, at most one, that crosses no limit.
func (q *quadratic) reach(s *interior) float64 {
	a := 1.0
	cut := func(v, dv float64) {
		if v+a*dv < 0 {
			a = -v / dv
		}
	}
	for j, x := range q.x {
		if q.hi[j] == q.lo[j] {
			continue
		}
		cut(x-q.lo[j], s.dx[j])
		cut(s.zl[j], s.dl[j])
		if s.zu[j] > 0 {
			cut(q.hi[j]-x, -s.dx[j])
			cut(s.zu[j], s.du[j])
		}
	}
	return a
}

// moveInside goes most of the way to the nearest limit, or the whole step.
func (q *quadratic) moveInside(s *interior) {
	a := min(1, insideKeep*q.reach(s))
	for j := range q.x {
		if q.hi[j] == q.lo[j] {
			continue
		}
		x := q.x[j] + a*s.dx[j]
		if !(x > q.lo[j] && x < q.hi[j]) { // rounded onto a limit
			x = q.x[j]
		}
		q.x[j] = x
		s.zl[j] = max(s.zl[j]+a*s.dl[j], math.SmallestNonzeroFloat64)
		if s.zu[j] > 0 {
			s.zu[j] = max(s.zu[j]+a*s.du[j], math.SmallestNonzeroFloat64)
		}
	}
	add(q.y, a, q.dy)
}
