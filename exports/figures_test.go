package exports

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"strings"
	"testing"
)

// TestFiguresOfEveryStudy: every phase of every study can be drawn, in XML that
// reads, with its title, its maker and the caution; also where nothing was
// computed.
func TestFiguresOfEveryStudy(t *testing.T) {
	for name, r := range sampleStudies() {
		for i := range r.Phases {
			if i == 40 {
				break // of 10,000 the rest is the same
			}
			var b bytes.Buffer
			if err := WriteFigure(&b, r, i+1, Look{}, false, Options{Tool: "1.2.3"}); err != nil {
				t.Fatal(err)
			}
			d := xml.NewDecoder(bytes.NewReader(b.Bytes()))
			for {
				if _, err := d.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Fatalf("%s, phase %d: %v", name, i+1, err)
				}
			}
			for _, must := range []string{"tautline 1.2.3", "Stop on pain, dizziness or numbness."} {
				if !strings.Contains(b.String(), must) {
					t.Errorf("%s, phase %d: %q is missing", name, i+1, must)
				}
			}
		}
	}
}

// TestFiguresOfTheDemo: each phase from each side, whole and near, names muscles
// and shows them; the same twice to the last byte; PNG of twice the size.
func TestFiguresOfTheDemo(t *testing.T) {
	r := demoReport()
	for i, l := range []Look{{}, {View: "back"}, {View: "left"}, {View: "right"}, {View: "above"}, {View: "back", CloseUp: "shoulder"}, {View: "right", CloseUp: "pelvis"}} {
		phase := i%len(r.Phases) + 1
		var a, b bytes.Buffer
		if err := errors.Join(WriteFigure(&a, r, phase, l, false, Options{}), WriteFigure(&b, r, phase, l, false, Options{})); err != nil {
			t.Fatal(err)
		}
		text := a.String()
		if text != b.String() {
			t.Errorf("%v: two runs differ", l)
		}
		if n := strings.Count(text, `font-weight="bold"`); n < 3 { // the title and two labels
			t.Errorf("phase %d, %v: only %d bold texts", phase, l, n)
		}
		if n := len(text); n > 250_000 {
			t.Errorf("phase %d, %v: %d bytes are too many for a figure in a page", phase, l, n)
		}
	}
	var b bytes.Buffer
	if err := WriteFigure(&b, r, 1, Look{}, true, Options{}); err != nil {
		t.Fatal(err)
	}
	if c, err := png.DecodeConfig(&b); err != nil || c.Width != pngScale*figureWide || c.Height != pngScale*figureHigh {
		t.Errorf("%d by %d, %v", c.Width, c.Height, err)
	}
}

func TestLooksThatThereAreNot(t *testing.T) {
	for _, c := range []struct {
		phase int
		look  Look
		want  string
	}{
		{9, Look{}, `there is no phase "9": there is 1 to 6`},
		{1, Look{View: "under"}, `there is no view "under": there is best, front, back, left, right, above, front and left`},
		{1, Look{CloseUp: "nose"}, `there is no close-up "nose": there is shoulder girdle, pelvis`},
	} {
		var look *LookError
		if err := WriteFigure(io.Discard, demoReport(), c.phase, c.look, false, Options{}); !errors.As(err, &look) || err.Error() != c.want {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
}

// TestEveryViewHasWords: a figure says where it is seen from.
func TestEveryViewHasWords(t *testing.T) {
	for _, v := range Views() {
		if v != bestView && viewWords[v] == "" {
			t.Errorf("no words for the view %q", v)
		}
	}
}

func BenchmarkFigure(b *testing.B) {
	r := demoReport()
	n := 0
	for b.Loop() {
		if err := WriteFigure(io.Discard, r, n%len(r.Phases)+1, Look{}, false, Options{}); err != nil {
			b.Fatal(err)
		}
		n++
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "figures/s")
}

// BenchmarkFullExport writes every format of the demo.
func BenchmarkFullExport(b *testing.B) {
	r := demoReport()
	for b.Loop() {
		for _, f := range Formats() {
			if err := f.Write(io.Discard, r, Options{}); err != nil {
				b.Fatalf("%s: %v", f.Name, err)
			}
		}
	}
}
