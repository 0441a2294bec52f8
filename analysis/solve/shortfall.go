package solve

// shortfall writes the point that misses least and the proof, which the simplex
// stands at. Among the points that miss the same it prefers the least effort,
// where that search settles.
func (s *Solver) shortfall(sol *Solution) {
	s.take(sol, Infeasible, s.lp.x, s.lp.y)
	sol.Shortfall = resize(sol.Shortfall, s.m)
	s.misses(sol)
	if largest(s.w) > 0 {
		s.lean(sol)
	}
	sol.Objective = s.p.value(sol.X)
}

// misses sets Shortfall to B - A X.
func (s *Solver) misses(sol *Solution) {
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
	if s.alone(&s.lp, s.c) {
		for j, v := range s.qp.x {
			sol.X[j] = v * s.s[j]
		}
		if s.misses(sol); s.outOfReach(sol) > gapFits { // it missed more
			s.take(sol, Infeasible, s.lp.x, s.lp.y)
			s.misses(sol)
		}
	}
	copy(s.b, s.side)
}

// alone finds the least of effort plus cost with the columns that have a price
// where a simplex stands kept at their limits, and reports whether that settled.
func (s *Solver) alone(at *simplex, c []float64) bool {
	for j, place := range at.at[:s.n] {
		switch d := at.d[j]; {
		case place == atLow && d > priced*at.floor:
			s.hi[j] = s.lo[j]
		case place == atHigh && d < -priced*at.floor:
			s.lo[j] = s.hi[j]
		}
	}
	s.startQP(c)
	s.qp.far = true
	settled := s.qp.run()
	for j, f := range s.s {
		s.lo[j], s.hi[j] = s.p.Lo[j]/f, s.p.Hi[j]/f
	}
	return settled
}

// priced is how far beyond rounding a reduced cost must lie to be one.
const priced = 1e3
