package solve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestCarefulSearchAgreesWithTheFast solves by the careful search what the fast
// one can solve, so that the way of last resort is known to work before it is
// needed.
func TestCarefulSearchAgreesWithTheFast(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	solved := 0
	for k := range 300 {
		p := mixed(r, k)
		switch {
		case k >= 295:
			p = lopsided(r, 0)
		case k >= 290:
			p = random(r, posture)
		}
		var s, other Solver
		var fast, slow Solution
		s.Load(p)
		if s.Minimise(&fast); fast.Status != Optimal {
			continue
		}
		solved++
		other.Load(p)
		other.startQP(other.c)
		slow.shape(other.m, other.n)
		if !other.startSlow(&slow) || other.slow.descend(other.c) != least {
			t.Fatalf("program %d: no answer", k)
		}
		other.settled(other.c, &slow)
		holds(t, Check(p, &slow))
		about(t, "least effort", p.value(slow.X), fast.Objective, 1e-9*(1+math.Abs(fast.Objective)))

		// Along the path to a cap.
		cost := make([]float64, len(p.C))
		cost[r.IntN(len(cost))] = 1 - 2*float64(k%2)
		cap := 1.1*p.Effort(fast.X) + 1e-3
		s.BoundWithin(cost, cap, &fast)
		c := other.scaleCost(cost)
		if !other.startCap() {
			t.Fatalf("program %d: no least effort", k)
		}
		slow.shape(other.m, other.n)
		other.restore()
		if !other.startSlow(&slow) || (sure{&other}).at(0, c) != least {
			t.Fatalf("program %d: no way to start", k)
		}
		other.climb(sure{&other}, c, cap, &slow)
		if slow.Status != fast.Status {
			t.Errorf("program %d: capped bound %v carefully, %v fast", k, slow.Status, fast.Status)
		} else if slow.Status == Optimal {
			holds(t, CheckBoundWithin(p, cost, cap, &slow))
			about(t, "capped bound", dot(cost, slow.X), fast.Objective, 1e-8*(1+math.Abs(fast.Objective)))
		}
	}
	if solved < 150 {
		t.Errorf("only %d programs were solved", solved)
	}
}
