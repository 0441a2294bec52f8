package figure

import (
	"image"
	"image/color"
	"math"
)

// pt is a point of the picture, px, y down.
type pt struct{ x, y float64 }

// shape is a filled area: rings that turn the same way add up, the other way
// make holes.
type shape struct {
	rings [][]pt
	ink   color.RGBA
	alpha float64
	name  string // what the area is, for a reader that asks; may be empty
}

// fill lays a shape over an image, its edges by how much of each pixel it covers.
func fill(img *image.RGBA, s shape) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, r := range s.rings {
		for _, p := range r {
			x0, x1, y0, y1 = min(x0, p.x), max(x1, p.x), min(y0, p.y), max(y1, p.y)
		}
	}
	box := img.Rect
	if x0 > x1 || x1 < 0 || y1 < 0 || x0 > float64(box.Max.X) || y0 > float64(box.Max.Y) {
		return
	}
	c := coverage{left: max(0, int(x0)), top: max(0, int(y0))}
	c.w, c.h = min(box.Max.X, int(x1)+1)-c.left, min(box.Max.Y, int(y1)+1)-c.top
	if c.w <= 0 || c.h <= 0 {
		return
	}
	c.step = make([]float64, (c.w+2)*c.h)
	for _, r := range s.rings {
		for i := range r {
			c.edge(r[i], r[(i+1)%len(r)])
		}
	}
	ink := [3]float64{float64(s.ink.R), float64(s.ink.G), float64(s.ink.B)}
	for y := range c.h {
		sum := 0.0
		at := img.PixOffset(c.left, c.top+y)
		for x := range c.w {
			sum += c.step[y*(c.w+2)+x]
			if a := s.alpha * min(1, math.Abs(sum)); a > 1.0/512 {
				over(img.Pix[at+4*x:at+4*x+4], ink, a)
			}
		}
	}
}

// over lays a colour over a pixel with premultiplied alpha.
func over(pix []uint8, ink [3]float64, a float64) {
	for i, v := range ink {
		pix[i] = uint8(float64(pix[i])*(1-a) + v*a + 0.5)
	}
	pix[3] = uint8(float64(pix[3])*(1-a) + 255*a + 0.5)
}

// coverage collects the edges of a shape. Running sums along each row of step
// tell how much of each pixel is covered.
type coverage struct {
	left, top, w, h int
	step            []float64
}

// edge adds one side. What lies right of it, between its ends' heights, is
// covered once more or once less by its direction.
func (c *coverage) edge(a, b pt) {
	way := 1.0
	if a.y > b.y {
		a, b, way = b, a, -1
	}
	if a.y == b.y {
		return
	}
	a, b = pt{a.x - float64(c.left), a.y - float64(c.top)}, pt{b.x - float64(c.left), b.y - float64(c.top)}
	slope := (b.x - a.x) / (b.y - a.y)
	width := float64(c.w)
	for y := max(0, int(a.y)); y < c.h && float64(y) < b.y; y++ {
		y0, y1 := max(a.y, float64(y)), min(b.y, float64(y+1))
		if y1 <= y0 {
			continue
		}
		p, q := a.x+slope*(y0-a.y), a.x+slope*(y1-a.y)
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

// ellipse returns the ring of an upright ellipse.
func ellipse(x, y, rx, ry float64) []pt {
	const n = 32
	ring := make([]pt, n)
	for i := range ring {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		ring[i] = pt{x + rx*c, y + ry*s}
	}
	return ring
}
