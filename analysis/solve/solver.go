package solve

import (
	"fmt"
	"math"
)

// Solver solves one loaded program in many ways. It is a workspace: once it has
// met the largest program it allocates next to nothing. Not for use by several
// goroutines at once.
//
// Every answer is looked at before it is handed out. One that does not prove
// itself is sought again by a slower and more careful way; one that no way can
// prove is Unsolved.
type Solver struct {
	p *Program
	scaled
	qp   quadratic
	lp   simplex
	cap  capped
	slow walk
	seen witnesses
	rest remainder
	qset bool      // qp has begun on this program
	cset bool      // cap has begun on this program
	done bool      // qp stands at the solution of this program
	lset bool      // lp has begun on this program
	wset bool      // slow stands at a point of this program
	miss bool      // lp knows that the program cannot be met
	side []float64 // keeps b while another is tried
	cost []float64 // a scaled cost
}

// Load takes a program over. The program must not change while it is solved.
// It panics when the program is malformed: sizes, order of limits, negative
// weights, values that are no numbers.
func (s *Solver) Load(p *Program) {
	p.check()
	s.p = p
	s.load(p)
	s.seen.forget()
	s.qset, s.cset, s.done, s.lset, s.wset, s.miss = false, false, false, false, false, false
}

// Minimise finds the least of effort plus cost into sol. What sol holds on
// entry is the guess to start from: the answer of a neighbouring program of the
// same shape, or nothing.
func (s *Solver) Minimise(sol *Solution) {
	s.loaded()
	warm := sol.Status == Optimal && len(sol.X) == s.n && len(sol.Y) == s.m
	sol.shape(s.m, s.n)
	if largest(s.w) == 0 {
		s.linear(s.c, s.p.C, sol)
		sol.Objective = s.p.value(sol.X)
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
	if s.qp.run() && s.qp.proven() {
		s.take(sol, Optimal, s.qp.x, s.qp.y)
	}
	sol.Steps = s.qp.steps
	if !s.fits(1, 0, s.p.C, sol) || s.grand(1, 0, s.p.C, sol) {
		s.carefully(s.c, s.p.C, sol)
	}
	if sol.Status == Optimal {
		s.done = true
		s.witness(s.qp.x)
		sol.Objective = s.p.value(sol.X)
	}
}

// Bound finds the least value of cost·x over all x that meet the rows and
// limits, whatever their effort. The greatest is minus the least of -cost. Bounds
// of one loaded program start from one another.
func (s *Solver) Bound(cost []float64, sol *Solution) {
	s.loaded()
	c := s.scaleCost(cost)
	sol.shape(s.m, s.n)
	if !s.known(c, math.Inf(1), sol) {
		s.linear(c, cost, sol)
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

func (s *Solver) takeRay(sol *Solution, ray []float64) {
	sol.Ray = resize(sol.Ray, s.n)
	for j, v := range ray {
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
