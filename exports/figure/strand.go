package figure

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"tautline/analysis"
	"tautline/exports/draw"
)

// Inks are the colours of what is found. Each has its own darkness and its own
// line form, so that grey print and eyes that see few colours lose nothing:
// working muscles are the darkest, broad, with arrowheads toward the end that is
// held; those drawn long are taut bands with a bright core; slack ones hang in
// waves; the rest are hairs. What must work has a dark edge, what only may work
// is pale with a broken edge.
type Inks struct {
	Work, Edge, Long, Slack, Rest, Core color.RGBA
}

// Print is for light paper.
var Print = Inks{Work: rgb(0x6e2a66), Edge: rgb(0x3a1036), Long: rgb(0x0f6b5c), Slack: rgb(0x7a6a2c), Rest: rgb(0x8d8674), Core: rgb(0xfffdf8)}

// How deep under the skin a muscle is still seen, and from where on it is
// hidden, as shares of how thick the body is there; how many points a line is
// drawn with; and how strongly what lies on the far side shows through.
const (
	seenTo     = 0.9
	hiddenFrom = 1.5
	linePoints = 25
	through    = 0.14
	pale       = 0.5 // of what only may work, as a share of what is firm
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

// bandsOf places muscle lines in the picture: far ones first, what matters last.
func bandsOf(all []Strand, c camera, f *relief, grain float64) []band {
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
	return bands
}

// shapes turns bands into what is drawn.
func shapes(bands []band, inks Inks, name func(Strand) string) []draw.Item {
	var out []draw.Item
	hairs := draw.Stroke{Width: 0.9, Ink: inks.Rest, Alpha: 0.3}
	for i := range bands {
		b := &bands[i]
		if b.Role == analysis.Quiet {
			for _, s := range b.stretches() {
				if s.near {
					hairs.Lines = append(hairs.Lines, b.at[s.from:s.to+1])
				}
			}
		}
	}
	out = append(out, hairs)
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
		b.at[k] = pt{X: x, Y: y}
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
			b.at[k] = pt{X: (was[k-1].X + 2*was[k].X + was[k+1].X) / 4, Y: (was[k-1].Y + 2*was[k].Y + was[k+1].Y) / 4}
			b.seen[k] = (saw[k-1] + 2*saw[k] + saw[k+1]) / 4
		}
	}
	for k := range linePoints {
		p, q := b.at[max(0, k-1)], b.at[min(linePoints-1, k+1)]
		l := max(1e-9, math.Hypot(q.X-p.X, q.Y-p.Y))
		b.n[k] = pt{X: -(q.Y - p.Y) / l, Y: (q.X - p.X) / l}
	}
	return b
}

// shown is how much of the band is on the near side, 0 to 1.
func (b *band) shown() float64 {
	sum := 0.0
	for _, s := range b.seen {
		sum += s / linePoints
	}
	return sum
}

// stretch is a part of a band that is wholly on the near or the far side.
type stretch struct {
	from, to int
	near     bool
}

// least is how many points a stretch on the near side has; a shorter one would
// be a scrap.
const least = 5

// stretches cuts a band where it goes under.
func (b *band) stretches() []stretch {
	var out []stretch
	for k := range linePoints - 1 {
		near := b.seen[k]+b.seen[k+1] >= 1
		if n := len(out); n > 0 && out[n-1].near == near {
			out[n-1].to = k + 1
			continue
		}
		out = append(out, stretch{k, k + 1, near})
	}
	// Scraps of the near side go with the far side, gaps of a point with the near.
	for i := range out {
		if out[i].near && out[i].to-out[i].from < least {
			out[i].near = false
		}
		if !out[i].near && out[i].to-out[i].from < 2 && i > 0 && i+1 < len(out) {
			out[i].near = out[i-1].near && out[i+1].to-out[i+1].from >= least
		}
	}
	joined := out[:1]
	for _, s := range out[1:] {
		if last := &joined[len(joined)-1]; last.near == s.near {
			last.to = s.to
			continue
		}
		joined = append(joined, s)
	}
	return joined
}

// shapes draws one band in the form of its role.
func (b *band) shapes(inks Inks, name string) []draw.Item {
	var out []draw.Item
	for _, s := range b.stretches() {
		add := func(ink color.RGBA, alpha float64, name string, rings ...[]pt) {
			if len(rings) > 0 {
				out = append(out, draw.Area{Rings: rings, Ink: ink, Alpha: alpha, Name: name})
			}
		}
		line := func(ink color.RGBA, alpha, width float64, points []pt, dash ...float64) {
			out = append(out, draw.Stroke{Lines: [][]pt{points}, Width: width, Dash: dash, Ink: ink, Alpha: alpha})
		}
		switch {
		case b.Role == analysis.Working && s.near:
			firm := b.Grade == analysis.Must || b.Grade == analysis.Likely
			line(inks.Core, 0.7, 2.2, b.rim(s, 1))
			if firm {
				add(mix(inks.Core, inks.Work, strength(b.Effort)), 1, name, b.belly(s, 1))
			} else {
				add(mix(inks.Core, inks.Work, pale*strength(b.Effort)), 1, name, b.belly(s, 1))
				line(inks.Work, 1, max(0.7, b.width*0.05), b.rim(s, 1), 3, 2.4)
			}
			if b.Grade == analysis.Must {
				line(inks.Edge, 1, max(0.9, b.width*0.09), b.rim(s, 1))
			}
			head := inks.Core
			if !firm {
				head = inks.Work
			}
			add(head, 0.95, "", b.heads(s)...)
		case b.Role == analysis.Working:
			add(inks.Work, through, name, b.belly(s, 0.9))
		case b.Role == analysis.DrawnLong && s.near:
			line(inks.Core, 0.7, 2.2, b.rim(s, 0.8))
			add(inks.Long, 0.95, name, b.belly(s, 0.8))
			line(inks.Core, 0.95, max(0.9, b.width*0.11), b.at[s.from:s.to+1])
		case b.Role == analysis.DrawnLong:
			add(inks.Long, through, name, b.belly(s, 0.7))
		case b.Role == analysis.Slack && s.near:
			out = append(out, draw.Stroke{Lines: [][]pt{b.wave(s)}, Width: max(1.2, b.width*0.14), Ink: inks.Slack, Alpha: 0.8, Name: name})
		}
	}
	return out
}

// strength is how strong the colour of firm work is.
func strength(effort float64) float64 { return 0.7 + 0.3*min(1, max(0, effort)/0.5) }

// mix is a colour on the way from one to another.
func mix(from, to color.RGBA, t float64) color.RGBA {
	part := func(a, b uint8) uint8 { return uint8(float64(a) + t*(float64(b)-float64(a)) + 0.5) }
	return color.RGBA{part(from.R, to.R), part(from.G, to.G), part(from.B, to.B), 255}
}

// belly is the ring of a band that swells from its tendons to its middle, much
// of its full width.
func (b *band) belly(s stretch, much float64) []pt {
	return b.ribbon(s, func(k int) float64 { return b.swell(k) * much })
}

func (b *band) swell(k int) float64 {
	s := math.Sin(math.Pi * (float64(k) + 0.5) / linePoints)
	return b.width / 2 * (0.2 + 0.8*math.Pow(s, 0.8))
}

// rim is the line around a belly.
func (b *band) rim(s stretch, much float64) []pt {
	ring := b.belly(s, much)
	return append(ring, ring[0])
}

// ribbon is the ring around a stretch, half as wide as half says.
func (b *band) ribbon(s stretch, half func(k int) float64) []pt {
	ring := make([]pt, 0, 2*(s.to-s.from+1))
	for k := s.from; k <= s.to; k++ {
		h := half(k)
		ring = append(ring, pt{X: b.at[k].X + b.n[k].X*h, Y: b.at[k].Y + b.n[k].Y*h})
	}
	for k := s.to; k >= s.from; k-- {
		h := half(k)
		ring = append(ring, pt{X: b.at[k].X - b.n[k].X*h, Y: b.at[k].Y - b.n[k].Y*h})
	}
	return ring
}

// long is how long the band is in the picture, px.
func (b *band) long() float64 {
	sum := 0.0
	for k := 1; k < linePoints; k++ {
		sum += math.Hypot(b.at[k].X-b.at[k-1].X, b.at[k].Y-b.at[k-1].Y)
	}
	return sum
}

// heads are arrowheads along what works, toward the end that is held; where that
// is not told, from both ends toward the middle.
func (b *band) heads(s stretch) [][]pt {
	long := b.long()
	half := min(long*0.05, b.width*0.3)
	if half < 0.9 {
		return nil
	}
	// As far apart as six of them are long, and never on the tendons.
	every := max(3, int(math.Round(linePoints*6*half/max(1, long))))
	var rings [][]pt
	for k := linePoints / 2 % every; k < linePoints; k += every {
		if k < s.from || k > s.to || b.swell(k) < b.width*0.34 {
			continue
		}
		way := float64(b.Held)
		if b.Held == Neither {
			way = float64(cmp.Compare(linePoints/2, k))
		}
		if way == 0 {
			continue
		}
		rings = append(rings, b.head(k, half, way))
	}
	return rings
}

// head is one arrowhead at a point, half as broad as half, pointing along the
// line (1) or back (-1).
func (b *band) head(k int, half, way float64) []pt {
	p, n := b.at[k], b.n[k]
	t := pt{X: n.Y * way, Y: -n.X * way}
	spot := func(along, across float64) pt {
		return pt{X: p.X + half*(t.X*along+n.X*across), Y: p.Y + half*(t.Y*along+n.Y*across)}
	}
	return []pt{spot(-0.5, 1), spot(0.5, 0), spot(-0.5, -1), spot(-1.2, -1), spot(-0.2, 0), spot(-1.2, 1)}
}

// wave hangs from side to side.
func (b *band) wave(s stretch) []pt {
	swing := max(1.4, b.width*0.22)
	var line []pt
	for k := s.from; k <= s.to; k++ {
		a := swing * math.Sin(float64(k)*math.Pi/2)
		if k == 0 || k == linePoints-1 {
			a = 0
		}
		line = append(line, pt{X: b.at[k].X + b.n[k].X*a, Y: b.at[k].Y + b.n[k].Y*a})
	}
	return line
}
