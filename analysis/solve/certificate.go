package solve

import "math"

// Certificate is what an answer proves about itself, recomputed from the
// program. Every figure is relative to the sizes that enter it, so that rounding
// alone leaves about 1e-15.
type Certificate struct {
	// Primal is the largest part of a row that is missed: |b - A x| over
	// |b| + |A||x|, row by row.
	Primal float64
	// Limits is the largest step of x over a limit, over max(1, |x|).
	Limits float64
	// Dual is the largest reduced cost of the wrong sign towards a limit that
	// does not exist, times max(1, |x|), over 1 + |objective|.
	Dual float64
	// Slack is the largest product of a reduced cost and the distance to the
	// limit it points at, over 1 + |objective|: zero when each variable is at
	// its limit or free of charge.
	Slack float64
	// Gap is the cost at x less the bound that the multipliers prove on the
	// cost of any x, over 1 + |objective|. For an infeasible program the
	// priced shortfall takes the place of the cost.
	Gap float64
	// Effort is what the effort at x exceeds the cap by, over 1 + cap; zero
	// where there is no cap.
	Effort float64
	// Proof is, for an infeasible program, by how much the multipliers show the
	// rows to be out of reach, over the sizes that enter it; for an unbounded
	// one, the gain along the ray, over the sizes of its terms.
	Proof float64
	// Miss is, for an infeasible program, the largest difference between
	// Shortfall and b - A x, over |b| + |A||x|, row by row.
	Miss float64
	// Holds is the verdict at the tolerances below.
	Holds bool
}

// The tolerances of the verdict.
const (
	primalHolds = 1e-9  // part of a row
	limitsHold  = 1e-12 // limits are met but for a rounding
	dualHolds   = 1e-9  // part of a reduced cost
	slackHolds  = 1e-9  // of the objective: products of the two residuals above
	gapHolds    = 1e-10 // of the objective
	missHolds   = 1e-12 // part of a row: the same sum, made twice
	proofHolds  = 1e-9  // a proof must stand out this far from rounding
)

// Check verifies an answer of Minimise.
func Check(p *Program, sol *Solution) Certificate {
	return check(p, p.W, p.C, 0, sol)
}

// CheckBound verifies an answer of Bound.
func CheckBound(p *Program, cost []float64, sol *Solution) Certificate {
	return check(p, make([]float64, len(p.W)), cost, 0, sol)
}

// CheckBoundWithin verifies an answer of BoundWithin: with the price of the cap
// as a weight on effort, x must be least for cost plus priced effort, the cap
// must be met, and it must be used up where it has a price.
func CheckBoundWithin(p *Program, cost []float64, cap float64, sol *Solution) Certificate {
	price := sol.Price
	if !(price >= 0) {
		return Certificate{Effort: math.Inf(1)}
	}
	w := make([]float64, len(p.W))
	for j := range w {
		w[j] = price * p.W[j]
	}
	if sol.Status == Unbounded {
		w = p.W // endless gain must cost no effort
	}
	c := check(p, w, cost, price*cap, sol)
	if len(sol.X) == len(w) && (sol.Status == Optimal || sol.Status == Unbounded) {
		c.Effort = max((p.Effort(sol.X)-cap)/(1+cap), 0)
		c.Holds = c.Holds && c.Effort <= primalHolds
	}
	return c
}

func check(p *Program, w, cost []float64, less float64, sol *Solution) Certificate {
	var c Certificate
	m, n := p.A.Dims()
	if len(sol.X) != n || len(sol.Y) != m {
		return c
	}
	for _, s := range [][]float64{sol.X, sol.Y, sol.Shortfall, sol.Ray} {
		for _, v := range s {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return c
			}
		}
	}
	for j, x := range sol.X {
		c.Limits = max(c.Limits, (p.Lo[j]-x)/max(1, math.Abs(x)), (x-p.Hi[j])/max(1, math.Abs(x)))
	}
	rows, sizes := c.rows(p, sol.X)
	switch sol.Status {
	case Optimal:
		c.optimal(p, w, cost, less, sol)
		c.Holds = c.Primal <= primalHolds && c.Limits <= limitsHold && c.Dual <= dualHolds &&
			c.Slack <= slackHolds && math.Abs(c.Gap) <= gapHolds
	case Infeasible:
		if len(sol.Shortfall) != m {
			return c
		}
		for i, r := range rows {
			c.Miss = max(c.Miss, math.Abs(r-sol.Shortfall[i])/max(sizes[i], math.SmallestNonzeroFloat64))
		}
		c.outOfReach(p, sol)
		c.Holds = c.Limits <= limitsHold && c.Proof >= proofHolds &&
			c.Miss <= missHolds && math.Abs(c.Gap) <= primalHolds
	case Unbounded:
		if len(sol.Ray) != n {
			return c
		}
		c.downhill(p, w, cost, sol.Ray)
		c.Holds = c.Primal <= primalHolds && c.Limits <= limitsHold && c.Proof >= proofHolds
	}
	return c
}

// rows returns b - A x with the sum of sizes in each row, and sets Primal.
func (c *Certificate) rows(p *Program, x []float64) (rest, size []float64) {
	rest = append(rest, p.B...)
	size = make([]float64, len(rest))
	for i, v := range p.B {
		size[i] = math.Abs(v)
	}
	for j, v := range x {
		row, value := p.A.Column(j)
		for k, i := range row {
			rest[i] -= value[k] * v
			size[i] += math.Abs(value[k] * v)
		}
	}
	// A row in which next to nothing happens is measured against a thousandth
	// of the busiest, each by its largest entry; x below one counts as one.
	top := make([]float64, len(rest))
	for j := range x {
		row, value := p.A.Column(j)
		for k, i := range row {
			top[i] = max(top[i], math.Abs(value[k]))
		}
	}
	busiest := 1.0
	for i, t := range top {
		if t > 0 {
			busiest = max(busiest, size[i]/t)
		}
	}
	for i, r := range rest {
		if r != 0 {
			c.Primal = max(c.Primal, math.Abs(r)/max(size[i], top[i]*busiest/1000))
		}
	}
	return rest, size
}

// optimal measures the multipliers. For any x that meets the rows,
//
//	cost(x) = b·y + sum_j (w_j x_j^2 / 2 + (c_j - A_j·y) x_j),
//
// and each term is at least its own minimum between the limits: their sum is
// the bound. The effort's priced cap is taken off both sides.
func (c *Certificate) optimal(p *Program, w, cost []float64, less float64, sol *Solution) {
	here, bound := -less, -less
	for i, y := range sol.Y {
		bound += y * p.B[i]
	}
	for j, x := range sol.X {
		q := cost[j]
		row, value := p.A.Column(j)
		for k, i := range row {
			q -= value[k] * sol.Y[i]
		}
		here += w[j]*x*x/2 + cost[j]*x
		z := q + w[j]*x
		best := p.Lo[j]
		switch {
		case w[j] > 0:
			best = min(max(-q/w[j], p.Lo[j]), p.Hi[j])
		case q < 0 && math.IsInf(p.Hi[j], 1):
			// No bound follows from this column. Its wrong sign is reported
			// and the term is taken where x stands.
			c.Dual = max(c.Dual, -q*max(1, math.Abs(x)))
			best = x
		case q < 0:
			best = p.Hi[j]
		}
		bound += w[j]*best*best/2 + q*best
		away := x - p.Lo[j]
		if z < 0 {
			away = p.Hi[j] - x
		}
		if math.IsInf(away, 1) {
			if w[j] > 0 {
				c.Dual = max(c.Dual, -z*max(1, math.Abs(x)))
			}
			continue
		}
		c.Slack = max(c.Slack, math.Abs(z)*math.Abs(away))
	}
	scale := 1 + math.Abs(here)
	c.Dual /= scale
	c.Slack /= scale
	c.Gap = (here - bound) / scale
}

// outOfReach measures a proof of infeasibility: y with b·y greater than A x·y
// can be for any x between the limits. Where no |y_i| exceeds the price of its
// row, the excess is also a bound on the priced shortfall of any x, and the gap
// is what the shortfall found lies above it.
func (c *Certificate) outOfReach(p *Program, sol *Solution) {
	y := sol.Y
	reach, want, size, short := 0.0, 0.0, 0.0, 0.0
	for i, v := range y {
		price := 1.0
		if p.Miss != nil {
			price = p.Miss[i]
		}
		if math.Abs(v) > price*(1+dualHolds) {
			c.Gap = math.Inf(1)
		}
		short += price * math.Abs(sol.Shortfall[i])
		want += v * p.B[i]
		size += math.Abs(v * p.B[i])
	}
	pulls := make([]float64, len(p.Lo))
	busiest := 0.0 // terms per unit of column
	for j := range pulls {
		terms := 0.0
		row, value := p.A.Column(j)
		for k, i := range row {
			pulls[j] += value[k] * y[i]
			terms += math.Abs(value[k] * y[i])
		}
		if t := peak(value); t > 0 {
			busiest = max(busiest, terms/t)
		}
	}
	for j, pull := range pulls {
		to := p.Lo[j]
		if pull > 0 {
			if math.IsInf(p.Hi[j], 1) {
				if _, value := p.A.Column(j); pull > dualHolds*busiest*peak(value) {
					c.Proof = math.Inf(-1)
					return
				}
				continue // nothing but rounding
			}
			to = p.Hi[j]
		}
		reach += pull * to
		size += math.Abs(pull * to)
	}
	if size > 0 {
		c.Proof = (want - reach) / size
	}
	c.Gap += (short - (want - reach)) / (1 + size)
}

// downhill measures a ray: it must keep the rows and limits, carry no weight,
// and lower the cost.
func (c *Certificate) downhill(p *Program, w, cost, ray []float64) {
	off := make([]float64, len(p.B))
	size := make([]float64, len(p.B))
	gain, terms := 0.0, 0.0
	for j, v := range ray {
		if v < 0 || v > 0 && (w[j] > 0 || !math.IsInf(p.Hi[j], 1)) {
			c.Proof = math.Inf(-1)
			return
		}
		row, value := p.A.Column(j)
		for k, i := range row {
			off[i] += value[k] * v
			size[i] += math.Abs(value[k] * v)
		}
		gain -= cost[j] * v
		terms += math.Abs(cost[j] * v)
	}
	for i, v := range off {
		if math.Abs(v) > primalHolds*size[i] {
			c.Proof = math.Inf(-1)
			return
		}
	}
	if terms > 0 {
		c.Proof = gain / terms
	}
}

func peak(x []float64) float64 {
	top := 0.0
	for _, v := range x {
		top = max(top, math.Abs(v))
	}
	return top
}
