package exports

import (
	"io"
	"runtime"
	"strings"
	"sync"

	"tautline/analysis"
	"tautline/exports/draw"
	"tautline/exports/figure"
	"tautline/timeline"
)

// paper is a size of sheet, pt.
type paper struct{ wide, high float64 }

var (
	paperA4     = paper{595.28, 841.89} // ISO 216: 210 by 297 mm
	paperLetter = paper{612, 792}       // ANSI/ASME Y14.1: 8.5 by 11 in
)

func writeHandoutA4(w io.Writer, r *timeline.Report, o Options) error {
	return writeHandout(w, r, o, paperA4)
}

func writeHandoutLetter(w io.Writer, r *timeline.Report, o Options) error {
	return writeHandout(w, r, o, paperLetter)
}

// Layout of a handout, pt.
const (
	handMargin  float64 = 40
	handHead    float64 = 44 // study title above the panels
	handFoot    float64 = 62 // legend and caution below
	handGap     float64 = 18 // between panels, and between picture and words
	handPanels          = 2  // on a page
	handPicture float64 = 262
	bareWide    float64 = 330  // of the picture, in its own units
	handKeys    float64 = 0.62 // of the legend, to its own size
	handSaid            = 4    // statements of one kind
)

// writeHandout writes panels for the wall of a class, one phase to each: its
// figure, what works, what is drawn long and what to mind.
func writeHandout(w io.Writer, r *timeline.Report, o Options, size paper) error {
	o = o.withDefaults()
	h := &handout{r: r, o: o, size: size, speaker: newSpeaker(r.Model, o.Voice)}
	h.high = (size.high - 2*handMargin - handHead - handFoot - (handPanels-1)*handGap) / handPanels
	h.pictures = picturesOf(r, o, figure.Plate{W: bareWide, H: (h.high - 4) * bareWide / handPicture, Bare: true})
	h.legend = legendPicture((size.wide - 2*handMargin) / handKeys)
	d := draw.Document{Title: sheetTitle(r), Subject: strings.Join(careText, " "), Made: o.maker(r), Lang: "en"}
	for i := 0; i == 0 || i < len(r.Phases); i += handPanels {
		d.Pages = append(d.Pages, h.page(i))
		for k := i; k < min(i+handPanels, len(r.Phases)); k++ {
			d.Marks = append(d.Marks, draw.Bookmark{Title: pictureTitle(&r.Phases[k]), Page: i / handPanels, Y: h.top(k-i) - 10})
		}
	}
	return d.PDF(w)
}

// picturesOf draws each different posture once, from where it shows most, several
// at a time.
func picturesOf(r *timeline.Report, o Options, plate figure.Plate) map[*analysis.Findings]*draw.Picture {
	out := map[*analysis.Findings]*draw.Picture{}
	var todo []*timeline.PhaseReport
	for i := range r.Phases {
		p := &r.Phases[i]
		if _, ok := out[p.Findings]; !ok && drawn(p.Findings) {
			out[p.Findings] = nil
			todo = append(todo, p)
		}
	}
	var mu sync.Mutex
	var wait sync.WaitGroup
	next := 0
	for range min(len(todo), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			d := newDrawer(r, o)
			for {
				mu.Lock()
				i := next
				next++
				mu.Unlock()
				if i >= len(todo) {
					return
				}
				pic := d.plate(todo[i], Look{View: bestView}, plate, 0)
				mu.Lock()
				out[todo[i].Findings] = pic
				mu.Unlock()
			}
		})
	}
	wait.Wait()
	return out
}

type handout struct {
	r        *timeline.Report
	o        Options
	size     paper
	high     float64 // of a panel
	speaker  *speaker
	pictures map[*analysis.Findings]*draw.Picture
	legend   *draw.Picture
}

// top is where a panel of a page begins.
func (h *handout) top(k int) float64 {
	return handMargin + handHead + float64(k)*(h.high+handGap)
}

// page lays out the panels from a phase on.
func (h *handout) page(from int) *draw.Picture {
	p := &draw.Picture{W: h.size.wide, H: h.size.high}
	c := column{p: p, x: handMargin, wide: h.size.wide - 2*handMargin, y: handMargin}
	c.lines(sheetTitle(h.r), 17, true, 0x24261f, 1)
	c.y = handMargin + handHead - 8
	c.rule()
	if len(h.r.Phases) == 0 {
		c.y += 30
		c.lines(noMarksYet, 12, false, 0x5b594d, 1)
	}
	for k := from; k < min(from+handPanels, len(h.r.Phases)); k++ {
		h.panel(p, &h.r.Phases[k], h.top(k-from))
	}
	c.y = h.size.high - handMargin - handFoot + 8
	c.rule()
	c.y += 4
	c.p.Items = append(c.p.Items, draw.Placed{Picture: h.legend, At: draw.Pt{X: c.x, Y: c.y}, Scale: handKeys})
	c.y += h.legend.H * handKeys
	c.lines(strings.Join(careText, " "), 7.5, false, 0x5b594d, 3)
	c.lines(h.o.maker(h.r)+". "+pageWords(from/handPanels+1, max(1, (len(h.r.Phases)+handPanels-1)/handPanels)), 7.5, false, 0x5b594d, 1)
	return p
}

// panel lays out one phase.
func (h *handout) panel(p *draw.Picture, ph *timeline.PhaseReport, top float64) {
	if top > handMargin+handHead+1 {
		c := column{p: p, x: handMargin, wide: h.size.wide - 2*handMargin, y: top - handGap/2 - 2}
		c.rule()
	}
	if pic := h.pictures[ph.Findings]; pic != nil {
		p.Items = append(p.Items, draw.Placed{Picture: pic, At: draw.Pt{X: handMargin, Y: top + 2}, Scale: handPicture / bareWide})
	} else {
		p.Items = append(p.Items, draw.Text{X: handMargin + handPicture/2, Y: top + h.high/2, Size: 9, Anchor: draw.Middle, Ink: draw.Hex(0x5b594d), Body: nothingToDraw(ph)})
	}
	x := handMargin + handPicture + handGap
	c := column{p: p, x: x, wide: h.size.wide - handMargin - x, y: top, floor: top + h.high - 4}
	c.lines(pictureTitle(ph), 15, true, 0x24261f, 3)
	c.lines(phaseSpan(ph), 8.5, false, 0x5b594d, 1)
	c.y += 3
	if words := cleanLine(ph.Reading.Canonical); words != "" {
		c.lines(sentence(strings.TrimRight(words, ".")), 8.5, false, 0x5b594d, 4)
	}
	if ph.Findings == nil {
		return
	}
	care := []string{}
	for _, caution := range ph.Findings.Cautions {
		care = append(care, cautionWords(caution))
	}
	// What to mind has its room before anything else is said.
	kept := c.need("Take care", care)
	c.floor -= kept
	if text, _ := Unheld(ph.Findings); text != "" {
		c.list("Not held", []string{cleanLine(text)}, 1, 0x7c4a00)
	}
	said := h.speaker.posture(ph.Findings)
	for _, part := range []struct {
		kind  Kind
		title string
		ink   uint32
	}{{Work, "What works", 0x6e2a66}, {Long, "What is drawn long", 0x0f6b5c}} {
		var texts []string
		for _, s := range only(said, part.kind) {
			texts = append(texts, s.Text)
		}
		c.list(part.title, texts, handSaid, part.ink)
	}
	c.floor += kept
	c.list("Take care", care, len(care), 0x7c4a00)
}

// column sets text from the top down.
type column struct {
	p       *draw.Picture
	x, wide float64
	y       float64
	floor   float64 // nothing goes below it; 0 is no floor
}

// Sizes of a panel's lists, pt.
const (
	handList float64 = 10
	handText float64 = 9
	handStep float64 = 12 // from one line to the next
	handLead float64 = 9  // before a list
)

func (c *column) rule() {
	c.p.Items = append(c.p.Items, draw.Stroke{Lines: [][]draw.Pt{{{X: c.x, Y: c.y}, {X: c.x + c.wide, Y: c.y}}}, Width: 0.7, Ink: draw.Hex(0xd5ccba), Alpha: 1})
}

// lines sets a paragraph of at most so many lines.
func (c *column) lines(text string, size float64, bold bool, ink uint32, most int) {
	for _, l := range draw.Wrap(text, size, bold, c.wide, most) {
		c.y += size * 1.3
		c.p.Items = append(c.p.Items, draw.Text{X: c.x, Y: c.y - size*0.2, Size: size, Bold: bold, Ink: draw.Hex(ink), Body: l})
	}
}

// need is the room that a list takes.
func (c *column) need(title string, items []string) float64 {
	if len(items) == 0 {
		return 0
	}
	n := 0
	for _, item := range items {
		n += len(draw.Wrap(item, handText, false, c.wide-10, 0))
	}
	return handLead + handStep*float64(n+1) + 2*float64(len(items))
}

// list sets a titled list, as much of it as there is room for and no more than
// most; of the rest it says how many.
func (c *column) list(title string, items []string, most int, ink uint32) {
	if len(items) == 0 || c.floor > 0 && c.y+c.need(title, items[:1]) > c.floor {
		return
	}
	c.y += handLead
	c.lines(title, handList, true, ink, 1)
	for i, item := range items {
		lines := draw.Wrap(item, handText, false, c.wide-10, 0)
		high := handStep*float64(len(lines)) + 2
		last := i == len(items)-1
		if left := c.floor - c.y - high; i == most || c.floor > 0 && (left < 0 || !last && left < handStep) {
			if c.y+handStep <= c.floor {
				c.lines(andMore(len(items)-i), handText, false, 0x5b594d, 1)
			}
			return
		}
		c.p.Items = append(c.p.Items, draw.Area{Rings: [][]draw.Pt{draw.Ellipse(c.x+3, c.y+handStep-6, 1.6, 1.6)}, Ink: draw.Hex(ink), Alpha: 1})
		for _, l := range lines {
			c.y += handStep
			c.p.Items = append(c.p.Items, draw.Text{X: c.x + 10, Y: c.y - 3, Size: handText, Ink: draw.Hex(0x24261f), Body: l})
		}
		c.y += 2
	}
}
