package exports

import (
	"fmt"
	"io"
	"strings"

	"tautline/analysis"
	"tautline/exports/draw"
	"tautline/exports/figure"
	"tautline/timeline"
)

// Layout of a contact sheet, px.
const (
	sheetPad     float64 = 26
	sheetColumns         = 3
	cellWide     float64 = 400
	cellHigh     float64 = 470
	sheetScale           = 2 // pixels of an image to a unit
)

// mostCells is how many phases one sheet shows; of more it says so.
const mostCells = 60

func writeSheet(w io.Writer, r *timeline.Report, o Options) error {
	return sheetPicture(r, o, 0).SVG(w)
}

func writeSheetPNG(w io.Writer, r *timeline.Report, o Options) error {
	return sheetPicture(r, o, sheetScale).PNG(w, sheetScale)
}

// sheetPicture puts the figures of all phases side by side, each from where it
// shows most; smooth as in figure.Plate. A posture that comes again is drawn once
// more, but computed once.
func sheetPicture(r *timeline.Report, o Options, smooth float64) *draw.Picture {
	d := newDrawer(r, o)
	n := min(len(r.Phases), mostCells)
	columns := max(1, min(sheetColumns, n))
	p := &draw.Picture{W: 2*sheetPad + float64(max(2, columns))*cellWide, Lang: "en", Paper: draw.Hex(0xfffdf8),
		Title: sheetTitle(r), Made: d.o.maker(r) + ". " + strings.Join(careText, " ")}
	text := func(x, y, size float64, bold bool, ink uint32, body string) {
		p.Items = append(p.Items, draw.Text{X: x, Y: y, Size: size, Bold: bold, Ink: draw.Hex(ink), Body: body})
	}
	y := sheetPad
	for _, l := range draw.Wrap(p.Title, 23, true, p.W-2*sheetPad, 2) {
		y += 28
		text(sheetPad, y-6, 23, true, 0x24261f, l)
	}
	y += 8
	var told []string
	known := map[*analysis.Findings]draw.Item{}
	for i := range n {
		ph := &r.Phases[i]
		x := sheetPad + float64(i%columns)*cellWide
		top := y + float64(i/columns)*cellHigh
		title := draw.Wrap(pictureTitle(ph), 15, true, cellWide-20, 2)
		for k, l := range title {
			text(x, top+float64(k+1)*18, 15, true, 0x24261f, l)
		}
		at := top + float64(len(title))*18 + 14
		text(x, at, 11, false, 0x5b594d, phaseSpan(ph))
		cell, ok := known[ph.Findings]
		if !ok {
			pic := d.plate(ph, Look{View: bestView}, figure.Plate{W: cellWide - 14, H: cellHigh - 84, Bare: true}, smooth)
			cell = draw.Group{Class: "phase", Items: pic.Items}
			if ph.Findings != nil {
				known[ph.Findings] = cell
			}
		}
		p.Items = append(p.Items, draw.Group{Shift: draw.Pt{X: x, Y: top + 62}, Items: []draw.Item{cell}})
		told = append(told, pictureTitle(ph)+".")
	}
	rows := (n + columns - 1) / columns
	y += float64(rows) * cellHigh
	if len(r.Phases) == 0 {
		y += 60
		text(sheetPad, y-20, 13, false, 0x5b594d, noMarksYet)
	}
	foot := strings.Join(careText, " ") + " " + d.o.maker(r) + "."
	if n < len(r.Phases) {
		more := fmt.Sprintf("The first %d of %d phases.", n, len(r.Phases))
		d.o.tell([]string{"the sheet shows the first " + fmt.Sprint(n) + " of " + fmt.Sprint(len(r.Phases)) + " phases"})
		foot = more + " " + foot
	}
	var keys []draw.Item
	keys, y = figure.Legend(pictureKeys, sheetPad, y+10, p.W-2*sheetPad)
	p.Items = append(p.Items, keys...)
	for _, l := range draw.Wrap(foot, 10, false, p.W-2*sheetPad, 0) {
		y += 14
		text(sheetPad, y, 10, false, 0x5b594d, l)
	}
	p.H = y + sheetPad
	p.Desc = strings.Join(told, " ")
	return p
}
