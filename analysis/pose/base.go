package pose

import (
	"math"
	"sort"

	"tautline/analysis/geom"
)

// base is the base of support: the convex hull of the supporting points, seen
// from above. Points are (X, 0, Z), m, counter-clockwise; it may be a line or a
// single point.
type base []geom.Vec

// baseOf builds the hull of points given in any order; heights are ignored.
func baseOf(points []geom.Vec) base {
	pts := make([]geom.Vec, len(points))
	for i, p := range points {
		pts[i] = geom.V(p.X, 0, p.Z)
	}
	sort.Slice(pts, func(i, j int) bool {
		if pts[i].X != pts[j].X {
			return pts[i].X < pts[j].X
		}
		return pts[i].Z < pts[j].Z
	})
	if len(pts) < 3 {
		return pts
	}
	half := func(step func(i int) geom.Vec) []geom.Vec {
		var h []geom.Vec
		for i := range pts {
			p := step(i)
			for len(h) >= 2 && turn(h[len(h)-2], h[len(h)-1], p) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(func(i int) geom.Vec { return pts[i] })
	upper := half(func(i int) geom.Vec { return pts[len(pts)-1-i] })
	return append(lower, upper...)
}

// leastBase is the area below which a base is a line, m2: a hand's width of
// bar is not something to stand on.
const leastBase = 1e-3

// area is the area of the hull, m2.
func (b base) area() float64 {
	sum := 0.0
	for i := range b {
		j := (i + 1) % len(b)
		sum += b[i].X*b[j].Z - b[j].X*b[i].Z
	}
	return math.Abs(sum) / 2
}

// turn is positive when a, b, c turn counter-clockwise in the X-Z plane.
func turn(a, b, c geom.Vec) float64 {
	return (b.X-a.X)*(c.Z-a.Z) - (b.Z-a.Z)*(c.X-a.X)
}

// outside returns the horizontal way from the nearest point of the base to p,
// zero when p stands over the base.
func (b base) outside(p geom.Vec) geom.Vec {
	p.Y = 0
	switch len(b) {
	case 0:
		return geom.Vec{}
	case 1:
		return p.Sub(b[0])
	}
	if len(b) > 2 && b.area() > leastBase {
		within := true
		for i := range b {
			if turn(b[i], b[(i+1)%len(b)], p) < 0 {
				within = false
				break
			}
		}
		if within {
			return geom.Vec{}
		}
	}
	best, near := math.Inf(1), geom.Vec{}
	for i := range b {
		a, c := b[i], b[(i+1)%len(b)]
		d := c.Sub(a)
		t := 0.0
		if n := d.Dot(d); n > 0 {
			t = max(0, min(1, p.Sub(a).Dot(d)/n))
		}
		if w := p.Sub(a.Lerp(c, t)); w.Norm() < best {
			best, near = w.Norm(), w
		}
	}
	return near
}
