package solve

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func TestScratch(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	var s Solver
	bad := 0
	for k := range 3000 {
		p := mixed(r, k)
		var sol Solution
		s.Load(p)
		s.Minimise(&sol)
		if c := Check(p, &sol); !c.Holds {
			bad++
			if bad < 8 {
			m, n := p.A.Dims()
			s.Load(p)
			s.Minimise(&sol)
			fmt.Printf("%d m %d n %d %v %v steps %d lp %v %v\n   %+v\n", k, m, n, sol.Status, s.lset, sol.Steps, s.lp.ready, s.miss, c)
			}
		}
	}
	fmt.Println("bad", bad)
}
