package solve

import (
	"fmt"
	"math/rand/v2"
	"syscall"
	"testing"
)

func cpu() float64 {
	var u syscall.Rusage
	syscall.Getrusage(0, &u)
	return float64(u.Utime.Sec+u.Stime.Sec)*1e6 + float64(u.Utime.Usec+u.Stime.Usec)
}

func TestScratch(t *testing.T) {
	for _, k := range []int{0, 60, 200} {
		r := rand.New(rand.NewPCG(uint64(k), 1))
		sh := posture
		sh.idle = k
		p := random(r, sh)
		far := *p
		far.B = append([]float64(nil), p.B...)
		far.B[3] *= 30
		var s Solver
		var sol Solution
		measure := func(what string, n int, f func(i int)) {
			f(0)
			t0 := cpu()
			steps := 0
			for i := range n { f(i); steps += sol.Steps }
			fmt.Printf("%-20s %.0f µs steps %d %v\n", what, (cpu()-t0)/float64(n), steps/n, sol.Status)
		}
		measure("cold", 200, func(i int) { sol.Status = Unsolved; s.Load(p); s.Minimise(&sol) })
		measure("same warm", 200, func(i int) { s.Load(p); s.Minimise(&sol) })
		measure("infeasible", 20, func(i int) { s.Load(&far); s.Minimise(&sol) })
		fmt.Println(Check(&far, &sol).Holds, largest(sol.Shortfall))
		cost := make([]float64, 300)
		s = Solver{}
		measure("LP cold", 20, func(i int) { s.lp.ready=false; s.Load(p); s.Bound(cost, &sol) })
		for _, v := range []float64{1,-1} {
		measure("LP each", 300, func(i int) { cost[i]=v; s.Bound(cost, &sol); cost[i]=0 })
		}
		measure("LP resume", 20, func(i int) { q := *p; q.B = append([]float64(nil), p.B...); for i := range q.B { q.B[i] *= 1+0.0001*r.NormFloat64() }; s.Load(&q); s.Bound(cost, &sol) })
		s.Load(p)
		s.startCap()
		for _, v := range []float64{1,-1} {
		measure("cap each", 300, func(i int) { cost[i]=v; s.BoundWithin(cost, 1.1*s.cap.effort, &sol); cost[i]=0 })
		}
	}
}
