package figure

import (
	"image/color"
	"math"
	"slices"

	"tautline/exports/draw"
)

// tones are the steps of light that a drawn body has: from where each begins,
// and the light that it stands for.
var tones = []struct{ from, light float64 }{{-1, 0.40}, {0.48, 0.55}, {0.62, 0.69}, {0.75, 0.81}, {0.86, 0.92}}

// trace turns the relief into areas of even colour, from the back to the front:
// for every colour of the scene its area, and on it the steps of light.
func (f *relief) trace(inks []color.RGBA, scale float64) []draw.Area {
	near, step := max(1, int(shadeReach*scale+0.5)), float32(shadeStep*scale)
	n := f.w * f.h
	ink, light := make([]int8, n), make([]float32, n)
	for p := range n {
		ink[p] = -1
		if f.depth[p] != nothing {
			ink[p] = int8(closest(inks, f.ink[p]))
			light[p] = float32(f.light(p%f.w, p/f.w, near, step))
		}
	}
	var out []draw.Area
	add := func(fillInk color.RGBA, light float64, name string, in func(p int) bool) {
		if rings := outlineOf(f.mean(in)); len(rings) > 0 {
			r, g, b := tone(uint32(fillInk.R)<<16|uint32(fillInk.G)<<8|uint32(fillInk.B), light)
			out = append(out, draw.Area{Rings: rings, Ink: color.RGBA{uint8(r + 0.5), uint8(g + 0.5), uint8(b + 0.5), 255}, Alpha: 1, Name: name})
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

// closest is the colour that a mixed one is closest to.
func closest(inks []color.RGBA, mixed uint32) int {
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
func outlineOf(f field) [][]draw.Pt {
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
	next := make([]int32, 2*wide*(f.h+3)) // by side: where the line goes on, and one; 0 is nowhere
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
				next[from] = int32(side(x, y, w[1])) + 1
				starts = append(starts, from)
			}
		}
	}
	var rings [][]draw.Pt
	for _, s := range starts {
		var ring []draw.Pt
		for at := s; next[at] != 0; {
			ring = append(ring, f.crossing(at, wide))
			at, next[at] = int(next[at])-1, 0
		}
		if ring = draw.Thin(soften(ring)); len(ring) >= 3 && math.Abs(area(ring)) >= leastArea {
			rings = append(rings, ring)
		}
	}
	return rings
}

// crossing is where the line passes a cell's side.
func (f field) crossing(side, wide int) draw.Pt {
	x, y := side/2%wide-1, side/2/wide-1
	dx, dy := 1, 0
	if side%2 == 1 {
		dx, dy = 0, 1
	}
	a, b := f.at(x, y), f.at(x+dx, y+dy)
	t := (0.5 - a) / (b - a)
	return draw.Pt{X: float64(x) + 0.5 + t*float64(dx), Y: float64(y) + 0.5 + t*float64(dy)}
}

const (
	leastArea = 1.5 // px², smaller rings are left out
)

func area(r []draw.Pt) float64 {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

// soften takes the grain of the samples out of a ring.
func soften(r []draw.Pt) []draw.Pt {
	out := make([]draw.Pt, len(r))
	for i, p := range r {
		a, b := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		out[i] = draw.Pt{X: (a.X + 2*p.X + b.X) / 4, Y: (a.Y + 2*p.Y + b.Y) / 4}
	}
	return out
}
