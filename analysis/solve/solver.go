package solve

import (
	"fmt"
	"math"
)

// Solver solves one loaded program in many ways. It is a workspace: once it has
// met the largest program it allocates next to nothing. Not for use by several
// goroutines at once.
type Solver struct {
	p *Program
	scaled
	qp          quadratic
	lp          simplex
	cap         capped
	qset        bool // qp has begun on this program
	cset        bool // cap has begun on this program
	seen        witnesses
	done        bool      // qp stands at the solution of this program
	lset        bool      // lp has begun on this program
	miss        bool      // lp knows that the program cannot be met
	side        []float64 // keeps b while another is tried
	cost        []float64 // a scaled cost
	face        face
	rest, terms []float64 // what an answer leaves of the rows, and their sizes
}

// Load takes a program over. The program must not change while it is solved.
// It panics when the program is malformed: sizes, order of limits, negative
// weights, values that are no numbers.
func (s *Solver) Load(p *Program) {
	p.check()
	s.p = p
	s.load(p)
	s.seen.forget()
	s.face.narrowed = false
	s.qset, s.cset, s.done, s.lset, s.miss = false, false, false, false, false
}

// Minimise finds the least of effort plus cost into sol. What sol holds on
// entry is the guess to start from: the answer of a neighbouring program of the
// same shape, or nothing.
func (s *Solver) Minimise(sol *Solution) {
	s.loaded()
	warm := sol.Status == Optimal && len(sol.X) == s.n && len(sol.Y) == s.m
	sol.shape(s.m, s.n)
	if largest(s.w) == 0 {
		s.linear(s.c, sol)
		return
	}
	s.startQP(s.c)
	clear(s.qp.xk)
	clear(s.qp.yk)
	if s.qp.far = !warm; warm {
		for j, v := range sol.X {
			s.qp.xk[j] = v / s.s[j]
		}
		for i, v := range sol.Y {
			s.qp.yk[i] = v / s.r[i]
		}
	}
	if !s.qp.run() || !s.qp.proven() {
		s.trouble(sol)
		return
	}
	s.done = true
	s.witness(s.qp.x)
	s.take(sol, Optimal, s.qp.x, s.qp.y)
	sol.Objective = s.p.value(sol.X)
	sol.Steps = s.qp.steps
}

// Bound finds the least value of cost·x over all x that meet the rows and
// limits, whatever their effort. The greatest is minus the least of -cost. Bounds
// of one loaded program start from one another.
func (s *Solver) Bound(cost []float64, sol *Solution) {
	s.loaded()
	c := s.scaleCost(cost)
	sol.shape(s.m, s.n)
	if !s.known(c, math.Inf(1), sol) {
		s.linear(c, sol)
	}
	sol.Objective = dot(cost, sol.X)
}

// scaleCost checks a cost and returns it in the scaled columns.
func (s *Solver) scaleCost(cost []float64) []float64 {
	if len(cost) != s.n {
		panic(fmt.Sprintf("solve: a cost of %d for %d columns", len(cost), s.n))
	}
	s.cost = resize(s.cost, s.n)
	for j, v := range cost {
		if !finite(v) {
			panic(fmt.Sprintf("solve: column %d has cost %g", j, v))
		}
		s.cost[j] = v * s.s[j]
	}
	return s.cost
}

// linear is Bound for a scaled cost.
func (s *Solver) linear(c []float64, sol *Solution) {
	before := s.lp.steps
	if !s.startLP(sol) {
		return
	}
	got := s.lp.minimise(c)
	if got == lost { // once more from the start
		s.lset, s.lp.ready = false, false
		if !s.startLP(sol) {
			return
		}
		got = s.lp.minimise(c)
	}
	switch got {
	case least:
		s.witness(s.lp.x)
		s.take(sol, Optimal, s.lp.x, s.lp.y)
	case endless:
		s.take(sol, Unbounded, s.lp.x, s.lp.y)
		s.takeRay(sol)
	}
	for j, v := range sol.X {
		sol.Objective += c[j] / s.s[j] * v
	}
	sol.Steps = s.lp.steps - before
}

// startLP brings the simplex to a feasible point, or writes the shortfall.
func (s *Solver) startLP(sol *Solution) bool {
	if s.lset {
		if s.miss {
			s.shortfall(sol)
		}
		return s.lp.ready
	}
	if s.lp.resume(s.limits()) {
		s.lset, s.miss = true, false
		return true
	}
	s.lp.begin(s.limits())
	got, ok := s.lp.feasible()
	if got != least {
		return false
	}
	s.lset, s.miss = true, !ok
	if !ok {
		s.shortfall(sol)
	}
	return ok
}

// shortfall writes the point that misses least and the proof, which the simplex
// stands at. Among the points that miss the same it prefers the least effort,
// where that search settles.
func (s *Solver) shortfall(sol *Solution) {
	s.take(sol, Infeasible, s.lp.x, s.lp.y)
	sol.Shortfall = resize(sol.Shortfall, s.m)
	s.missed(sol)
	if largest(s.w) > 0 {
		s.lean(sol)
	}
	sol.Objective = s.p.value(sol.X)
}

// missed sets Shortfall to B - A X.
func (s *Solver) missed(sol *Solution) {
	copy(sol.Shortfall, s.p.B)
	for j, x := range sol.X {
		row, value := s.p.A.Column(j)
		for k, i := range row {
			sol.Shortfall[i] -= value[k] * x
		}
	}
}

// lean replaces X by the least-effort point with the same shortfall. Columns that
// have a price in the proof stand at their limits in every such point.
func (s *Solver) lean(sol *Solution) {
	s.side = append(s.side[:0], s.b...)
	for i := range s.b {
		s.b[i] -= sol.Shortfall[i] * s.r[i]
	}
	for j, place := range s.lp.at[:s.n] {
		switch d := s.lp.d[j]; {
		case place == atLow && d > priced*s.lp.floor:
			s.hi[j] = s.lo[j]
		case place == atHigh && d < -priced*s.lp.floor:
			s.lo[j] = s.hi[j]
		}
	}
	s.startQP(s.c)
	s.qp.far = true
	if s.qp.run() {
		for j, v := range s.qp.x {
			sol.X[j] = v * s.s[j]
		}
		s.missed(sol)
	}
	copy(s.b, s.side)
	for j, f := range s.s {
		s.lo[j], s.hi[j] = s.p.Lo[j]/f, s.p.Hi[j]/f
	}
}

// priced is how far beyond rounding a reduced cost must lie to be one.
const priced = 1e3

// trouble finds out why the least-effort search did not settle.
func (s *Solver) trouble(sol *Solution) {
	if !s.startLP(sol) {
		return
	}
	// Endless gain needs a direction of weightless columns without upper limit.
	var ray simplex
	f := s.scaled
	f.b = make([]float64, f.m)
	f.lo, f.hi = make([]float64, f.n), make([]float64, f.n)
	for j, w := range s.w {
		if w == 0 && math.IsInf(s.hi[j], 1) {
			f.hi[j] = s.hi[j]
		}
	}
	ray.begin(&f)
	if got, ok := ray.feasible(); got == least && ok && ray.minimise(s.c) == endless {
		s.take(sol, Unbounded, s.lp.x, s.lp.y)
		sol.Ray = resize(sol.Ray, s.n)
		for j, v := range ray.ray {
			sol.Ray[j] = v * s.s[j]
		}
		return
	}
	// Neither: the program can only just be met, or the start was too far. Try
	// once more from a feasible point, with the limits that the rows leave.
	copy(s.qp.xk, s.lp.x)
	clear(s.qp.yk)
	if s.narrow() {
		s.qp.fine = 0 // the multipliers may be large
	}
	s.qp.drop()
	if s.qp.run() {
		s.done = true
		s.witness(s.qp.x)
		s.take(sol, Optimal, s.qp.x, s.mended(1, s.qp.c, s.qp.x, s.qp.y))
		sol.Objective = s.p.value(sol.X)
	}
	sol.Steps = s.qp.steps
}

// startQP readies the least-effort search for a scaled cost.
func (s *Solver) startQP(c []float64) {
	if !s.qset {
		s.qp.begin(&s.scaled)
		s.qset = true
	}
	copy(s.qp.c, c)
	s.qp.steps = 0
}

// take writes a scaled point in the program's own units.
func (s *Solver) take(sol *Solution, status Status, x, y []float64) {
	sol.Status = status
	for j, v := range x {
		sol.X[j] = v * s.s[j]
	}
	for i, v := range y {
		sol.Y[i] = v * s.r[i]
	}
}

func (s *Solver) takeRay(sol *Solution) {
	sol.Ray = resize(sol.Ray, s.n)
	for j, v := range s.lp.ray {
		sol.Ray[j] = v * s.s[j]
	}
}

func (s *Solver) loaded() {
	if s.p == nil {
		panic("solve: no program is loaded")
	}
}

// value is effort plus cost.
func (p *Program) value(x []float64) float64 {
	return p.Effort(x) + dot(p.C, x)
}
