package solve

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// TestGonumAgreesOnBounds asks gonum's simplex for the same bounds. It takes
// x >= 0 and rows only, so upper limits become rows with a slack each; it cannot
// take rows that repeat others.
func TestGonumAgreesOnBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 4))
	var s Solver
	var sol Solution
	compared := 0
	for range 150 {
		p := random(r, shape{rows: 1 + r.IntN(6), muscles: 8 + r.IntN(12), contacts: r.IntN(4), fill: 0.7, level: r.Float64()})
		m, n := p.A.Dims()
		var top []int
		for j, hi := range p.Hi {
			if !math.IsInf(hi, 1) {
				top = append(top, j)
			}
		}
		a := mat.NewDense(m+len(top), n+len(top), nil)
		b := append([]float64(nil), p.B...)
		for j := range n {
			row, value := p.A.Column(j)
			for k, i := range row {
				a.Set(i, j, value[k])
			}
		}
		for k, j := range top {
			a.Set(m+k, j, 1)
			a.Set(m+k, n+k, 1)
			b = append(b, p.Hi[j])
		}
		cost := make([]float64, n+len(top))
		cost[r.IntN(n)] = float64(1 - 2*r.IntN(2))
		want, _, err := lp.Simplex(cost, a, b, 1e-10, nil)
		s.Load(p)
		s.Bound(cost[:n], &sol)
		holds(t, CheckBound(p, cost[:n], &sol))
		switch err {
		case nil:
			about(t, "bound", sol.Objective, want, 1e-8*(1+math.Abs(want)))
			compared++
		case lp.ErrUnbounded:
			if sol.Status != Unbounded {
				t.Errorf("%v here, endless there", sol.Status)
			}
		}
	}
	if compared < 100 {
		t.Errorf("only %d compared", compared)
	}
}
