// Package draw holds flat pictures made of filled areas and lines of text, and
// writes them as SVG, PNG or pages of PDF. It knows nothing of what they show.
//
// Units are those of the picture, the hundredth part of an inch or so: y points
// down. The same picture always gives the same bytes.
package draw

import (
	"image/color"
	"math"
)

// Pt is a point of a picture, y down.
type Pt struct{ X, Y float64 }

// Area is a filled area: rings that turn the same way add up, the other way
// make holes.
type Area struct {
	Rings [][]Pt
	Ink   color.RGBA
	Alpha float64
	Name  string // what the area is, for a reader that asks; may be empty
}

// Stroke is drawn lines, with round ends and joints.
type Stroke struct {
	Lines [][]Pt
	Width float64
	Dash  []float64 // lengths of strokes and gaps in turn; none draws them whole
	Ink   color.RGBA
	Alpha float64
	Name  string // as of an Area
}

// Text is one line of text.
type Text struct {
	X, Y   float64 // where it begins, or by Anchor its middle or end; Y is the base line
	Size   float64 // of the letters
	Bold   bool
	Anchor Anchor
	Ink    color.RGBA
	Body   string
}

// Anchor is which part of a text stands at its X.
type Anchor string

const (
	Start  Anchor = "start" // also ""
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Box is an upright rectangle.
type Box struct{ X, Y, W, H float64 }

// Group is a part of a picture.
type Group struct {
	Class string // a word for style sheets and readers of the file
	Clip  *Box   // in the places of what is inside; nil: nothing is cut off
	Shift Pt     // added to every place inside
	Items []Item
}

// Placed is another picture, laid in with its upper left corner at a place and
// scaled; its paper stays behind. In a PDF it is kept once, however often it is
// placed.
type Placed struct {
	*Picture
	At    Pt
	Scale float64
}

// Item is an Area, a Stroke, a Text, a Group, a Placed, or for images a Bitmap.
type Item any

// Picture is a whole picture.
type Picture struct {
	W, H  float64
	Title string // what is shown
	Desc  string // the same for who cannot see it; may be empty
	Made  string // what made it, kept in the file and not shown; may be empty
	Lang  string // BCP 47; may be empty
	Paper color.RGBA
	Items []Item
}

// Hex makes a colour of 0xrrggbb.
func Hex(v uint32) color.RGBA {
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}

// Rect is the area of a box with round corners; r zero leaves them square.
func Rect(b Box, r float64, ink color.RGBA) Area {
	return Area{Rings: [][]Pt{RoundRing(b, r)}, Ink: ink, Alpha: 1}
}

// RoundRing is the ring of a box with round corners.
func RoundRing(b Box, r float64) []Pt {
	r = max(0, min(r, b.W/2, b.H/2))
	if r == 0 {
		return []Pt{{b.X, b.Y}, {b.X + b.W, b.Y}, {b.X + b.W, b.Y + b.H}, {b.X, b.Y + b.H}}
	}
	const steps = 6 // of a quarter turn
	var ring []Pt
	for q, c := range []Pt{{b.X + b.W - r, b.Y + r}, {b.X + b.W - r, b.Y + b.H - r}, {b.X + r, b.Y + b.H - r}, {b.X + r, b.Y + r}} {
		for i := range steps + 1 {
			s, k := math.Sincos(math.Pi / 2 * (float64(q-1) + float64(i)/steps))
			ring = append(ring, Pt{c.X + r*k, c.Y + r*s})
		}
	}
	return ring
}

// Ellipse is the ring of an upright ellipse.
func Ellipse(x, y, rx, ry float64) []Pt {
	const n = 32
	ring := make([]Pt, n)
	for i := range ring {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		ring[i] = Pt{x + rx*c, y + ry*s}
	}
	return ring
}

// area is a stroke as areas, for who can only fill.
func (s Stroke) area() Area {
	a := Area{Ink: s.Ink, Alpha: s.Alpha}
	for _, line := range s.Lines {
		for _, part := range dashed(line, s.Dash) {
			for i := 1; i < len(part); i++ {
				a.Rings = append(a.Rings, stroke(part[i-1], part[i], s.Width/2))
			}
		}
	}
	return a
}

// stroke is the ring of one straight stroke with round ends; all turn one way.
func stroke(a, b Pt, r float64) []Pt {
	turn := math.Atan2(b.Y-a.Y, b.X-a.X)
	const steps = 4 // of a half turn
	ring := make([]Pt, 0, 2*(steps+1))
	for end, c := range []Pt{b, a} {
		for i := range steps + 1 {
			s, k := math.Sincos(turn + math.Pi*(float64(end)-0.5+float64(i)/steps))
			ring = append(ring, Pt{c.X + r*k, c.Y + r*s})
		}
	}
	return ring
}

// dashed cuts a line into strokes.
func dashed(points []Pt, dashes []float64) [][]Pt {
	if len(points) < 2 {
		return nil
	}
	if len(dashes) == 0 {
		return [][]Pt{points}
	}
	var out [][]Pt
	at, left := 0, dashes[0]
	part := []Pt{points[0]}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		long := math.Hypot(b.X-a.X, b.Y-a.Y)
		gone := 0.0
		for long-gone > left {
			gone += left
			t := gone / long
			p := Pt{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)}
			if at%2 == 0 {
				out = append(out, append(part, p))
			}
			part = []Pt{p}
			at++
			left = max(dashes[at%len(dashes)], 1e-3)
		}
		left -= long - gone
		part = append(part, b)
	}
	if at%2 == 0 && len(part) > 1 {
		out = append(out, part)
	}
	return out
}
