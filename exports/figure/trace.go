package figure

import (
	"image/color"
	"math"
	"slices"
)

// tones are the steps of light that a drawn body has: from where each begins,
// and the light that it stands for.
var tones = []struct{ from, light float64 }{{-1, 0.40}, {0.48, 0.55}, {0.62, 0.69}, {0.75, 0.81}, {0.86, 0.92}}

// trace turns the relief into areas of even colour, from the back to the front:
// for every colour of the scene its area, and on it the steps of light.
func (f *relief) trace(inks []color.RGBA, scale float64) []shape {
	near, step := max(1, int(shadeReach*scale+0.5)), float32(shadeStep*scale)
	n := f.w * f.h
	ink, light := make([]int8, n), make([]float32, n)
	for p := range n {
		ink[p] = -1
		if f.depth[p] != nothing {
			ink[p] = int8(nearest(inks, f.ink[p]))
			light[p] = float32(f.light(p%f.w, p/f.w, near, step))
		}
	}
	var out []shape
	add := func(fillInk color.RGBA, light float64, name string, in func(p int) bool) {
		if rings := outlineOf(f.mean(in)); len(rings) > 0 {
			r, g, b := tone(uint32(fillInk.R)<<16|uint32(fillInk.G)<<8|uint32(fillInk.B), light)
			out = append(out, shape{rings, color.RGBA{uint8(r + 0.5), uint8(g + 0.5), uint8(b + 0.5), 255}, 1, name})
		}
	}
	// Each colour's area also lies under those that follow, so that no gap
	// opens along their common border.
	for i := range inks {
		add(inks[i], tones[0].light, "", func(p int) bool { return int(ink[p]) >= i })
	}
	for i := range inks {
		for _, t := range tones[1:] {
			add(inks[i], t.light, "", func(p int) bool { return int(ink[p]) == i && float64(light[p]) >= t.from })
		}
	}
	return out
}

// nearest is the colour that a mixed one is closest to.
func nearest(inks []color.RGBA, mixed uint32) int {
	best, least := 0, math.MaxInt
	for i, k := range inks {
		r, g, b := int(k.R)-int(mixed>>16&255), int(k.G)-int(mixed>>8&255), int(k.B)-int(mixed&255)
		if d := r*r + g*g + b*b; d < least {
			best, least = i, d
		}
	}
	return best
}

// inks lists the colours of a scene in the order in which they first appear.
func (s *Scene) inks() []color.RGBA {
	var all []color.RGBA
	for _, g := range s.Groups {
		for _, p := range g.Solids {
			if !slices.Contains(all, p.Ink) {
				all = append(all, p.Ink)
			}
		}
	}
	return all
}

// field is a number for the middle of every pixel.
type field struct {
	w, h int
	v    []float32
}

func (f field) at(x, y int) float64 {
	if x < 0 || y < 0 || x >= f.w || y >= f.h {
		return 0
	}
	return float64(f.v[y*f.w+x])
}

// mean is the share of each pixel's samples that are in.
func (f *relief) mean(in func(p int) bool) field {
	m := field{w: f.w / grain, h: f.h / grain}
	m.v = make([]float32, m.w*m.h)
	for y := range m.h * grain {
		for x := range m.w * grain {
			if in(y*f.w + x) {
				m.v[y/grain*m.w+x/grain] += 1.0 / (grain * grain)
			}
		}
	}
	return m
}

// outlineOf follows the line where a field passes one half and returns it as
// rings with the inside on their right hand.
func outlineOf(f field) [][]pt {
	const top, right, bottom, left = 0, 1, 2, 3
	// By which corners of a cell are inside (1, 2, 4, 8 clockwise from the upper
	// left): the sides that the line comes in by and leaves by.
	ways := [16][][2]int{
		1: {{top, left}}, 2: {{right, top}}, 4: {{bottom, right}}, 8: {{left, bottom}},
		3: {{right, left}}, 6: {{bottom, top}}, 12: {{left, right}}, 9: {{top, bottom}},
		7: {{bottom, left}}, 11: {{right, bottom}}, 13: {{top, right}}, 14: {{left, top}},
		5: {{top, left}, {bottom, right}}, 10: {{right, top}, {left, bottom}},
	}
	wide := f.w + 2
	side := func(x, y, k int) int { // one number for a side of a cell, whichever cell asks
		switch k {
		case right:
			return 2*((y+1)*wide+x+2) + 1
		case bottom:
			return 2 * ((y+2)*wide + x + 1)
		case left:
			return 2*((y+1)*wide+x+1) + 1
		}
		return 2 * ((y+1)*wide + x + 1)
	}
	next := map[int]int{}
	var starts []int
	for y := -1; y < f.h; y++ {
		for x := -1; x < f.w; x++ {
			k := 0
			for i, in := range [4]bool{f.at(x, y) >= 0.5, f.at(x+1, y) >= 0.5, f.at(x+1, y+1) >= 0.5, f.at(x, y+1) >= 0.5} {
				if in {
					k |= 1 << i
				}
			}
			for _, w := range ways[k] {
				from := side(x, y, w[0])
				next[from] = side(x, y, w[1])
				starts = append(starts, from)
			}
		}
	}
	var rings [][]pt
	for _, s := range starts {
		var ring []pt
		for at, ok := s, true; ok; {
			var to int
			if to, ok = next[at]; ok {
				delete(next, at)
				ring = append(ring, f.crossing(at, wide))
				at = to
			}
		}
		if ring = thin(soften(ring)); len(ring) >= 3 && math.Abs(area(ring)) >= leastArea {
			rings = append(rings, ring)
		}
	}
	return rings
}

// crossing is where the line passes a cell's side.
func (f field) crossing(side, wide int) pt {
	x, y := side/2%wide-1, side/2/wide-1
	dx, dy := 1, 0
	if side%2 == 1 {
		dx, dy = 0, 1
	}
	a, b := f.at(x, y), f.at(x+dx, y+dy)
	t := (0.5 - a) / (b - a)
	return pt{float64(x) + 0.5 + t*float64(dx), float64(y) + 0.5 + t*float64(dy)}
}

const (
	leastArea = 1.5  // px², smaller rings are left out
	straight  = 0.16 // px by which a line may be off its points
)

func area(r []pt) float64 {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += p.x*q.y - q.x*p.y
	}
	return sum / 2
}

// soften takes the grain of the samples out of a ring.
func soften(r []pt) []pt {
	out := make([]pt, len(r))
	for i, p := range r {
		a, b := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		out[i] = pt{(a.x + 2*p.x + b.x) / 4, (a.y + 2*p.y + b.y) / 4}
	}
	return out
}

// thin leaves out the points of a ring that lie straight between others.
func thin(r []pt) []pt {
	if len(r) < 4 {
		return r
	}
	far := 0
	for i, p := range r {
		if math.Hypot(p.x-r[0].x, p.y-r[0].y) > math.Hypot(r[far].x-r[0].x, r[far].y-r[0].y) {
			far = i
		}
	}
	out := append([]pt{r[0]}, bends(r[:far+1])...)
	out = append(out, r[far])
	return append(out, bends(append(slices.Clone(r[far:]), r[0]))...)
}

// bends returns the points between the ends of a line that it cannot do without.
func bends(r []pt) []pt {
	if len(r) < 3 {
		return nil
	}
	a, b := r[0], r[len(r)-1]
	dx, dy := b.x-a.x, b.y-a.y
	l := max(1e-9, math.Hypot(dx, dy))
	at, most := 0, straight
	for i := 1; i < len(r)-1; i++ {
		if d := math.Abs((r[i].x-a.x)*dy-(r[i].y-a.y)*dx) / l; d > most {
			at, most = i, d
		}
	}
	if at == 0 {
		return nil
	}
	return append(append(bends(r[:at+1]), r[at]), bends(r[at:])...)
}
