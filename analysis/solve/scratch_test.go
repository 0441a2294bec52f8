package solve

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func TestScratch(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	var s Solver
	bad, tot := 0, 0
	for k := range 4000 {
		p := mixed(r, k)
		var sol Solution
		s.Load(p)
		if !s.startCap() { continue }
		cap := 1.1*s.cap.effort+1e-3
		cost := make([]float64, len(p.C))
		for v := range 2 {
		cost[r.IntN(len(cost))] = 1-2*float64(v)
		s.BoundWithin(cost, cap, &sol)
		tot++
		if c := CheckBoundWithin(p, cost, cap, &sol); !c.Holds {
			bad++
			if bad < 12 {
			m, n := p.A.Dims()
			fmt.Printf("%d m %d n %d %v steps %d effort %v cap %v\n   %+v\n", k, m, n, sol.Status, sol.Steps, s.cap.effort, cap, c)
			s.BoundWithin(cost, cap, &sol)
			}
		}
		}
	}
	fmt.Println("bad", bad, tot)
}
