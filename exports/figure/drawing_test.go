package figure

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
	"tautline/exports/draw"
	"tautline/testdata/peer"
)

var analyser = sync.OnceValue(func() *analysis.Analyser { return analysis.New(body.Adult()) })

// reach is a posture with muscles in every role, the same on both sides.
func reach(t testing.TB) (*Artist, *analysis.Findings) {
	a := analyser()
	r := posture.Read(a.Model, "standing on toes; shoulders flexed 170; elbows straight; wrists extended 60; trunk extended slightly; knees pulled straight firmly")
	if len(r.Unknown) > 0 {
		t.Fatalf("not understood: %v", r.Unknown)
	}
	return New(a.Model), a.Analyse(r.Posture, nil)
}

func svg(t testing.TB, v View, title, desc string) []byte {
	artist, f := reach(t)
	d := artist.Draw(artist.Findings(f), v)
	d.Title, d.Desc = title, desc
	var b bytes.Buffer
	if err := d.SVG(&b, 360, 640); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestViewsShowTheSideTheyName: from the front the person's left hand is on the
// right; from the left the face looks left, from the right it looks right; from
// behind the left hand is on the left.
func TestViewsShowTheSideTheyName(t *testing.T) {
	left, ahead := geom.V(0, 0, -1), geom.V(1, 0, 0)
	for _, c := range []struct {
		view View
		what geom.Vec
		sign float64
	}{{Front, left, 1}, {Back, left, -1}, {Left, ahead, -1}, {Right, ahead, 1}} {
		cam := c.view.camera(&Scene{}, 10, 10)
		x, _, _ := cam.at(c.what)
		if (x-5)*c.sign < 0.99 {
			t.Errorf("%s: %v is at %.2f beside the middle", c.view.Name, c.what, x-5)
		}
		if _, y, _ := cam.at(geom.V(0, 1, 0)); y > 4.01 {
			t.Errorf("%s: up is not up", c.view.Name)
		}
	}
	_, _, near := ThreeQuarter.camera(&Scene{}, 10, 10).at(geom.V(1, 1, -1))
	if near < 1 {
		t.Errorf("the eye of the three-quarter view is not before, above and to the left")
	}
}

// TestFrontViewOfASymmetricPostureIsSymmetric: the relief is its own mirror
// image, and so is how much of each colour lies on both halves.
func TestFrontViewOfASymmetricPostureIsSymmetric(t *testing.T) {
	artist, f := reach(t)
	s := artist.Findings(f)
	const w, h = 360, 720
	r := newRelief(s, Front.camera(s, w, h), w, h)
	off := 0
	for y := range h {
		for x := range w / 2 {
			if a, b := r.depth[y*w+x], r.depth[y*w+w-1-x]; math.Abs(float64(a-b)) > 0.05 {
				off++
			}
		}
	}
	// A rim pixel may fall to either side by rounding.
	if off > h/20 {
		t.Errorf("%d pixels differ from their mirror images", off)
	}
	img := artist.Draw(s, Front).Image(w, h)
	for name, ink := range map[string]color.RGBA{"work": Print.Work, "long": Print.Long} {
		l, rt := count(img, 0, w/2, ink), count(img, w/2, w, ink)
		if l < 100 || math.Abs(float64(l-rt)) > 0.03*float64(l+rt) {
			t.Errorf("%s: %d pixels on one half, %d on the other", name, l, rt)
		}
	}
}

// count counts pixels close to a colour.
func count(img *image.RGBA, x0, x1 int, ink color.RGBA) int {
	n := 0
	for y := range img.Rect.Dy() {
		for x := x0; x < x1; x++ {
			p := img.RGBAAt(x, y)
			d := math.Abs(float64(p.R)-float64(ink.R)) + math.Abs(float64(p.G)-float64(ink.G)) + math.Abs(float64(p.B)-float64(ink.B))
			if d < 60 {
				n++
			}
		}
	}
	return n
}

// TestSameDrawingSameBytes: two artists draw the same posture to the last byte.
func TestSameDrawingSameBytes(t *testing.T) {
	if a, b := svg(t, ThreeQuarter, "A", "B"), svg(t, ThreeQuarter, "A", "B"); !bytes.Equal(a, b) {
		t.Error("two SVGs differ")
	}
	pictures := make([][]byte, 2)
	for i := range pictures {
		artist, f := reach(t)
		var b bytes.Buffer
		if err := artist.Draw(artist.Findings(f), Left).PNG(&b, 150, 300); err != nil {
			t.Fatal(err)
		}
		pictures[i] = b.Bytes()
	}
	if !bytes.Equal(pictures[0], pictures[1]) {
		t.Error("two PNGs differ")
	}
	if c, err := png.DecodeConfig(bytes.NewReader(pictures[0])); err != nil || c.Width != 150 || c.Height != 300 {
		t.Errorf("the PNG is %d by %d, %v", c.Width, c.Height, err)
	}
}

// TestNoiseOfTheLastBitsDoesNotShow: frames that differ by less than any search
// settles, draw the same to the last byte.
func TestNoiseOfTheLastBitsDoesNotShow(t *testing.T) {
	artist, f := reach(t)
	r := rand.New(rand.NewSource(4))
	noisy := slices.Clone(f.Frames)
	for i := range noisy {
		noisy[i].At = noisy[i].At.Add(geom.V(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Scale(1e-14))
	}
	a := artist.Draw(artist.Person(f.Frames, Orchard), ThreeQuarter).Image(160, 320)
	b := artist.Draw(artist.Person(noisy, Orchard), ThreeQuarter).Image(160, 320)
	if !bytes.Equal(a.Pix, b.Pix) {
		t.Error("noise of 1e-14 m shows")
	}
}

// hostile is text that must come out of the file as it went in.
const hostile = `Reach <b> & "both" 'ends' ]]> --> é ‏שלום`

// TestSVGIsWellFormedAndTellsWhatItShows: any title and description survive, the
// picture is an image to a screen reader, and muscles carry their names.
func TestSVGIsWellFormedAndTellsWhatItShows(t *testing.T) {
	text := svg(t, Front, hostile+"\x00", hostile)
	d := xml.NewDecoder(bytes.NewReader(text))
	var path []string
	var titles []string
	desc := ""
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			path = append(path, e.Name.Local)
			if len(path) == 1 {
				got := map[string]string{}
				for _, a := range e.Attr {
					got[a.Name.Local] = a.Value
				}
				if got["viewBox"] != "0 0 360 640" || got["role"] != "img" || got["aria-label"] != hostile+"\uFFFD" {
					t.Errorf("attributes %q", got)
				}
			}
		case xml.EndElement:
			path = path[:len(path)-1]
		case xml.CharData:
			switch strings.Join(path, "/") {
			case "svg/title", "svg/g/path/title":
				titles = append(titles, string(e))
			case "svg/desc":
				desc = string(e)
			}
		}
	}
	if len(titles) == 0 || titles[0] != hostile+"\uFFFD" || desc != hostile {
		t.Fatalf("title %q, description %q", titles, desc)
	}
	named := strings.Join(titles[1:], "\n")
	for _, want := range []string{", working", ", drawn long", ", slack"} {
		if !strings.Contains(named, want) {
			t.Errorf("no muscle is named as %q", want)
		}
	}
	if n := len(text); n > 250_000 {
		t.Errorf("%d bytes are too many for a figure in a page", n)
	}
}

// TestOtherProgramsReadTheSVG: one that checks XML, and one that draws it.
func TestOtherProgramsReadTheSVG(t *testing.T) {
	dir := t.TempDir()
	file, drawn := filepath.Join(dir, "f.svg"), filepath.Join(dir, "f.png")
	if err := os.WriteFile(file, svg(t, Front, hostile, hostile), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Run("xmllint", func(t *testing.T) { peer.Run(t, "xmllint", "--noout", "--nonet", file) })
	t.Run("rsvg-convert", func(t *testing.T) {
		peer.Run(t, "rsvg-convert", "-w", "360", "-h", "640", "-o", drawn, file)
		f, err := os.Open(drawn)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		theirs, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		artist, findings := reach(t)
		ours := artist.Draw(artist.Findings(findings), Front).Image(360, 640)
		// The SVG has five steps of light where the image has all of them, so
		// single pixels differ; on the whole both are the same picture.
		sum := 0.0
		for y := range 640 {
			for x := range 360 {
				r, g, b, _ := theirs.At(x, y).RGBA()
				o := ours.RGBAAt(x, y)
				sum += math.Abs(float64(r>>8)-float64(o.R)) + math.Abs(float64(g>>8)-float64(o.G)) + math.Abs(float64(b>>8)-float64(o.B))
			}
		}
		if mean := sum / (3 * 360 * 640); mean > 2.5 {
			t.Errorf("mean difference %.2f levels", mean)
		} else {
			t.Logf("mean difference %.2f levels", mean)
		}
	})
}

// TestPictureIsCoarselyWhatItWas guards the look without pinning a byte: how
// much of the sheet the person fills, and how light the clay and muscles are.
func TestPictureIsCoarselyWhatItWas(t *testing.T) {
	artist, f := reach(t)
	img := artist.Draw(artist.Findings(f), Front).Image(240, 480)
	paper := color.RGBA{0xff, 0xfd, 0xf8, 255}
	total := 240 * 480
	plum := 0
	for i := 0; i < len(img.Pix); i += 4 {
		if r, g, b := int(img.Pix[i]), int(img.Pix[i+1]), int(img.Pix[i+2]); r > g+25 && b > g+20 {
			plum++
		}
	}
	for _, c := range []struct {
		name     string
		n        int
		low, top float64 // share of the sheet
	}{
		{"paper", count(img, 0, 240, paper), 0.70, 0.92}, {"work", plum, 0.004, 0.06}, {"long", count(img, 0, 240, Print.Long), 0.0008, 0.03},
	} {
		if share := float64(c.n) / float64(total); share < c.low || share > c.top {
			t.Errorf("%s fills %.4f of the sheet, expected %g to %g", c.name, share, c.low, c.top)
		}
	}
}

// TestInksStandOutInGreyPrint: what works, is drawn long or slack has a contrast
// of at least 3 to 1 with the clay it lies on, the least that WCAG 2.2 (1.4.11)
// asks of graphics.
func TestInksStandOutInGreyPrint(t *testing.T) {
	linear := func(v uint8) float64 {
		c := float64(v) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	grey := func(c color.RGBA) float64 { return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B) }
	for name, ink := range map[string]color.RGBA{"work": Print.Work, "long": Print.Long, "slack": Print.Slack} {
		for _, on := range []color.RGBA{Clay.Skin, rgb(0xfffdf8)} {
			if c := (grey(on) + 0.05) / (grey(ink) + 0.05); c < 3 {
				t.Errorf("%s on %v: contrast %.2f", name, on, c)
			}
		}
	}
}

// TestRolesDifferInForm: without any colour a role still shows: arrowheads
// toward the held end, a bright core, a wave, a hair, an edge by the grade.
func TestRolesDifferInForm(t *testing.T) {
	line := []geom.Vec{geom.V(0, 0, 1), geom.V(0, 0, -1)}
	free := newRelief(&Scene{}, camera{}, 1, 1)
	cam := camera{right: geom.V(0, 0, -1), up: geom.V(0, 1, 0), toward: geom.V(1, 0, 0), scale: 100}
	drawn := func(r analysis.Role, g analysis.Grade, held End) (areas []draw.Area, strokes []draw.Stroke) {
		bands := bandsOf([]Strand{{Line: line, Role: r, Grade: g, Held: held, Width: 0.1}}, cam, free, 1)
		for _, item := range shapes(bands, Print, func(Strand) string { return "m" }) {
			switch v := item.(type) {
			case draw.Area:
				areas = append(areas, v)
			case draw.Stroke:
				strokes = append(strokes, v)
			}
		}
		return areas, strokes
	}
	// The line runs to the right, from origin to insertion.
	for held, way := range map[End]float64{Origin: -1, Insertion: 1} {
		work, _ := drawn(analysis.Working, analysis.Likely, held)
		heads := work[len(work)-1].Rings
		if len(heads) < 2 {
			t.Fatalf("%d arrowheads", len(heads))
		}
		for _, h := range heads {
			if tip, notch := h[1], h[4]; (tip.X-notch.X)*way <= 0 {
				t.Errorf("held %d: an arrowhead points the other way", held)
			}
		}
	}
	work, _ := drawn(analysis.Working, analysis.Likely, Neither)
	for _, h := range work[len(work)-1].Rings {
		if tip, notch := h[1], h[4]; (tip.X-notch.X)*notch.X > 0 {
			t.Errorf("nothing is held and the arrowhead at %.0f points away from the middle", notch.X)
		}
	}
	rims := map[analysis.Grade]int{}
	for _, g := range []analysis.Grade{analysis.Must, analysis.Likely, analysis.May} {
		_, strokes := drawn(analysis.Working, g, Neither)
		for _, s := range strokes {
			if s.Ink != Print.Core && len(s.Lines) > 0 {
				rims[g] += 1 + 10*len(s.Dash)
			}
		}
	}
	if rims[analysis.Must] != 1 || rims[analysis.Likely] != 0 || rims[analysis.May] != 21 {
		t.Errorf("edges by grade: %v", rims)
	}
	long, cores := drawn(analysis.DrawnLong, analysis.Geometry, Neither)
	if core := cores[len(cores)-1]; len(long) != 1 || core.Ink != Print.Core || core.Width > 3 {
		t.Errorf("a band drawn long has no slender bright core: %v", core)
	}
	_, waves := drawn(analysis.Slack, analysis.Geometry, Neither)
	up, down := 0.0, 0.0
	for _, p := range waves[len(waves)-1].Lines[0] {
		up, down = min(up, p.Y), max(down, p.Y)
	}
	if down-up < 2 {
		t.Errorf("a slack line swings by %.1f px", down-up)
	}
}

// TestSceneWithoutAnythingIsPaper: nothing to draw is no reason to fail.
func TestSceneWithoutAnythingIsPaper(t *testing.T) {
	d := New(body.Adult()).Draw(&Scene{}, Front)
	if img := d.Image(5, 5); count(img, 0, 5, d.Paper) != 25 {
		t.Error("an empty sheet is not all paper")
	}
	var b bytes.Buffer
	if err := d.SVG(&b, 5, 5); err != nil || !strings.Contains(b.String(), "<rect") {
		t.Errorf("%v\n%s", err, b.String())
	}
}

func BenchmarkImage(b *testing.B) {
	artist, f := reach(b)
	s := artist.Findings(f)
	for b.Loop() {
		artist.Draw(s, ThreeQuarter).Image(480, 640)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "figures/s")
}

func BenchmarkSVG(b *testing.B) {
	artist, f := reach(b)
	s := artist.Findings(f)
	for b.Loop() {
		if err := artist.Draw(s, ThreeQuarter).SVG(io.Discard, 480, 640); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "figures/s")
}
