package solve

import "math"

// The least-effort program is solved through its rows. With a multiplier y per
// row each variable answers alone,
//
//	x_j(y) = clip((A_j·y - c_j) / w_j, lo_j, hi_j),
//
// and A x(y) = b is a system of m piecewise linear equations, the gradient of a
// concave function of y. Newton's method with an exact line search ends after
// finitely many steps. Near the solution those are few. From afar it may creep,
// and the interior point method goes first.
//
// Variables of no weight have no such answer and repeated rows leave y open.
// The proximal method of multipliers (Rockafellar 1976) mends both: a small
// weight that pulls x_j towards its last value, a small weight that pulls y
// towards its last value, and a handful of rounds in which both pulls vanish.
// The limit is the exact optimum and not that of a nearby program.
const (
	// pullX is the added weight of a weightless variable, as a share of the
	// weight at which it would be as stiff as the weighted ones together.
	pullX = 1e-5
	// pullY is the weight on y as a share of the mean stiffness. pullY times
	// pullX stays well above the rounding of a double.
	pullY = 1e-8
	// settled is the part of the rows at which the polish ends, relative to x:
	// some hundred roundings.
	settled = 2e-14
	// sound is the reduced cost that may be left where a column stands free of
	// its limits, or of the wrong sign, relative to the largest.
	sound = 1e-11
	// firm is the share of the full pull on x that ends a search which weak pulls
	// left unsound.
	firm = 1e4
	// ulps is a few roundings of a double.
	ulps = 1e-15
	// calm is the pull on x at which the rounds end, relative to the largest
	// reduced cost.
	calm = 2e-13
	// near is the part of the rows that Newton's method leaves to the polish: y
	// cannot say the place of a weightless variable more exactly than this.
	near = 1e-9
	// tolerable is the residual accepted when rounding stops all progress.
	tolerable = 1e-11
	// idleForce is the least reduced cost that residuals are measured by, as a
	// share of that at which the weighted columns would meet the rows alone: where
	// they need not work at all, the multipliers go to zero.
	idleForce = 1e-3
	// idleSize is the least size of x that the rows are measured by, as a share of
	// the likely one.
	idleSize = 1e-6
	// endlessly is the size of x, relative to what the program's figures make
	// likely, at which the search is taken to run away.
	endlessly = 1e9
	maxRounds = 40
	// fewNewton is how many steps Newton's method gets before another is tried.
	fewNewton = 20
	maxNewton = 100
)

// quadratic is the workspace of one least-effort search.
type quadratic struct {
	*scaled
	sigma, delta float64
	c            []float64 // the cost, which may differ from the program's
	ease         float64   // the share of the full pull on x
	d, rho, full []float64 // w + rho, the pull on x, and the full pull
	x, xk, v     []float64 // v = A·y - c + rho xk
	y, yk        []float64
	g, dy, p     []float64
	k, l         []float64 // stiffness of the columns in k's set, and its factor
	in           []bool    // the columns that are in k
	drift        int       // changes to k since it was built
	fresh        bool      // l is the factor of k
	size         float64   // of b and x, for tolerances
	reference    float64   // a likely size of x
	force        float64   // the largest reduced cost, for tolerances
	fine         float64   // the part of the rows at which the polish ends
	near         float64   // how closely Newton's method is to meet the rows
	noise        float64   // what rounding in y does to x
	far          bool      // the centres are no guess
	patience     int       // the most steps of Newton's method
	deep         interior
	steps        int
}

// begin prepares the weights for the loaded program.
func (q *quadratic) begin(f *scaled) {
	q.scaled = f
	m, n := f.m, f.n
	for _, s := range []*[]float64{&q.c, &q.d, &q.rho, &q.full, &q.x, &q.xk, &q.v, &q.p} {
		*s = resize(*s, n)
	}
	for _, s := range []*[]float64{&q.y, &q.yk, &q.g, &q.dy} {
		*s = resize(*s, m)
	}
	q.k, q.l = resize(q.k, m*m), resize(q.l, m*m)
	q.in = resize(q.in, n)
	sum := 0.0
	for j, w := range f.w {
		if w > 0 {
			_, value := f.column(j)
			sum += dot(value, value) / w
		}
	}
	q.sigma = 1
	if sum > 0 {
		q.sigma = sum / float64(max(m, 1))
	}
	q.reference = max(largest(f.b), largest(f.lo))
	for j, w := range f.w {
		if !math.IsInf(f.hi[j], 1) {
			q.reference = max(q.reference, math.Abs(f.hi[j]))
		}
		if w > 0 {
			q.reference = max(q.reference, math.Abs(f.c[j])/w)
		}
	}
	q.delta, q.ease = pullY*q.sigma, 1
	still := q.reference == 0 // only the costs can move x
	for j, w := range f.w {
		_, value := f.column(j)
		q.d[j] = max(w, pullX*max(dot(value, value), 1)/q.sigma)
		q.full[j] = q.d[j] - w
		q.rho[j] = q.full[j]
		if still {
			q.reference = max(q.reference, math.Abs(f.c[j])/q.d[j])
		}
	}
	copy(q.c, f.c)
	q.steps, q.fine = 0, settled
	q.drop()
}

// run searches from the centres xk and yk, or from the inside where they are far
// from anything, and reports whether x and y settled.
// Where weak pulls leave y less sound than it should be, it ends with strong
// ones: they are slow, but close to the solution that no longer matters, and
// rounding in y disturbs x less.
func (q *quadratic) run() bool {
	q.pull(pullY*q.sigma, 1)
	q.near = near
	if !q.far {
		q.patience = fewNewton
	}
	if q.far || !q.rounds() {
		q.far = false
		q.patience = fewNewton
		if q.inside() {
			q.patience = maxNewton
		}
		q.pull(pullY*q.sigma, 1)
		if !q.rounds() {
			return false
		}
	}
	q.patience = maxNewton
	return q.amiss(1, q.c, q.y) <= sound*q.force && q.proven() || q.settle()
}

// rounds moves the centres to the solution of the pulled program until the
// pulls vanish. Rounds that get nowhere end early, so that the caller can look
// for the reason.
func (q *quadratic) rounds() bool {
	copy(q.y, q.yk)
	best, idle := math.Inf(1), 0
	for range maxRounds {
		if !q.newton() {
			return false
		}
		short := q.short()
		if q.size > endlessly*q.reference {
			return false
		}
		slack, force := 0.0, max(idleForce*q.size/q.sigma, math.SmallestNonzeroFloat64)
		for j, r := range q.rho {
			if r > 0 {
				slack = max(slack, r*math.Abs(q.x[j]-q.xk[j]))
			}
			force = max(force, math.Abs(q.c[j]), math.Abs(q.v[j]))
		}
		q.force = force
		copy(q.xk, q.x)
		copy(q.yk, q.y)
		worst := max(short/1000, slack/force)
		met := largest(q.g) <= max(q.near*q.size, 2*q.noise)
		if met && slack <= settled*force {
			return q.polish()
		}
		if worst > best/2 {
			if met && slack <= calm*force {
				return q.polish()
			}
			if idle++; idle >= 6 {
				return worst <= tolerable && q.polish()
			}
			q.loosen(met)
		} else {
			idle = 0
		}
		best = min(best, worst)
	}
	return false
}
