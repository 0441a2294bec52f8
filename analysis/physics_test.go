package analysis

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/solve"
)

var model = New(body.Adult())

// mirror turns a posture around.
func mirror(m *body.Model, p body.Posture) body.Posture {
	out := body.Posture{Stance: otherStance(m, p.Stance)}
	for _, x := range p.Positions {
		mv := &m.Movements[x.Movement]
		if mv.Lateral {
			x.Value = -x.Value
		}
		x.Movement = m.MustMovement(otherSide(mv.Key))
		out.Positions = append(out.Positions, x)
	}
	for _, l := range p.Loads {
		l.Patch = otherSide(l.Patch)
		if o, ok := map[string]string{"left": "right", "right": "left"}[l.Direction]; ok {
			l.Direction = o
		}
		out.Loads = append(out.Loads, l)
	}
	return out
}

func otherStance(m *body.Model, key string) string {
	for a, b := range map[string]string{"_left_leg": "_right_leg", "_right_leg": "_left_leg"} {
		if n := len(key) - len(a); n > 0 && key[n:] == a {
			return key[:n] + b
		}
	}
	return key
}

// TestTheMirrorImageWorksAlike: the same effort, left for right.
func TestTheMirrorImageWorksAlike(t *testing.T) {
	for _, p := range HeldPostures(model, 20, 3) {
		a, b := model.balanced(p), model.balanced(mirror(model.Model, p))
		if !b.out.Held || math.Abs(a.out.Cost-b.out.Cost) > 1e-6*(1+a.out.Cost) {
			t.Errorf("%+v costs %.9g, its mirror image %.9g", p, a.out.Cost, b.out.Cost)
			continue
		}
		for i, mu := range model.Model.Muscles {
			if d := a.best.X[i] - b.best.X[mu.Mirror]; math.Abs(d) > 1e-4 {
				t.Errorf("%+v: %s at %.5f, mirrored %.5f", p, mu.Key, a.best.X[i], b.best.X[mu.Mirror])
			}
		}
	}
}

// TestSizeAndWeightScaleMoments: a body k times as heavy asks k times the
// moments of its joints, one s times as tall s times; of the floor the weight.
func TestSizeAndWeightScaleMoments(t *testing.T) {
	base := model.Model
	for _, c := range []struct{ stature, mass float64 }{{1, 1.25}, {0.95, 1}, {1.05, 0.9}} {
		m, err := base.Scaled(body.Person{Sex: base.Person.Sex, Stature: c.stature * base.Person.Stature, Mass: c.mass * base.Person.Mass})
		if err != nil {
			t.Fatal(err)
		}
		an := New(m)
		for _, stance := range []string{"standing", "squat", "plank", "sitting", "all_fours"} {
			post := body.Posture{Stance: stance}
			a := model.balanced(post)
			p := an.pose()
			q := slices.Clone(a.b.p.Coords)
			for i, co := range m.Coords {
				if co.Slide {
					q[i] *= c.stature
				}
			}
			p.Set(q) // the same pose, for a size more or less settles a little differently
			load := generalised(p, an.weights(p, nil))
			for i, co := range m.Coords {
				want := c.mass * a.b.load[i]
				if !co.Slide {
					want *= c.stature
				}
				if math.Abs(load[i]-want) > 1e-9*(1+math.Abs(want)) {
					t.Errorf("%s, %g as tall and %g as heavy: %s asks %.6f, want %.6f", stance, c.stature, c.mass, co.Key, load[i], want)
				}
			}
			if !an.balanced(post).out.Held {
				t.Errorf("%s cannot be held %g as tall and %g as heavy", stance, c.stature, c.mass)
			}
		}
	}
}

// handLoad puts a mass into each hand.
func handLoad(p body.Posture, kg float64) body.Posture {
	p.Loads = nil
	if kg > 0 {
		p.Loads = []body.Load{{Kind: body.Carry, Patch: "palm_r", Mass: kg}, {Kind: body.Carry, Patch: "palm_l", Mass: kg}}
	}
	return p
}

// TestEffortIsConvexInTheLoad: what can be held with two loads can be held with
// one between them, for at most the mean effort. So a load that costs something
// costs ever more.
func TestEffortIsConvexInTheLoad(t *testing.T) {
	tried := 0
	for _, p := range HeldPostures(model, 40, 5) {
		for _, kg := range []float64{0.5, 2} {
			none, one, two := model.balanced(handLoad(p, 0)), model.balanced(handLoad(p, kg/2)), model.balanced(handLoad(p, kg))
			if !none.out.Held || !two.out.Held {
				continue
			}
			tried++
			if !one.out.Held {
				t.Errorf("%+v can be held with nothing and with %g kg a hand, not with half of it", p, kg)
				continue
			}
			if most := (none.out.Cost + two.out.Cost) / 2; one.out.Cost > most*(1+1e-6)+1e-9 {
				t.Errorf("%+v with %g kg a hand costs %.9g, above the mean of half and twice it %.9g", p, kg/2, one.out.Cost, most)
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d loads were tried", tried)
	}
}

// TestALoadNeverLowersTheEffort, where it hangs on the side that the body leans
// to already. (In general it may: a weight held behind balances a forward lean.)
func TestALoadNeverLowersTheEffort(t *testing.T) {
	m := model.Model
	sideways := m.MustMovement("shoulder_abduction_r")
	forward := m.MustMovement("shoulder_flexion_r")
	lower, tried := 0, 0
	for _, stance := range []string{"standing", "sitting", "kneeling", "squat"} {
		for k := range 10 {
			id := forward
			if k >= 5 {
				id = sideways
			}
			v := geom.Deg(float64(15 + 10*(k%5)))
			p := body.Posture{Stance: stance, Positions: []body.Position{{Movement: id, Value: v}, {Movement: m.MustMovement(otherSide(m.Movements[id].Key)), Value: v}}}
			before := model.balanced(p)
			for _, kg := range []float64{0.25, 0.5, 1, 2} {
				with := model.balanced(handLoad(p, kg))
				if !before.out.Held || !with.out.Held {
					break
				}
				tried++
				if with.out.Cost < before.out.Cost*(1-1e-9) {
					lower++
					t.Logf("%s, %s at %.0f degrees: %.6f with %g kg a hand, %.6f with less", stance, m.Movements[id].Key, geom.Degrees(v), with.out.Cost, kg, before.out.Cost)
				}
				before = with
			}
		}
	}
	if lower > 0 || tried < 100 {
		t.Errorf("%d of %d loads lower the effort", lower, tried)
	}
}

// TestActionEqualsReaction: what the supports give is the body's weight and what
// the loads do, to rounding.
func TestActionEqualsReaction(t *testing.T) {
	list := append(HeldPostures(model, 40, 7), body.Posture{Stance: "hanging"}, body.Posture{Stance: "standing", Loads: []body.Load{
		{Kind: body.Push, Patch: "palm_r", Force: 20, Direction: "forward"}, {Kind: body.Push, Patch: "palm_l", Force: 20, Direction: "forward"}}},
		body.Posture{Stance: "sitting", Loads: []body.Load{{Kind: body.Pull, Patch: "palm_r", Force: 15, Direction: "left"}}})
	for _, p := range list {
		e := model.balanced(p)
		if !e.out.Held {
			t.Errorf("%+v cannot be held: %+v", p, e.out.Short)
			continue
		}
		var sum geom.Vec
		for _, s := range e.out.Forces {
			sum = sum.Add(s.Force)
		}
		total := 0.0
		for _, f := range model.weights(e.b.p, p.Loads) {
			sum = sum.Add(f.f)
			total += f.f.Norm()
		}
		if sum.Norm() > 1e-9*total {
			t.Errorf("%+v: the forces leave %.3g N of %.0f N", p, sum.Norm(), total)
		}
	}
}

// TestEveryAnswerIsProved: over postures drawn as they come, held or not, the
// proof holds when it is checked by code that shares nothing with the search.
func TestEveryAnswerIsProved(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 17))
	held, open := 0, 0
	for range 200 {
		p := DrawPosture(model.Model, rng)
		e := model.balanced(p)
		switch c := solve.Check(&e.b.prog, &e.best); {
		case !e.out.Solved:
			open++
			t.Logf("not settled: %+v", p)
		case !c.Holds:
			t.Errorf("%+v: %s, and the proof does not hold: %+v", p, e.best.Status, c)
		case e.out.Held:
			held++
		case len(e.out.Short) == 0:
			t.Errorf("%+v cannot be held and nothing is missing", p)
		}
	}
	// A search that ends without a proof says so; it must stay rare.
	if open > 2 || held < 60 {
		t.Errorf("%d of 200 are held, %d were not settled", held, open)
	}
}

// without is a program with one more row: a use of the columns at most so much.
func without(p *solve.Program, use []share, most float64) *solve.Program {
	rows, columns := p.A.Dims()
	q := &solve.Program{A: solve.NewMatrix(rows + 1), B: append(slices.Clone(p.B), most), C: append(slices.Clone(p.C), 0), W: append(slices.Clone(p.W), 0),
		Lo: append(slices.Clone(p.Lo), 0), Hi: append(slices.Clone(p.Hi), math.Inf(1)), Miss: append(slices.Clone(p.Miss), 1)}
	col := make([]float64, rows+1)
	for j := range columns {
		clear(col)
		at, values := p.A.Column(j)
		for k, i := range at {
			col[i] = values[k]
		}
		for _, u := range use {
			if int(u.muscle) == j {
				col[rows] = u.part
			}
		}
		q.A.Append(col)
	}
	clear(col)
	col[rows] = 1
	q.A.Append(col)
	return q
}
