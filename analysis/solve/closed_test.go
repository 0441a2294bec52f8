package solve

import (
	"math"
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
