package solve

import (
	"math/rand/v2"
	"testing"
)

// benched is one whole-body program and a neighbour of it.
func benched() (p, neighbour *Program) {
	r := rand.New(rand.NewPCG(3, 1))
	s := posture
	s.idle = 60
	p = random(r, s)
	next := *p
	next.B = append([]float64(nil), p.B...)
	for i := range next.B {
		next.B[i] *= 1 + 0.02*r.NormFloat64()
	}
	return p, &next
}

func BenchmarkMinimiseCold(b *testing.B) {
	p, _ := benched()
	var s Solver
	var sol Solution
	b.ReportAllocs()
	for b.Loop() {
		sol.Status = Unsolved
		s.Load(p)
		s.Minimise(&sol)
	}
	if sol.Status != Optimal {
		b.Fatal(sol.Status)
	}
	b.ReportMetric(float64(sol.Steps), "steps")
}

func BenchmarkMinimiseWarm(b *testing.B) {
	p, next := benched()
	var s Solver
	var sol Solution
	b.ReportAllocs()
	for b.Loop() {
		p, next = next, p
		s.Load(p)
		s.Minimise(&sol)
	}
	if sol.Status != Optimal {
		b.Fatal(sol.Status)
	}
	b.ReportMetric(float64(sol.Steps), "steps")
}

// each runs a bound in both or one direction for every column.
func each(b *testing.B, signs []float64, bound func(s *Solver, cost []float64, sol *Solution)) {
	p, _ := benched()
	var s Solver
	var sol Solution
	s.Load(p)
	s.Minimise(&sol)
	cost := make([]float64, len(p.C))
	bound(&s, cost, &sol)
	b.ReportAllocs()
	steps, count, searched, k := 0, 0, 0, 0
	for b.Loop() {
		j := k % len(cost)
		if j == 0 {
			s.seen.forget() // as for a new program
		}
		cost[j] = signs[k/len(cost)%len(signs)]
		bound(&s, cost, &sol)
		cost[j] = 0
		k++
		if steps += sol.Steps; sol.Steps > 0 {
			searched++
		}
		count++
	}
	b.ReportMetric(float64(steps)/float64(count), "steps/op")
	b.ReportMetric(float64(searched)/float64(count), "searched")
}

func BenchmarkBoundLeast(b *testing.B) { each(b, []float64{1}, (*Solver).Bound) }
func BenchmarkBoundMost(b *testing.B)  { each(b, []float64{-1}, (*Solver).Bound) }

func BenchmarkBoundCold(b *testing.B) {
	p, _ := benched()
	var s Solver
	var sol Solution
	cost := make([]float64, len(p.C))
	for b.Loop() {
		s.Load(p)
		s.lp.ready = false // not from the last basis
		s.Bound(cost, &sol)
	}
	b.ReportMetric(float64(sol.Steps), "steps")
}

func BenchmarkMinimiseOutOfReach(b *testing.B) {
	p, _ := benched()
	far := *p
	far.B = append([]float64(nil), p.B...)
	for i := range far.B {
		far.B[i] *= 20
	}
	var s Solver
	var sol Solution
	for b.Loop() {
		s.Load(&far)
		s.Minimise(&sol)
	}
	if sol.Status != Infeasible {
		b.Fatal(sol.Status)
	}
}

func BenchmarkBoundWithin(b *testing.B) {
	each(b, []float64{1, -1}, func(s *Solver, cost []float64, sol *Solution) {
		if s.startCap() {
			s.BoundWithin(cost, 1.1*s.cap.effort, sol)
		}
	})
}
