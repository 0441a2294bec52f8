package solve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// of builds a program from rows.
func of(rows [][]float64, b, c, w, lo, hi []float64) *Program {
	a := NewMatrix(len(rows))
	for j := range lo {
		column := make([]float64, len(rows))
		for i := range rows {
			column[i] = rows[i][j]
		}
		a.Append(column)
	}
	return &Program{A: a, B: b, C: c, W: w, Lo: lo, Hi: hi}
}

var inf = math.Inf(1)

func about(t *testing.T, what string, got, want, may float64) {
	t.Helper()
	if !(math.Abs(got-want) <= may) {
		t.Errorf("%s is %.12g, not %.12g", what, got, want)
	}
}

func holds(t *testing.T, c Certificate) {
	t.Helper()
	if !c.Holds {
		t.Errorf("the answer does not hold: %+v", c)
	}
}

// lever is two pulls on one hinge: areas 4 and 2 cm², arms 4 and 2 cm, 35 N/cm².
// The unknowns are shares of the greatest forces, 140 and 70 N.
func lever(moment float64) *Program {
	return of([][]float64{{140 * 0.04, 70 * 0.02}}, []float64{moment},
		[]float64{0, 0}, []float64{1, 1}, []float64{0, 0}, []float64{1, 1})
}

func TestLeverHasItsClosedForm(t *testing.T) {
	// F_j goes with r_j A_j^2 when the squares of F/A are summed.
	var s Solver
	var sol Solution
	p := lever(5)
	s.Load(p)
	s.Minimise(&sol)
	holds(t, Check(p, &sol))
	about(t, "first force", 140*sol.X[0], 117.647, 5e-4)
	about(t, "second force", 70*sol.X[1], 14.706, 5e-4)
	about(t, "first force, exactly", sol.X[0], 5*5.6/(5.6*5.6+1.4*1.4), 1e-14)
}

func TestLeverHasItsFeasibleRange(t *testing.T) {
	var s Solver
	var sol Solution
	p := lever(5)
	s.Load(p)
	for _, c := range []struct {
		cost []float64
		want float64
	}{{[]float64{140, 0}, 90}, {[]float64{-140, 0}, -125}, {[]float64{0, 70}, 0}, {[]float64{0, -70}, -70}} {
		s.Bound(c.cost, &sol)
		holds(t, CheckBound(p, c.cost, &sol))
		about(t, "bound", sol.Objective, c.want, 1e-12*125)
	}
}

func TestLeverOverItsStrengthIsNamed(t *testing.T) {
	var s Solver
	var sol Solution
	p := lever(10)
	s.Load(p)
	for _, ask := range []func(){
		func() { s.Minimise(&sol) },
		func() { s.Bound([]float64{1, 0}, &sol) },
		func() { s.BoundWithin([]float64{1, 0}, 5, &sol) },
	} {
		ask()
		if sol.Status != Infeasible {
			t.Fatalf("10 N·m is %v", sol.Status)
		}
		holds(t, Check(p, &sol))
		about(t, "shortfall", sol.Shortfall[0], 3, 1e-12) // 10 less 7.0 N·m
	}
}

func TestCappedLeverHasItsClosedForm(t *testing.T) {
	// On the line r·x = M the effort is the least plus half the squared distance.
	var s Solver
	var sol Solution
	p := lever(5)
	s.Load(p)
	s.Minimise(&sol)
	best, x := sol.Objective, sol.X[0]
	away := math.Sqrt(2*0.1*best) * 1.4 / math.Hypot(5.6, 1.4)
	for _, sign := range []float64{1, -1} {
		cost := []float64{sign, 0}
		s.BoundWithin(cost, 1.1*best, &sol)
		holds(t, CheckBoundWithin(p, cost, 1.1*best, &sol))
		// The path may meet a limit first: the second share is never below zero.
		want := max(sign*x-away, -5/5.6)
		about(t, "capped bound", sol.Objective, want, 1e-12)
	}
}

// Beale's program goes in circles under the plain rule of the largest reduced cost.
func TestBealesProgramEnds(t *testing.T) {
	p := of([][]float64{
		{1, 0, 0, 0.25, -8, -1, 9},
		{0, 1, 0, 0.5, -12, -0.5, 3},
		{0, 0, 1, 0, 0, 1, 0},
	}, []float64{0, 0, 1}, []float64{0, 0, 0, -0.75, 20, -0.5, 6}, make([]float64, 7), make([]float64, 7),
		[]float64{inf, inf, inf, inf, inf, inf, inf})
	var s Solver
	var sol Solution
	s.Load(p)
	s.Minimise(&sol)
	holds(t, Check(p, &sol))
	about(t, "least", sol.Objective, -1.25, 1e-14)
}

func TestOddProgramsHaveTheirAnswers(t *testing.T) {
	one, zero := []float64{1}, []float64{0}
	for _, c := range []struct {
		name   string
		p      *Program
		status Status
		value  float64
	}{
		{"no rows", of(nil, nil, []float64{-2, 1}, []float64{1, 1}, []float64{0, 0}, []float64{inf, 1}), Optimal, -2},
		{"no columns", of([][]float64{{}}, zero, nil, nil, nil, nil), Optimal, 0},
		{"no columns but a side", of([][]float64{{}}, one, nil, nil, nil, nil), Infeasible, 0},
		{"a column that cannot move", of([][]float64{{1, 1}}, []float64{3}, zero2, []float64{1, 1}, []float64{1, 0}, []float64{1, inf}), Optimal, 2.5},
		{"a row of zeros", of([][]float64{{1}, {0}}, []float64{1, 0}, zero, one, zero, one), Optimal, 0.5},
		{"a row of zeros with a side", of([][]float64{{1}, {0}}, []float64{1, 2}, zero, one, zero, one), Infeasible, 0.5},
		{"a row said twice", of([][]float64{{1, 2}, {1, 2}}, []float64{1, 1}, zero2, []float64{1, 1}, zero2, []float64{1, 1}), Optimal, 0.1},
		{"rows that contradict", of([][]float64{{1, 2}, {1, 2}}, []float64{1, 1.5}, zero2, []float64{1, 1}, zero2, []float64{1, 1}), Infeasible, 0.1},
		{"all weightless", of([][]float64{{1, 1}}, one, []float64{2, 3}, zero2, zero2, []float64{0.25, inf}), Optimal, 2.75},
		{"endless, weightless", of([][]float64{{1, -1}}, one, []float64{-1, 0}, zero2, zero2, []float64{inf, inf}), Unbounded, 0},
		{"endless beside weights", of([][]float64{{1, -1, 1}}, one, []float64{-1, 0, 0}, []float64{0, 0, 1}, make([]float64, 3), []float64{inf, inf, 1}), Unbounded, 0},
		{"a column in no row", of([][]float64{{1, 0}}, one, []float64{0, -1}, []float64{1, 0}, zero2, []float64{1, 5}), Optimal, -4.5},
		{"a negative lower limit", of([][]float64{{1, 1}}, []float64{-1}, zero2, []float64{1, 1}, []float64{-3, -0.25}, []float64{1, 1}), Optimal, 0.3125},
	} {
		var s Solver
		var sol Solution
		s.Load(c.p)
		s.Minimise(&sol)
		if sol.Status != c.status {
			t.Errorf("%s: %v, not %v", c.name, sol.Status, c.status)
			continue
		}
		if got := Check(c.p, &sol); !got.Holds {
			t.Errorf("%s: does not hold: %+v", c.name, got)
		}
		if c.status == Optimal {
			about(t, c.name, sol.Objective, c.value, 1e-13*(1+math.Abs(c.value)))
		}
	}
}

var zero2 = []float64{0, 0}

func TestShortfallIsLeastAtItsPrices(t *testing.T) {
	// One pull that serves two rows and can satisfy either: the dearer is met.
	for _, c := range []struct{ miss, short []float64 }{
		{[]float64{1, 10}, []float64{-1, 0}},
		{[]float64{10, 1}, []float64{0, 1}},
	} {
		p := of([][]float64{{1}, {1}}, []float64{1, 2}, []float64{0}, []float64{1}, []float64{0}, []float64{5})
		p.Miss = c.miss
		var s Solver
		var sol Solution
		s.Load(p)
		s.Minimise(&sol)
		holds(t, Check(p, &sol))
		for i := range c.short {
			about(t, "shortfall", sol.Shortfall[i], c.short[i], 1e-14)
		}
	}
}

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
