package figure

import (
	"math"
	"slices"

	"tautline/analysis"
	"tautline/exports/draw"
)

// Plate is a figure with its words, ready to publish.
type Plate struct {
	W, H   float64  // px
	Title  string   // one or two lines
	Under  string   // smaller, below it
	Labels []Label  // most important first
	Keys   []Key    // what the forms mean; those that do not occur are left out
	Foot   []string // small, at the very bottom
	Pushes []Push
	Bare   bool // without title, keys and foot: for a page that says them itself

	Desc, Made, Lang string // see draw.Picture
}

// Key explains one form.
type Key struct {
	Form Form
	Text string
}

// Form is a way in which something is drawn.
type Form string

const (
	MustWork   Form = "must work"
	LikelyWork Form = "likely work"
	MayWork    Form = "may work"
	LongForm   Form = "drawn long"
	SlackForm  Form = "slack"
	HeldEnd    Form = "held end"
	SupportPut Form = "support"
	LoadPut    Form = "load"
)

// Layout of a plate, px.
const (
	pad       float64 = 26
	titleSize float64 = 23
	underSize float64 = 13
	keySize   float64 = 12
	keyMark   float64 = 30
	footSize  float64 = 9.5
	columnMax float64 = 150
)

var ink = rgb(0x24261f)

// Plate draws a scene from a view with words around it. smooth is how many
// pixels a unit of the picture has when it will become an image: the body then
// is lit smoothly and only Image and PNG may write it; zero draws it in areas of
// even tone, for any writer.
func (a *Artist) Plate(s *Scene, v View, p Plate, smooth float64) *draw.Picture {
	pic := &draw.Picture{W: p.W, H: p.H, Title: p.Title, Desc: p.Desc, Made: p.Made, Lang: p.Lang, Paper: Print.Core}
	var words []draw.Item
	top, bottom := pad, p.H-pad
	if p.Bare {
		pic.Paper.A = 0
		top, bottom = 4, p.H-4
	} else {
		words, top = p.heading()
	}
	// The foot is laid out first: the body has what is left.
	d := a.Draw(s, v)
	body := draw.Box{}
	column, most, size := min(columnMax, p.W*0.2), mostLabels, 1.0
	if p.Bare {
		column, most, size = min(columnMax, p.W*0.26), fewerLabels, smaller
	}
	if len(p.Labels) == 0 {
		column = 0
	}
	room := 0.0 // for the arrows of supports below the body
	if v.Height == 0 && slices.ContainsFunc(p.Pushes, func(f Push) bool { return !f.Load }) {
		room = arrowLeast + arrowMore/2
	}
	var foot []draw.Item
	if !p.Bare {
		foot, bottom = p.footing(bottom)
	}
	lay := func(bottom float64) (sight, []pin) {
		body = draw.Box{X: pad + column, Y: top + 6, W: p.W - 2*(pad+column), H: bottom - top - 12}
		if p.Bare {
			body.X, body.W = 4+column, p.W-8-2*column
		}
		if v.Height > 0 {
			d.view.Height = v.Height * body.H / min(body.W, body.H)
		}
		inset := 4.0
		if v.Height > 0 { // near, what stands at the border is not what is meant
			inset = 0.14 * body.W
		}
		sg := d.see(int(body.W), int(body.H-room))
		for i := range sg.bands {
			sg.bands[i].shift(pt{X: body.X, Y: body.Y})
		}
		return sg, pins(p.Labels, sg.bands, body, column-8, most, size, inset)
	}
	sg, labels := lay(bottom)
	var keys []draw.Item
	if !p.Bare {
		var high float64
		if keys, high = p.keys(sg.bands, bottom); high > 0 {
			sg, labels = lay(bottom - high)
		}
	}
	clip := body
	figure := draw.Group{Class: "figure", Clip: &clip}
	place := pt{X: body.X, Y: body.Y}
	if smooth > 0 {
		low := body
		low.H -= room
		figure.Items = append(figure.Items, d.bitmap(low, smooth))
	} else {
		figure.Items = append(figure.Items, moved(group("shadow", sg.shadow), place), moved(group("body", sg.traced()), place))
	}
	figure.Items = append(figure.Items, draw.Group{Class: "muscles", Items: shapes(sg.bands, d.Inks, d.name)})
	forces := draw.Group{Class: "forces", Shift: place, Items: arrows(p.Pushes, sg.camera)}
	if v.Height > 0 { // near, what acts elsewhere is cut off
		figure.Items = append(figure.Items, forces)
		forces.Items = nil
	}
	named := draw.Group{Class: "labels"}
	for i := range labels {
		named.Items = append(named.Items, labels[i].draw(body, d.Inks)...)
	}
	pic.Items = append(pic.Items, figure, forces, named)
	pic.Items = append(pic.Items, words...)
	pic.Items = append(pic.Items, keys...)
	pic.Items = append(pic.Items, foot...)
	return pic
}

func moved(g draw.Group, by pt) draw.Group {
	g.Shift = by
	return g
}

// shift moves a band in the picture.
func (b *band) shift(by pt) {
	for k := range b.at {
		b.at[k] = pt{X: b.at[k].X + by.X, Y: b.at[k].Y + by.Y}
	}
}

// bitmap is shadow and body lit smoothly, for an image of scale pixels a unit.
func (d *Drawing) bitmap(box draw.Box, scale float64) draw.Bitmap {
	w, h := int(math.Round(box.W*scale)), int(math.Round(box.H*scale))
	img := (&draw.Picture{W: float64(w), H: float64(h), Paper: d.Paper}).Image(1)
	bare := *d
	bare.scene = &Scene{Groups: d.scene.Groups, Shadows: d.scene.Shadows}
	s := bare.see(w, h)
	s.paintBody(img)
	return draw.Bitmap{At: pt{X: box.X, Y: box.Y}, Img: img}
}

// heading gives title and what is under it, and where they end.
func (p *Plate) heading() ([]draw.Item, float64) {
	var out []draw.Item
	y := pad
	for _, l := range draw.Wrap(p.Title, titleSize, true, p.W-2*pad, 2) {
		y += titleSize * 1.2
		out = append(out, draw.Text{X: pad, Y: y - 5, Size: titleSize, Bold: true, Ink: ink, Body: l})
	}
	for _, l := range draw.Wrap(p.Under, underSize, false, p.W-2*pad, 3) {
		y += underSize * 1.4
		out = append(out, draw.Text{X: pad, Y: y - 2, Size: underSize, Ink: soft, Body: l})
	}
	return out, y
}

// footing gives the smallest words, and where they begin.
func (p *Plate) footing(bottom float64) ([]draw.Item, float64) {
	var lines []string
	for _, f := range p.Foot {
		lines = append(lines, draw.Wrap(f, footSize, false, p.W-2*pad, 4)...)
	}
	var out []draw.Item
	y := bottom - float64(len(lines))*footSize*1.4
	for i, l := range lines {
		out = append(out, draw.Text{X: pad, Y: y + float64(i+1)*footSize*1.4 - 2, Size: footSize, Ink: soft, Body: l})
	}
	return out, y - 6
}

// keys gives what the forms in the picture mean, in rows that end at bottom, and
// how high they are.
func (p *Plate) keys(bands []band, bottom float64) ([]draw.Item, float64) {
	var used []Key
	for _, k := range p.Keys {
		if k.Form.in(bands, p.Pushes) {
			used = append(used, k)
		}
	}
	if len(used) == 0 {
		return nil, 0
	}
	items, end := Legend(used, pad, 0, p.W-2*pad)
	return []draw.Item{draw.Group{Class: "legend", Shift: pt{Y: bottom - end}, Items: items}}, end
}

// Legend explains forms in rows from a place on, width px wide; it gives where
// they end.
func Legend(all []Key, left, top, width float64) ([]draw.Item, float64) {
	const row = keySize * 1.7
	var out []draw.Item
	x, y := left, top+row*0.6
	for _, k := range all {
		w := keyMark + 6 + draw.Width(k.Text, keySize, false)*1.1 + 16
		if x+w-16 > left+width && x > left {
			x, y = left, y+row
		}
		out = append(out, k.Form.sample(draw.Box{X: x, Y: y - 5, W: keyMark, H: 10})...)
		out = append(out, draw.Text{X: x + keyMark + 6, Y: y + keySize*0.35, Size: keySize, Ink: ink, Body: k.Text})
		x += w
	}
	return out, y + row*0.4 + 6
}

// in reports whether a form occurs in a picture.
func (f Form) in(bands []band, pushes []Push) bool {
	switch f {
	case SupportPut, LoadPut:
		return slices.ContainsFunc(pushes, func(p Push) bool { return p.Load == (f == LoadPut) })
	}
	return slices.ContainsFunc(bands, func(b band) bool {
		if !slices.ContainsFunc(b.stretches(), func(s stretch) bool { return s.near }) {
			return false
		}
		w := b.Role == analysis.Working
		switch f {
		case MustWork:
			return w && b.Grade == analysis.Must
		case LikelyWork:
			return w && b.Grade == analysis.Likely
		case MayWork:
			return w && b.Grade != analysis.Must && b.Grade != analysis.Likely
		case LongForm:
			return b.Role == analysis.DrawnLong
		case SlackForm:
			return b.Role == analysis.Slack
		case HeldEnd:
			return w && b.Held != Neither
		}
		return false
	})
}

// sample draws a form in a small box.
func (f Form) sample(box draw.Box) []draw.Item {
	b := band{width: box.H * 0.9}
	for k := range linePoints {
		b.at[k] = pt{X: box.X + box.W*float64(k)/(linePoints-1), Y: box.Y + box.H/2}
		b.n[k] = pt{Y: 1}
		b.seen[k] = 1
	}
	b.Role, b.Grade, b.Effort, b.Held = analysis.Working, analysis.Likely, 0.5, Insertion
	push := Push{Size: 0}
	switch f {
	case MustWork:
		b.Grade = analysis.Must
	case MayWork:
		b.Grade, b.Effort = analysis.May, 0.2
	case LongForm:
		b.Role = analysis.DrawnLong
	case SlackForm:
		b.Role = analysis.Slack
	case HeldEnd:
		var out []draw.Item
		for _, k := range []int{6, 12, 18} {
			out = append(out, draw.Area{Rings: [][]pt{b.head(k, 3.4, 1)}, Ink: Print.Work, Alpha: 1})
		}
		return out
	case SupportPut, LoadPut:
		push.Load = f == LoadPut
		return push.lie(box)
	}
	return b.shapes(Print, "")
}

// lie draws a push lying in a box.
func (p Push) lie(box draw.Box) []draw.Item {
	p.Way = worldRight
	c := camera{right: worldRight, up: worldUp, toward: worldRight.Cross(worldUp), scale: 1, cx: box.X + 4, cy: box.Y + box.H/2}
	if !p.Load {
		c.cx = box.X + box.W
	}
	return p.arrow(c)
}
