package solve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// copied is an answer that can be spoilt.
func copied(s Solution) Solution {
	s.X = append([]float64(nil), s.X...)
	s.Y = append([]float64(nil), s.Y...)
	s.Shortfall = append([]float64(nil), s.Shortfall...)
	s.Ray = append([]float64(nil), s.Ray...)
	return s
}

// TestCorruptedAnswersAreRejected spoils good answers by a little, in one place
// each, and expects the verdict to turn.
func TestCorruptedAnswersAreRejected(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	p := random(r, shape{rows: 6, muscles: 24, contacts: 4, fill: 0.6, level: 0.5})
	cost := make([]float64, len(p.C))
	var s Solver
	s.Load(p)
	var least, bound, within, missed Solution
	s.Minimise(&least)
	cap := 1.1 * least.Objective
	for j := range cost { // a column whose bounds the rows decide, not its limits
		cost[j] = -1
		s.Bound(cost, &bound)
		s.BoundWithin(cost, cap, &within)
		if peak(bound.Y) > 1e-3 && within.Price > 0 {
			break
		}
		cost[j] = 0
	}
	far := *p
	far.B = append([]float64(nil), p.B...)
	far.B[0] += 1e3
	s.Load(&far)
	s.Minimise(&missed)
	if missed.Status != Infeasible || within.Price == 0 {
		t.Fatalf("the cases are not what they should be: %v, price %g", missed.Status, within.Price)
	}
	kinds := map[string]struct {
		sol   Solution
		check func(sol *Solution) Certificate
	}{
		"least":  {least, func(sol *Solution) Certificate { return Check(p, sol) }},
		"bound":  {bound, func(sol *Solution) Certificate { return CheckBound(p, cost, sol) }},
		"within": {within, func(sol *Solution) Certificate { return CheckBoundWithin(p, cost, cap, sol) }},
		"missed": {missed, func(sol *Solution) Certificate { return Check(&far, sol) }},
	}
	for name, kind := range kinds {
		if c := kind.check(&kind.sol); !c.Holds {
			t.Fatalf("%s: the sound answer is rejected: %+v", name, c)
		}
		spoil := func(how string, change func(sol *Solution)) {
			bad := copied(kind.sol)
			change(&bad)
			if c := kind.check(&bad); c.Holds {
				t.Errorf("%s: %s is accepted: %+v", name, how, c)
			}
		}
		for j := range kind.sol.X {
			if rows, _ := p.A.Column(j); len(rows) > 0 {
				spoil("a changed x", func(sol *Solution) { sol.X[j] += 1e-6 * (1 + sol.X[j]) })
			}
		}
		spoil("an x below its limit", func(sol *Solution) { sol.X[0] = -1e-9 })
		spoil("no x", func(sol *Solution) { sol.X = nil })
		spoil("no y", func(sol *Solution) { sol.Y = nil })
		spoil("x that is no number", func(sol *Solution) { sol.X[1] = math.NaN() })
		spoil("y that is no number", func(sol *Solution) { sol.Y[1] = math.Inf(1) })
		spoil("another status", func(sol *Solution) { sol.Status = Unsolved })
		spoil("the status of a ray", func(sol *Solution) { sol.Status = Unbounded })
		spoil("y turned", func(sol *Solution) {
			for i := range sol.Y {
				sol.Y[i] = -sol.Y[i]
			}
		})
		if name != "missed" {
			spoil("y left out", func(sol *Solution) { clear(sol.Y) })
			spoil("y off by a thousandth", func(sol *Solution) {
				for i := range sol.Y {
					sol.Y[i] *= 1.001
				}
			})
			spoil("called out of reach", func(sol *Solution) {
				sol.Status, sol.Shortfall = Infeasible, make([]float64, len(p.B))
			})
		} else {
			spoil("called a solution", func(sol *Solution) { sol.Status = Optimal })
			spoil("another shortfall", func(sol *Solution) { sol.Shortfall[0] += 1e-3 })
			spoil("a shortfall that is not the least", func(sol *Solution) {
				sol.X[0] = 1 - sol.X[0]
				rest, _ := (&Certificate{}).rows(&far, sol.X)
				copy(sol.Shortfall, rest)
			})
		}
	}
	dear := copied(within)
	dear.Price *= 1.01
	if c := CheckBoundWithin(p, cost, cap, &dear); c.Holds {
		t.Errorf("another price of the cap is accepted: %+v", c)
	}
	if c := CheckBoundWithin(p, cost, 0.99*cap, &within); c.Holds {
		t.Errorf("a lower cap is accepted: %+v", c)
	}
	// A best answer to another question.
	if c := CheckBound(p, cost, &least); c.Holds {
		t.Errorf("the least effort is accepted as a bound: %+v", c)
	}
}

func TestCorruptedRaysAreRejected(t *testing.T) {
	p := of([][]float64{{1, -1, 1}}, []float64{1}, []float64{-1, 0, 0}, []float64{0, 0, 1}, make([]float64, 3), []float64{inf, inf, 1})
	var s Solver
	var sol Solution
	s.Load(p)
	s.Minimise(&sol)
	holds(t, Check(p, &sol))
	for how, ray := range map[string][]float64{
		"leaves the rows":  {1, 0.9, 0},
		"gains nothing":    {0, 0, 0},
		"meets a limit":    {1, 1.5, 0.5},
		"turns back":       {-1, -1, 0},
		"carries a weight": {1, 2, 1},
	} {
		bad := copied(sol)
		bad.Ray = ray
		if c := Check(p, &bad); c.Holds {
			t.Errorf("a ray that %s is accepted: %+v", how, c)
		}
	}
}
