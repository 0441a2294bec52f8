package solve

import "math"

// The least-effort program is solved through its rows. With a multiplier y per
// row each variable answers alone,
//
//	x_j(y) = clip((A_j·y - c_j) / w_j, lo_j, hi_j),
//
// and A x(y) = b is a system of m piecewise linear equations, the gradient of a
// concave function of y. Newton's method with an exact line search ends after
// finitely many steps.
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
	maxNewton = 40
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
	ax, g, dy, p []float64
	k, l         []float64 // stiffness of the columns in k's set, and its factor
	in           []bool    // the columns that are in k
	drift        int       // changes to k since it was built
	fresh        bool      // l is the factor of k
	size         float64   // of b and x, for tolerances
	reference    float64   // a likely size of x
	force        float64   // the largest reduced cost, for tolerances
	near         float64   // how closely Newton's method is to meet the rows
	noise        float64   // what rounding in y does to x
	steps        int
}

// begin prepares the weights for the loaded program.
func (q *quadratic) begin(f *scaled) {
	q.scaled = f
	m, n := f.m, f.n
	for _, s := range []*[]float64{&q.c, &q.d, &q.rho, &q.full, &q.x, &q.xk, &q.v, &q.p} {
		*s = resize(*s, n)
	}
	for _, s := range []*[]float64{&q.y, &q.yk, &q.g, &q.dy, &q.ax} {
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
	q.steps = 0
	q.drop()
}

// drop forgets the stiffness, so that the next step builds it anew.
func (q *quadratic) drop() {
	clear(q.in)
	clear(q.k)
	for i := range q.m {
		q.k[i*q.m+i] = q.delta
	}
	q.drift, q.fresh = 0, false
}

// run searches from the centres xk and yk and reports whether x and y settled.
// Where weak pulls leave y less sound than it should be, it ends with strong
// ones: they are slow, but close to the solution that no longer matters, and
// rounding in y disturbs x less.
func (q *quadratic) run() bool {
	q.pull(pullY*q.sigma, 1)
	q.near = near
	if !q.rounds() {
		return false
	}
	return q.amiss(1, q.c, q.y) <= sound*q.force || q.settle()
}

// settle ends a search near its solution with strong pulls.
func (q *quadratic) settle() bool {
	copy(q.xk, q.x)
	copy(q.yk, q.y)
	q.pull(q.delta, firm)
	q.near = near / 1e4
	return q.rounds()
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

// loosen weakens the pull that holds the rounds up: on y, where few columns are
// free to meet the rows and must be stiffer than the pull; on x, where weightless
// columns have far to go for little.
func (q *quadratic) loosen(met bool) {
	if !met && q.delta > 1e-14*q.sigma {
		q.pull(q.delta/30, q.ease)
	}
	if met && q.ease > 1e-6 {
		q.pull(q.delta, q.ease/10)
	}
}

// pull sets the weight on y and the share of the full weight on x.
func (q *quadratic) pull(delta, ease float64) {
	if q.delta == delta && q.ease == ease {
		return
	}
	q.delta = delta
	if q.ease != ease {
		for j, w := range q.w {
			q.rho[j] = ease * q.full[j]
			q.d[j] = w + q.rho[j]
		}
	}
	q.ease = ease
	q.rebuild()
}

// short puts b - A x into g and returns its largest part relative to x.
func (q *quadratic) short() float64 {
	size := max(q.missing(q.g, q.x), idleSize*q.reference, math.SmallestNonzeroFloat64)
	return largest(q.g) / size
}

// polish takes the rest out of the rows by moving x itself and not through y.
func (q *quadratic) polish() bool {
	short := q.short()
	for range 8 {
		if short <= settled {
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

// newton solves b - A x(y) = delta (y - yk) for y, to rounding.
func (q *quadratic) newton() bool {
	full := false
	for range maxNewton {
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

// move takes column j into k's set or out of it.
func (q *quadratic) move(j int, in bool) {
	f := 1 / q.d[j]
	if !in {
		f = -f
	}
	q.in[j] = in
	q.stiffen(j, f)
	q.drift++
	q.fresh = false
}

// stiffen adds f A_j A_jᵀ to the lower triangle of k.
func (q *quadratic) stiffen(j int, f float64) {
	row, value := q.column(j)
	for a, i := range row {
		ki, fa := q.k[i*q.m:], f*value[a]
		for b, h := range row[:a+1] {
			ki[h] += fa * value[b]
		}
	}
}

// rebuild sums k anew, which rids it of the rounding that changes leave.
func (q *quadratic) rebuild() {
	clear(q.k)
	for i := range q.m {
		q.k[i*q.m+i] = q.delta
	}
	for j, in := range q.in {
		if in {
			q.stiffen(j, 1/q.d[j])
		}
	}
	q.drift, q.fresh = 0, false
}

func (q *quadratic) refactor() {
	if !q.fresh {
		cholesky(q.l, q.k, q.m, q.delta/2)
		q.fresh = true
	}
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
