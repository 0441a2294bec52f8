package draw

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// face is one font with what was asked of it.
type face struct {
	name  string
	file  []byte
	font  *sfnt.Font
	em    float64 // units to the em
	mu    sync.Mutex
	buf   sfnt.Buffer
	known map[rune]letter
	ascii [128]float64 // advances, em; most texts need no more
}

// letter is how a font shows one character.
type letter struct {
	id   sfnt.GlyphIndex // 0: it does not
	wide float64         // advance, em
	back float64         // by how much it is set back, em
}

func newFace(name string, file []byte) *face {
	f, err := sfnt.Parse(file)
	if err != nil {
		panic("draw: the built-in font " + name + ": " + err.Error())
	}
	made := &face{name: name, file: file, font: f, em: float64(f.UnitsPerEm()), known: map[rune]letter{}}
	for r := range made.ascii {
		made.ascii[r] = made.letter(rune(r)).wide
	}
	return made
}

var (
	regular = sync.OnceValue(func() *face { return newFace("GoRegular", goregular.TTF) })
	bold    = sync.OnceValue(func() *face { return newFace("GoBold", gobold.TTF) })
)

func faceOf(heavy bool) *face {
	if heavy {
		return bold()
	}
	return regular()
}

// letter looks a character up.
func (f *face) letter(r rune) letter {
	f.mu.Lock()
	defer f.mu.Unlock()
	if l, ok := f.known[r]; ok {
		return l
	}
	l := letter{wide: boxWide}
	if id, err := f.font.GlyphIndex(&f.buf, r); err == nil && id != 0 {
		if a, err := f.font.GlyphAdvance(&f.buf, id, fixed.Int26_6(f.em*64), font.HintingNone); err == nil {
			l = letter{id: id, wide: float64(a) / 64 / f.em}
		}
	}
	if l.id == 0 && silent(r) {
		l.wide = 0
	}
	if unicode.In(r, unicode.Mn, unicode.Me) { // it stands on what is before it
		l.back, l.wide = l.wide, 0
	}
	f.known[r] = l
	return l
}

// silent reports characters that have no form of their own: joiners, marks of
// direction, selectors of a variant.
func silent(r rune) bool {
	return unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r)
}

// Characters that the built-in letters lack are drawn as a box with their number,
// as wide as this, em, and marks on others as a small lozenge: what was written is
// not lost, and can be looked up.
const boxWide = 0.78

// glyph is one placed character: x is where it begins, em.
type glyph struct {
	letter
	r rune
	x float64
}

// set places the characters of a line one after the other in the order in which
// they are seen, and gives the width of the whole, em.
func (f *face) set(text string) ([]glyph, float64) {
	var out []glyph
	x := 0.0
	for _, r := range seen(norm.NFC.String(text)) {
		l := f.letter(r)
		out = append(out, glyph{l, r, x - l.back})
		x += l.wide
	}
	return out, x
}

// turned reports whether any of a text is written from right to left.
func turned(text string) bool {
	for _, r := range text {
		if r < 0x590 {
			continue
		}
		if p, _ := bidi.LookupRune(r); p.Class() == bidi.R || p.Class() == bidi.AL || p.Class() == bidi.RLO || p.Class() == bidi.RLI || p.Class() == bidi.RLE {
			return true
		}
	}
	return false
}

// seen puts a line's characters into the order of the eye: from left to right,
// with what is written from right to left turned over.
func seen(text string) []rune {
	if !turned(text) {
		return []rune(text)
	}
	var p bidi.Paragraph
	if _, err := p.SetString(text); err != nil {
		return []rune(text)
	}
	order, err := p.Order()
	if err != nil {
		return []rune(text)
	}
	var out []rune
	for i := range order.NumRuns() {
		run := order.Run(i)
		s := run.String()
		if run.Direction() == bidi.RightToLeft {
			s = bidi.ReverseString(s)
		}
		out = append(out, []rune(s)...)
	}
	return out
}

// Width is how wide a line runs in letters of a size.
func Width(text string, size float64, heavy bool) float64 {
	f, w := faceOf(heavy), 0.0
	for i := range len(text) {
		if text[i] >= 0x80 {
			_, w = f.set(text)
			break
		}
		w += f.ascii[text[i]]
	}
	return w * size
}

// slack is how much wider than the built-in letters those of a reader may run.
const slack = 9.0 / 8

// Wrap cuts a text at spaces into lines no wider than width; a word that is
// wider is cut anywhere. What does not fit into most lines is left out, with an
// ellipsis; most zero takes all.
func Wrap(text string, size float64, heavy bool, width float64, most int) []string {
	width /= slack
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(text) {
		for try := join(line, word); ; try = word {
			if Width(try, size, heavy) <= width {
				line = try
				break
			}
			if line != "" {
				lines = append(lines, line)
				line = ""
				continue
			}
			head := fit(word, size, heavy, width)
			lines = append(lines, head)
			word = word[len(head):]
		}
		if most > 0 && len(lines) > most {
			break
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	if most > 0 && len(lines) > most {
		rest := strings.Join(lines[most-1:], " ")
		lines = append(lines[:most-1], Cut(rest, size, heavy, width*slack))
	}
	return lines
}

func join(line, word string) string {
	if line == "" {
		return word
	}
	return line + " " + word
}

// Cut shortens a line to a width, with an ellipsis where anything is left out.
func Cut(text string, size float64, heavy bool, width float64) string {
	width /= slack
	if Width(text, size, heavy) <= width {
		return text
	}
	return strings.TrimRight(fit(text, size, heavy, width-Width("…", size, heavy)), " ,;:–—-") + "…"
}

// fit is as much of the beginning of a line as a width holds, at least one
// character with what is piled on it.
func fit(text string, size float64, heavy bool, width float64) string {
	f := faceOf(heavy)
	w, end := 0.0, 0
	for i, r := range text {
		piled := unicode.In(r, unicode.M, unicode.Cf)
		w += f.letter(r).wide * size
		if w > width && end > 0 && !piled {
			return text[:i]
		}
		end = i
	}
	return text
}
