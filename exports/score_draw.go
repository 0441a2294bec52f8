package exports

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"strings"

	"tautline/exports/draw"
	"tautline/exports/figure"
	"tautline/timeline"
)

// Layout of the score, px.
const (
	scoreWide   float64 = 1240
	scoreNames  float64 = 248 // the column of names
	scorePad    float64 = 26
	scoreRowPx  float64 = 21
	scoreGap    float64 = 8   // above a region
	scoreTop    float64 = 46  // titles and times of phases
	scoreColumn float64 = 1.5 // narrower phases are drawn together
	scoreFull   float64 = 0.6 // effort at which a ribbon is as broad as its row
)

var (
	scoreInk  = draw.Hex(0x24261f)
	scoreSoft = draw.Hex(0x5b594d)
	scoreRule = draw.Hex(0xd5ccba)
	scoreSunk = draw.Hex(0xf3eee2)
	scorePale = draw.Hex(0xc3a2bd)
)

func writeScore(w io.Writer, r *timeline.Report, o Options) error {
	p, left := scorePicture(r, o.withDefaults())
	if left > 0 {
		o.tell([]string{fmt.Sprintf("the score has room for %d rows: %d that do least were left out", mostRows, left)})
	}
	return p.SVG(w)
}

// scorePicture draws the whole study: time from left to right, parts of the body
// as rows, each a ribbon whose width is effort and whose form is length.
func scorePicture(r *timeline.Report, o Options) (*draw.Picture, int) {
	sp := newSpeaker(r.Model, o.Voice)
	rows, left := sp.scoreRows(r)
	s := score{Picture: draw.Picture{W: scoreWide, Lang: "en", Paper: draw.Hex(0xfffdf8)}, r: r, rows: rows}
	s.Title = scoreTitle(r)
	s.Desc = scoreDesc(r, rows)
	s.Made = o.maker(r) + ". " + strings.Join(careText, " ")
	y := scorePad
	for _, l := range draw.Wrap(s.Title, 23, true, scoreWide-2*scorePad, 2) {
		y += 28
		s.text(scorePad, y-6, 23, true, draw.Start, scoreInk, l)
	}
	for _, l := range draw.Wrap(scoreUnder, 13, false, scoreWide-2*scorePad, 2) {
		y += 18
		s.text(scorePad, y-2, 13, false, draw.Start, scoreSoft, l)
	}
	y += 14
	top := y + scoreTop
	bottom := s.lay(top)
	s.phases(y, top, bottom)
	s.ribbons(top)
	y = bottom + 26
	y = s.legend(y)
	foot := strings.Join(careText, " ") + " " + o.maker(r) + "."
	if left > 0 {
		foot = scoreLeftOut(left) + " " + foot
	}
	for _, l := range draw.Wrap(foot, 10, false, scoreWide-2*scorePad, 0) {
		y += 14
		s.text(scorePad, y, 10, false, draw.Start, scoreSoft, l)
	}
	s.H = y + scorePad
	return &s.Picture, left
}

// score is the picture while it is drawn.
type score struct {
	draw.Picture
	r    *timeline.Report
	rows []scoreRow
	at   []float64 // the middle of each row
}

func (s *score) text(x, y, size float64, bold bool, anchor draw.Anchor, ink color.RGBA, body string) {
	s.Items = append(s.Items, draw.Text{X: x, Y: y, Size: size, Bold: bold, Anchor: anchor, Ink: ink, Body: body})
}

func (s *score) line(a, b draw.Pt, width float64, ink color.RGBA, alpha float64, dash ...float64) {
	s.Items = append(s.Items, draw.Stroke{Lines: [][]draw.Pt{{a, b}}, Width: width, Ink: ink, Alpha: alpha, Dash: dash})
}

// x is where a moment lies.
func (s *score) x(t timeline.Instant) float64 {
	from, to := scorePad+scoreNames, scoreWide-scorePad
	end := max(1, float64(s.r.Study.End()))
	return from + (to-from)*min(1, float64(t)/end)
}

// lay places the rows and their names.
func (s *score) lay(y float64) float64 {
	region := ""
	for i, row := range s.rows {
		if row.Region != region {
			region = row.Region
			y += scoreGap
			if i > 0 {
				s.line(draw.Pt{X: scorePad, Y: y - scoreGap/2}, draw.Pt{X: scoreWide - scorePad, Y: y - scoreGap/2}, 1, scoreRule, 1)
			}
		}
		y += scoreRowPx
		s.at = append(s.at, y-scoreRowPx/2)
		name := row.Name + row.Side.brief()
		s.text(scorePad+scoreNames-12, y-scoreRowPx/2+4, 12, false, draw.End, scoreInk, draw.Cut(name, 12, false, scoreNames-12))
	}
	if len(s.rows) == 0 {
		y += 3 * scoreRowPx
		s.text(scoreWide/2, y-scoreRowPx, 13, false, draw.Middle, scoreSoft, scoreNothing)
	}
	return y + 6
}

// phases draws where phases begin, with titles and times where there is room.
func (s *score) phases(y, top, bottom float64) {
	free := scorePad
	shade := draw.Area{Ink: scoreSunk, Alpha: 1}
	for i := range s.r.Phases {
		p := &s.r.Phases[i]
		x, to := s.x(p.From), s.x(p.To)
		if p.Movement != nil { // a movement stands on shade
			shade.Rings = append(shade.Rings, draw.RoundRing(draw.Box{X: x, Y: top, W: max(0.5, to-x), H: bottom - top}, 0))
		}
	}
	s.Items = append([]draw.Item{shade}, s.Items...)
	for i := range s.r.Phases {
		p := &s.r.Phases[i]
		x, to := s.x(p.From), s.x(p.To)
		if i > 0 && x-s.x(s.r.Phases[i-1].From) < scoreColumn {
			continue
		}
		s.line(draw.Pt{X: x, Y: top - 4}, draw.Pt{X: x, Y: bottom}, 1, scoreRule, 1)
		room := to - x - 6
		if x < free || room < 34 {
			continue
		}
		lines := draw.Wrap(pictureTitle(p), 12, true, room, 2)
		for k, l := range lines {
			s.text(x+2, y+float64(k+1)*14, 12, true, draw.Start, scoreInk, l)
		}
		s.text(x+2, top-6, 11, false, draw.Start, scoreSoft, p.From.Short())
		free = x + 34
	}
}

// ribbons draws every row.
func (s *score) ribbons(top float64) {
	for i, row := range s.rows {
		y := s.at[i]
		s.line(draw.Pt{X: s.x(0), Y: y}, draw.Pt{X: scoreWide - scorePad, Y: y}, 0.8, scoreRule, 0.8)
		ribbon := draw.Group{Class: "row"}
		for _, p := range s.parts(row) {
			ribbon.Items = append(ribbon.Items, p.draw(y)...)
		}
		s.Items = append(s.Items, ribbon)
	}
}

// scorePart is a stretch of a row, from what it does at one end to the other.
type scorePart struct {
	x0, x1 float64
	a, b   scoreDoing
}

// parts cuts a row at the phases; those too narrow to be seen go together, with
// the most of what they hold.
func (s *score) parts(row scoreRow) []scorePart {
	var out []scorePart
	for i := range s.r.Phases {
		p := &s.r.Phases[i]
		a, b := row.Does[i], row.Does[i]
		if p.Movement != nil && i+1 < len(row.Does) {
			b = row.Does[i+1]
		}
		x0, x1 := s.x(p.From), s.x(p.To)
		if n := len(out); n > 0 && x1-out[n-1].x0 < scoreColumn {
			last := &out[n-1]
			last.x1, last.a, last.b = x1, more(last.a, a), more(last.b, b)
			continue
		}
		out = append(out, scorePart{x0, x1, a, b})
	}
	return out
}

// more is of two what asks more to be seen.
func more(a, b scoreDoing) scoreDoing {
	if b.Works && (!a.Works || b.Effort > a.Effort) || !a.Works && b.Long {
		return b
	}
	return a
}

// half is half the thickness of a ribbon.
func (d scoreDoing) half() float64 {
	if !d.Works {
		return 0
	}
	return 1.2 + (scoreRowPx*0.46-1.2)*min(1, d.Effort/scoreFull)
}

func (p scorePart) draw(y float64) []draw.Item {
	var out []draw.Item
	inks := figure.Print
	wide := p.x1 - p.x0
	if a, b := p.a.half(), p.b.half(); a+b > 0 && wide > 0 {
		ring := []draw.Pt{{X: p.x0, Y: y - a}, {X: p.x1, Y: y - b}, {X: p.x1, Y: y + b}, {X: p.x0, Y: y + a}}
		if p.a.Firm || p.b.Firm {
			out = append(out, draw.Area{Rings: [][]draw.Pt{ring}, Ink: inks.Work, Alpha: 1})
		} else {
			out = append(out, draw.Area{Rings: [][]draw.Pt{ring}, Ink: scorePale, Alpha: 1})
			if wide > 4 {
				out = append(out, draw.Stroke{Lines: [][]draw.Pt{{ring[0], ring[1]}, {ring[3], ring[2]}}, Width: 0.9, Dash: []float64{3, 2.4}, Ink: inks.Work, Alpha: 1})
			}
		}
		// Strokes across: upright where it keeps its length, rising where it
		// shortens, falling where it lengthens.
		lean := 0.0
		switch change := p.b.Place - p.a.Place; {
		case change > 0.03:
			lean = -1
		case change < -0.03:
			lean = 1
		}
		ink := inks.Core
		if !p.a.Firm && !p.b.Firm {
			ink = inks.Work
		}
		var lines [][]draw.Pt
		for x := p.x0 + 9; x < p.x1-6; x += 12 {
			h := 0.6 * (a + (b-a)*(x-p.x0)/wide)
			if h > 2 {
				lines = append(lines, []draw.Pt{{X: x - 0.7*lean*h, Y: y + h}, {X: x + 0.7*lean*h, Y: y - h}})
			}
		}
		out = append(out, draw.Stroke{Lines: lines, Width: 1.2, Ink: ink, Alpha: 0.9})
	}
	long, slack := p.a.Long && p.b.Long, p.a.Slack && p.b.Slack
	switch {
	case long && wide > 0:
		l := [][]draw.Pt{{{X: p.x0 + 1, Y: y}, {X: p.x1 - 1, Y: y}}}
		out = append(out, draw.Stroke{Lines: l, Width: 5, Ink: inks.Long, Alpha: 1}, draw.Stroke{Lines: l, Width: 1.4, Ink: inks.Core, Alpha: 1})
	case p.a.Long != p.b.Long && wide > 8 && !p.a.Works && !p.b.Works:
		a, b := 0.4, 2.5
		if p.a.Long {
			a, b = b, a
		}
		out = append(out, draw.Area{Rings: [][]draw.Pt{{{X: p.x0, Y: y - a}, {X: p.x1, Y: y - b}, {X: p.x1, Y: y + b}, {X: p.x0, Y: y + a}}}, Ink: inks.Long, Alpha: 1})
	case slack && wide > 6:
		var wave []draw.Pt
		for k := 0; p.x0+float64(k)*4 < p.x1; k++ {
			wave = append(wave, draw.Pt{X: p.x0 + float64(k)*4, Y: y + 3*math.Sin(float64(k)*math.Pi/2)})
		}
		out = append(out, draw.Stroke{Lines: [][]draw.Pt{wave}, Width: 1.3, Ink: inks.Slack, Alpha: 0.9})
	}
	return out
}

// legend explains the forms in one row or two.
func (s *score) legend(y float64) float64 {
	x := scorePad
	full := scoreDoing{Works: true, Firm: true, Effort: 0.35, Place: 0.5}
	may := scoreDoing{Works: true, Effort: 0.35, Place: 0.5}
	short, long := full, full
	short.Place, long.Place = 0.2, 0.8
	small := full
	small.Effort = 0.05
	for _, k := range []struct {
		a, b scoreDoing
		text string
	}{
		{full, full, scoreKeys[0]}, {may, may, scoreKeys[1]}, {small, full, scoreKeys[2]}, {full, short, scoreKeys[3]}, {full, long, scoreKeys[4]},
		{scoreDoing{Long: true}, scoreDoing{Long: true}, scoreKeys[5]}, {scoreDoing{Slack: true}, scoreDoing{Slack: true}, scoreKeys[6]},
	} {
		w := 52 + draw.Width(k.text, 12, false)*1.1 + 18
		if x+w > scoreWide-scorePad {
			x = scorePad
			y += 22
		}
		s.Items = append(s.Items, draw.Group{Class: "key", Items: scorePart{x, x + 44, k.a, k.b}.draw(y)})
		s.text(x+52, y+4, 12, false, draw.Start, scoreInk, k.text)
		x += w
	}
	return y + 14
}
