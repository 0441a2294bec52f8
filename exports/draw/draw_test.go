package draw

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"tautline/testdata/peer"
)

func shoelace(r []Pt) float64 {
	sum := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

// TestFillCoversExactlyItsArea: the shares of all pixels add up to the area, for
// any triangle wherever its corners lie, also past the border.
func TestFillCoversExactlyItsArea(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 300 {
		tri := []Pt{{r.Float64() * 30, r.Float64() * 30}, {r.Float64() * 30, r.Float64() * 30}, {r.Float64() * 30, r.Float64() * 30}}
		img := image.NewRGBA(image.Rect(0, 0, 32, 32))
		Fill(img, Area{Rings: [][]Pt{tri}, Ink: color.RGBA{255, 255, 255, 255}, Alpha: 1})
		sum := 0.0
		for i := 3; i < len(img.Pix); i += 4 {
			sum += float64(img.Pix[i]) / 255
		}
		// Each pixel on the way around is rounded to 1/255 and left out below 1/512.
		if want := math.Abs(shoelace(tri)); math.Abs(sum-want) > 0.15 {
			t.Fatalf("%v covers %.3f, its area is %.3f", tri, sum, want)
		}
	}
	img := image.NewRGBA(image.Rect(0, 0, 8, 8))
	Fill(img, Area{Rings: [][]Pt{{{-50, -50}, {60, -50}, {60, 60}, {-50, 60}}}, Ink: color.RGBA{9, 9, 9, 255}, Alpha: 1})
	for i, v := range img.Pix {
		if want := uint8(9); i%4 != 3 && v != want || i%4 == 3 && v != 255 {
			t.Fatalf("a shape past all borders leaves byte %d at %d", i, v)
		}
	}
}

// sample is a picture with one of everything.
func sample() *Picture {
	const hostile = `Reach <b> & "both" 'ends' ]]> --> é ‏שלום 手 مرفوع`
	clip := Box{20, 20, 60, 40}
	return &Picture{W: 200, H: 160, Title: hostile + "\x00", Desc: hostile, Made: hostile, Lang: "en", Paper: Hex(0xfffdf8), Items: []Item{
		Rect(Box{10, 10, 80, 60}, 8, Hex(0xd9ece5)),
		Group{Class: "clipped", Clip: &clip, Shift: Pt{3, 4}, Items: []Item{Area{Rings: [][]Pt{Ellipse(50, 40, 40, 30)}, Ink: Hex(0x6e2a66), Alpha: 0.5, Name: hostile}}},
		Stroke{Lines: [][]Pt{{{100, 20}, {180, 20}, {180, 60}}}, Width: 3, Dash: []float64{6, 4}, Ink: Hex(0x0f6b5c), Alpha: 1},
		Text{X: 10, Y: 100, Size: 14, Bold: true, Ink: Hex(0x24261f), Body: "Overhead reach"},
		Text{X: 190, Y: 130, Size: 5, Anchor: End, Ink: Hex(0x24261f), Body: hostile},
		Text{X: 100, Y: 150, Size: 12, Anchor: Middle, Ink: Hex(0x24261f), Body: "手"},
	}}
}

// TestOtherProgramsReadThePictures: one that checks XML, one that draws SVG; its
// picture is ours but for letters.
func TestOtherProgramsReadThePictures(t *testing.T) {
	dir := t.TempDir()
	p := sample()
	var b bytes.Buffer
	if err := p.SVG(&b); err != nil {
		t.Fatal(err)
	}
	file, drawn := filepath.Join(dir, "p.svg"), filepath.Join(dir, "p.png")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Run("xmllint", func(t *testing.T) { peer.Run(t, "xmllint", "--noout", "--nonet", file) })
	t.Run("rsvg-convert", func(t *testing.T) {
		peer.Run(t, "rsvg-convert", "-w", "200", "-h", "160", "-o", drawn, file)
		f, err := os.Open(drawn)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		theirs, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		ours := p.Image(1)
		sum := 0.0
		for y := range 85 { // above the letters, which may be of another font
			for x := range 200 {
				r, g, b, _ := theirs.At(x, y).RGBA()
				o := ours.RGBAAt(x, y)
				sum += math.Abs(float64(r>>8)-float64(o.R)) + math.Abs(float64(g>>8)-float64(o.G)) + math.Abs(float64(b>>8)-float64(o.B))
			}
		}
		if mean := sum / (3 * 200 * 85); mean > 1 {
			t.Errorf("mean difference %.2f levels", mean)
		}
	})
}

// TestPNGCarriesItsWords: the file reads as an image of the asked size, and its
// title and maker stand in it as text.
func TestPNGCarriesItsWords(t *testing.T) {
	p := sample()
	p.Title, p.Made = "Overhead reach", "Made by a test. Stop on pain."
	var b bytes.Buffer
	if err := p.PNG(&b, 2); err != nil {
		t.Fatal(err)
	}
	if c, err := png.DecodeConfig(bytes.NewReader(b.Bytes())); err != nil || c.Width != 400 || c.Height != 320 {
		t.Errorf("%d by %d, %v", c.Width, c.Height, err)
	}
	if !bytes.Contains(b.Bytes(), []byte("Software\x00\x00\x00\x00\x00Made by a test. Stop on pain.")) {
		t.Error("the maker is not in the file")
	}
}

// TestNothingWrittenIsInvisible: every character that is not a space or a mark
// of direction leaves ink, whatever its script.
func TestNothingWrittenIsInvisible(t *testing.T) {
	for _, r := range "aÅжΩאم手ท한ह𝄞🍎①" {
		for _, f := range []*face{regular(), bold()} {
			glyphs, wide := f.set(string(r))
			sum := 0.0
			for _, g := range glyphs {
				for _, ring := range f.outline(g) {
					sum += math.Abs(shoelace(ring))
				}
			}
			if sum < 0.01 || wide <= 0 {
				t.Errorf("%q in %s leaves %.3f em² of ink, %.2f em wide", r, f.name, sum, wide)
			}
		}
	}
}

// TestRightToLeftIsTurnedOver: the first letter of a Hebrew word stands at its
// right end, and Latin beside it keeps its order.
func TestRightToLeftIsTurnedOver(t *testing.T) {
	if got := string(seen("ab אבג cd")); got != "ab גבא cd" {
		t.Errorf("%q", got)
	}
	if got := string(seen("שלום")); got != "םולש" {
		t.Errorf("%q", got)
	}
}

// TestWrapKeepsEveryWordWithinItsWidth, and with a limit ends in an ellipsis.
func TestWrapKeepsEveryWordWithinItsWidth(t *testing.T) {
	for _, text := range []string{"", "one", strings.Repeat("long title of many words ", 20), strings.Repeat("unbroken", 40), "a" + strings.Repeat("\u0301", 300), "手手手手手手手手手手手手手手手手手手"} {
		lines := Wrap(text, 12, false, 120, 0)
		for _, l := range lines {
			if w := Width(l, 12, false); w > 120 {
				t.Errorf("%.10q: a line is %.0f wide", text, w)
			}
			if !utf8.ValidString(l) {
				t.Errorf("%.10q: a character is cut", text)
			}
		}
		if got, want := strings.Join(lines, ""), strings.ReplaceAll(text, " ", ""); strings.ReplaceAll(got, " ", "") != want {
			t.Errorf("%.10q: %q is not all of it", text, got)
		}
		few := Wrap(text, 12, false, 120, 2)
		if len(few) > 2 || len(lines) > 2 && !strings.HasSuffix(few[len(few)-1], "…") {
			t.Errorf("%.10q in two lines: %q", text, few)
		}
	}
}

// TestDashesAddUpToTheirShare of a line.
func TestDashesAddUpToTheirShare(t *testing.T) {
	long := 0.0
	for _, part := range dashed([]Pt{{0, 0}, {60, 80}, {160, 80}}, []float64{6, 4}) {
		for i := 1; i < len(part); i++ {
			long += math.Hypot(part[i].X-part[i-1].X, part[i].Y-part[i-1].Y)
		}
	}
	if math.Abs(long-120) > 1e-6 {
		t.Errorf("%.3f of 200, want 120", long)
	}
}
