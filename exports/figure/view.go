package figure

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// View is where the eye stands.
type View struct {
	Name string // "front"; used in titles
	// Azimuth is how far around the person the eye has gone, rad: 0 in front,
	// positive toward the person's left. Elevation is how far above level, rad.
	Azimuth, Elevation float64
	// Eye is how far the eye stands from the middle of what is shown, m: nearer
	// things look larger. Zero is a parallel projection: sizes do not change
	// with distance.
	Eye float64
	// Centre [m] and Height [m] of what the picture shows, in the world. Height
	// zero means: fit the whole scene.
	Centre geom.Vec
	Height float64
}

// The plain views, in parallel projection.
var (
	Front = View{Name: "front"}
	Left  = View{Name: "left", Azimuth: math.Pi / 2}
	Back  = View{Name: "back", Azimuth: math.Pi}
	Right = View{Name: "right", Azimuth: -math.Pi / 2}
	Above = View{Name: "above", Elevation: math.Pi / 2}
	// ThreeQuarter shows most of a movement.
	ThreeQuarter = View{Name: "front and left", Azimuth: math.Pi / 5, Elevation: math.Pi / 22}
)

// Views are those that a person can ask for by name.
var Views = []View{Front, Back, Left, Right, Above, ThreeQuarter}

// As an eye a few steps away sees it: its distance, m, and how far above level
// it stands, rad, before upright views.
const (
	eyeAway = 5.2
	eyeLift = 0.07
)

// Seen returns the view as an eye a few steps away has it, in mild perspective.
func (v View) Seen() View {
	v.Eye = eyeAway
	if v.Elevation == 0 {
		v.Elevation = eyeLift
	}
	return v
}

// CloseUp is a part of the body to look at from near.
type CloseUp struct {
	Name   string
	middle []string // keys of the segments whose frames it is centred between
	up     float64  // m above that
	height float64  // m that the picture shows
}

// CloseUps are those that a person can ask for by name.
var CloseUps = []CloseUp{
	{"shoulder girdle", []string{"humerus_r", "humerus_l", "thorax"}, -0.03, 0.72},
	{"pelvis", []string{"thigh_r", "thigh_l", "pelvis"}, -0.03, 0.74},
}

// Near returns the view moved up to a part of a body whose segments stand at frames.
func (v View) Near(c CloseUp, m *body.Model, frames []geom.Frame) View {
	var sum geom.Vec
	for _, key := range c.middle {
		id, ok := m.Segment(key)
		if !ok {
			panic("figure: the model has no segment " + key)
		}
		sum = sum.Add(frames[id].At)
	}
	v.Centre = sum.Scale(1 / float64(len(c.middle))).Add(geom.V(0, c.up, 0))
	v.Height = c.height
	v.Name = c.Name + ", " + v.Name
	return v
}

// camera takes the world to a picture: x to the right, y down, z toward the
// eye, all in pixels.
type camera struct {
	right, up, toward geom.Vec
	centre            geom.Vec
	scale             float64 // px per m, at the centre's depth
	eye               float64 // m from the centre; 0 far away
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
		scale: 1,
	}
	c.up = c.toward.Cross(c.right)
	if v.Height > 0 {
		c.centre, c.scale, c.eye = v.Centre, float64(h)/v.Height, v.Eye
		return c
	}
	low, high, ok := c.bounds(s)
	if !ok {
		return c
	}
	middle := low.Lerp(high, 0.5)
	c.centre = c.right.Scale(middle.X).Add(c.up.Scale(middle.Y)).Add(c.toward.Scale(middle.Z))
	c.eye = v.Eye
	low, high, _ = c.bounds(s)
	room := 1 - 2*margin
	c.scale = room * min(float64(w)/(high.X-low.X), float64(h)/(high.Y-low.Y))
	c.cx -= c.scale * (low.X + high.X) / 2
	c.cy += c.scale * (low.Y + high.Y) / 2
	return c
}

// bounds is the box that holds a scene as the camera sees it, m: to the right,
// up and toward the eye; false for a scene without solids.
func (c camera) bounds(s *Scene) (low, high geom.Vec, ok bool) {
	inf := math.Inf(1)
	low, high = geom.V(inf, inf, inf), geom.V(-inf, -inf, -inf)
	for _, g := range s.Groups {
		for _, s := range g.Solids {
			for _, e := range s.ends() {
				x, y, z := c.at(e.at)
				p, r := geom.V((x-c.cx)/c.scale, (c.cy-y)/c.scale, z/c.scale), e.r*c.grow(z)
				low = geom.V(min(low.X, p.X-r), min(low.Y, p.Y-r), min(low.Z, p.Z-r))
				high = geom.V(max(high.X, p.X+r), max(high.Y, p.Y+r), max(high.Z, p.Z+r))
				ok = true
			}
		}
	}
	return low, high, ok
}

// nearest is the share of the eye's distance beyond which nothing comes nearer.
const nearest = 0.9

// grow is how much larger things look at a depth, px, than at the centre's.
func (c camera) grow(z float64) float64 {
	if c.eye == 0 {
		return 1
	}
	return 1 / (1 - min(nearest, z/c.scale/c.eye))
}

// at projects a point of the world.
func (c camera) at(p geom.Vec) (x, y, z float64) {
	d := p.Sub(c.centre)
	z = c.scale * d.Dot(c.toward)
	k := c.scale * c.grow(z)
	return c.cx + k*d.Dot(c.right), c.cy - k*d.Dot(c.up), z
}
