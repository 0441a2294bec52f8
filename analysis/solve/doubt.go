package solve

import "math"

// What an answer is asked before it is handed out. These are the questions of
// Check, asked by other sums: those here have no terms that cancel, and take the
// sizes from one pass, so that asking costs less than a step of any search.

const (
	// rowsFit is the part of a row that may be missed.
	rowsFit = 1e-10
	// gapFits is the gap to the bound that the multipliers prove, and gainFits what
	// any column gains by going where its reduced cost points.
	gapFits, gainFits = 8e-11, 5e-10
	// grandFit is what some roundings may make of the terms of that bound.
	grandFit = 1e-13
)

// remainder is what a point leaves of the rows.
type remainder struct {
	rest []float64 // b - A x
	size []float64 // the terms of each row
}

// missed sets the remainder at x and returns the largest part of a row missed. A
// row in which next to nothing happens counts as a thousandth of the busiest, and
// x below one as one.
func (s *Solver) missed(x []float64) float64 {
	r, p := &s.rest, s.p
	r.rest = append(r.rest[:0], p.B...)
	r.size = resize(r.size, len(p.B))
	for i, b := range p.B {
		r.size[i] = math.Abs(b)
	}
	for j, v := range x {
		row, value := p.A.Column(j)
		for k, i := range row {
			r.rest[i] -= value[k] * v
			r.size[i] += math.Abs(value[k] * v)
		}
	}
	busiest, worst := 1.0, 0.0
	for i, size := range r.size {
		busiest = max(busiest, size*s.r[i])
	}
	for i, v := range r.rest {
		worst = max(worst, math.Abs(v)/max(r.size[i], busiest/s.r[i]/1000))
	}
	return worst
}

// fits reports whether an answer proves itself, for a cost and a price of effort,
// of which so much less is counted.
func (s *Solver) fits(price, less float64, cost []float64, sol *Solution) bool {
	switch sol.Status {
	case Optimal:
		gap, gain, rounding := s.gap(price, less, cost, sol)
		return s.missed(sol.X) <= rowsFit && gain <= gainFits && gap <= gapFits+rounding
	case Unbounded:
		return s.missed(sol.X) <= rowsFit && s.falls(price, cost, sol.Ray)
	case Infeasible:
		return s.outOfReach(sol) <= gapFits
	}
	return false
}

// grand reports whether the multipliers are so large that rounding alone leaves
// a gap.
func (s *Solver) grand(price, less float64, cost []float64, sol *Solution) bool {
	gap, gain, rounding := s.gap(price, less, cost, sol)
	return gain > gainFits/10 || gap+rounding/1000 > gapFits
}

// gap is what the cost at x lies above the bound that the multipliers prove; the
// most that one column gains by going where its reduced cost points; and the gap
// that rounding of the terms of that bound alone may make: all relative to the
// cost.
func (s *Solver) gap(price, less float64, cost []float64, sol *Solution) (gap, gain, rounding float64) {
	here, terms, most, dual := 0.0, 0.0, 0.0, 0.0
	s.missed(sol.X)
	for i, y := range sol.Y {
		gap -= y * s.rest.rest[i]
		terms += math.Abs(y) * s.rest.size[i]
	}
	for j, x := range sol.X {
		lo, hi, w := s.p.Lo[j], s.p.Hi[j], price*s.p.W[j]
		here += w*x*x/2 + cost[j]*x
		z := cost[j] + w*x
		row, value := s.p.A.Column(j)
		for k, i := range row {
			z -= value[k] * sol.Y[i]
		}
		way := lo - x
		if z < 0 {
			way = hi - x
		}
		switch {
		case w > 0: // it would not go further than its own least
			if math.IsInf(way, 1) {
				dual = max(dual, -z*max(1, math.Abs(x)))
			} else {
				most = max(most, math.Abs(z*way))
			}
			step := max(-z/w, lo-x)
			step = min(step, hi-x)
			gap -= z*step + w*step*step/2
		case math.IsInf(way, 1):
			dual = max(dual, -z*max(1, math.Abs(x)))
		default:
			most = max(most, math.Abs(z*way))
			gap -= z * way
		}
	}
	scale := 1 + math.Abs(here-less)
	return math.Abs(gap) / scale, max(most, dual) / scale, grandFit * terms / scale
}

// falls reports whether a ray keeps the rows, costs no effort where effort has
// a price, and lowers the cost.
func (s *Solver) falls(price float64, cost, ray []float64) bool {
	gain, terms := 0.0, 0.0
	r := &s.rest
	clear(r.rest)
	clear(r.size)
	for j, v := range ray {
		if v == 0 {
			continue
		}
		if v < 0 || price*s.p.W[j] > 0 || !math.IsInf(s.p.Hi[j], 1) {
			return false
		}
		row, value := s.p.A.Column(j)
		for k, i := range row {
			r.rest[i] += value[k] * v
			r.size[i] += math.Abs(value[k] * v)
		}
		gain -= cost[j] * v
		terms += math.Abs(cost[j] * v)
	}
	for i, v := range r.rest {
		if math.Abs(v) > rowsFit*r.size[i] {
			return false
		}
	}
	return gain > gapFits*terms
}

// outOfReach is what the priced shortfall lies above the one that the multipliers
// prove to be the least, relative to the terms of the proof.
func (s *Solver) outOfReach(sol *Solution) float64 {
	want, size, short := 0.0, 0.0, 0.0
	for i, y := range sol.Y {
		price := 1.0
		if s.p.Miss != nil {
			price = s.p.Miss[i]
		}
		short += price * math.Abs(sol.Shortfall[i])
		want += y * s.p.B[i]
		size += math.Abs(y * s.p.B[i])
	}
	for j, hi := range s.p.Hi {
		pull := 0.0
		row, value := s.p.A.Column(j)
		for k, i := range row {
			pull += value[k] * sol.Y[i]
		}
		to := s.p.Lo[j]
		if pull > 0 {
			if to = hi; math.IsInf(hi, 1) {
				continue // rounding: the simplex has seen to it
			}
		}
		want -= pull * to
		size += math.Abs(pull * to)
	}
	return math.Abs(short-want) / (1 + size)
}
