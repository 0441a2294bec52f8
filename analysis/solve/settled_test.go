package solve

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// lopsided is a program as a whole body makes it: pushes that cost next to
// nothing, and in every row a give between narrow limits that costs as little.
func lopsided(r *rand.Rand, excess float64) *Program {
	s := posture
	s.fill, s.level, s.excess = 0.08+0.1*r.Float64(), 0.15+0.5*r.Float64(), excess
	s.idle = r.IntN(250)
	p := random(r, s)
	for j := s.muscles; j < s.muscles+s.contacts; j++ {
		p.W[j] = 1e-3
	}
	column := make([]float64, s.rows)
	top := make([]float64, s.rows)
	for j := range p.W {
		row, value := p.A.Column(j)
		for k, i := range row {
			top[i] = max(top[i], math.Abs(value[k]))
		}
	}
	for i, t := range top {
		clear(column)
		column[i] = 10 * max(t, 1e-3)
		p.A.Append(column)
		give := math.Exp(-4 - 3*r.Float64())
		p.Lo, p.Hi = append(p.Lo, -give), append(p.Hi, give)
		p.C, p.W = append(p.C, 0), append(p.W, 1e-3)
	}
	return p
}

func TestLopsidedProgramsAreSettledInFewSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	var s Solver
	var sol Solution
	most := 0
	for k := range 200 {
		p := lopsided(r, 0)
		sol.Status = Unsolved
		s.Load(p)
		s.Minimise(&sol)
		if c := Check(p, &sol); sol.Status != Optimal || !c.Holds {
			t.Fatalf("program %d is %v after %d steps: %+v", k, sol.Status, sol.Steps, c)
		}
		most = max(most, sol.Steps)
	}
	t.Logf("at most %d steps", most)
	if most > 150 {
		t.Errorf("a program took %d steps", most)
	}
}

// What misses least, once what it misses is given, can only just be met: the
// limits leave no room, and multipliers that prove the answer are large.
func TestRowsEasedByTheirShortfallAreMet(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 4))
	var s Solver
	var sol Solution
	short := 0
	for k := range 200 {
		p := lopsided(r, math.Exp(1+4*r.Float64()))
		sol.Status = Unsolved
		s.Load(p)
		s.Minimise(&sol)
		if sol.Status != Infeasible {
			continue
		}
		short++
		p.B = slices.Clone(p.B)
		for i, v := range sol.Shortfall {
			p.B[i] -= v
		}
		sol.Status = Unsolved
		s.Load(p)
		s.Minimise(&sol)
		c := Check(p, &sol)
		// Where the multipliers are that large, the rounding of the sides alone
		// leaves a gap: it may be some roundings of the terms it is summed from.
		terms := 0.0
		for i, y := range sol.Y {
			terms += math.Abs(p.B[i] * y)
		}
		met := c.Primal <= primalHolds && c.Limits <= limitsHold && c.Dual <= dualHolds && c.Slack <= slackHolds
		if gap := math.Abs(c.Gap) * (1 + sol.Objective); sol.Status != Optimal || !met || !c.Holds && gap > 1e-13*terms {
			t.Errorf("program %d, eased, is %v after %d steps: %+v", k, sol.Status, sol.Steps, c)
		}
	}
	if short < 50 {
		t.Errorf("only %d programs fell short", short)
	}
}
