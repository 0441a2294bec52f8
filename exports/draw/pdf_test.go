package draw

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/font/sfnt"

	"tautline/testdata/peer"
)

func document() *Document {
	p := sample()
	inner := &Picture{W: 40, H: 40, Items: []Item{Rect(Box{0, 0, 40, 40}, 4, Hex(0x0f6b5c)), Text{X: 4, Y: 20, Size: 10, Ink: Hex(0xffffff), Body: "once"}}}
	p.Items = append(p.Items, Placed{inner, Pt{100, 70}, 0.5}, Placed{inner, Pt{150, 70}, 0.5})
	return &Document{Title: "Réach (1) \\ מרפק", Subject: "Stop on pain.", Made: "Made by a test", Lang: "en", Pages: []*Picture{p, p}, Marks: []Bookmark{{"one", 0, 10}, {"zwei — 手", 1, 20}}}
}

// TestPDFReadsInOtherPrograms: qpdf finds nothing wrong, the text comes back as
// it was written in every script, fonts are embedded, and what is drawn is what
// our own image shows.
func TestPDFReadsInOtherPrograms(t *testing.T) {
	var b, again bytes.Buffer
	if err := document().PDF(&b); err != nil {
		t.Fatal(err)
	}
	if err := document().PDF(&again); err != nil || !bytes.Equal(b.Bytes(), again.Bytes()) {
		t.Error("two runs differ")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "d.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Run("qpdf", func(t *testing.T) { peer.Run(t, "qpdf", "--check", file) })
	t.Run("pdftotext", func(t *testing.T) {
		got := string(peer.Run(t, "pdftotext", "-enc", "UTF-8", file, "-"))
		for _, want := range []string{"Overhead reach", `Reach <b> & "both" 'ends' ]]> --> é`, "手", "שלום", "مرفوع", "once"} {
			if n := strings.Count(got, want); n < 2 {
				t.Errorf("%q stands %d times in %q", want, n, got)
			}
		}
	})
	t.Run("pdfinfo", func(t *testing.T) {
		got := string(peer.Run(t, "pdfinfo", "-enc", "UTF-8", file))
		for _, want := range []string{"Réach (1) \\ מרפק", "Stop on pain.", "Pages:           2", "200 x 160 pts"} {
			if !strings.Contains(got, want) {
				t.Errorf("%q is not in %s", want, got)
			}
		}
	})
	t.Run("pdftoppm", func(t *testing.T) {
		peer.Run(t, "pdftoppm", "-r", "72", "-f", "1", "-l", "1", "-singlefile", "-png", file, filepath.Join(dir, "page"))
		f, err := os.Open(filepath.Join(dir, "page.png"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		theirs, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		ours := document().Pages[0].Image(1)
		sum := 0.0
		for y := range 160 {
			for x := range 200 {
				r, g, b, _ := theirs.At(x, y).RGBA()
				o := ours.RGBAAt(x, y)
				sum += math.Abs(float64(r>>8)-float64(o.R)) + math.Abs(float64(g>>8)-float64(o.G)) + math.Abs(float64(b>>8)-float64(o.B))
			}
		}
		// Edges of letters are smoothed in other ways.
		if mean := sum / (3 * 200 * 160); mean > 2.5 {
			t.Errorf("mean difference %.2f levels", mean)
		} else {
			t.Logf("mean difference %.2f levels", mean)
		}
	})
}

// TestSubsetKeepsTheOutlinesItIsAskedFor, those that are put together from
// others too, and no others.
func TestSubsetKeepsTheOutlinesItIsAskedFor(t *testing.T) {
	for _, f := range []*face{regular(), bold()} {
		var ids []sfnt.GlyphIndex
		for _, r := range "aÅéё" {
			ids = append(ids, f.letter(r).id)
		}
		small := subset(f.file, ids)
		if len(small) > len(f.file)/3 {
			t.Errorf("%s: %d of %d bytes", f.name, len(small), len(f.file))
		}
		if sum := sumOf(small); sum != 0xB1B0AFBA {
			t.Errorf("%s: the sum of the file is %X", f.name, sum)
		}
		t2, t1 := tablesOf(small), tablesOf(f.file)
		for _, name := range keptTables {
			if len(t1[name]) > 0 && len(t2[name]) == 0 {
				t.Errorf("%s: table %q is gone", f.name, name)
			}
		}
	}
}
