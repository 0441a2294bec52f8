package figure

import (
	"image"
	"image/color"
	"image/png"
	"io"
	"slices"

	"tautline/analysis/geom"
	"tautline/exports/draw"
)

type pt = draw.Pt

// Drawing is one scene from one view, without words. The same drawing gives the
// same bytes.
type Drawing struct {
	Title string // what is shown
	Desc  string // the same for who cannot see it; may be empty
	Paper color.RGBA
	Inks  Inks

	scene *Scene
	view  View
	name  func(Strand) string
}

// Draw prepares a drawing of a scene.
func (a *Artist) Draw(s *Scene, v View) *Drawing {
	return &Drawing{Paper: rgb(0xfffdf8), Inks: Print, scene: s, view: v,
		name: func(s Strand) string { return a.Model.Muscles[s.Muscle].Name + ", " + string(s.Role) }}
}

// grain is how many rows and columns of samples a pixel of an image has.
const grain = 2

// Image returns the drawing in w by h pixels, on its paper.
func (d *Drawing) Image(w, h int) *image.RGBA {
	img := (&draw.Picture{W: float64(w), H: float64(h), Paper: d.Paper}).Image(1)
	d.Paint(img)
	return img
}

// PNG writes the drawing as a PNG file of w by h pixels.
func (d *Drawing) PNG(out io.Writer, w, h int) error {
	return (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(out, d.Image(w, h))
}

// SVG writes the drawing as an SVG file with a view box of w by h units: the
// body as areas of even tone, and each band of a muscle that works, is drawn
// long or is slack under its name. It needs no fonts and refers to nothing outside.
func (d *Drawing) SVG(out io.Writer, w, h int) error {
	p := draw.Picture{W: float64(w), H: float64(h), Title: d.Title, Desc: d.Desc, Paper: d.Paper}
	s := d.see(w, h)
	p.Items = []draw.Item{group("shadow", s.shadow), group("body", s.traced()), draw.Group{Class: "muscles", Items: shapes(s.bands, d.Inks, d.name)}}
	return p.SVG(out)
}

func group(class string, all []draw.Area) draw.Group {
	g := draw.Group{Class: class}
	for _, a := range all {
		g.Items = append(g.Items, a)
	}
	return g
}

// Paint draws over an image: what is behind stays. Bounds that do not begin at
// 0, 0 are the caller's bug and panic.
func (d *Drawing) Paint(img *image.RGBA) {
	if img.Rect.Min != (image.Point{}) {
		panic("figure: Paint needs an image whose bounds begin at 0, 0")
	}
	s := d.see(img.Rect.Dx(), img.Rect.Dy())
	s.paintBody(img)
	draw.Over(img, shapes(s.bands, d.Inks, d.name))
}

// sight is a scene as it is met from a view in w by h pixels.
type sight struct {
	camera
	scene  *Scene
	relief *relief
	fine   camera // of the relief
	shadow []draw.Area
	bands  []band
}

func (d *Drawing) see(w, h int) sight {
	c, fine := d.view.camera(d.scene, w, h), d.view.camera(d.scene, w*grain, h*grain)
	f := newRelief(d.scene, fine, w*grain, h*grain)
	return sight{c, d.scene, f, fine, d.shadow(c), bandsOf(d.scene.Strands, c, f, grain)}
}

// traced is the body as areas of even tone.
func (s *sight) traced() []draw.Area { return s.relief.trace(s.scene.inks(), s.fine.scale) }

// paintBody draws shadow and body over an image.
func (s *sight) paintBody(img *image.RGBA) {
	for _, a := range s.shadow {
		draw.Fill(img, a)
	}
	s.relief.paint(img, s.fine.scale)
}

// How far beside a nearer thing its shade reaches, and how much nearer it must
// be, m.
const (
	shadeReach = 0.014
	shadeStep  = 0.018
)

// paint lights the relief and takes the mean of each pixel's samples.
func (f *relief) paint(img *image.RGBA, scale float64) {
	near, step := max(1, int(shadeReach*scale+0.5)), float32(shadeStep*scale)
	for y := range f.h / grain {
		for x := range f.w / grain {
			var r, g, b, n float64
			for i := range grain {
				for j := range grain {
					sx, sy := x*grain+j, y*grain+i
					if p := sy*f.w + sx; f.depth[p] != nothing {
						tr, tg, tb := tone(f.ink[p], f.light(sx, sy, near, step))
						r, g, b, n = r+tr, g+tg, b+tb, n+1
					}
				}
			}
			if n > 0 {
				at := img.PixOffset(x, y)
				draw.Blend(img.Pix[at:at+4], [3]float64{r / n, g / n, b / n}, n/(grain*grain))
			}
		}
	}
}

// Shadows on the floor: their rings' sizes, m, from the outermost in, and how
// flat they look at least, so that a floor seen edge on still carries them.
var shadowRings = []float64{0.15, 0.11, 0.075}

const (
	shadowAlpha = 0.07
	flattest    = 0.11
	shadowApart = 0.04 // nearer spots darken the floor as one, m
)

// shadow is what stands near the floor, darkened softly around.
func (d *Drawing) shadow(c camera) []draw.Area {
	if len(d.scene.Shadows) == 0 || c.toward.Y > 0.9 {
		return nil
	}
	flat := max(flattest, c.toward.Y)
	var spots []geom.Vec
	for _, p := range d.scene.Shadows {
		if !slices.ContainsFunc(spots, func(q geom.Vec) bool { return q.Sub(p).Norm() < shadowApart }) {
			spots = append(spots, p)
		}
	}
	out := make([]draw.Area, 0, len(shadowRings))
	for _, r := range shadowRings {
		s := draw.Area{Ink: rgb(0x4a4234), Alpha: shadowAlpha}
		for _, p := range spots {
			x, y, _ := c.at(p)
			s.Rings = append(s.Rings, draw.Ellipse(x, y, r*c.scale, r*c.scale*flat))
		}
		out = append(out, s)
	}
	return out
}
