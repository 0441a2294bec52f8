package geom

import (
	"math"
	"math/rand"
	"testing"
)

const tiny = 1e-12 // a few rounding steps of numbers near one

func randomVec(r *rand.Rand) Vec { return V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()) }

func randomRot(r *rand.Rand) Rot { return Turn(randomVec(r).Unit(), (2*r.Float64()-1)*math.Pi) }

func apart(a, b Vec) float64 { return a.Sub(b).Norm() }

func TestTurnIsRightHanded(t *testing.T) {
	for _, c := range []struct{ axis, from, to Vec }{
		{V(0, 0, 1), V(1, 0, 0), V(0, 1, 0)},
		{V(1, 0, 0), V(0, 1, 0), V(0, 0, 1)},
		{V(0, 1, 0), V(0, 0, 1), V(1, 0, 0)},
	} {
		if got := Turn(c.axis, math.Pi/2).Apply(c.from); apart(got, c.to) > tiny {
			t.Errorf("a quarter turn about %v takes %v to %v, want %v", c.axis, c.from, got, c.to)
		}
	}
}

func TestRotationsComposeInvertAndKeepLengths(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 1000 {
		a, b, v := randomRot(r), randomRot(r), randomVec(r)
		if apart(a.Mul(b).Apply(v), a.Apply(b.Apply(v))) > tiny*10 {
			t.Fatal("(ab)v differs from a(bv)")
		}
		if apart(a.Inverse().Apply(a.Apply(v)), v) > tiny*10 || apart(a.ApplyInverse(v), a.Inverse().Apply(v)) > tiny*10 {
			t.Fatal("the inverse does not undo")
		}
		if math.Abs(a.Apply(v).Norm()-v.Norm()) > tiny*10 {
			t.Fatal("a rotation changed a length")
		}
	}
}

func TestRotationVectorReadsBack(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for i := range 2000 {
		w := randomVec(r).Unit().Scale(r.Float64() * math.Pi)
		switch i % 4 {
		case 1:
			w = w.Unit().Scale(math.Pi * (1 - 1e-9)) // close to a half turn
		case 2:
			w = w.Scale(1e-9)
		case 3:
			w = V(0, 0, math.Pi).Scale(1 - 1e-12)
		}
		// Two vectors of opposite direction describe the same half turn, so the
		// rotations are compared and not the vectors.
		got := FromVector(FromVector(w).Vector())
		for k := range 3 {
			if d := apart(got.Column(k), FromVector(w).Column(k)); d > 1e-7 {
				t.Fatalf("%v reads back as another rotation: column %d off by %g", w, k, d)
			}
		}
	}
}

func TestMirrorOfATurnIsTheTurnAboutTheMirroredAxis(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for range 200 {
		axis, angle, v := randomVec(r).Unit(), r.NormFloat64(), randomVec(r)
		a := Turn(axis, angle).Apply(v).Mirror()
		b := Turn(axis.MirrorAxis(), angle).Apply(v.Mirror())
		if apart(a, b) > tiny*10 {
			t.Fatalf("mirrored turn is off by %g", apart(a, b))
		}
	}
}

func TestFramesComposeAndInvert(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	f, g, p := Frame{randomVec(r), randomRot(r)}, Frame{randomVec(r), randomRot(r)}, randomVec(r)
	if apart(f.Mul(g).Point(p), f.Point(g.Point(p))) > tiny*10 || apart(f.Inverse().Point(f.Point(p)), p) > tiny*10 || apart(f.Local(f.Point(p)), p) > tiny*10 {
		t.Fatal("frames do not compose or invert")
	}
}

func TestUnitOfNothingPanics(t *testing.T) {
	for _, v := range []Vec{{}, V(math.NaN(), 0, 0), V(math.Inf(1), 0, 0)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("Unit(%v) did not panic", v)
				}
			}()
			v.Unit()
		}()
	}
}

func TestAnglesAtTheEdge(t *testing.T) {
	if Deg(180) != math.Pi || Degrees(math.Pi) != 180 {
		t.Error("180 degrees are not π")
	}
	if Acos(1+1e-16) != 0 || Asin(-1-1e-16) != -math.Pi/2 {
		t.Error("rounding past one is not clamped")
	}
	if !Near(1, 1+1e-10, 0, 1e-9) || Near(1, 1.1, 1e-3, 1e-3) || !Near(0, 1e-6, 1e-5, 0) {
		t.Error("Near mixes up its tolerances")
	}
}
