package solve

// linear is Bound for a scaled cost: tried from where the simplex stands, then
// from the start, then by the rule that cannot go in circles.
func (s *Solver) linear(c, cost []float64, sol *Solution) {
	before := s.lp.steps
	for try := range 3 {
		if try > 0 {
			s.lset, s.lp.ready, s.lp.plain = false, false, try > 1
		}
		if s.startLP(sol) {
			switch s.lp.minimise(c) {
			case least:
				s.take(sol, Optimal, s.lp.x, s.lp.y)
			case endless:
				s.take(sol, Unbounded, s.lp.x, s.lp.y)
				s.takeRay(sol, s.lp.ray)
			}
		}
		if s.fits(0, 0, cost, sol) {
			break
		}
		sol.Status = Unsolved
	}
	s.lp.plain = false
	sol.Steps = s.lp.steps - before
	if sol.Status == Optimal {
		s.witness(s.lp.x)
	}
}

// startLP brings the simplex to a feasible point, or writes the shortfall.
func (s *Solver) startLP(sol *Solution) bool {
	if s.lset {
		if s.miss {
			s.shortfall(sol)
		}
		return s.lp.ready
	}
	if s.lp.resume(&s.scaled) {
		s.lset, s.miss = true, false
		return true
	}
	s.lp.begin(&s.scaled)
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
