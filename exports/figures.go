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

// Look is what a figure shows of a body: from where, and how near.
type Look struct {
	View    string // "front" unless said, "best" for the one that shows most; see Views
	CloseUp string // empty: the whole body; see CloseUps
}

// Views and CloseUps list what a Look may ask for.
func Views() (names []string) {
	names = []string{bestView}
	for _, v := range figure.Views {
		names = append(names, v.Name)
	}
	return names
}

// bestView asks for the level view that shows most of what is said.
const bestView = "best"

// CloseUps lists the parts of the body that there are close-ups of.
func CloseUps() (names []string) {
	for _, c := range figure.CloseUps {
		names = append(names, c.Name)
	}
	return names
}

// LookError says that there is no view, close-up or phase of a name.
type LookError struct {
	What, Name string
	Known      []string
}

// Error names what there is.
func (e *LookError) Error() string {
	return fmt.Sprintf("there is no %s %q: there is %s", e.What, e.Name, strings.Join(e.Known, ", "))
}

// find takes the names apart. A close-up may be shortened to its first word.
func (l Look) find() (figure.View, *figure.CloseUp, error) {
	view := figure.Front
	if l.View != "" && l.View != bestView {
		found := false
		for _, v := range figure.Views {
			if v.Name == l.View {
				view, found = v, true
			}
		}
		if !found {
			return view, nil, &LookError{"view", l.View, Views()}
		}
	}
	if l.CloseUp == "" {
		return view, nil, nil
	}
	for i := range figure.CloseUps {
		c := &figure.CloseUps[i]
		if first, _, _ := strings.Cut(c.Name, " "); c.Name == l.CloseUp || first == l.CloseUp {
			return view, c, nil
		}
	}
	return view, nil, &LookError{"close-up", l.CloseUp, CloseUps()}
}

// Size of a single figure, px, and how many pixels of an image to each.
const (
	figureWide = 820
	figureHigh = 900
	pngScale   = 2
)

// WriteFigure writes one phase's figure as SVG, or as PNG where png is true. The
// errors are a *LookError, or of writing.
func WriteFigure(w io.Writer, r *timeline.Report, phase int, l Look, png bool, o Options) error {
	if phase < 1 || phase > len(r.Phases) {
		known := fmt.Sprintf("1 to %d", len(r.Phases))
		if len(r.Phases) == 0 {
			known = "none"
		}
		return &LookError{"phase", fmt.Sprint(phase), []string{known}}
	}
	if _, _, err := l.find(); err != nil {
		return err
	}
	d := newDrawer(r, o)
	plate := figure.Plate{W: figureWide, H: figureHigh}
	if png {
		return d.plate(&r.Phases[phase-1], l, plate, pngScale).PNG(w, pngScale)
	}
	return d.plate(&r.Phases[phase-1], l, plate, 0).SVG(w)
}

// drawer draws the phases of one report. It is not for use from several
// goroutines at once.
type drawer struct {
	r       *timeline.Report
	o       Options
	speaker *speaker
	artist  *figure.Artist
}

func newDrawer(r *timeline.Report, o Options) *drawer {
	o = o.withDefaults()
	return &drawer{r: r, o: o, speaker: o.speaker(r.Model)}
}

// drawn reports whether there is a body to draw.
func drawn(f *analysis.Findings) bool { return f != nil && len(f.Frames) > 0 }

// plate fills in the words of a plate and draws it; smooth as in figure.Plate.
func (d *drawer) plate(p *timeline.PhaseReport, l Look, plate figure.Plate, smooth float64) *draw.Picture {
	view, closeUp, err := l.find()
	if err != nil {
		panic(err) // asked for by this package
	}
	var scene *figure.Scene
	if drawn(p.Findings) {
		if d.artist == nil {
			d.artist = figure.New(d.r.Model)
		}
		scene, plate.Labels = d.artist.Findings(p.Findings), d.speaker.pictureLabels(p.Findings)
		if l.View == bestView {
			view = d.artist.BestView(scene, plate.Labels)
		}
	}
	near := ""
	if closeUp != nil {
		near = closeUp.Name
	}
	plate.Title, plate.Under = pictureTitle(p), pictureUnder(p, view.Name, near)
	plate.Desc, plate.Made = pictureDesc(d.r.Model, p, view.Name, near, d.o.Voice), d.o.maker(d.r)+". "+strings.Join(careText, " ")
	plate.Lang = "en"
	plate.Keys = pictureKeys
	plate.Foot = []string{strings.Join(careText, " ") + " " + d.o.maker(d.r) + "."}
	if !drawn(p.Findings) {
		return d.empty(p, plate)
	}
	view = view.Seen()
	if closeUp != nil {
		view = view.Near(*closeUp, d.r.Model, p.Findings.Frames)
	}
	if text, _ := Unheld(p.Findings); text != "" {
		plate.Foot = append([]string{cleanLine(text)}, plate.Foot...)
	}
	plate.Pushes = d.artist.Pushes(p.Findings, standardGravity, loadMark)
	return d.artist.Plate(scene, view, plate, smooth)
}

// empty is a plate without a body.
func (d *drawer) empty(p *timeline.PhaseReport, plate figure.Plate) *draw.Picture {
	pic := &draw.Picture{W: plate.W, H: plate.H, Title: plate.Title, Desc: plate.Desc, Made: plate.Made, Lang: plate.Lang, Paper: draw.Hex(0xfffdf8)}
	pic.Items = append(pic.Items, draw.Text{X: plate.W / 2, Y: plate.H / 2, Size: 13, Anchor: draw.Middle, Ink: draw.Hex(0x5b594d), Body: nothingToDraw(p)})
	return pic
}

// legendPicture explains the forms of figures that stand without their own keys.
func legendPicture(wide float64) *draw.Picture {
	keys, end := figure.Legend(pictureKeys, 0, 0, wide)
	return &draw.Picture{W: wide, H: end, Title: legendTitle, Items: keys}
}
