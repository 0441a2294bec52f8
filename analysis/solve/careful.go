package solve

import "math"

// again tries the fast search from a corner that meets the rows.
func (s *Solver) again(c, cost []float64, sol *Solution) bool {
	s.startQP(c)
	copy(s.qp.xk, s.slow.x)
	clear(s.qp.yk)
	s.qp.drop()
	if !s.qp.run() || !s.qp.proven() {
		return false
	}
	s.take(sol, Optimal, s.qp.x, s.qp.y)
	return s.fits(1, 0, cost, sol) && !s.grand(1, 0, cost, sol)
}

// maxEasings is how often the rest of the rows is shared out anew.
const maxEasings = 10

// carefully finds the least of effort plus cost where the fast search has left
// it open, or finds out that there is none. The search then stands there.
func (s *Solver) carefully(c, cost []float64, sol *Solution) {
	for try := range 2 {
		sol.Status = Unsolved
		if try > 0 { // by the rule that cannot go in circles
			s.lset, s.wset, s.lp.ready, s.lp.plain = false, false, false, true
		}
		if !s.startSlow(sol) {
			if sol.Status == Infeasible {
				break
			}
			continue
		}
		if try == 0 && s.again(c, cost, sol) {
			break
		}
		sol.Status = Unsolved
		before := s.slow.steps
		switch s.slow.descend(c) {
		case least:
			s.settled(c, sol)
		case endless:
			s.take(sol, Unbounded, s.slow.x, s.slow.y)
			s.takeRay(sol, s.slow.ray)
		}
		sol.Steps += s.slow.steps - before
		if s.fits(1, 0, cost, sol) {
			break
		}
		sol.Status, s.wset = Unsolved, false
	}
	s.lp.plain, s.slow.plain = false, false
}

// settled takes over where the careful search ended. Where the rows can only
// just be met, a corner can miss them by more than rounding; then the columns
// without a price make up for it.
func (s *Solver) settled(c []float64, sol *Solution) {
	q, k := &s.qp, &s.slow
	s.startQP(c)
	copy(q.x, k.x)
	copy(q.y, k.y)
	s.take(sol, Optimal, q.x, q.y)
	for try := 0; try < maxEasings && s.missed(sol.X) > rowsFit/100; try++ {
		for j, place := range k.at[:s.n] {
			q.in[j] = place != atLow && place != atHigh || math.Abs(k.d[j]) <= priced*k.floor
		}
		q.pull(pullY*q.sigma, 1)
		q.rebuild()
		q.polish()
		s.take(sol, Optimal, q.x, k.y)
	}
	for j, x := range q.x {
		q.in[j] = s.lo[j] < x && x < s.hi[j]
	}
	q.rebuild()
	s.take(sol, Optimal, q.x, q.y)
	q.free(c)
	s.take(sol, Optimal, q.x, q.y)
}

// startSlow brings the careful search to a point of the program, or writes the
// shortfall.
func (s *Solver) startSlow(sol *Solution) bool {
	if s.wset {
		return true
	}
	if !s.startLP(sol) {
		return false
	}
	s.slow.from(&s.lp)
	s.wset = true
	return true
}

// free takes the rounding out of the multipliers of the columns that stand
// between their limits.
func (q *quadratic) free(c []float64) {
	q.refactor()
	for range 2 {
		clear(q.dy)
		for j, in := range q.in {
			if in {
				q.spread(j, (q.w[j]*q.x[j]+c[j]-q.times(j, q.y))/q.d[j], q.dy)
			}
		}
		back(q.l, q.dy, q.m)
		add(q.y, 1, q.dy)
	}
}
