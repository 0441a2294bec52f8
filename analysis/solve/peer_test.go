package solve

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"tautline/testdata/peer"
)

// asked is a program in the form that the peers read.
type asked struct {
	A     [][]float64 `json:"a"`
	B     []float64   `json:"b"`
	C     []float64   `json:"c"`
	W     []float64   `json:"w"`
	Lo    []float64   `json:"lo"`
	Hi    []*float64  `json:"hi"`
	Costs [][]float64 `json:"costs"`
	Cap   *float64    `json:"cap"`
	Times int         `json:"times"`
}

// told is what they answer.
type told struct {
	Feasible, Unsure bool
	Cost, Lower      *float64
	Bounds           []*float64
	Within           [][2]*float64
	QPms             float64 `json:"qp_ms"`
	LPms             float64 `json:"lp_ms"`
	Capms            float64 `json:"cap_ms"`
}

func ask(p *Program, costs ...[]float64) asked {
	m, n := p.A.Dims()
	q := asked{B: p.B, C: p.C, W: p.W, Lo: p.Lo, Costs: costs, A: make([][]float64, m)}
	for i := range m {
		q.A[i] = make([]float64, n)
	}
	for j := range n {
		row, value := p.A.Column(j)
		for k, i := range row {
			q.A[i][j] = value[k]
		}
		if math.IsInf(p.Hi[j], 1) {
			q.Hi = append(q.Hi, nil)
		} else {
			q.Hi = append(q.Hi, &p.Hi[j])
		}
	}
	return q
}

func answers(t testing.TB, questions []asked) []told {
	t.Helper()
	text, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "programs.json")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	var out []told
	peer.Programs(t, file, &out)
	if len(out) != len(questions) {
		t.Fatalf("%d answers to %d questions", len(out), len(questions))
	}
	return out
}

// mixed returns a small program; the kinds take turns: plain, with repeated
// rows, with most columns at their limits, with a cost, and out of reach.
func mixed(r *rand.Rand, k int) *Program {
	s := shape{
		rows: 1 + r.IntN(12), muscles: 1 + r.IntN(40), contacts: r.IntN(8),
		fill: 0.2 + 0.8*r.Float64(), level: r.Float64(),
	}
	switch k % 5 {
	case 1:
		s.repeated = 1 + r.IntN(3)
	case 2:
		s.idle = s.muscles + s.contacts
	case 4:
		s.excess = 100 * r.NormFloat64()
	}
	p := random(r, s)
	if k%5 == 3 {
		for j := range p.C {
			if p.C[j] = r.NormFloat64(); p.W[j] == 0 {
				p.C[j] = math.Abs(p.C[j])
			}
		}
	}
	return p
}

// TestAgreesWithEstablishedSolvers solves 1,000 random programs here and by
// HiGHS (linear) and CVXOPT (quadratic and cone programs).
func TestAgreesWithEstablishedSolvers(t *testing.T) {
	count := 1000
	if testing.Short() {
		count = 100
	}
	// The promise for the least cost and for bounds. CVXOPT ends with a gap of
	// its own, which is added: it can be no more exact than that.
	const costs, bounds = 1e-8, 1e-6
	r := rand.New(rand.NewPCG(17, 4))
	var s Solver
	var least Solution
	var programs []*Program
	var questions []asked
	for k := range count {
		p := mixed(r, k)
		one, two := make([]float64, len(p.C)), make([]float64, len(p.C))
		one[r.IntN(len(one))] = 1
		for j := range two {
			if !math.IsInf(p.Hi[j], 1) {
				two[j] = r.NormFloat64()
			}
		}
		q := ask(p, one, two)
		s.Load(p)
		if s.Minimise(&least); least.Status == Optimal && k%4 == 0 {
			free := *p
			free.C = make([]float64, len(p.C))
			s.Load(&free)
			s.Minimise(&least)
			cap := 1.1*least.Objective + 1e-3
			q.Cap = &cap
		}
		programs, questions = append(programs, p), append(questions, q)
	}
	feasible, infeasible, capped, unsaid := 0, 0, 0, 0
	var sol Solution
	for k, a := range answers(t, questions) {
		p, q := programs[k], questions[k]
		s.Load(p)
		sol.Status = Unsolved
		s.Minimise(&sol)
		if c := Check(p, &sol); !c.Holds {
			t.Errorf("program %d: %v does not hold: %+v", k, sol.Status, c)
			continue
		}
		if a.Unsure {
			t.Logf("program %d: the peer is not sure", k)
			continue
		}
		if (sol.Status == Optimal) != a.Feasible {
			t.Errorf("program %d: %v here, feasible there: %v", k, sol.Status, a.Feasible)
			continue
		}
		if !a.Feasible {
			infeasible++
			continue
		}
		feasible++
		if a.Cost == nil {
			unsaid++
		} else if off, may := math.Abs(sol.Objective-*a.Cost), costs*(1+math.Abs(*a.Cost))+math.Abs(*a.Cost-*a.Lower); off > may {
			t.Errorf("program %d: least cost %.12g here, %.12g there (gap %.2g)", k, sol.Objective, *a.Cost, *a.Cost-*a.Lower)
		}
		for b, cost := range q.Costs {
			s.Bound(cost, &sol)
			if c := CheckBound(p, cost, &sol); !c.Holds {
				t.Errorf("program %d: bound does not hold: %v %+v", k, sol.Status, c)
			} else if a.Bounds[b] == nil {
				if sol.Status == Optimal {
					t.Errorf("program %d: bound %g here, none there", k, sol.Objective)
				}
			} else if want := *a.Bounds[b]; math.Abs(sol.Objective-want) > bounds*(1+math.Abs(want)) {
				t.Errorf("program %d: bound %.9g here, %.9g there", k, sol.Objective, want)
			}
			if q.Cap == nil {
				continue
			}
			capped++
			s.BoundWithin(cost, *q.Cap, &sol)
			if c := CheckBoundWithin(p, cost, *q.Cap, &sol); !c.Holds {
				t.Errorf("program %d: capped bound does not hold: %v %+v", k, sol.Status, c)
			} else if want := a.Within[b][0]; want == nil {
				unsaid++
			} else if off := math.Abs(sol.Objective - *want); off > bounds*(1+math.Abs(*want)) {
				t.Errorf("program %d: capped bound %.9g here, %.9g there", k, sol.Objective, *want)
			}
		}
	}
	t.Logf("%d feasible, %d infeasible, %d capped bounds; the peer left %d answers open", feasible, infeasible, capped, unsaid)
	if feasible < count/2 || infeasible < count/20 || capped < count/5 || unsaid > count/10 {
		t.Errorf("too few of a kind to mean much")
	}
}

// TestWholeBodyProgramsAgree solves programs of the size of a whole body here
// and there and logs how long each took in this run. CVXOPT is an interior-point
// solver that is handed dense rows, as are most; building a program is not
// counted on either side.
func TestWholeBodyProgramsAgree(t *testing.T) {
	const whole = 4 // programs
	r := rand.New(rand.NewPCG(21, 4))
	var programs []*Program
	var questions []asked
	var s Solver
	var sol Solution
	for k := range whole {
		size := posture
		size.idle, size.repeated = 60*k, k%3
		p := random(r, size)
		cost := make([]float64, len(p.C))
		cost[7*k] = -1
		s.Load(p)
		sol.Status = Unsolved
		s.Minimise(&sol)
		q := ask(p, cost)
		cap := 1.1 * sol.Objective
		q.Cap, q.Times = &cap, 2
		programs, questions = append(programs, p), append(questions, q)
	}
	var ours, theirs [3]float64
	for k, a := range answers(t, questions) {
		p, cost, cap := programs[k], questions[k].Costs[0], *questions[k].Cap
		if a.Cost == nil || a.Within[0][0] == nil || a.Bounds[0] == nil {
			t.Logf("program %d: the peer left it open", k)
			continue
		}
		theirs[0] += a.QPms
		theirs[1] += a.LPms
		theirs[2] += a.Capms
		best := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
		var least, bound, within Solution
		for range 10 {
			var s Solver // nothing is warm
			s.Load(p)
			for i, work := range []func(){
				func() { least = Solution{}; s.Minimise(&least) },
				func() { s.Bound(cost, &bound) },
				func() { s.BoundWithin(cost, cap, &within) },
			} {
				start := time.Now()
				work()
				best[i] = min(best[i], time.Since(start).Seconds()*1e3)
			}
		}
		for i := range best {
			ours[i] += best[i]
		}
		holds(t, Check(p, &least))
		holds(t, CheckBound(p, cost, &bound))
		holds(t, CheckBoundWithin(p, cost, cap, &within))
		about(t, "least effort", least.Objective, *a.Cost, 1e-8*(1+math.Abs(*a.Cost)))
		about(t, "bound", bound.Objective, *a.Bounds[0], 1e-6*(1+math.Abs(*a.Bounds[0])))
		about(t, "capped bound", within.Objective, *a.Within[0][0], 1e-6*(1+math.Abs(*a.Within[0][0])))
	}
	for i, what := range []string{"least effort (CVXOPT)", "first bound (HiGHS)", "capped bound (CVXOPT)"} {
		t.Logf("%-22s %7.3f ms here, %8.3f ms there: %.1f times", what, ours[i]/whole, theirs[i]/whole, theirs[i]/ours[i])
	}
}
