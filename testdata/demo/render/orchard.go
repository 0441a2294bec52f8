package main

import (
	"image"
	"image/color"
	"math"

	"tautline/analysis/geom"
	"tautline/exports/figure"
)

// The camera stands still, a little above level, before the person's right side.
var (
	seat = figure.View{Name: "orchard", Azimuth: -0.75, Elevation: 0.085,
		Centre: geom.V(0.05, 1.09, 0), Height: 2.5}
	wood   = color.RGBA{0xc3, 0x97, 0x62, 255}
	plank  = color.RGBA{0xa9, 0x80, 0x52, 255}
	bark   = color.RGBA{0xcd, 0xba, 0xa0, 255}
	leaves = color.RGBA{0xd6, 0xdc, 0xb6, 255}
	grass  = color.RGBA{0xcb, 0xcd, 0x98, 255}
	fruit  = color.RGBA{0xc9, 0x5b, 0x45, 255}
	ripe   = color.RGBA{0xe0, 0x98, 0x68, 255}
)

// spot is a place on the ground: across the picture to the right and away from
// the camera, m.
func spot(across, away float64) geom.Vec {
	s, c := math.Sincos(seat.Azimuth)
	return geom.V(-s*across-c*away, 0, -c*across+s*away)
}

// tree grows a small apple tree.
func tree(at geom.Vec, size float64, turn int) []figure.Group {
	p := func(across, up, away float64) geom.Vec {
		return at.Add(spot(across*size, away*size)).Add(geom.V(0, up*size, 0))
	}
	trunk := figure.Group{Soft: 0.03, Solids: []figure.Solid{
		{A: p(0, 0.11, 0), B: p(0.05, 0.9, 0), RA: 0.12 * size, RB: 0.085 * size, Ink: bark},
		{A: p(0.05, 0.85, 0), B: p(-0.38, 1.45, 0), RA: 0.075 * size, RB: 0.05 * size, Ink: bark},
		{A: p(0.05, 0.85, 0), B: p(0.42, 1.5, 0), RA: 0.075 * size, RB: 0.05 * size, Ink: bark},
	}}
	crown := figure.Group{Soft: 0.07 * size}
	apples := figure.Group{}
	const leafy = 15
	for i := range leafy {
		// Turned on by the golden angle each time, so that no row shows.
		s, c := math.Sincos(float64(i+turn) * 2.4)
		far := 0.72 * math.Sqrt((float64(i)+0.5)/leafy)
		at := p(far*c*1.2, 1.72+0.72*far*s, 0.15*math.Sin(float64(3*i)))
		r := (0.34 - 0.14*far + 0.05*math.Sin(float64(5*i+turn))) * size
		crown.Solids = append(crown.Solids, figure.Solid{A: at, B: at, RA: r, RB: r, Ink: leaves})
		if i%2 == 1 {
			red := p(far*c*1.3+0.04, 1.66+0.75*far*s, -0.45)
			apples.Solids = append(apples.Solids, figure.Solid{A: red, B: red, RA: 0.045 * size, RB: 0.045 * size, Ink: ripe})
		}
	}
	tufts := figure.Group{Soft: 0.03 * size}
	for i := range 5 {
		x := 0.11 * float64(i-2)
		tufts.Solids = append(tufts.Solids, figure.Solid{A: p(x, 0.03, -0.2), B: p(1.15*x, 0.05+0.02*float64(i%2), -0.2), RA: 0.075 * size, RB: 0.05 * size, Ink: grass})
	}
	return []figure.Group{trunk, crown, apples, tufts}
}

// box is a crate of slats with its floor's middle at a place: length forward,
// width to the right, height, m.
func box(at geom.Vec, length, width, height float64, ink color.RGBA) figure.Group {
	g := figure.Group{}
	p := func(x, y, z float64) geom.Vec { return at.Add(geom.V(x*length/2, y*height, z*width/2)) }
	const slat, post = 0.022, 0.016
	rows := int(height / 0.075)
	for i := range rows {
		y := (slat + float64(i)*(height-2*slat)/float64(max(1, rows-1))) / height
		corner := []geom.Vec{p(-1, y, -1), p(1, y, -1), p(1, y, 1), p(-1, y, 1)}
		for k := range corner {
			g.Solids = append(g.Solids, figure.Solid{A: corner[k], B: corner[(k+1)%4], RA: slat, RB: slat, Ink: ink})
		}
	}
	for _, c := range [][2]float64{{-0.94, -0.92}, {0.94, -0.92}, {0.94, 0.92}, {-0.94, 0.92}} {
		g.Solids = append(g.Solids, figure.Solid{A: p(c[0], 0.05, c[1]), B: p(c[0], 0.97, c[1]), RA: post, RB: post, Ink: plank})
	}
	return g
}

// apples fill a box to its brim.
func apples(at geom.Vec, length, width, height float64) figure.Group {
	g := figure.Group{}
	const r = 0.042
	for i := range 6 {
		for k := range 3 {
			x := (float64(i) - 2.5) / 6 * (length - 0.02)
			z := (float64(k) - 1) / 3 * (width - 0.02)
			y := height - 0.035 + 0.016*math.Sin(float64(5*i+3*k))
			ink := fruit
			if (i+2*k)%4 == 0 {
				ink = ripe
			}
			c := at.Add(geom.V(x, y, z))
			g.Solids = append(g.Solids, figure.Solid{A: c, B: c, RA: r, RB: r, Ink: ink})
		}
	}
	return g
}

// sky paints what is behind everything: warm morning air, two hills and a meadow.
func sky(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	mix := func(a, b [3]float64, t float64) [3]float64 {
		t = max(0, min(1, t))
		return [3]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1]), a[2] + t*(b[2]-a[2])}
	}
	high, low := [3]float64{250, 239, 214}, [3]float64{253, 247, 231}
	sun := [3]float64{255, 250, 236}
	hill, near := [3]float64{226, 222, 188}, [3]float64{214, 214, 174}
	meadow, path := [3]float64{222, 214, 168}, [3]float64{236, 222, 184}
	fw, fh := float64(w), float64(h)
	for y := range h {
		for x := range w {
			u, v := float64(x)/fw, float64(y)/fh
			c := mix(high, low, v/0.62)
			c = mix(c, sun, 8*(0.11-math.Hypot((u-0.80)*fw/fh, v-0.20))*fh/60)
			edge := func(line float64, ink [3]float64) { c = mix(c, ink, (v-line)*fh+0.5) }
			edge(0.60-0.07*math.Sin(2.6*u+0.5), hill)
			edge(0.66-0.05*math.Sin(3.3*u+2.6), near)
			edge(0.735, meadow)
			c = mix(c, path, (v-0.74)/0.2)
			at := img.PixOffset(x, y)
			img.Pix[at], img.Pix[at+1], img.Pix[at+2], img.Pix[at+3] = uint8(c[0]+0.5), uint8(c[1]+0.5), uint8(c[2]+0.5), 255
		}
	}
	return img
}
