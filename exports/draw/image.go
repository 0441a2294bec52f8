package draw

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Bitmap is a ready picture, as many pixels to a unit as the image that it is
// laid into with its upper left corner at a place; only Image takes it.
type Bitmap struct {
	At  Pt
	Img *image.RGBA
}

// Image returns the picture on its paper, scale pixels to a unit.
func (p *Picture) Image(scale float64) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, int(math.Round(p.W*scale)), int(math.Round(p.H*scale))))
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = p.Paper.R, p.Paper.G, p.Paper.B, p.Paper.A
	}
	painter{img, scale}.items(p.Items, img.Rect, Pt{})
	return img
}

// Over lays items over an image, one pixel to a unit.
func Over(img *image.RGBA, items []Item) { painter{img, 1}.items(items, img.Rect, Pt{}) }

// PNG writes the picture as a PNG file, scale pixels to a unit, with its title,
// description and maker as text in the file.
func (p *Picture) PNG(out io.Writer, scale float64) error {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, p.Image(scale)); err != nil {
		return err
	}
	file := b.Bytes()
	const head = 8 + 25 // the signature and the first chunk, after which text may stand
	var text bytes.Buffer
	for _, t := range [][2]string{{"Title", p.Title}, {"Description", p.Desc}, {"Software", p.Made}} {
		if t[1] != "" {
			// International text, not compressed, no language: PNG 1.2, 4.2.3.3.
			chunk(&text, "iTXt", []byte(t[0]+"\x00\x00\x00\x00\x00"+t[1]))
		}
	}
	for _, part := range [][]byte{file[:head], text.Bytes(), file[head:]} {
		if _, err := out.Write(part); err != nil {
			return err
		}
	}
	return nil
}

func chunk(b *bytes.Buffer, kind string, data []byte) {
	binary.Write(b, binary.BigEndian, uint32(len(data))) // a bytes.Buffer never fails
	body := append([]byte(kind), data...)
	b.Write(body)
	binary.Write(b, binary.BigEndian, crc32.ChecksumIEEE(body))
}

// painter fills an image.
type painter struct {
	img   *image.RGBA
	scale float64
}

func (p painter) items(items []Item, box image.Rectangle, shift Pt) {
	for _, item := range items {
		switch v := item.(type) {
		case Area:
			v.Rings = p.placed(v.Rings, shift)
			fill(p.img, box, v)
		case Stroke:
			a := v.area()
			a.Rings = p.placed(a.Rings, shift)
			fill(p.img, box, a)
		case Text:
			p.text(v, box, shift)
		case Bitmap:
			p.bitmap(v, box, shift)
		case Placed:
			in := painter{p.img, p.scale * v.Scale}
			in.items(v.Items, box, Pt{(v.At.X + shift.X) / v.Scale, (v.At.Y + shift.Y) / v.Scale})
		case Group:
			in, to := box, Pt{shift.X + v.Shift.X, shift.Y + v.Shift.Y}
			if c := v.Clip; c != nil {
				r := p.placed([][]Pt{{{c.X, c.Y}, {c.X + c.W, c.Y + c.H}}}, to)[0]
				in = box.Intersect(image.Rect(int(math.Round(r[0].X)), int(math.Round(r[0].Y)), int(math.Round(r[1].X)), int(math.Round(r[1].Y))))
			}
			p.items(v.Items, in, to)
		default:
			panic(fmt.Sprintf("draw: a picture cannot hold a %T", item))
		}
	}
}

func (p painter) placed(rings [][]Pt, shift Pt) [][]Pt {
	out := make([][]Pt, len(rings))
	for i, r := range rings {
		out[i] = make([]Pt, len(r))
		for k, a := range r {
			out[i][k] = Pt{(a.X + shift.X) * p.scale, (a.Y + shift.Y) * p.scale}
		}
	}
	return out
}

// bitmap lays a ready picture in, pixel on pixel.
func (p painter) bitmap(b Bitmap, box image.Rectangle, shift Pt) {
	at := image.Pt(int(math.Round((b.At.X+shift.X)*p.scale)), int(math.Round((b.At.Y+shift.Y)*p.scale)))
	r := b.Img.Rect.Add(at).Intersect(box)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		from, to := b.Img.PixOffset(r.Min.X-at.X, y-at.Y), p.img.PixOffset(r.Min.X, y)
		copy(p.img.Pix[to:to+4*r.Dx()], b.Img.Pix[from:])
	}
}

func (p painter) text(t Text, box image.Rectangle, shift Pt) {
	f := faceOf(t.Bold)
	glyphs, wide := f.set(t.Body)
	x := t.X + shift.X
	switch t.Anchor {
	case Middle:
		x -= wide * t.Size / 2
	case End:
		x -= wide * t.Size
	}
	for _, g := range glyphs {
		rings := f.outline(g)
		for _, r := range rings {
			for i, a := range r {
				r[i] = Pt{(x + (g.x+a.X)*t.Size) * p.scale, (t.Y + shift.Y + a.Y*t.Size) * p.scale}
			}
		}
		fill(p.img, box, Area{Rings: rings, Ink: t.Ink, Alpha: 1})
	}
}

// outline gives the rings of a character, em, y down from the base line.
func (f *face) outline(g glyph) [][]Pt {
	if g.id == 0 {
		return f.numbered(g)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	segments, err := f.font.LoadGlyph(&f.buf, g.id, fixed.Int26_6(f.em*64), nil)
	if err != nil {
		return nil
	}
	var rings [][]Pt
	var ring []Pt
	at := func(p fixed.Point26_6) Pt { return Pt{float64(p.X) / 64 / f.em, float64(p.Y) / 64 / f.em} }
	const steps = 6 // of a curve
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if len(ring) > 2 {
				rings = append(rings, ring)
			}
			ring = []Pt{at(s.Args[0])}
		case sfnt.SegmentOpLineTo:
			ring = append(ring, at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b, c := ring[len(ring)-1], at(s.Args[0]), at(s.Args[1])
			for i := 1; i <= steps; i++ {
				t := float64(i) / steps
				u := 1 - t
				ring = append(ring, Pt{u*u*a.X + 2*u*t*b.X + t*t*c.X, u*u*a.Y + 2*u*t*b.Y + t*t*c.Y})
			}
		case sfnt.SegmentOpCubeTo:
			a, b, c, d := ring[len(ring)-1], at(s.Args[0]), at(s.Args[1]), at(s.Args[2])
			for i := 1; i <= steps; i++ {
				t := float64(i) / steps
				u := 1 - t
				ring = append(ring, Pt{u*u*u*a.X + 3*u*u*t*b.X + 3*u*t*t*c.X + t*t*t*d.X, u*u*u*a.Y + 3*u*u*t*b.Y + 3*u*t*t*c.Y + t*t*t*d.Y})
			}
		}
	}
	if len(ring) > 2 {
		rings = append(rings, ring)
	}
	return rings
}

// numbered is a frame with the number of a character in two rows.
func (f *face) numbered(g glyph) [][]Pt {
	if g.back > 0 {
		return [][]Pt{{{0.4, -0.92}, {0.47, -0.84}, {0.4, -0.76}, {0.33, -0.84}}}
	}
	if g.wide == 0 {
		return nil
	}
	const low, high, thick, small = 0.12, 0.74, 0.035, 0.34 // em
	w := g.wide - 0.08
	outer := RoundRing(Box{0.04, -high, w, high + low}, 0.06)
	inner := RoundRing(Box{0.04 + thick, -high + thick, w - 2*thick, high + low - 2*thick}, 0.04)
	for i, k := 0, len(inner)-1; i < k; i, k = i+1, k-1 {
		inner[i], inner[k] = inner[k], inner[i]
	}
	rings := [][]Pt{outer, inner}
	digits := fmt.Sprintf("%04X", g.r)
	half := (len(digits) + 1) / 2
	for row, part := range []string{digits[:half], digits[half:]} {
		glyphs, wide := f.set(part)
		for _, d := range glyphs {
			for _, r := range f.outline(d) {
				for i, a := range r {
					r[i] = Pt{g.wide/2 + (d.x-wide/2+a.X)*small, a.Y*small - 0.39 + 0.39*float64(row)}
				}
				rings = append(rings, r)
			}
		}
	}
	return rings
}
