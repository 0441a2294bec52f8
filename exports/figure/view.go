package figure

import (
	"math"

	"tautline/analysis/geom"
)

// View is where the eye stands. The picture is a parallel projection: sizes do
// not change with distance, so lengths can be compared across it.
type View struct {
	Name string // "front"; used in titles
	// Azimuth is how far around the person the eye has gone, rad: 0 in front,
	// positive toward the person's left. Elevation is how far above level, rad.
	Azimuth, Elevation float64
	// Centre [m] and Height [m] of what the picture shows, in the world. Height
	// zero means: fit the whole scene.
	Centre geom.Vec
	Height float64
}

// The four plain views, and the one that shows most of a movement.
var (
	Front        = View{Name: "front"}
	Left         = View{Name: "left", Azimuth: math.Pi / 2}
	Back         = View{Name: "back", Azimuth: math.Pi}
	Right        = View{Name: "right", Azimuth: -math.Pi / 2}
	ThreeQuarter = View{Name: "front and left", Azimuth: math.Pi / 5, Elevation: math.Pi / 22}
)

// camera takes the world to a picture: x to the right, y down, z toward the
// eye, all in pixels.
type camera struct {
	right, up, toward geom.Vec
	centre            geom.Vec
	scale             float64 // px per m
	cx, cy            float64
}

// margin is the share of the picture left free on each side when it is fitted.
const margin = 0.04

// camera fits a scene into w by h pixels, or takes the frame that the view asks for.
func (v View) camera(s *Scene, w, h int) camera {
	sa, ca := math.Sincos(v.Azimuth)
	se, ce := math.Sincos(v.Elevation)
	c := camera{
		right:  geom.V(-sa, 0, -ca),
		toward: geom.V(ce*ca, se, -ce*sa),
		cx:     float64(w) / 2, cy: float64(h) / 2,
	}
	c.up = c.toward.Cross(c.right)
	if v.Height > 0 {
		c.centre, c.scale = v.Centre, float64(h)/v.Height
		return c
	}
	c.scale = 1
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, g := range s.Groups {
		for _, s := range g.Solids {
			for _, e := range s.ends() {
				x, y, _ := c.at(e.at)
				x0, x1 = min(x0, x-e.r), max(x1, x+e.r)
				y0, y1 = min(y0, y-e.r), max(y1, y+e.r)
			}
		}
	}
	if x0 > x1 {
		return c
	}
	mx, my := (x0+x1)/2-c.cx, (y0+y1)/2-c.cy
	c.centre = c.right.Scale(mx).Add(c.up.Scale(-my))
	room := 1 - 2*margin
	c.scale = room * min(float64(w)/(x1-x0), float64(h)/(y1-y0))
	return c
}

// at projects a point of the world.
func (c camera) at(p geom.Vec) (x, y, z float64) {
	d := p.Sub(c.centre)
	return c.cx + c.scale*d.Dot(c.right), c.cy - c.scale*d.Dot(c.up), c.scale * d.Dot(c.toward)
}
