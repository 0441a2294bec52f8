package figure

import (
	"cmp"
	"image/color"
	"math"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/exports/draw"
)

// Label names muscles in a figure.
type Label struct {
	Text    string // "calf"
	Note    string // "has to work"
	Within  string // the part of the body that it is a part of; may be empty
	Role    analysis.Role
	Muscles []body.MuscleID // any of them may be pointed at
}

// Labels: how many at most, and of one role while there are others; the sizes
// of their two parts and the room between them, px.
const (
	mostLabels  = 6
	mostOfRole  = 4
	labelSize   = 14
	noteSize    = 12
	labelGap    = 14
	smaller     = 0.85 // on a bare plate
	fewerLabels = 4
	leastPoints = 0.3 // of a band must be seen to be pointed at
)

// pin is a label in its place.
type pin struct {
	Label
	lines []string
	at    pt      // what it points at
	left  bool    // which column
	y     float64 // of its middle
	high  float64
	size  float64 // of its letters, times the usual
}

// pins chooses what is labelled and puts it into the columns left and right of
// box, column px wide: at most so many, in letters of size times the usual,
// pointing no nearer than inset to the border.
func pins(all []Label, bands []band, box draw.Box, column float64, most int, size, inset float64) []pin {
	var out []pin
	roles := map[analysis.Role]int{}
	count := map[bool]int{}
	for pass := range 2 { // first so that no role crowds out the other
		for _, l := range all {
			if len(out) == most || pass == 0 && roles[l.Role] == mostOfRole ||
				slices.ContainsFunc(out, func(p pin) bool { return p.Text == l.Text && p.Role == l.Role }) {
				continue
			}
			spots := spotsOf(l, bands, box, inset)
			if len(spots) == 0 {
				continue
			}
			// Of several the one in the emptier column, else the best seen.
			best := spots[0]
			for _, s := range spots[1:] {
				emptier := count[s.left] < count[best.left]
				if s.left != best.left && emptier && s.high > 0.6*best.high {
					best = s
				}
			}
			best.lines = draw.Wrap(l.Text, labelSize*size, true, column, 3)
			best.size = size
			best.high = size * (float64(len(best.lines))*labelSize*1.2 + noteSize*1.2)
			count[best.left]++
			roles[l.Role]++
			out = append(out, best)
		}
	}
	for _, left := range []bool{true, false} {
		var side []*pin
		for i := range out {
			if out[i].left == left {
				side = append(side, &out[i])
			}
		}
		edge := box.X + box.W
		if left {
			edge = box.X
		}
		stack(side, box, edge)
	}
	return out
}

// spotsOf finds where a label's muscles are best pointed at, the best first;
// high is how good each is.
func spotsOf(l Label, bands []band, box draw.Box, inset float64) []pin {
	var out []pin
	for i := range bands {
		b := &bands[i]
		if b.Role != l.Role || !slices.Contains(l.Muscles, b.Muscle) || b.shown() < leastPoints {
			continue
		}
		good, at := 0.0, -1
		for _, s := range b.stretches() {
			for k := s.from; k <= s.to && s.near; k++ {
				p := b.at[k]
				in := p.X > box.X+inset && p.X < box.X+box.W-inset && p.Y > box.Y+inset && p.Y < box.Y+box.H-inset
				if v := b.swell(k) * b.seen[k]; in && v > good && !covered(p, bands[i+1:]) {
					good, at = v, k
				}
			}
		}
		if at >= 0 {
			out = append(out, pin{Label: l, at: b.at[at], left: b.at[at].X < box.X+box.W/2, high: good})
		}
	}
	slices.SortStableFunc(out, func(a, b pin) int { return cmp.Compare(b.high, a.high) })
	return out
}

// covered reports whether a point lies under one of the bands drawn later.
func covered(p pt, later []band) bool {
	for i := range later {
		b := &later[i]
		for k := range b.at {
			if reach := b.swell(k); b.seen[k] > 0.5 && math.Hypot(b.at[k].X-p.X, b.at[k].Y-p.Y) < max(reach, b.apart()/2) {
				return true
			}
		}
	}
	return false
}

// apart is about how far the points of a band are from each other.
func (b *band) apart() float64 {
	return math.Hypot(b.at[12].X-b.at[11].X, b.at[12].Y-b.at[11].Y) * 0.9
}

// stack sets the labels of one column: as level with what they point at as there
// is room, one below the other, so that no leader crosses another.
func stack(side []*pin, box draw.Box, edge float64) {
	slices.SortStableFunc(side, func(a, b *pin) int { return cmp.Compare(a.at.Y, b.at.Y) })
	place := func() {
		y := box.Y
		for _, p := range side {
			p.y = max(y+p.high/2, p.at.Y)
			y = p.y + p.high/2 + labelGap
		}
		floor := box.Y + box.H
		for _, p := range slices.Backward(side) {
			p.y = min(p.y, floor-p.high/2)
			floor = p.y - p.high/2 - labelGap
		}
	}
	place()
	for range len(side) * len(side) {
		crossed := false
		for i := 1; i < len(side); i++ {
			for k := range i {
				if cross(pt{X: edge, Y: side[k].y}, side[k].at, pt{X: edge, Y: side[i].y}, side[i].at) {
					side[k], side[i] = side[i], side[k]
					place()
					crossed = true
				}
			}
		}
		if !crossed {
			break
		}
	}
}

// cross reports whether two straight lines cross.
func cross(a, b, c, d pt) bool {
	turn := func(p, q, r pt) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return turn(a, b, c)*turn(a, b, d) < 0 && turn(c, d, a)*turn(c, d, b) < 0
}

var soft = rgb(0x5b594d)

// draw gives a label with its leader.
func (p *pin) draw(box draw.Box, inks Inks) []draw.Item {
	ink := map[analysis.Role]color.RGBA{analysis.Working: inks.Work, analysis.DrawnLong: inks.Long}[p.Role]
	if ink.A == 0 {
		ink = soft
	}
	edge, x, anchor := box.X+box.W, box.X+box.W+6, draw.Start
	if p.left {
		edge, x, anchor = box.X, box.X-6, draw.End
	}
	knee := pt{X: edge, Y: p.y}
	line := []pt{knee, p.at}
	long := math.Hypot(p.at.X-knee.X, p.at.Y-knee.Y)
	if long < 1 {
		line = nil
	}
	var out []draw.Item
	if line != nil {
		out = append(out, draw.Stroke{Lines: [][]pt{line}, Width: 3, Ink: inks.Core, Alpha: 0.8},
			draw.Stroke{Lines: [][]pt{line}, Width: 1, Ink: soft, Alpha: 1})
	}
	out = append(out, draw.Area{Rings: [][]pt{draw.Ellipse(p.at.X, p.at.Y, 3.6, 3.6)}, Ink: inks.Core, Alpha: 1},
		draw.Area{Rings: [][]pt{draw.Ellipse(p.at.X, p.at.Y, 2.3, 2.3)}, Ink: soft, Alpha: 1})
	y := p.y - p.high/2 + labelSize*p.size*0.9
	for _, l := range p.lines {
		out = append(out, draw.Text{X: x, Y: y, Size: labelSize * p.size, Bold: true, Anchor: anchor, Ink: ink, Body: l})
		y += labelSize * p.size * 1.2
	}
	return append(out, draw.Text{X: x, Y: y - 1, Size: noteSize * p.size, Anchor: anchor, Ink: soft, Body: p.Note})
}
