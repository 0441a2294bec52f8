package pose

import (
	"math"
	"math/rand"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// total is the whole length of a way around a surface.
func total(s *body.Surface, axis, a, b, side geom.Vec) (float64, wrapped) {
	w := around(s, geom.Vec{}, axis, a, b, side)
	if w.Outcome != body.Wrapped {
		return b.Sub(a).Norm(), w
	}
	return w.T0.Sub(a).Norm() + w.Arc + b.Sub(w.T1).Norm(), w
}

func TestHalfTurnAroundACircleHasItsClosedForm(t *testing.T) {
	const r, d = 0.03, 0.05
	want := 2*math.Sqrt(d*d-r*r) + r*(math.Pi-2*math.Acos(r/d))
	for _, shape := range []body.SurfaceShape{body.Sphere, body.Cylinder} {
		s := &body.Surface{Shape: shape, Radius: r}
		got, w := total(s, geom.V(0, 0, 1), geom.V(-d, 0, 0), geom.V(d, 0, 0), geom.V(0, 1, 0))
		if w.Outcome != body.Wrapped || math.Abs(got-want) > 1e-15 {
			t.Errorf("%s: %v %.15f m, want %.15f", shape, w.Outcome, got, want)
		}
		if w.T0.Y <= 0 || w.T1.Y <= 0 {
			t.Errorf("%s: passed on the wrong side", shape)
		}
	}
}

func TestCylinderPathUnrollsToAStraightLine(t *testing.T) {
	// Unrolled, the helix and both straight parts are one line: its length is
	// the hypotenuse of the way across the axis and the climb along it.
	const r, d, climb = 0.02, 0.06, 0.11
	across := 2*math.Sqrt(d*d-r*r) + r*(math.Pi-2*math.Acos(r/d))
	s := &body.Surface{Shape: body.Cylinder, Radius: r}
	got, _ := total(s, geom.V(0, 0, 1), geom.V(-d, 0, 0), geom.V(d, 0, climb), geom.V(0, 1, 0))
	if want := math.Hypot(across, climb); math.Abs(got-want) > 1e-15 {
		t.Errorf("%.15f m, want %.15f", got, want)
	}
}

func TestPathIsNeverShorterThanTheStraightLineAndTouchesTheSurface(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	point := func() geom.Vec {
		for {
			v := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Scale(0.05)
			if v.Norm() > 0.021 && math.Hypot(v.X, v.Y) > 0.021 {
				return v
			}
		}
	}
	touched := 0
	for range 5000 {
		for _, shape := range []body.SurfaceShape{body.Sphere, body.Cylinder} {
			s := &body.Surface{Shape: shape, Radius: 0.02}
			axis := geom.V(0, 0, 1)
			a, b, side := point(), point(), point()
			l, w := total(s, axis, a, b, side)
			if l < b.Sub(a).Norm()-1e-12 {
				t.Fatalf("%s: %.9f m is shorter than the straight line", shape, l)
			}
			if w.Outcome != body.Wrapped {
				continue
			}
			touched++
			for _, p := range []struct{ at, from geom.Vec }{{w.T0, a}, {w.T1, b}} {
				n := p.at
				if shape == body.Cylinder {
					n.Z = 0
				}
				if math.Abs(n.Norm()-0.02) > 1e-12 {
					t.Fatalf("%s: the touching point is %.9f m from the centre", shape, n.Norm())
				}
				// At the touching point the straight part runs along the surface.
				if d := p.from.Sub(p.at); d.Norm() > 1e-6 && math.Abs(d.Unit().Dot(n.Unit())) > 1e-6 {
					t.Fatalf("%s: the path has a corner at the touching point", shape)
				}
			}
		}
	}
	if touched < 1000 {
		t.Fatalf("only %d of the random paths touched", touched)
	}
}

func TestLengthIsContinuousThroughTouchDown(t *testing.T) {
	for _, shape := range []body.SurfaceShape{body.Sphere, body.Cylinder} {
		s := &body.Surface{Shape: shape, Radius: 0.02}
		last, changes := 0.0, 0
		outcome := body.Straight
		const steps = 200_000
		for i := range steps + 1 {
			// The second point swings from clear of the surface to half behind it.
			angle := math.Pi * float64(i) / steps
			b := geom.V(0.05*math.Sin(angle), 0.05*math.Cos(angle), 0.01)
			l, w := total(s, geom.V(0, 0, 1), geom.V(0.01, 0.06, 0), b, geom.V(1, 0.2, 0))
			if i > 0 {
				if d := math.Abs(l - last); d > 0.06*math.Pi/steps*1.1 {
					t.Fatalf("%s: the length jumps by %g m at %g rad", shape, d, angle)
				}
				if w.Outcome != outcome {
					changes++
				}
			}
			last, outcome = l, w.Outcome
		}
		if changes != 1 {
			t.Errorf("%s: %d touch-downs on the way, expected 1: the test misses its point", shape, changes)
		}
	}
}

func TestPointInsideTheSurfaceIsNamed(t *testing.T) {
	for _, shape := range []body.SurfaceShape{body.Sphere, body.Cylinder} {
		s := &body.Surface{Shape: shape, Radius: 0.02}
		for _, a := range []geom.Vec{geom.V(0.01, 0, 0), geom.V(0, 0.02, 0)} {
			if w := around(s, geom.Vec{}, geom.V(0, 0, 1), a, geom.V(0.05, 0, 0), geom.V(0, 1, 0)); w.Outcome != body.Inside {
				t.Errorf("%s: a point at %v is called %v", shape, a, w.Outcome)
			}
		}
	}
}

func TestWrapMirrors(t *testing.T) {
	r := rand.New(rand.NewSource(6))
	for range 1000 {
		axis := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Unit()
		a := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64())
		b := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64())
		side := geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64())
		for _, shape := range []body.SurfaceShape{body.Sphere, body.Cylinder} {
			s := &body.Surface{Shape: shape, Radius: 0.3}
			l1, w1 := total(s, axis, a, b, side)
			l2, w2 := total(s, axis.Mirror(), a.Mirror(), b.Mirror(), side.Mirror())
			if w1.Outcome != w2.Outcome || math.Abs(l1-l2) > 1e-12 {
				t.Fatalf("%s: %v %.12f m, in the mirror %v %.12f m", shape, w1.Outcome, l1, w2.Outcome, l2)
			}
		}
	}
}
