package figure

import (
	"image"
	"image/color"
	"image/png"
	"io"
)

// Drawing is one scene from one view. The same drawing gives the same bytes.
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
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = d.Paper.R, d.Paper.G, d.Paper.B, 255
	}
	d.Paint(img)
	return img
}

// PNG writes the drawing as a PNG file of w by h pixels.
func (d *Drawing) PNG(out io.Writer, w, h int) error {
	return (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(out, d.Image(w, h))
}

// Paint draws over an image: what is behind stays. Bounds that do not begin at
// 0, 0 are the caller's bug and panic.
func (d *Drawing) Paint(img *image.RGBA) {
	if img.Rect.Min != (image.Point{}) {
		panic("figure: Paint needs an image whose bounds begin at 0, 0")
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	c := d.view.camera(d.scene, w, h)
	for _, s := range d.shadow(c) {
		fill(img, s)
	}
	fine := d.view.camera(d.scene, w*grain, h*grain)
	f := newRelief(d.scene, fine, w*grain, h*grain)
	f.paint(img, fine.scale)
	for _, s := range strands(d.scene.Strands, c, f, grain, d.Inks, d.name) {
		fill(img, s)
	}
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
				over(img.Pix[at:at+4], [3]float64{r / n, g / n, b / n}, n/(grain*grain))
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
)

// shadow is what stands near the floor, darkened softly around.
func (d *Drawing) shadow(c camera) []shape {
	if len(d.scene.Shadows) == 0 {
		return nil
	}
	flat := max(flattest, c.toward.Y)
	out := make([]shape, 0, len(shadowRings))
	for _, r := range shadowRings {
		s := shape{ink: rgb(0x4a4234), alpha: shadowAlpha}
		for _, p := range d.scene.Shadows {
			x, y, _ := c.at(p)
			s.rings = append(s.rings, ellipse(x, y, r*c.scale, r*c.scale*flat))
		}
		out = append(out, s)
	}
	return out
}
