package exports

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"tautline/exports/draw"
)

// TestScoreShowsWhatThePhasesSay: for the demo, every row that works somewhere
// has a finding of work there, and what the phases say most stands in a row.
func TestScoreShowsWhatThePhasesSay(t *testing.T) {
	r := demoReport()
	rows, _ := newSpeaker(r.Model, Plain).scoreRows(r)
	if len(rows) < 15 || len(rows) > mostRows {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		if len(row.Does) != len(r.Phases) {
			t.Errorf("%s: %d phases", row.Name, len(row.Does))
		}
		for i, d := range row.Does {
			if math.IsNaN(d.Effort) || d.Effort < 0 || d.Effort > 1 || d.Place < -0.5 || d.Place > 1.5 {
				t.Errorf("%s, phase %d: %+v", row.Name, i+1, d)
			}
			if d.Works && !r.Phases[i].Findings.Effort.Held && d.Firm {
				t.Errorf("%s, phase %d: firm work in a posture that is not held", row.Name, i+1)
			}
		}
	}
	names := map[string]bool{}
	for _, row := range rows {
		names[row.Name+row.Side.brief()] = true
	}
	for _, row := range rows {
		if row.Side == nowhere && (names[row.Name+onRight.brief()] || names[row.Name+onLeft.brief()]) {
			t.Errorf("%s has a row for both sides and one of its own", row.Name)
		}
	}
}

// TestScoreIsAsWideAsItsStudy: phases lie where their times are, none outside,
// and 10,000 of them cost no more places than there are pixels.
func TestScoreIsAsWideAsItsStudy(t *testing.T) {
	for name, r := range sampleStudies() {
		began := time.Now()
		p, _ := scorePicture(r, Options{}.withDefaults())
		var b bytes.Buffer
		if err := p.SVG(&b); err != nil {
			t.Fatal(err)
		}
		if b.Len() > 4_000_000 {
			t.Errorf("%s: %d bytes", name, b.Len())
		}
		if took := time.Since(began); took > 20*time.Second {
			t.Errorf("%s: %v", name, took)
		}
		var walk func(items []draw.Item, shift draw.Pt)
		walk = func(items []draw.Item, shift draw.Pt) {
			for _, item := range items {
				switch v := item.(type) {
				case draw.Group:
					walk(v.Items, draw.Pt{X: shift.X + v.Shift.X, Y: shift.Y + v.Shift.Y})
				case draw.Area:
					for _, ring := range v.Rings {
						for _, q := range ring {
							if !(q.X+shift.X >= -1 && q.X+shift.X <= p.W+1 && q.Y+shift.Y >= -1 && q.Y+shift.Y <= p.H+1) {
								t.Fatalf("%s: something lies at %.0f, %.0f of %.0f by %.0f", name, q.X, q.Y, p.W, p.H)
							}
						}
					}
				case draw.Text:
					if w := draw.Width(v.Body, v.Size, v.Bold); (v.Anchor == draw.End && v.X-w < 0) || (v.Anchor == draw.Start && v.X+w > p.W) {
						t.Errorf("%s: %.30q leaves the picture", name, v.Body)
					}
				}
			}
		}
		walk(p.Items, draw.Pt{})
	}
}

// TestSheetShowsEveryPhaseOfTheDemo, with its title and its labels, and says of
// a long study how much is shown.
func TestSheetShowsEveryPhaseOfTheDemo(t *testing.T) {
	var b bytes.Buffer
	if err := writeSheet(&b, demoReport(), Options{}); err != nil {
		t.Fatal(err)
	}
	said := svgWords(t, bytes.NewReader(b.Bytes()))
	for _, m := range demoReport().Study.Marks {
		if !strings.Contains(said, m.Title) {
			t.Errorf("%q is missing", m.Title)
		}
	}
	if n := strings.Count(b.String(), `class="phase"`); n != len(demoReport().Phases) {
		t.Errorf("%d figures", n)
	}
	var told []string
	sheetPicture(sampleStudies()["crowd"], Options{Warn: func(s string) { told = append(told, s) }}, 0)
	if want := "the sheet shows the first 60 of 10000 phases"; len(told) != 1 || told[0] != want {
		t.Errorf("told %q, want %q", told, want)
	}
}

func BenchmarkScore(b *testing.B) {
	r := demoReport()
	for b.Loop() {
		if err := writeScore(new(bytes.Buffer), r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
