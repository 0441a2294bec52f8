package pose_test

import (
	"math"
	"math/rand"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// randomPose fills q with values inside the ranges of the geometry, leaving the
// root where it is. The shoulder girdle is posed through the rhythm by random
// positions of the arm: its raw coordinates can be combined in ways that no arm
// reaches.
func randomPose(m *body.Model, r *rand.Rand) []float64 {
	var po body.Posture
	for i := range m.Movements {
		if mv := &m.Movements[i]; mv.Girdle {
			po.Positions = append(po.Positions, body.Position{Movement: body.MovementID(i), Value: mv.Lo + r.Float64()*(mv.Hi-mv.Lo)})
		}
	}
	// An arm is raised forward or sideways; of both only what their ellipse allows.
	for i := range po.Positions {
		switch body.Bare(m.Movements[po.Positions[i].Movement].Key) {
		case "shoulder_flexion", "shoulder_abduction":
			po.Positions[i].Value *= 0.7
		}
	}
	q := m.Resolve(po).Coords
	for c := range m.Coords {
		co := &m.Coords[c]
		switch body.Bare(m.Joints[co.Joint].Key) {
		case "root", "sternoclavicular", "acromioclavicular", "glenohumeral":
			continue
		}
		q[c] = co.Lo + r.Float64()*(co.Hi-co.Lo)
	}
	return q
}

// r = -dL/dq, for every muscle and every coordinate it crosses, at random poses.
func TestMomentArmIsTheDifferenceQuotientOfLength(t *testing.T) {
	m := body.Adult()
	p, side := pose.New(m), pose.New(m)
	r := rand.New(rand.NewSource(11))
	const (
		h = 1e-6 // rad
		// Central differences of lengths of about 0.5 m in double precision are
		// good to about 1e-10/h; curvature adds h²/6 of the third derivative.
		tol = 2e-7 // m/rad
	)
	worst, checked, kinks := 0.0, 0, 0
	for range 60 {
		q := randomPose(m, r)
		p.Set(q)
		p.Measure()
		for i := range m.Muscles {
			id := body.MuscleID(i)
			coords, arms := p.Arms(id)
			for k, c := range coords {
				length := func(step float64) float64 {
					side.Set(p.Turned(c, step))
					side.MeasureOne(id)
					return side.Length(id)
				}
				up, mid, down := length(h), p.Length(id), length(-h)
				want := -(up - down) / (2 * h)
				checked++
				if d := math.Abs(arms[k] - want); d > tol {
					// At touch-down the arm jumps; the two one-sided quotients
					// then differ and the arm must equal one of them.
					left, right := -(mid-down)/h, -(up-mid)/h
					if math.Abs(left-right) > 10*tol && (math.Abs(arms[k]-left) < 1e-4 || math.Abs(arms[k]-right) < 1e-4) {
						kinks++
						continue
					}
					t.Errorf("%s about %s: arm %.7f m, difference quotient %.7f", m.Muscles[i].Key, m.Coords[c].Key, arms[k], want)
				} else {
					worst = math.Max(worst, d)
				}
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if checked < 10_000 {
		t.Fatalf("only %d arms were checked", checked)
	}
	t.Logf("%d arms, largest difference %.2g m, %d at touch-down", checked, worst, kinks)
}

func TestLeftIsTheMirrorOfRight(t *testing.T) {
	m := body.Adult()
	p := pose.New(m)
	r := rand.New(rand.NewSource(12))
	for range 20 {
		q := randomPose(m, r)
		// Make the pose symmetrical: the left takes the right's values, middle
		// coordinates that turn sideways are straight.
		for c := range m.Coords {
			switch co := &m.Coords[c]; {
			case co.Side == body.Left:
				right, _ := m.Coord(body.Bare(co.Key) + "_r")
				q[c] = q[right]
			case co.Side == body.Middle && co.Axis.Z == 0 && !co.Slide:
				q[c] = 0
			}
		}
		p.Set(q)
		p.Measure()
		for i, mu := range m.Muscles {
			if mu.Side != body.Right {
				continue
			}
			right, left := p.Length(body.MuscleID(i)), p.Length(mu.Mirror)
			if math.Abs(right-left) > 1e-12 {
				t.Fatalf("%s: right %.12f m, left %.12f m", mu.Key, right, left)
			}
			rc, ra := p.Arms(body.MuscleID(i))
			for k, c := range rc {
				other := c
				sign := 1.0
				if co := &m.Coords[c]; co.Side == body.Right {
					other, _ = m.Coord(body.Bare(co.Key) + "_l")
				} else if co.Axis.Z == 0 {
					sign = -1 // bend and rotation change sides in the mirror
				}
				if d := math.Abs(ra[k] - sign*p.MomentArm(mu.Mirror, other)); d > 1e-12 {
					t.Fatalf("%s about %s: mirrored arms differ by %g m", mu.Key, m.Coords[c].Key, d)
				}
			}
		}
	}
}

func TestLengthsDoNotDependOnWhereTheBodyIs(t *testing.T) {
	m := body.Adult()
	p := pose.New(m)
	r := rand.New(rand.NewSource(13))
	q := randomPose(m, r)
	p.Set(q)
	p.Measure()
	before := make([]float64, len(m.Muscles))
	for i := range before {
		before[i] = p.Length(body.MuscleID(i))
	}
	for _, key := range []string{"pelvis_x", "pelvis_y", "pelvis_z", "pelvis_tilt", "pelvis_list", "pelvis_turn"} {
		q[m.MustCoord(key)] = r.NormFloat64()
	}
	p.Set(q)
	p.Measure()
	for i := range before {
		if d := math.Abs(p.Length(body.MuscleID(i)) - before[i]); d > 1e-12 {
			t.Fatalf("%s changed by %g m when the whole body moved", m.Muscles[i].Key, d)
		}
	}
}

func TestLengthsGrowWithStature(t *testing.T) {
	m := body.Adult()
	big, err := m.Scaled(body.Person{Stature: m.Person.Stature * 1.1, Mass: m.Person.Mass, Sex: body.Male})
	if err != nil {
		t.Fatal(err)
	}
	p, b := pose.New(m), pose.New(big)
	q := randomPose(m, rand.New(rand.NewSource(14)))
	p.Set(q)
	b.Set(q)
	p.Measure()
	b.Measure()
	for i := range m.Muscles {
		id := body.MuscleID(i)
		if want := 1.1 * p.Length(id); math.Abs(b.Length(id)-want) > 1e-12 {
			t.Fatalf("%s: %.9f m, want %.9f", m.Muscles[i].Key, b.Length(id), want)
		}
	}
}

// Length is a function of the pose alone: going round a closed way in the
// coordinates and adding up -r·dq comes back to nothing.
func TestWorkAroundAClosedWayIsZero(t *testing.T) {
	m := body.Adult()
	p := pose.New(m)
	at := func(a float64) []float64 {
		q := make([]float64, len(m.Coords))
		for c := range m.Coords {
			co := &m.Coords[c]
			if m.Joints[co.Joint].Parent == body.Ground {
				continue
			}
			mid, half := (co.Lo+co.Hi)/2, (co.Hi-co.Lo)/6
			q[c] = mid + half*math.Cos(a+float64(c))
		}
		return q
	}
	const steps = 4000
	work := make([]float64, len(m.Muscles))
	moved := make([]float64, len(m.Muscles))
	for k := range steps {
		a0, a1 := 2*math.Pi*float64(k)/steps, 2*math.Pi*float64(k+1)/steps
		q0, q1 := at(a0), at(a1)
		p.Set(at((a0 + a1) / 2))
		p.Measure()
		turned := turns(m, q0, q1)
		for i := range m.Muscles {
			coords, arms := p.Arms(body.MuscleID(i))
			d := 0.0
			for j, c := range coords {
				d -= arms[j] * turned[c]
			}
			work[i] += d
			moved[i] += math.Abs(d)
		}
	}
	for i := range work {
		// The midpoint rule over 4,000 steps leaves about a millionth of the
		// way; a touch-down inside a step leaves a little more.
		if math.Abs(work[i]) > 1e-7+1e-5*moved[i] {
			t.Errorf("%s: %g m left over after a closed way of %g m", m.Muscles[i].Key, work[i], moved[i])
		}
		if moved[i] < 1e-4 && !m.Muscles[i].Passive {
			t.Errorf("%s hardly moves: the test says nothing of it", m.Muscles[i].Key)
		}
	}
}

// turns gives the small turn of every coordinate between two poses: the
// difference for hinges, the components of the turn in between for ball joints.
func turns(m *body.Model, q0, q1 []float64) []float64 {
	d := make([]float64, len(q0))
	for i := range m.Joints {
		j := &m.Joints[i]
		if !j.Ball {
			for c := j.First; c < j.First+j.Count; c++ {
				d[c] = q1[c] - q0[c]
			}
			continue
		}
		rot := func(q []float64) geom.Rot {
			var w geom.Vec
			for c := j.First; c < j.First+j.Count; c++ {
				w = w.Add(m.Coords[c].Axis.Scale(q[c]))
			}
			return geom.FromVector(w)
		}
		w := rot(q1).Mul(rot(q0).Inverse()).Vector()
		for c := j.First; c < j.First+j.Count; c++ {
			d[c] = w.Dot(m.Coords[c].Axis)
		}
	}
	return d
}
