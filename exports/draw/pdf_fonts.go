package draw

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"unicode/utf16"

	"golang.org/x/image/font/sfnt"
)

// pdfFace is a font of a file with the characters that the file shows of it.
type pdfFace struct {
	*face
	name string
	used map[sfnt.GlyphIndex]glyph
}

func (f *pdfFace) use(g glyph) {
	if f.used == nil {
		f.used = map[sfnt.GlyphIndex]glyph{}
	}
	if _, ok := f.used[g.id]; !ok {
		f.used[g.id] = g
	}
}

// embed adds the font with nothing but what is used of it.
func (f *pdfFace) embed(w *pdf) int {
	ids := make([]sfnt.GlyphIndex, 0, len(f.used))
	for id := range f.used {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	file := subset(f.file, ids)
	data := w.stream(file, fmt.Sprintf("/Length1 %d", len(file)))
	thousand := func(v float64) string { return hundredth(v * 1000) }
	var widths, maps strings.Builder
	for _, id := range ids {
		g := f.used[id]
		fmt.Fprintf(&widths, "%d[%s]", id, thousand(g.wide+g.back))
		fmt.Fprintf(&maps, "<%04X><%s>\n", id, hex16(g.r))
	}
	sum := sha256.Sum256([]byte(maps.String()))
	tag := ""
	for _, b := range sum[:6] {
		tag += string(rune('A' + b%26))
	}
	name := tag + "+" + f.face.name
	tables := tablesOf(f.file)
	head, hhea := tables["head"], tables["hhea"]
	short := func(b []byte, at int) float64 { return float64(int16(binary.BigEndian.Uint16(b[at:]))) / f.em }
	box := []string{thousand(short(head, 36)), thousand(short(head, 38)), thousand(short(head, 40)), thousand(short(head, 42))}
	up, down := thousand(short(hhea, 4)), thousand(short(hhea, 6))
	descriptor := w.add(fmt.Sprintf("<</Type/FontDescriptor/FontName/%s/Flags 32/FontBBox[%s]/ItalicAngle 0/Ascent %s/Descent %s/CapHeight %[3]s/StemV 80/FontFile2 %[5]d 0 R>>",
		name, strings.Join(box, " "), up, down, data))
	child := w.add(fmt.Sprintf("<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor %d 0 R/DW 600/W[%s]/CIDToGIDMap/Identity>>",
		name, descriptor, widths.String()))
	return w.add(fmt.Sprintf("<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>",
		name, child, w.stream(toUnicode("<0000><FFFF>", maps.String()), "")))
}

// toUnicode is the map from codes to characters for who copies or searches, in
// blocks of at most a hundred as the format asks.
func toUnicode(space, lines string) []byte {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CIDSystemInfo <</Registry(Adobe)/Ordering(UCS)/Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def /CMapType 2 def\n1 begincodespacerange\n" + space + "\nendcodespacerange\n")
	all := strings.SplitAfter(strings.TrimSuffix(lines, "\n"), "\n")
	for part := range slices.Chunk(all, 100) {
		fmt.Fprintf(&b, "%d beginbfchar\n%s\nendbfchar\n", len(part), strings.TrimSuffix(strings.Join(part, ""), "\n"))
	}
	b.WriteString("endcmap CMapName currentdict /CMap defineresource pop end end\n")
	return []byte(b.String())
}

func hex16(r rune) string {
	s := ""
	for _, u := range utf16.Encode([]rune{r}) {
		s += fmt.Sprintf("%04X", u)
	}
	return s
}

// boxFonts hold the numbered boxes that stand for characters no font has: fonts
// of drawn characters, 255 to each.
type boxFonts struct {
	of  map[rune]int
	all []boxed
}

type boxed struct {
	glyph
	rings [][]Pt
}

const perFont = 255

// use gives the font and the code of a character's box.
func (b *boxFonts) use(f *face, g glyph) (font, code string) {
	if b.of == nil {
		b.of = map[rune]int{}
	}
	i, ok := b.of[g.r]
	if !ok {
		i = len(b.all)
		b.of[g.r] = i
		b.all = append(b.all, boxed{g, f.outline(g)})
	}
	return fmt.Sprintf("X%d", i/perFont), fmt.Sprintf("%02X", i%perFont+1)
}

func (b *boxFonts) embed(w *pdf) []int {
	var refs []int
	for part := range slices.Chunk(b.all, perFont) {
		var procs, names, widths, maps strings.Builder
		for i, g := range part {
			c := &content{pdf: w}
			fmt.Fprintf(c, "%s 0 d0\n", hundredth((g.wide+g.back)*1000))
			for _, r := range g.rings {
				for k, p := range r {
					r[k] = Pt{p.X * 1000, -p.Y * 1000}
				}
				c.path(r)
				c.WriteString("h ")
			}
			c.WriteString("f")
			fmt.Fprintf(&procs, "/g%d %d 0 R", i+1, w.stream(c.Bytes(), ""))
			fmt.Fprintf(&names, "/g%d", i+1)
			fmt.Fprintf(&widths, "%s ", hundredth((g.wide+g.back)*1000))
			fmt.Fprintf(&maps, "<%02X><%s>\n", i+1, hex16(g.r))
		}
		refs = append(refs, w.add(fmt.Sprintf("<</Type/Font/Subtype/Type3/FontBBox[0 -300 1000 1000]/FontMatrix[.001 0 0 .001 0 0]/CharProcs<<%s>>/Encoding<</Type/Encoding/Differences[1%s]>>/FirstChar 1/LastChar %d/Widths[%s]/Resources<<>>/ToUnicode %d 0 R>>",
			procs.String(), names.String(), len(part), widths.String(), w.stream(toUnicode("<00><FF>", maps.String()), ""))))
	}
	return refs
}
