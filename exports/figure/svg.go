package figure

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
)

// SVG writes the drawing as an SVG file with a view box of w by h units: the
// body as areas of even tone, and each band of a muscle that works, is drawn
// long or is slack under its name. It needs no fonts and refers to nothing outside.
func (d *Drawing) SVG(out io.Writer, w, h int) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" role=\"img\" aria-label=\"%s\">\n<title>%[3]s</title>\n",
		w, h, escaped(d.Title))
	if d.Desc != "" {
		fmt.Fprintf(&b, "<desc>%s</desc>\n", escaped(d.Desc))
	}
	fmt.Fprintf(&b, "<rect width=\"%d\" height=\"%d\" fill=\"%s\"/>\n", w, h, hex(shape{ink: d.Paper}))

	c, fine := d.view.camera(d.scene, w, h), d.view.camera(d.scene, w*grain, h*grain)
	f := newRelief(d.scene, fine, w*grain, h*grain)
	for _, part := range []struct {
		class  string
		shapes []shape
	}{
		{"shadow", d.shadow(c)},
		{"body", f.trace(d.scene.inks(), fine.scale)},
		{"muscles", strands(d.scene.Strands, c, f, grain, d.Inks, d.name)},
	} {
		if len(part.shapes) > 0 {
			fmt.Fprintf(&b, "<g class=\"%s\">\n", part.class)
			for i := range part.shapes {
				writeShape(&b, part.shapes[i])
			}
			b.WriteString("</g>\n")
		}
	}
	b.WriteString("</svg>\n")
	_, err := out.Write(b.Bytes())
	return err
}

// escaped is text made safe inside an element; what XML cannot hold is replaced.
func escaped(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s)) // a bytes.Buffer never fails
	return b.String()
}

func hex(s shape) string { return fmt.Sprintf("#%02x%02x%02x", s.ink.R, s.ink.G, s.ink.B) }

func writeShape(b *bytes.Buffer, s shape) {
	b.WriteString(`<path fill="` + hex(s) + `"`)
	if s.alpha < 1 {
		b.WriteString(` fill-opacity="` + strconv.FormatFloat(math.Round(s.alpha*100)/100, 'f', -1, 64) + `"`)
	}
	b.WriteString(` d="`)
	for _, r := range s.rings {
		writeRing(b, thin(r))
	}
	if s.name == "" {
		b.WriteString("\"/>\n")
		return
	}
	b.WriteString("\"><title>" + escaped(s.name) + "</title></path>\n")
}

// writeRing writes a ring in tenths of a unit, each point from the one before,
// so that rounding does not add up.
func writeRing(b *bytes.Buffer, r []pt) {
	tenths := func(v float64) int { return int(math.Round(v * 10)) }
	number := func(n int) string { return strconv.FormatFloat(float64(n)/10, 'f', -1, 64) }
	x, y := 0, 0
	for i, p := range r {
		px, py := tenths(p.x), tenths(p.y)
		switch {
		case i == 0:
			b.WriteString("M" + number(px) + " " + number(py) + "l")
		case px == x && py == y:
			continue
		default:
			b.WriteString(number(px-x) + " " + number(py-y) + " ")
		}
		x, y = px, py
	}
	b.WriteString("z")
}
