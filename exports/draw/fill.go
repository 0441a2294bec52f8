package draw

import (
	"image"
	"math"
)

// Fill lays an area over an image, its edges by how much of each pixel it covers.
func Fill(img *image.RGBA, s Area) { fill(img, img.Rect, s) }

// fill lays an area over the part of an image that is within box.
func fill(img *image.RGBA, box image.Rectangle, s Area) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, r := range s.Rings {
		for _, p := range r {
			x0, x1, y0, y1 = min(x0, p.X), max(x1, p.X), min(y0, p.Y), max(y1, p.Y)
		}
	}
	box = box.Intersect(img.Rect)
	if x0 > x1 || x1 < float64(box.Min.X) || y1 < float64(box.Min.Y) || x0 > float64(box.Max.X) || y0 > float64(box.Max.Y) {
		return
	}
	c := coverage{left: max(box.Min.X, int(x0)), top: max(box.Min.Y, int(y0))}
	c.w, c.h = min(box.Max.X, int(x1)+1)-c.left, min(box.Max.Y, int(y1)+1)-c.top
	if c.w <= 0 || c.h <= 0 {
		return
	}
	c.step = make([]float64, (c.w+2)*c.h)
	for _, r := range s.Rings {
		for i := range r {
			c.edge(r[i], r[(i+1)%len(r)])
		}
	}
	ink := [3]float64{float64(s.Ink.R), float64(s.Ink.G), float64(s.Ink.B)}
	for y := range c.h {
		sum := 0.0
		at := img.PixOffset(c.left, c.top+y)
		for x := range c.w {
			sum += c.step[y*(c.w+2)+x]
			if a := s.Alpha * min(1, math.Abs(sum)); a > 1.0/512 {
				Blend(img.Pix[at+4*x:at+4*x+4], ink, a)
			}
		}
	}
}

// Blend lays a colour over a pixel with premultiplied alpha.
func Blend(pix []uint8, ink [3]float64, a float64) {
	for i, v := range ink {
		pix[i] = uint8(float64(pix[i])*(1-a) + v*a + 0.5)
	}
	pix[3] = uint8(float64(pix[3])*(1-a) + 255*a + 0.5)
}

// coverage collects the edges of an area. Running sums along each row of step
// tell how much of each pixel is covered.
type coverage struct {
	left, top, w, h int
	step            []float64
}

// edge adds one side. What lies right of it, between its ends' heights, is
// covered once more or once less by its direction.
func (c *coverage) edge(a, b Pt) {
	way := 1.0
	if a.Y > b.Y {
		a, b, way = b, a, -1
	}
	if a.Y == b.Y {
		return
	}
	a, b = Pt{a.X - float64(c.left), a.Y - float64(c.top)}, Pt{b.X - float64(c.left), b.Y - float64(c.top)}
	slope := (b.X - a.X) / (b.Y - a.Y)
	width := float64(c.w)
	for y := max(0, int(a.Y)); y < c.h && float64(y) < b.Y; y++ {
		y0, y1 := max(a.Y, float64(y)), min(b.Y, float64(y+1))
		if y1 <= y0 {
			continue
		}
		p, q := a.X+slope*(y0-a.Y), a.X+slope*(y1-a.Y)
		lo, hi := max(0, min(width, min(p, q))), max(0, min(width, max(p, q)))
		row := c.step[y*(c.w+2):]
		before, share := 0.0, 0.0
		for i := int(lo); i <= min(int(hi)+1, c.w); i++ {
			// before and after: how much lies right of the edge up to the
			// pixel's left and right border, on average over the row.
			after := beyond(float64(i+1), lo, hi)
			row[i] += way * (y1 - y0) * (after - before - share)
			before, share = after, after-before
		}
	}
}

// beyond is the mean over x from lo to hi of how far t lies beyond x.
func beyond(t, lo, hi float64) float64 {
	switch {
	case t <= lo:
		return 0
	case t >= hi:
		return t - (lo+hi)/2
	}
	return (t - lo) * (t - lo) / (2 * (hi - lo))
}
