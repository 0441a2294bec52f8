package solve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// crude makes a program from bytes: small whole numbers, many zeros, many ties.
// Such programs are as degenerate as any.
func crude(data []byte) *Program {
	next := func() int {
		if len(data) == 0 {
			return 0
		}
		v := int(data[0])
		data = data[1:]
		return v
	}
	m, n := next()%6, next()%12
	p := &Program{A: NewMatrix(m)}
	column := make([]float64, m)
	for range n {
		for i := range column {
			if v := next(); v%3 != 0 {
				column[i] = float64(v%9 - 4)
			} else {
				column[i] = 0
			}
		}
		p.A.Append(column)
		v := next()
		lo := float64(v%3 - 1)
		hi := lo + float64(v/3%4)
		if v/12%3 == 0 {
			hi = math.Inf(1)
		}
		p.Lo, p.Hi = append(p.Lo, lo), append(p.Hi, hi)
		v = next()
		p.C, p.W = append(p.C, float64(v%5-1)), append(p.W, float64(v/5%4))
	}
	for range m {
		p.B = append(p.B, float64(next()%11-4))
	}
	if next()%2 == 1 {
		for range m {
			p.Miss = append(p.Miss, float64(1+next()%7))
		}
	}
	return p
}

// FuzzAnswersHold asks for the least, a bound and a capped bound of crude
// programs: none may panic or hang, every answer must hold by its certificate,
// and the three must agree on whether the program can be met.
func FuzzAnswersHold(f *testing.F) {
	f.Add([]byte{2, 3, 1, 2, 4, 5, 7, 8, 1, 4, 5, 7, 14, 15, 6, 8, 9, 2, 3, 3})
	f.Add([]byte{1, 2, 5, 12, 6, 3, 12, 6, 1})
	f.Add([]byte{3, 8, 0, 1, 2, 1, 1, 1, 2, 40, 9, 1, 2, 4, 41, 60, 1, 1, 1, 2, 2, 5, 7, 8})
	f.Add([]byte{5, 11, 7, 7, 7, 7, 7, 13, 17, 7, 7, 7, 7, 7, 13, 17, 7, 7, 7, 7, 7, 13, 17})
	f.Add([]byte("every row says the same as the last and none of them can be met at all"))
	f.Fuzz(func(t *testing.T, data []byte) { holdsAll(t, crude(data)) })
}

// holdsAll asks everything of one program and reports whether the capped bound
// was left open.
func holdsAll(t *testing.T, p *Program) (open bool) {
	var s Solver
	var least, sol Solution
	s.Load(p)
	s.Minimise(&least)
	if c := Check(p, &least); !c.Holds {
		t.Fatalf("least: %v does not hold: %+v", least.Status, c)
	}
	cost := make([]float64, len(p.C))
	for j := range cost {
		cost[j] = float64(j%3 - 1)
	}
	s.Bound(cost, &sol)
	if c := CheckBound(p, cost, &sol); !c.Holds {
		t.Fatalf("bound: %v does not hold: %+v", sol.Status, c)
	}
	if (sol.Status == Infeasible) != (least.Status == Infeasible) {
		t.Fatalf("bound is %v, least is %v", sol.Status, least.Status)
	}
	if least.Status == Infeasible {
		return false
	}
	cap := 1.1*p.Effort(least.X) + 0.5
	s.BoundWithin(cost, cap, &sol)
	// A capped bound may be left open, but it may not be wrong.
	if c := CheckBoundWithin(p, cost, cap, &sol); !c.Holds && sol.Status != Unsolved {
		t.Fatalf("within: %v does not hold: %+v", sol.Status, c)
	}
	return sol.Status == Unsolved
}

// TestCrudeProgramsAreAnswered asks the same of programs drawn from few
// different bytes, which tie and repeat more than any others, and counts what is
// left open.
func TestCrudeProgramsAreAnswered(t *testing.T) {
	const (
		drawn   = 40000
		mayOpen = 2 // capped bounds; some 1 in 300,000 are
	)
	r := rand.New(rand.NewPCG(4, 9))
	open := 0
	for range drawn {
		few := make([]byte, 3+r.IntN(12))
		for i := range few {
			few[i] = byte(r.IntN(256))
		}
		data := make([]byte, 2+r.IntN(120))
		for i := range data {
			data[i] = few[r.IntN(len(few))]
		}
		if holdsAll(t, crude(data)) {
			open++
		}
	}
	t.Logf("%d of %d left open", open, drawn)
	if open > mayOpen {
		t.Errorf("%d of %d left open", open, drawn)
	}
}
