package solve

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

func TestScratch(t *testing.T) {
	var s Solver
	for seed := range uint64(10) {
		r := rand.New(rand.NewPCG(seed, 1))
		sh := posture
		sh.idle = int(seed) * 25
		sh.repeated = int(seed % 3)
		p := random(r, sh)
		var sol Solution
		s.Load(p)
		s.Minimise(&sol)
		cost := make([]float64, 300)
		var lb Solution
		for _, v := range []float64{1, -1} {
		steps, steps2 := 0, 0
		bad, badc := 0, 0
		t0 := time.Now()
		for j := range 300 {
			cost[j] = v
			s.Bound(cost, &lb)
			steps += lb.Steps
			cost[j] = 0
		}
		d := time.Since(t0)
		t0 = time.Now()
		for j := range 300 {
			cost[j] = v
			s.BoundWithin(cost, 1.1*s.cap.effort, &lb)
			steps2 += lb.Steps
			cost[j] = 0
		}
		dc := time.Since(t0)
		for j := range 300 {
			cost[j] = v
			s.Bound(cost, &lb)
			if c := CheckBound(p, cost, &lb); !c.Holds { bad++; if bad < 3 {fmt.Printf("%v %+v\n", lb.Status, c)} }
			s.BoundWithin(cost, 1.1*s.cap.effort, &lb)
			if c := CheckBoundWithin(p, cost, 1.1*s.cap.effort, &lb); !c.Holds { badc++; if badc < 3 {fmt.Printf("CAP %d %v %v %+v\n", j, v, lb.Status, c)} }
			cost[j] = 0
			}
		fmt.Println("  warm each ", d/300, steps/300, "bad", bad, "capped", dc/300, steps2/300, badc)
		}
	}
}
