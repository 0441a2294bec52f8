package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"
)

// Letters are the fonts that a picture's text asks a reader for, most wanted
// first. Texts are placed by the built-in letters, whose name is Go.
const Letters = `Go, "Helvetica Neue", Arial, "Liberation Sans", "Noto Sans", sans-serif`

// SVG writes the picture as one file that refers to nothing outside.
func (p *Picture) SVG(out io.Writer) error {
	var b bytes.Buffer
	p.svg(&b, "", `xmlns="http://www.w3.org/2000/svg" `)
	_, err := out.Write(b.Bytes())
	return err
}

// Inline writes the picture as an element for an HTML page. Its ids begin with
// prefix, which must differ for every picture of a page.
func (p *Picture) Inline(prefix string) string {
	var b bytes.Buffer
	p.svg(&b, prefix, "")
	return strings.TrimSuffix(b.String(), "\n")
}

func (p *Picture) svg(b *bytes.Buffer, prefix, space string) {
	fmt.Fprintf(b, `<svg %sviewBox="0 0 %s %s" role="img" aria-label="%s"`, space, number(p.W), number(p.H), Escape(p.Title))
	if p.Lang != "" {
		fmt.Fprintf(b, ` lang="%s"`, Escape(p.Lang))
	}
	fmt.Fprintf(b, ">\n<title>%s</title>\n", Escape(p.Title))
	if p.Desc != "" {
		fmt.Fprintf(b, "<desc>%s</desc>\n", Escape(p.Desc))
	}
	if p.Made != "" {
		fmt.Fprintf(b, "<metadata>%s</metadata>\n", Escape(p.Made))
	}
	if p.Paper.A > 0 {
		fmt.Fprintf(b, "<rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", number(p.W), number(p.H), hex(p.Paper))
	}
	w := svgWriter{b, prefix, 0}
	w.items(p.Items)
	b.WriteString("</svg>\n")
}

// svgWriter counts the clips of one picture.
type svgWriter struct {
	*bytes.Buffer
	prefix string
	clips  int
}

func (w *svgWriter) items(items []Item) {
	for _, item := range items {
		switch v := item.(type) {
		case Area:
			w.area(v)
		case Stroke:
			w.stroke(v)
		case Text:
			w.text(v)
		case Group:
			w.group(v)
		case Placed:
			fmt.Fprintf(w, "<g transform=\"translate(%s %s) scale(%s)\">\n", number(v.At.X), number(v.At.Y), strconv.FormatFloat(v.Scale, 'g', 6, 64))
			w.items(v.Items)
			w.WriteString("</g>\n")
		default:
			panic(fmt.Sprintf("draw: a picture cannot hold a %T", item))
		}
	}
}

func (w *svgWriter) group(g Group) {
	if len(g.Items) == 0 {
		return
	}
	id := ""
	if g.Clip != nil {
		w.clips++
		id = fmt.Sprintf("%sclip%d", w.prefix, w.clips)
		fmt.Fprintf(w, "<clipPath id=\"%s\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n", id,
			number(g.Clip.X), number(g.Clip.Y), number(g.Clip.W), number(g.Clip.H))
	}
	w.WriteString("<g")
	if g.Class != "" {
		fmt.Fprintf(w, ` class="%s"`, Escape(g.Class))
	}
	if g.Shift != (Pt{}) {
		fmt.Fprintf(w, ` transform="translate(%s %s)"`, number(g.Shift.X), number(g.Shift.Y))
	}
	if id != "" {
		fmt.Fprintf(w, ` clip-path="url(#%s)"`, id)
	}
	w.WriteString(">\n")
	w.items(g.Items)
	w.WriteString("</g>\n")
}

func (w *svgWriter) text(t Text) {
	if t.Body == "" {
		return
	}
	fmt.Fprintf(w, `<text x="%s" y="%s" font-family="%s" font-size="%s" fill="%s"`, number(t.X), number(t.Y),
		strings.ReplaceAll(Letters, `"`, "'"), number(t.Size), hex(t.Ink))
	if t.Bold {
		w.WriteString(` font-weight="bold"`)
	}
	if t.Anchor != "" && t.Anchor != Start {
		fmt.Fprintf(w, ` text-anchor="%s"`, t.Anchor)
	}
	// Other letters than ours are squeezed or stretched into the room they have.
	fmt.Fprintf(w, " textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\">%s</text>\n", number(Width(t.Body, t.Size, t.Bold)), Escape(t.Body))
}

func (w *svgWriter) area(a Area) {
	if len(a.Rings) == 0 || a.Alpha <= 0 {
		return
	}
	w.WriteString(`<path fill="` + hex(a.Ink) + `"`)
	if a.Alpha < 1 {
		w.WriteString(` fill-opacity="` + hundredth(a.Alpha) + `"`)
	}
	w.WriteString(` d="`)
	for _, r := range a.Rings {
		w.ring(Thin(r), "z")
	}
	w.end(a.Name)
}

func (w *svgWriter) stroke(s Stroke) {
	if len(s.Lines) == 0 || s.Alpha <= 0 {
		return
	}
	fmt.Fprintf(w, `<path fill="none" stroke-linecap="round" stroke-linejoin="round" stroke="%s" stroke-width="%s"`, hex(s.Ink), hundredth(s.Width))
	if s.Alpha < 1 {
		fmt.Fprintf(w, ` stroke-opacity="%s"`, hundredth(s.Alpha))
	}
	if len(s.Dash) > 0 {
		parts := make([]string, len(s.Dash))
		for i, d := range s.Dash {
			parts[i] = hundredth(d)
		}
		fmt.Fprintf(w, ` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	w.WriteString(` d="`)
	for _, l := range s.Lines {
		w.ring(open(l), "")
	}
	w.end(s.Name)
}

// end closes a path, with its name where it has one.
func (w *svgWriter) end(name string) {
	if name == "" {
		w.WriteString("\"/>\n")
		return
	}
	w.WriteString("\"><title>" + Escape(name) + "</title></path>\n")
}

// open thins a line, whether it closes or not.
func open(l []Pt) []Pt {
	if len(l) < 3 {
		return l
	}
	if last := len(l) - 1; l[0] == l[last] {
		ring := Thin(l[:last])
		return append(ring, ring[0])
	}
	return append(append([]Pt{l[0]}, bends(l)...), l[len(l)-1])
}

// ring writes a ring in tenths of a unit, each point from the one before, so
// that rounding does not add up.
func (w *svgWriter) ring(r []Pt, end string) {
	x, y := 0, 0
	for i, p := range r {
		px, py := tenths(p.X), tenths(p.Y)
		switch {
		case i == 0:
			w.WriteString("M" + tenth(px) + " " + tenth(py) + "l")
		case px == x && py == y:
			continue
		default:
			w.WriteString(tenth(px-x) + " " + tenth(py-y) + " ")
		}
		x, y = px, py
	}
	w.WriteString(end)
}

func tenths(v float64) int { return int(math.Round(v * 10)) }

func tenth(n int) string { return strconv.FormatFloat(float64(n)/10, 'f', -1, 64) }

func number(v float64) string { return tenth(tenths(v)) }

func hundredth(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Escape makes text safe inside an element or an attribute of XML and HTML; what
// XML cannot hold is replaced.
func Escape(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s)) // a bytes.Buffer never fails
	return b.String()
}
