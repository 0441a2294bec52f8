package figure

import (
	"fmt"
	"math"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/exports/draw"
)

// Push is a force on the body from outside: a support that bears it or a load.
type Push struct {
	At   geom.Vec // m, where it meets the body
	Way  geom.Vec // unit
	Size float64  // of body weights
	Load bool     // else a support
	Text string   // beside a load; may be empty
	side body.Side
}

// together is how near supports must be to be drawn as one, m.
const together = 0.3

// Pushes lists what bears and loads a body: what each foot or hand bears goes
// into one arrow at the middle of what its patches bear. gravity, m/s2, turns
// masses into weights.
func (a *Artist) Pushes(f *analysis.Findings, gravity float64, words func(body.Load) string) []Push {
	weight := gravity * a.Model.Person.Mass
	var out []Push
	for _, s := range f.Effort.Forces {
		at, side, ok := a.patch(f, s.Patch)
		size := s.Force.Norm() / weight
		if !ok || size == 0 {
			continue
		}
		p := Push{At: at, Way: s.Force.Scale(1 / s.Force.Norm()), Size: size, side: side}
		merged := false
		for i := range out {
			if o := &out[i]; o.side == p.side && o.At.Sub(p.At).Norm() < together && o.Way.Dot(p.Way) > 0.6 {
				share := p.Size / (p.Size + o.Size)
				o.At, merged = o.At.Lerp(p.At, share), true
				sum := o.Way.Scale(o.Size).Add(p.Way.Scale(p.Size))
				o.Size = sum.Norm()
				o.Way = sum.Scale(1 / o.Size)
				break
			}
		}
		if !merged {
			out = append(out, p)
		}
	}
	out = slices.DeleteFunc(out, func(p Push) bool { return p.Size < leastPush })
	for _, l := range f.Posture.Loads {
		at, _, ok := a.patch(f, l.Patch)
		if !ok {
			continue
		}
		p := Push{At: at, Way: geom.V(0, -1, 0), Size: (l.Mass*gravity + l.Force) / weight, Load: true, Text: words(l)}
		if way, ok := ways[l.Direction]; ok {
			p.Way = way
		}
		out = append(out, p)
	}
	return out
}

// leastPush is the share of body weight below which a support is not drawn.
const leastPush = 0.02

// ways are the directions of loads in the world: x forward, y up, z right.
var ways = map[string]geom.Vec{"up": geom.V(0, 1, 0), "down": geom.V(0, -1, 0), "forward": geom.V(1, 0, 0),
	"backward": geom.V(-1, 0, 0), "right": geom.V(0, 0, 1), "left": geom.V(0, 0, -1)}

// patch is the middle of a patch in the world, and its side.
func (a *Artist) patch(f *analysis.Findings, key string) (geom.Vec, body.Side, bool) {
	p, ok := a.Model.Patch(key)
	if !ok || int(p.Segment) >= len(f.Frames) || len(p.Points) == 0 {
		return geom.Vec{}, body.Middle, false
	}
	var sum geom.Vec
	for _, at := range p.Points {
		sum = sum.Add(f.Frames[p.Segment].Point(at))
	}
	return snap(sum.Scale(1 / float64(len(p.Points)))), p.Side, true
}

// Arrows of forces: how long in the picture, px at least and for a body weight
// more; how broad.
const (
	arrowLeast = 20
	arrowMore  = 34
	arrowBroad = 3.2
)

var forceInk = rgb(0x24261f)

// arrow draws a push: that of a support is hollow and ends at the body, that of
// a load is solid and begins there. One that points at the eye is a ring.
func (p Push) arrow(c camera) []draw.Item {
	x, y, _ := c.at(p.At)
	x1, y1, _ := c.at(p.At.Add(p.Way.Scale(0.1)))
	dx, dy := x1-x, y1-y
	l := math.Hypot(dx, dy)
	if l < 0.02*c.scale {
		ring := draw.Ellipse(x, y, 4.5, 4.5)
		return []draw.Item{draw.Area{Rings: [][]pt{ring}, Ink: Print.Core, Alpha: 1},
			draw.Stroke{Lines: [][]pt{append(ring, ring[0])}, Width: 1.4, Ink: forceInk, Alpha: 1}}
	}
	dx, dy = dx/l, dy/l
	long := arrowLeast + arrowMore*min(1.2, p.Size)
	if !p.Load { // it comes from beyond the body's surface
		x, y = x-dx*(long+3), y-dy*(long+3)
	}
	spot := func(along, across float64) pt {
		return pt{X: x + dx*along - dy*across, Y: y + dy*along + dx*across}
	}
	const head = 11
	ring := []pt{spot(0, arrowBroad), spot(long-head, arrowBroad), spot(long-head, 2.2*arrowBroad), spot(long, 0),
		spot(long-head, -2.2*arrowBroad), spot(long-head, -arrowBroad), spot(0, -arrowBroad)}
	ink := Print.Core
	if p.Load {
		ink = forceInk
	}
	out := []draw.Item{draw.Area{Rings: [][]pt{ring}, Ink: ink, Alpha: 1},
		draw.Stroke{Lines: [][]pt{append(ring, ring[0])}, Width: 1.2, Ink: forceInk, Alpha: 1}}
	if p.Text != "" {
		end := spot(long+4, 0)
		t := draw.Text{X: end.X + 10, Y: end.Y - 6, Size: 12, Bold: true, Ink: forceInk, Body: p.Text}
		out = append(out, halo(t)...)
	}
	return out
}

// apartPx is how near two loads may stand in the picture before one arrow is
// drawn for both.
const apartPx = 34

// arrows draws all pushes.
func arrows(all []Push, c camera) []draw.Item {
	type drawn struct {
		Push
		x, y float64
		n    int
	}
	var each []drawn
	for _, p := range all {
		x, y, _ := c.at(p.At)
		i := slices.IndexFunc(each, func(o drawn) bool {
			return p.Load && o.Load && o.Text == p.Text && o.Way == p.Way && math.Hypot(o.x-x, o.y-y) < apartPx
		})
		if i >= 0 {
			each[i].n++
			continue
		}
		// Feet one behind the other bear as one.
		i = slices.IndexFunc(each, func(o drawn) bool {
			return !p.Load && !o.Load && o.Way.Dot(p.Way) > 0.9 && math.Hypot(o.x-x, o.y-y) < apartPx/2
		})
		if i >= 0 {
			each[i].At = each[i].At.Lerp(p.At, p.Size/(p.Size+each[i].Size))
			each[i].Size += p.Size
			continue
		}
		each = append(each, drawn{p, x, y, 1})
	}
	var out []draw.Item
	for _, p := range each {
		if p.n > 1 {
			p.Text = fmt.Sprintf("%d × %s", p.n, p.Text)
		}
		out = append(out, p.arrow(c)...)
	}
	return out
}

// halo puts a bright edge behind a short text, so that it is read on anything.
func halo(t draw.Text) []draw.Item {
	w := draw.Width(t.Body, t.Size, t.Bold)
	x := t.X
	switch t.Anchor {
	case draw.Middle:
		x -= w / 2
	case draw.End:
		x -= w
	}
	back := draw.Rect(draw.Box{X: x - 3, Y: t.Y - t.Size, W: w*1.1 + 6, H: t.Size * 1.3}, 4, Print.Core)
	back.Alpha = 0.85
	return []draw.Item{back, t}
}

var worldRight, worldUp = geom.V(0, 0, 1), geom.V(0, 1, 0)
