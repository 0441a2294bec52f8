package figure

import (
	"math"
	"slices"
)

// relief is what the eye meets in every pixel: how near it is, which way it
// faces and what colour it has.
type relief struct {
	w, h  int
	depth []float32 // px toward the eye; nothing where the view is free
	nx    []float32 // the surface's normal, to the right
	ny    []float32 // and down; the part toward the eye follows
	size  []float32 // px, how thick the body is here: the radius of the solid that is met
	ink   []uint32  // 0x00rrggbb
}

// nothing is the depth of the free view.
const nothing = -1e9

// cast is a solid in pixels.
type cast struct {
	ax, ay, az, dx, dy, dz   float64 // from one end, to the other
	ra, dr                   float64
	w                        float64 // how fast a row's spheres fall away from the axis
	r, g, b                  float64
	left, right, top, bottom int
}

// inkSoft is over how much depth colours run into each other, m: much less than
// forms do.
const inkSoft = 0.002

// most is how much nearer than its group's middle, in units of inkSoft, a
// surface still gains weight for its colour: just short of overflow.
const most = 700

// cell collects the solids of one group in one pixel of a row: sums weighted by
// w for the form and by v for the colour.
type cell struct {
	w, v, h, nx, ny, nz, size, r, g, b float64
}

// newRelief looks at a scene.
func newRelief(s *Scene, c camera, w, h int) *relief {
	n := w * h
	f := &relief{w: w, h: h, depth: make([]float32, n), nx: make([]float32, n), ny: make([]float32, n), size: make([]float32, n), ink: make([]uint32, n)}
	for i := range f.depth {
		f.depth[i] = nothing
	}
	row := make([]cell, w)
	for _, g := range s.Groups {
		f.add(g, c, row)
	}
	return f
}

// add looks at one group, row by row.
func (f *relief) add(g Group, c camera, row []cell) {
	casts := make([]cast, 0, len(g.Solids))
	middle := 0.0
	for _, s := range g.Solids {
		k := newCast(s, c)
		casts = append(casts, k)
		middle += (k.az + k.dz/2) / float64(len(g.Solids))
	}
	first, last := f.h, 0
	for i := range casts {
		k := &casts[i]
		k.az -= middle
		k.top, k.bottom = max(k.top, 0), min(k.bottom, f.h-1)
		first, last = min(first, k.top), max(last, k.bottom)
	}
	slices.SortStableFunc(casts, func(a, b cast) int { return a.top - b.top })
	soft := g.Soft * c.scale
	active := make([]*cast, 0, len(casts))
	next := 0
	for y := first; y <= last; y++ {
		for next < len(casts) && casts[next].top <= y {
			active = append(active, &casts[next])
			next++
		}
		active = slices.DeleteFunc(active, func(k *cast) bool { return k.bottom < y })
		x0, x1 := f.w, 0
		for _, k := range active {
			from, to := max(k.left, 0), min(k.right, f.w-1)
			x0, x1 = min(x0, from), max(x1, to)
			k.row(row, from, to, float64(y)+0.5, soft, inkSoft*c.scale)
		}
		if x0 <= x1 {
			f.settle(row[x0:x1+1], y*f.w+x0, soft, middle)
		}
	}
}

func newCast(s Solid, c camera) cast {
	ax, ay, az := c.at(s.A)
	bx, by, bz := c.at(s.B)
	k := cast{ax: ax, ay: ay, az: az, dx: bx - ax, dy: by - ay, dz: bz - az,
		ra: s.RA * c.scale * c.grow(az),
		r:  float64(s.Ink.R), g: float64(s.Ink.G), b: float64(s.Ink.B)}
	k.dr = s.RB*c.scale*c.grow(bz) - k.ra
	k.w = k.dx*k.dx + k.dy*k.dy - k.dr*k.dr
	rb := k.ra + k.dr
	k.left, k.right = int(math.Floor(min(ax-k.ra, bx-rb))), int(math.Ceil(max(ax+k.ra, bx+rb)))
	k.top, k.bottom = int(math.Floor(min(ay-k.ra, by-rb))), int(math.Ceil(max(ay+k.ra, by+rb)))
	return k
}

// row adds the solid to one row of pixels.
//
// A solid is the hull of spheres with centre a + s·d and radius ra + s·dr, s
// from 0 to 1. Over a pixel p the sphere s reaches the height
//
//	z(s) = az + s·dz + √Q(s),  Q(s) = (ra + s·dr)² - |p - a - s·d|² = q0 + 2·q1·s - w·s²
//
// and the surface is the highest. With its top at s0 = q1/w, Q is Q0 - w·(s-s0)²,
// and z is level where
//
//	s - s0 = dz/w·√Q = ± dz·√(Q0 / (w·(w + dz²)))  with the sign of w
//
// For w > 0 that is the one top of z, kept within 0 and 1. For w < 0 (seen
// nearly end on) it is a top only in part of the cases, and the ends compete.
func (k *cast) row(row []cell, from, to int, y, soft, sharp float64) {
	py := y - k.ay
	steep := k.w * (k.w + k.dz*k.dz)
	for x := from; x <= to; x++ {
		px := float64(x) + 0.5 - k.ax
		q0 := k.ra*k.ra - px*px - py*py
		q1 := k.ra*k.dr + px*k.dx + py*k.dy
		var s, q float64
		if k.w > 1e-9 {
			s = q1 / k.w
			top := q0 + q1*s
			if top <= 0 {
				continue
			}
			s = max(0, min(1, s+k.dz*math.Sqrt(top/steep)))
			q = q0 + 2*q1*s - k.w*s*s
		} else {
			best := math.Inf(-1)
			try := func(at float64) {
				if have := q0 + 2*q1*at - k.w*at*at; have > 0 && at*k.dz+math.Sqrt(have) > best {
					s, q, best = at, have, at*k.dz+math.Sqrt(have)
				}
			}
			try(0)
			try(1)
			if k.w < -1e-9 {
				if level := (q0 + q1*q1/k.w) / steep; level > 0 {
					try(max(0, min(1, q1/k.w-k.dz*math.Sqrt(level))))
				}
			}
		}
		if q <= 0 {
			continue
		}
		rise := math.Sqrt(q)
		h := k.az + s*k.dz + rise
		size := k.ra + s*k.dr
		per := 1 / size
		nx, ny, nz := (px-s*k.dx)*per, (py-s*k.dy)*per, rise*per
		e := &row[x]
		if soft == 0 {
			if e.w == 0 || h > e.h {
				*e = cell{1, 1, h, nx, ny, nz, size, k.r, k.g, k.b}
			}
			continue
		}
		w := math.Exp(h / soft)
		v := math.Exp(max(-most, min(most, h/sharp)))
		e.w, e.v = e.w+w, e.v+v
		e.nx, e.ny, e.nz = e.nx+w*nx, e.ny+w*ny, e.nz+w*nz
		e.size += v * size
		e.r, e.g, e.b = e.r+v*k.r, e.g+v*k.g, e.b+v*k.b
	}
}

// settle takes a row of one group into the relief where it is nearest, and
// clears the row.
func (f *relief) settle(row []cell, at int, soft, middle float64) {
	for i := range row {
		e := &row[i]
		if e.w == 0 {
			continue
		}
		h := e.h + middle
		if soft > 0 {
			h = soft*math.Log(e.w) + middle
		}
		if p := at + i; h > float64(f.depth[p]) {
			n := 1 / math.Sqrt(e.nx*e.nx+e.ny*e.ny+e.nz*e.nz)
			f.depth[p], f.nx[p], f.ny[p] = float32(h), float32(e.nx*n), float32(e.ny*n)
			f.size[p] = float32(e.size / e.v)
			f.ink[p] = uint32(e.r/e.v+0.5)<<16 | uint32(e.g/e.v+0.5)<<8 | uint32(e.b/e.v+0.5)
		}
		*e = cell{}
	}
}

// under is how far below what the eye meets a point lies, as a share of how
// thick the body is there: beyond one it is on the far half. It is negative in
// front, and zero where the view is free.
func (f *relief) under(x, y, z float64) float64 {
	ix, iy := int(x), int(y)
	if x < 0 || y < 0 || ix >= f.w || iy >= f.h {
		return 0
	}
	p := iy*f.w + ix
	if f.depth[p] == nothing {
		return 0
	}
	return (float64(f.depth[p]) - z) / float64(f.size[p])
}
