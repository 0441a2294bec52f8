package solve
import ("testing";"fmt")
func TestScratch(t *testing.T) {
	p := crude([]byte{5, 11, 7, 7, 7, 7, 7, 13, 17, 7, 7, 7, 7, 7, 13, 17, 7, 7, 7, 7, 7, 13, 17})
	fmt.Println(p.A, p.B, p.C, p.W, p.Lo, p.Hi)
	var s Solver
	var sol Solution
	s.Load(p)
	s.Minimise(&sol)
	fmt.Println(sol, s.lset, s.qp.x, s.qp.noise, s.qp.size)
}
