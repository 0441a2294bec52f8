package solve

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func TestScratch(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	var s Solver
	bad, tot, uns := 0, 0, 0
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
			if sol.Status == Unsolved { uns++ }
		}
		}
	}
	fmt.Println("bad", bad, "unsolved", uns, tot)
	bad, tot, uns = 0, 0, 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 1))
		sh := posture
		sh.idle = int(seed) * 10
		sh.repeated = int(seed % 3)
		p := random(r, sh)
		s.Load(p)
		s.startCap()
		cap := 1.1*s.cap.effort
		var sol Solution
		cost := make([]float64, len(p.C))
		for j := range cost {
			for _, v := range []float64{1,-1} {
			cost[j] = v
			s.BoundWithin(cost, cap, &sol)
			tot++
			if c := CheckBoundWithin(p, cost, cap, &sol); !c.Holds { bad++; if sol.Status == Unsolved { uns++ } }
			}
			cost[j] = 0
		}
	}
	fmt.Println("posture bad", bad, "unsolved", uns, tot)
}
