package draw

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
)

// Document is pages of a PDF. A unit of a page is a point, 1/72 inch.
type Document struct {
	Title, Subject, Made, Lang string
	Pages                      []*Picture
	Marks                      []Bookmark
}

// Bookmark leads to a place in a document.
type Bookmark struct {
	Title string
	Page  int     // from 0
	Y     float64 // from the top
}

// PDF writes the document: areas as paths, text as text with the fonts it needs
// embedded, so that what is searched, copied or read aloud is what was said, in
// whatever script. The same
// document gives the same bytes.
func (d *Document) PDF(out io.Writer) error {
	w := &pdf{zip: zlib.NewWriter(nil), alphas: map[string]int{}, forms: map[*Picture]int{}}
	catalog, pages, info := w.reserve(), w.reserve(), w.reserve()
	w.resources = w.reserve()
	w.faces = [2]*pdfFace{{face: regular(), name: "FR"}, {face: bold(), name: "FB"}}
	var kids []string
	var refs []int
	for _, p := range d.Pages {
		content := w.stream(w.page(p), "")
		page := w.add(fmt.Sprintf("<</Type/Page/Parent %d 0 R/MediaBox[0 0 %s %s]/Resources %d 0 R/Contents %d 0 R>>",
			pages, hundredth(p.W), hundredth(p.H), w.resources, content))
		kids, refs = append(kids, fmt.Sprintf("%d 0 R", page)), append(refs, page)
	}
	w.set(pages, fmt.Sprintf("<</Type/Pages/Count %d/Kids[%s]>>", len(kids), strings.Join(kids, " ")))
	outline := ""
	if len(d.Marks) > 0 {
		outline = fmt.Sprintf("/Outlines %d 0 R/PageMode/UseOutlines", w.outline(d, refs))
	}
	w.set(catalog, fmt.Sprintf("<</Type/Catalog/Pages %d 0 R/Lang%s/ViewerPreferences<</DisplayDocTitle true>>%s>>", pages, pdfText(d.Lang), outline))
	w.set(info, fmt.Sprintf("<</Title%s/Subject%s/Creator%s/Producer%[3]s>>", pdfText(d.Title), pdfText(d.Subject), pdfText(d.Made)))
	w.set(w.resources, w.resourceDict())
	return w.write(out, catalog, info)
}

// pdf collects the objects of a file.
type pdf struct {
	zip       *zlib.Writer
	objects   [][]byte // by number less one
	resources int
	faces     [2]*pdfFace // regular, bold
	boxes     boxFonts
	alphas    map[string]int
	names     []string // of alphas, in order
	forms     map[*Picture]int
	formList  []int
}

func (w *pdf) reserve() int {
	w.objects = append(w.objects, nil)
	return len(w.objects)
}

func (w *pdf) set(n int, body string) { w.objects[n-1] = []byte(body) }

func (w *pdf) add(body string) int {
	n := w.reserve()
	w.set(n, body)
	return n
}

// stream adds a compressed stream; dict is what else its dictionary says.
func (w *pdf) stream(content []byte, dict string) int {
	var b bytes.Buffer
	w.zip.Reset(&b)
	w.zip.Write(content) // a bytes.Buffer never fails
	w.zip.Close()
	return w.add(fmt.Sprintf("<</Filter/FlateDecode/Length %d%s>>\nstream\n%s\nendstream", b.Len(), dict, b.String()))
}

func (w *pdf) write(out io.Writer, catalog, info int) error {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	at := make([]int, len(w.objects))
	for i, o := range w.objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	id := fmt.Sprintf("<%X>", sha256.Sum256(b.Bytes()))[:33] + ">"
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[%s%s]>>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, catalog, info, id, id, start)
	_, err := out.Write(b.Bytes())
	return err
}

func (w *pdf) outline(d *Document, pages []int) int {
	root := w.reserve()
	items := make([]int, len(d.Marks))
	for i := range items {
		items[i] = w.reserve()
	}
	for i, m := range d.Marks {
		body := fmt.Sprintf("<</Title%s/Parent %d 0 R/Dest[%d 0 R/XYZ 0 %s 0]", pdfText(m.Title), root, pages[m.Page], hundredth(d.Pages[m.Page].H-m.Y))
		if i > 0 {
			body += fmt.Sprintf("/Prev %d 0 R", items[i-1])
		}
		if i+1 < len(items) {
			body += fmt.Sprintf("/Next %d 0 R", items[i+1])
		}
		w.set(items[i], body+">>")
	}
	w.set(root, fmt.Sprintf("<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>", items[0], items[len(items)-1], len(items)))
	return root
}

func (w *pdf) resourceDict() string {
	var b strings.Builder
	b.WriteString("<</Font<<")
	for _, f := range w.faces {
		if len(f.used) > 0 {
			fmt.Fprintf(&b, "/%s %d 0 R", f.name, f.embed(w))
		}
	}
	for i, ref := range w.boxes.embed(w) {
		fmt.Fprintf(&b, "/X%d %d 0 R", i, ref)
	}
	b.WriteString(">>/ExtGState<<")
	for _, a := range w.names {
		fmt.Fprintf(&b, "/A%d<</ca %s/CA %[2]s>>", w.alphas[a], a)
	}
	b.WriteString(">>/XObject<<")
	for i, ref := range w.formList {
		fmt.Fprintf(&b, "/P%d %d 0 R", i, ref)
	}
	b.WriteString(">>>>")
	return b.String()
}

// page gives the content of a page.
func (w *pdf) page(p *Picture) []byte {
	c := &content{pdf: w}
	fmt.Fprintf(c, "1 0 0 -1 0 %s cm 1 J 1 j\n", hundredth(p.H)) // y down; round ends and joints
	if p.Paper.A > 0 {
		c.items([]Item{Rect(Box{0, 0, p.W, p.H}, 0, p.Paper)})
	}
	c.items(p.Items)
	return c.Bytes()
}

// form keeps a placed picture once.
func (w *pdf) form(p *Picture) int {
	if i, ok := w.forms[p]; ok {
		return i
	}
	c := &content{pdf: w}
	c.WriteString("1 J 1 j\n")
	c.items(p.Items)
	i := len(w.formList)
	w.forms[p] = i
	w.formList = append(w.formList, w.stream(c.Bytes(), fmt.Sprintf("/Type/XObject/Subtype/Form/BBox[0 0 %s %s]/Resources %d 0 R", hundredth(p.W), hundredth(p.H), w.resources)))
	return i
}

// content is the drawing of one page or form.
type content struct {
	*pdf
	bytes.Buffer
	ink, pen color.RGBA
	alpha    string
	set      bool
}

func (c *content) items(items []Item) {
	for _, item := range items {
		switch v := item.(type) {
		case Area:
			c.area(v)
		case Stroke:
			c.stroke(v)
		case Text:
			c.text(v)
		case Group:
			c.group(v)
		case Placed:
			i := c.form(v.Picture)
			c.opaque(1)
			fmt.Fprintf(c, "q %s 0 0 %[1]s %s %s cm /P%d Do Q\n", strconv.FormatFloat(v.Scale, 'f', 5, 64), hundredth(v.At.X), hundredth(v.At.Y), i)
		default:
			panic(fmt.Sprintf("draw: a page cannot hold a %T", item))
		}
	}
}

func (c *content) group(g Group) {
	if len(g.Items) == 0 {
		return
	}
	ink, pen, alpha, set := c.ink, c.pen, c.alpha, c.set
	c.WriteString("q\n")
	if g.Shift != (Pt{}) {
		fmt.Fprintf(c, "1 0 0 1 %s %s cm\n", hundredth(g.Shift.X), hundredth(g.Shift.Y))
	}
	if g.Clip != nil {
		fmt.Fprintf(c, "%s %s %s %s re W n\n", hundredth(g.Clip.X), hundredth(g.Clip.Y), hundredth(g.Clip.W), hundredth(g.Clip.H))
	}
	c.items(g.Items)
	c.WriteString("Q\n")
	c.ink, c.pen, c.alpha, c.set = ink, pen, alpha, set
}

// opaque sets how much covers what is behind.
func (c *content) opaque(a float64) {
	name := hundredth(math.Round(a*50) / 50)
	if c.alpha == name || c.alpha == "" && name == "1" {
		return
	}
	i, ok := c.alphas[name]
	if !ok {
		i = len(c.names)
		c.alphas[name] = i
		c.names = append(c.names, name)
	}
	fmt.Fprintf(c, "/A%d gs\n", i)
	c.alpha = name
}

func (c *content) fillWith(ink color.RGBA) {
	if !c.set || c.ink != ink {
		fmt.Fprintf(c, "%s rg\n", pdfColour(ink))
		c.ink, c.set = ink, true
	}
}

func (c *content) area(a Area) {
	if len(a.Rings) == 0 || a.Alpha <= 0 {
		return
	}
	c.opaque(a.Alpha)
	c.fillWith(a.Ink)
	for _, r := range a.Rings {
		c.path(Thin(r))
		c.WriteString("h ")
	}
	c.WriteString("f\n")
}

func (c *content) stroke(s Stroke) {
	if len(s.Lines) == 0 || s.Alpha <= 0 {
		return
	}
	c.opaque(s.Alpha)
	dash := make([]string, len(s.Dash))
	for i, d := range s.Dash {
		dash[i] = hundredth(d)
	}
	fmt.Fprintf(c, "%s RG %s w [%s] 0 d\n", pdfColour(s.Ink), hundredth(s.Width), strings.Join(dash, " "))
	for _, l := range s.Lines {
		c.path(open(l))
	}
	c.WriteString("S\n")
}

func (c *content) path(r []Pt) {
	for i, p := range r {
		c.WriteString(hundredth(p.X) + " " + hundredth(p.Y))
		if i == 0 {
			c.WriteString(" m ")
		} else {
			c.WriteString(" l ")
		}
	}
}

// text sets one line, with the characters as they were written beside the forms
// in which they are seen.
func (c *content) text(t Text) {
	if t.Body == "" {
		return
	}
	face := c.faces[0]
	if t.Bold {
		face = c.faces[1]
	}
	glyphs, wide := face.set(t.Body)
	x := t.X
	switch t.Anchor {
	case Middle:
		x -= wide * t.Size / 2
	case End:
		x -= wide * t.Size
	}
	c.opaque(1)
	c.fillWith(t.Ink)
	// Readers turn what runs from right to left back by themselves, character by
	// character, and would turn a text that is given whole the wrong way.
	whole := !turned(t.Body)
	if whole {
		fmt.Fprintf(c, "/Span<</ActualText%s>>BDC ", pdfText(t.Body+" "))
	}
	c.WriteString("BT\n")
	font, next := "", math.Inf(-1)
	run := ""
	flush := func() {
		if run != "" {
			fmt.Fprintf(c, "<%s>Tj\n", run)
			run = ""
		}
	}
	for _, g := range glyphs {
		name, code := face.name, ""
		switch {
		case g.id != 0:
			code = fmt.Sprintf("%04X", g.id)
			face.use(g)
		case silent(g.r):
			continue
		default:
			name, code = c.boxes.use(face.face, g)
		}
		if name != font || math.Abs(g.x-next) > 1e-6 {
			flush()
			if name != font {
				fmt.Fprintf(c, "/%s %s Tf ", name, hundredth(t.Size))
				font = name
			}
			fmt.Fprintf(c, "1 0 0 -1 %s %s Tm ", hundredth(x+g.x*t.Size), hundredth(t.Y))
		}
		run += code
		next = g.x + g.wide + g.back
	}
	flush()
	c.WriteString("ET\n")
	if whole {
		c.WriteString("EMC\n")
	}
}

func pdfColour(k color.RGBA) string {
	part := func(v uint8) string { return strconv.FormatFloat(math.Round(float64(v)/255*1000)/1000, 'f', -1, 64) }
	return part(k.R) + " " + part(k.G) + " " + part(k.B)
}

// pdfText writes a text string: as it is where it is plain, so that searching
// the file finds it, else in UTF-16.
func pdfText(s string) string {
	plain := true
	for _, r := range s {
		plain = plain && r >= ' ' && r < 0x7F
	}
	if plain {
		return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(s) + ")"
	}
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String() + ">"
}
