package analysis_test

import (
	"math"
	"testing"

	"tautline/analysis/solve"
)

// Two muscles share one moment: reference values in closed form (derived).
const (
	tension = 35.0 // N/cm²
	areaOne = 4.0  // cm²
	areaTwo = 2.0
	armOne  = 0.04 // m
	armTwo  = 0.02
)

// sharing asks for a moment of two activations at most one.
func sharing(asked float64) *solve.Program {
	p := &solve.Program{A: solve.NewMatrix(1), B: []float64{asked},
		C: make([]float64, 2), W: []float64{1, 1}, Lo: make([]float64, 2), Hi: []float64{1, 1}}
	p.A.Append([]float64{armOne * tension * areaOne})
	p.A.Append([]float64{armTwo * tension * areaTwo})
	return p
}

func TestTwoMusclesShareAMomentAsTheClosedFormSays(t *testing.T) {
	var s solve.Solver
	var sol solve.Solution
	s.Load(sharing(5))
	s.Minimise(&sol)
	near(t, "first activation", sol.X[0], 0.8403, 1e-4)
	near(t, "second activation", sol.X[1], 0.2101, 1e-4)
	near(t, "first force", sol.X[0]*tension*areaOne, 117.647, 1e-3)
	near(t, "second force", sol.X[1]*tension*areaTwo, 14.706, 1e-3)
}

// The sum of cubes is reached by squares whose weights follow their answers.
func TestCubedStressIsTheFixedPointOfWeightedSquares(t *testing.T) {
	p := sharing(5)
	var s solve.Solver
	var sol solve.Solution
	a := []float64{0.5, 0.5}
	for range 40 {
		copy(p.W, a) // x³ = x·x², and the weight stays while x² moves
		sol = solve.Solution{}
		s.Load(p)
		s.Minimise(&sol)
		for j := range a {
			a[j] = math.Sqrt(a[j] * sol.X[j]) // half way: whole steps swing
		}
	}
	near(t, "first activation", sol.X[0], 0.7937, 1e-4)
	near(t, "second activation", sol.X[1], 0.3968, 1e-4)
	near(t, "first force", sol.X[0]*tension*areaOne, 111.111, 1e-3)
	near(t, "second force", sol.X[1]*tension*areaTwo, 27.778, 1e-3)
}

func TestFeasibleRangeTellsMustFromMay(t *testing.T) {
	var s solve.Solver
	p := sharing(5)
	s.Load(p)
	var best, sol solve.Solution
	s.Minimise(&best)
	span := func(j int, solve func(cost []float64)) (lo, hi float64) {
		cost := make([]float64, 2)
		cost[j] = 1
		solve(cost)
		lo = sol.X[j]
		cost[j] = -1
		solve(cost)
		return lo, sol.X[j]
	}
	whatever := func(cost []float64) { s.Bound(cost, &sol) }
	lo, hi := span(0, whatever)
	near(t, "least of the first, which must work", lo, 0.643, 5e-4)
	near(t, "most of the first", hi, 0.893, 5e-4)
	near(t, "least force of the first", lo*tension*areaOne, 90, 1e-6)
	near(t, "most force of the first", hi*tension*areaOne, 125, 1e-6)
	lo, hi = span(1, whatever)
	near(t, "least of the second, which may work", lo, 0, 1e-12)
	near(t, "most of the second", hi, 1, 1e-12)

	// Within a tenth more effort: along the line of all ways, the best one is
	// nearest to nothing, so that the way from it is √0.1 of its distance.
	away := math.Sqrt(0.1) * math.Hypot(best.X[0], best.X[1])
	one, two := armOne*tension*areaOne, armTwo*tension*areaTwo
	step := away / math.Hypot(one, two)
	near10 := func(cost []float64) { s.BoundWithin(cost, 1.1*p.Effort(best.X), &sol) }
	lo, hi = span(0, near10)
	near(t, "least of the first, near the best", lo, best.X[0]-step*two, 1e-8)
	near(t, "most of the first, near the best", hi, 125.0/(tension*areaOne), 1e-8) // the second cannot do less than nothing
	lo, hi = span(1, near10)
	near(t, "least of the second, near the best", lo, 0, 1e-8)
	near(t, "most of the second, near the best", hi, best.X[1]+step*one, 1e-8)
}

func TestMomentBeyondBothMusclesIsNamedNotAnswered(t *testing.T) {
	var s solve.Solver
	p := sharing(10)
	s.Load(p)
	var sol solve.Solution
	s.Minimise(&sol)
	if c := solve.Check(p, &sol); sol.Status != solve.Infeasible || !c.Holds {
		t.Fatalf("%v, certificate %+v", sol.Status, c)
	}
	near(t, "what is missing of 10 N·m", sol.Shortfall[0], 3, 1e-9)
}

func near(t *testing.T, what string, got, want, abs float64) {
	t.Helper()
	if math.Abs(got-want) > abs {
		t.Errorf("%s: %.6f, expected %.6f", what, got, want)
	}
}
