package solve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A multiplier is the rise of the least cost with its side.
func TestMultipliersAreTheRiseOfTheCost(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	p := random(r, shape{rows: 6, muscles: 20, contacts: 3, fill: 0.6, level: 0.4})
	var s Solver
	var at, up Solution
	s.Load(p)
	s.Minimise(&at)
	moved := 0.0
	for i := range p.B {
		next := *p
		next.B = append([]float64(nil), p.B...)
		step := 1e-5 * (1 + math.Abs(p.B[i]))
		value := [2]float64{}
		for k, sign := range []float64{-1, 1} {
			next.B[i] = p.B[i] + sign*step
			s.Load(&next)
			up.Status = Unsolved
			s.Minimise(&up)
			value[k] = up.Objective
		}
		slope := (value[1] - value[0]) / (2 * step)
		about(t, "rise", slope, at.Y[i], 1e-5*(1+math.Abs(at.Y[i])))
		moved = max(moved, math.Abs(at.Y[i]))
	}
	if moved < 1e-3 {
		t.Error("no multiplier to compare")
	}
}

func TestScalingRowsAndColumnsChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 5))
	p := random(r, shape{rows: 8, muscles: 30, contacts: 4, fill: 0.5, level: 0.4, repeated: 1})
	scaled := *p
	scaled.A = NewMatrix(len(p.B))
	scaled.B = append([]float64(nil), p.B...)
	scaled.W = append([]float64(nil), p.W...)
	scaled.Hi = append([]float64(nil), p.Hi...)
	factor := make([]float64, len(p.B))
	for i := range factor {
		factor[i] = math.Exp(3 * r.NormFloat64())
		scaled.B[i] *= factor[i]
	}
	columns := make([]float64, len(p.C))
	for j := range columns {
		columns[j] = math.Exp(2 * r.NormFloat64())
		full := make([]float64, len(p.B))
		row, value := p.A.Column(j)
		for k, i := range row {
			full[i] = value[k] * factor[i] * columns[j]
		}
		scaled.A.Append(full)
		scaled.W[j] *= columns[j] * columns[j]
		scaled.Hi[j] /= columns[j]
	}
	var s Solver
	var one, two Solution
	s.Load(p)
	s.Minimise(&one)
	s.Load(&scaled)
	s.Minimise(&two)
	holds(t, Check(p, &one))
	holds(t, Check(&scaled, &two))
	about(t, "least effort", two.Objective, one.Objective, 1e-10*one.Objective)
	for j := range columns {
		if p.W[j] > 0 {
			about(t, "share", two.X[j]*columns[j], one.X[j], 1e-9)
		}
	}
}

// What is least over all ways lies below what is least among cheap ways, which
// lies below what the cheapest way does.
func TestBoundsNest(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 5))
	var s Solver
	var best, bound, within Solution
	gaps := 0
	for range 20 {
		p := random(r, shape{rows: 10, muscles: 40, contacts: 4, fill: 0.4, level: 0.5})
		s.Load(p)
		best.Status = Unsolved
		s.Minimise(&best)
		cost := make([]float64, len(p.C))
		for j := range 40 {
			cost[j] = 1
			s.Bound(cost, &bound)
			last := bound.Objective
			for _, share := range []float64{10, 1.5, 1.1, 1.01} {
				cap := share * best.Objective
				s.BoundWithin(cost, cap, &within)
				holds(t, CheckBoundWithin(p, cost, cap, &within))
				if within.Objective < last-1e-9 {
					t.Errorf("column %d: %g at share %g, below %g", j, within.Objective, share, last)
				}
				if within.Objective > last+1e-3 {
					gaps++
				}
				last = within.Objective
			}
			if best.X[j] < last-1e-9 {
				t.Errorf("column %d: the cheapest way does %g, below the bound %g", j, best.X[j], last)
			}
			cost[j] = 0
		}
	}
	if gaps < 100 {
		t.Errorf("the caps mattered only %d times", gaps)
	}
}

// A warm start changes the way and not the end.
func TestWarmStartsEndAtTheSamePlace(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 5))
	p := random(r, posture)
	var s, other Solver
	var warm, cold Solution
	fewer := 0
	for range 10 {
		for i := range p.B {
			p.B[i] *= 1 + 0.01*r.NormFloat64()
		}
		s.Load(p)
		s.Minimise(&warm)
		other.Load(p)
		cold.Status = Unsolved
		other.Minimise(&cold)
		if warm.Status != cold.Status {
			t.Fatalf("%v warm, %v cold", warm.Status, cold.Status)
		}
		holds(t, Check(p, &warm))
		about(t, "least effort", warm.Objective, cold.Objective, 1e-12*(1+cold.Objective))
		if warm.Steps < cold.Steps {
			fewer++
		}
	}
	if fewer < 5 {
		t.Errorf("only %d of 10 warm starts saved steps", fewer)
	}
}

func TestSolverAllocatesNothingOnceWarm(t *testing.T) {
	p, _ := benched()
	var s Solver
	var sol Solution
	cost := make([]float64, len(p.C))
	cost[3] = 1
	work := func() {
		s.Load(p)
		s.Minimise(&sol)
		cap := 1.1 * sol.Objective
		s.Bound(cost, &sol)
		s.BoundWithin(cost, cap, &sol)
	}
	work()
	if got := testing.AllocsPerRun(5, work); got > 2 {
		t.Errorf("%g allocations", got)
	}
}

func TestMalformedProgramsPanic(t *testing.T) {
	for name, spoil := range map[string]func(p *Program){
		"short side":      func(p *Program) { p.B = nil },
		"short cost":      func(p *Program) { p.C = p.C[:1] },
		"negative weight": func(p *Program) { p.W[0] = -1 },
		"no number":       func(p *Program) { p.C[0] = math.NaN() },
		"limits crossed":  func(p *Program) { p.Lo[0] = 2 },
		"no lower limit":  func(p *Program) { p.Lo[0] = math.Inf(-1) },
		"free shortfall":  func(p *Program) { p.Miss = []float64{0} },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			p := lever(5)
			spoil(p)
			new(Solver).Load(p)
		})
	}
}

// A column that rests in some known point needs no search, and the answer is
// the one that a search gives.
func TestKnownPointsSaveSearches(t *testing.T) {
	p, _ := benched()
	var s Solver
	var sol, fresh Solution
	s.Load(p)
	s.Minimise(&sol)
	cap := 1.1 * sol.Objective
	resting := append([]float64(nil), sol.X...)
	cost := make([]float64, len(p.C))
	saved := 0
	for j, x := range resting {
		cost[j] = 1
		s.Bound(cost, &sol)
		holds(t, CheckBound(p, cost, &sol))
		if x == p.Lo[j] && sol.Steps > 0 {
			t.Errorf("column %d rests, and %d steps were taken", j, sol.Steps)
		}
		if sol.Steps == 0 {
			saved++
		}
		if j%20 == 0 {
			var other Solver
			other.Load(p)
			other.Bound(cost, &fresh)
			about(t, "bound", sol.Objective, fresh.Objective, 1e-10)
			s.BoundWithin(cost, cap, &sol)
			other.BoundWithin(cost, cap, &fresh)
			about(t, "capped bound", sol.Objective, fresh.Objective, 1e-10)
		}
		cost[j] = 0
	}
	if saved < len(resting)/4 {
		t.Errorf("only %d searches saved", saved)
	}
}

// Every bound of a whole-body program must be settled, not only most.
func TestBoundsOfWholeBodiesAllHold(t *testing.T) {
	for k := range 4 {
		size := posture
		size.idle, size.repeated = 80*k, k
		p := random(rand.New(rand.NewPCG(uint64(k), 41)), size)
		var s Solver
		var sol Solution
		s.Load(p)
		s.Minimise(&sol)
		holds(t, Check(p, &sol))
		cap := 1.1 * sol.Objective
		cost := make([]float64, len(p.C))
		for j := range cost {
			for _, sign := range []float64{1, -1} {
				cost[j] = sign
				s.Bound(cost, &sol)
				holds(t, CheckBound(p, cost, &sol))
				s.BoundWithin(cost, cap, &sol)
				holds(t, CheckBoundWithin(p, cost, cap, &sol))
			}
			cost[j] = 0
		}
	}
}
