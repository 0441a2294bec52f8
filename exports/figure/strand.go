package figure

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"tautline/analysis"
)

// Inks are the colours of what is found. Each has its own darkness and its own
// line form, so that grey print and eyes that see few colours lose nothing:
// working muscles are the darkest, broad, with arrowheads that draw their ends
// together; those drawn long are taut bands with a bright core; slack ones
// hang in waves; the rest are hairs.
type Inks struct {
	Work, Long, Slack, Rest, Core color.RGBA
}

// Print is for light paper.
var Print = Inks{Work: rgb(0x6e2a66), Long: rgb(0x0f6b5c), Slack: rgb(0x7a6a2c), Rest: rgb(0x8d8674), Core: rgb(0xfffdf8)}

// How deep under the skin a muscle is still seen, and from where on it is
// hidden, as shares of how thick the body is there; how many points a line is
// drawn with, and in how many steps it fades.
const (
	seenTo     = 0.9
	hiddenFrom = 1.5
	linePoints = 25
	fadeSteps  = 4
)

// band is a strand in the picture.
type band struct {
	Strand
	at    [linePoints]pt
	n     [linePoints]pt // across the line
	seen  [linePoints]float64
	depth float64
	width float64 // px
}

// strands turns muscle lines into shapes, far ones first, what matters last.
func strands(all []Strand, c camera, f *relief, grain float64, inks Inks, name func(Strand) string) []shape {
	bands := make([]band, 0, len(all))
	for _, s := range all {
		if len(s.Line) >= 2 {
			bands = append(bands, newBand(s, c, f, grain))
		}
	}
	rank := map[analysis.Role]int{analysis.Slack: 1, analysis.DrawnLong: 2, analysis.Working: 3}
	slices.SortStableFunc(bands, func(a, b band) int {
		return cmp.Or(cmp.Compare(rank[a.Role], rank[b.Role]), cmp.Compare(a.depth, b.depth))
	})
	var out []shape
	for i := range bands {
		out = append(out, bands[i].shapes(inks, name(bands[i].Strand))...)
	}
	return out
}

func newBand(s Strand, c camera, f *relief, grain float64) band {
	b := band{Strand: s, width: s.Width * c.scale}
	total := 0.0
	for i := 1; i < len(s.Line); i++ {
		total += s.Line[i].Sub(s.Line[i-1]).Norm()
	}
	seg, walked := 1, 0.0
	for k := range linePoints {
		want := total * float64(k) / (linePoints - 1)
		for seg < len(s.Line)-1 && walked+s.Line[seg].Sub(s.Line[seg-1]).Norm() < want {
			walked += s.Line[seg].Sub(s.Line[seg-1]).Norm()
			seg++
		}
		l := max(1e-9, s.Line[seg].Sub(s.Line[seg-1]).Norm())
		x, y, z := c.at(s.Line[seg-1].Lerp(s.Line[seg], min(1, (want-walked)/l)))
		b.at[k] = pt{x, y}
		under := f.under(x*grain, y*grain, z*grain)
		t := max(0, min(1, (under-seenTo)/(hiddenFrom-seenTo)))
		b.seen[k] = 1 - t*t*(3-2*t)
		b.depth += z / linePoints
	}
	// Two rounds of easing take the corners off where the path turns at a point,
	// and keep a stretch that is hidden for a moment from breaking the band.
	for range 2 {
		was, saw := b.at, b.seen
		for k := 1; k < linePoints-1; k++ {
			b.at[k] = pt{(was[k-1].x + 2*was[k].x + was[k+1].x) / 4, (was[k-1].y + 2*was[k].y + was[k+1].y) / 4}
			b.seen[k] = (saw[k-1] + 2*saw[k] + saw[k+1]) / 4
		}
	}
	for k := range linePoints {
		p, q := b.at[max(0, k-1)], b.at[min(linePoints-1, k+1)]
		l := max(1e-9, math.Hypot(q.x-p.x, q.y-p.y))
		b.n[k] = pt{-(q.y - p.y) / l, (q.x - p.x) / l}
	}
	return b
}

// shapes draws one band in the form of its role.
func (b *band) shapes(inks Inks, name string) []shape {
	var out []shape
	add := func(ring func(from, to int) [][]pt, ink color.RGBA, most, least float64, name string) {
		for from := 0; from < linePoints-1; {
			to, level := from+1, b.level(from)
			for to < linePoints-1 && b.level(to) == level {
				to++
			}
			if rings := ring(from, to); len(rings) > 0 && least+most*level > 0 {
				out = append(out, shape{rings, ink, least + (most-least)*level, name})
			}
			from = to
		}
	}
	swell := func(much, more float64) func(from, to int) [][]pt {
		return func(from, to int) [][]pt {
			return [][]pt{b.ribbon(from, to, func(k int) float64 {
				s := math.Sin(math.Pi * (float64(k) + 0.5) / linePoints)
				return b.width/2*much*(0.2+0.8*math.Pow(s, 0.8)) + more
			})}
		}
	}
	even := func(half float64) func(from, to int) [][]pt {
		return func(from, to int) [][]pt {
			return [][]pt{b.ribbon(from, to, func(int) float64 { return half })}
		}
	}
	switch b.Role {
	case analysis.Working:
		add(swell(1, 0.9), inks.Core, 0.55, 0, "")
		add(swell(1, 0), inks.Work, 0.92, 0.07, name)
		add(b.heads, inks.Core, 0.9, 0, "")
	case analysis.DrawnLong:
		add(swell(0.8, 0.9), inks.Core, 0.55, 0, "")
		add(swell(0.8, 0), inks.Long, 0.9, 0.08, name)
		add(even(max(0.35, b.width*0.05)), inks.Core, 0.85, 0, "")
	case analysis.Slack:
		add(b.wave, inks.Slack, 0.75, 0, name)
	default:
		add(even(0.5), inks.Rest, 0.32, 0, "")
	}
	return out
}

// level is how much of the stretch after point k is seen, in steps.
func (b *band) level(k int) float64 {
	return math.Round((b.seen[k]+b.seen[min(k+1, linePoints-1)])/2*fadeSteps) / fadeSteps
}

// ribbon is the ring around points from to to, half as wide as half says.
func (b *band) ribbon(from, to int, half func(k int) float64) []pt {
	ring := make([]pt, 0, 2*(to-from+1))
	for k := from; k <= to; k++ {
		h := half(k)
		ring = append(ring, pt{b.at[k].x + b.n[k].x*h, b.at[k].y + b.n[k].y*h})
	}
	for k := to; k >= from; k-- {
		h := half(k)
		ring = append(ring, pt{b.at[k].x - b.n[k].x*h, b.at[k].y - b.n[k].y*h})
	}
	return ring
}

// heads are arrowheads from both ends toward the middle: what works draws its
// ends together, whichever of them moves.
func (b *band) heads(from, to int) [][]pt {
	half := min(3.2, b.width*0.28)
	if half < 1 {
		return nil
	}
	var rings [][]pt
	for _, k := range []int{6, 9, linePoints - 10, linePoints - 7} {
		if k < from || k > to {
			continue
		}
		p, n := b.at[k], b.n[k]
		t := pt{n.y, -n.x}
		if k > linePoints/2 {
			t = pt{-t.x, -t.y}
		}
		spot := func(along, across float64) pt {
			return pt{p.x + half*(t.x*along+n.x*across), p.y + half*(t.y*along+n.y*across)}
		}
		rings = append(rings, []pt{spot(-0.9, 1), spot(0.3, 0), spot(-0.9, -1), spot(-0.3, -1), spot(0.9, 0), spot(-0.3, 1)})
	}
	return rings
}

// wave hangs from side to side.
func (b *band) wave(from, to int) [][]pt {
	swing, half := max(1.4, b.width*0.22), max(0.5, b.width*0.06)
	w := *b
	for k := 1; k < linePoints-1; k++ {
		s := swing * math.Sin(float64(k)*math.Pi/2)
		w.at[k] = pt{b.at[k].x + b.n[k].x*s, b.at[k].y + b.n[k].y*s}
	}
	return [][]pt{w.ribbon(from, to, func(int) float64 { return half })}
}
