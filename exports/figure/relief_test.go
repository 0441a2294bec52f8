package figure

import (
	"math"
	"math/rand"
	"testing"

	"tautline/analysis/geom"
)

// TestSolidIsTheHullOfItsSpheres: the height that a solid reaches over a pixel
// is that of the highest of many spheres along it.
func TestSolidIsTheHullOfItsSpheres(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	const size, spheres = 40, 4000
	c := Front.camera(&Scene{}, size, size)
	compared := 0
	for range 60 {
		at := func() geom.Vec { return geom.V(r.NormFloat64()*9, r.NormFloat64()*6, r.NormFloat64()*6) }
		s := Solid{A: at(), B: at(), RA: 2 + 8*r.Float64(), RB: 2 + 8*r.Float64()}
		f := newRelief(&Scene{Groups: []Group{{Solids: []Solid{s}}}}, c, size, size)
		for range 60 {
			px, py := r.Intn(size), r.Intn(size)
			want := float64(nothing)
			for k := range spheres + 1 {
				u := float64(k) / spheres
				x, y, z := c.at(s.A.Lerp(s.B, u))
				rad := s.RA + u*(s.RB-s.RA)
				if q := rad*rad - math.Pow(float64(px)+0.5-x, 2) - math.Pow(float64(py)+0.5-y, 2); q > 0 {
					want = max(want, z+math.Sqrt(q))
				}
			}
			got := float64(f.depth[py*size+px])
			if want == nothing && got == nothing {
				continue
			}
			compared++
			// At the very rim a sphere of the sampled row may just miss the pixel.
			if math.Abs(got-want) > 0.02 && !(want == nothing && f.rim(px, py)) {
				t.Fatalf("%+v at %d, %d: depth %.4f, by spheres %.4f", s, px, py, got, want)
			}
		}
	}
	if compared < 300 {
		t.Fatalf("only %d pixels were met", compared)
	}
}

// rim reports whether the free view begins beside a pixel.
func (f *relief) rim(x, y int) bool {
	for _, d := range [][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		if u, v := x+d[0], y+d[1]; u < 0 || v < 0 || u >= f.w || v >= f.h || f.depth[v*f.w+u] == nothing {
			return true
		}
	}
	return false
}

// TestSolidSeenEndOnIsADisc: seen end on, a solid is the disc of its larger
// end and nothing breaks.
func TestSolidSeenEndOnIsADisc(t *testing.T) {
	s := Solid{A: geom.V(-5, 0, 0), B: geom.V(5, 0, 0), RA: 8, RB: 3}
	c := Front.camera(&Scene{}, 40, 40)
	f := newRelief(&Scene{Groups: []Group{{Solids: []Solid{s}}}}, c, 40, 40)
	met := 0
	for _, d := range f.depth {
		if d != nothing {
			met++
		}
	}
	if want := math.Pi * 64; math.Abs(float64(met)-want) > 12 {
		t.Errorf("%d pixels, the disc has %.0f", met, want)
	}
}

// TestOutlineFollowsADiscAndItsHole: traced rings have the area of what was
// traced, with a hole turning the other way.
func TestOutlineFollowsADiscAndItsHole(t *testing.T) {
	const n = 60
	f := field{w: n, h: n, v: make([]float32, n*n)}
	for i := range f.v {
		d := math.Hypot(float64(i%n)+0.5-30, float64(i/n)+0.5-30)
		f.v[i] = float32(max(0, min(1, 20.5-d)) * max(0, min(1, d-8+0.5)))
	}
	rings := outlineOf(f)
	if len(rings) != 2 {
		t.Fatalf("%d rings, expected the rim and the hole", len(rings))
	}
	outer, inner := area(rings[0]), area(rings[1])
	if outer*inner >= 0 {
		t.Errorf("rim and hole turn the same way: areas %.1f and %.1f", outer, inner)
	}
	if want := math.Pi * 400; math.Abs(math.Abs(outer)-want) > 0.015*want {
		t.Errorf("the rim holds %.1f px², the disc %.1f", outer, want)
	}
	if want := math.Pi * 64; math.Abs(math.Abs(inner)-want) > 0.03*want {
		t.Errorf("the hole holds %.1f px², expected %.1f", inner, want)
	}
}
