package exports

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/peer"
)

// series is the demo cut into two studies.
func series() []SeriesPart {
	whole := demoReport()
	cut := func(title string, from, to int) SeriesPart {
		r := *whole
		r.Study.Title = title
		r.Phases = whole.Phases[from:to]
		return SeriesPart{Report: &r, Files: []SeriesFile{{Name: title + " <1>.html", Help: "notes & more"}}}
	}
	return []SeriesPart{cut("Standing", 0, 3), cut("Bending & kneeling", 3, 6), cut("Standing again", 0, 3)}
}

// TestSeriesTellsWhatEachStudyAdds: a study that repeats an earlier one adds
// nothing, what a study adds was in none before it, and together they make the
// whole.
func TestSeriesTellsWhatEachStudyAdds(t *testing.T) {
	var before coverage
	for i, p := range series() {
		c := coverageOf(p.Report, Options{}.withDefaults())
		adds := c.less(before)
		for _, name := range adds.works {
			if slices.Contains(before.works, name) {
				t.Errorf("study %d adds %q, which worked before", i+1, name)
			}
		}
		if empty := len(adds.works)+len(adds.long) == 0; empty != (i == 2) {
			t.Errorf("study %d adds %v", i+1, adds)
		}
		before = before.with(c)
		if got := before.less(c); len(got.works)+len(c.works) != len(before.works) {
			t.Errorf("study %d: %d parts work in all, %d here and %d before", i+1, len(before.works), len(c.works), len(got.works))
		}
	}
}

// TestSeriesInABrowser: the index keeps nobody out, asks for nothing, names every
// study, and is the same each time; also of studies without marks.
func TestSeriesInABrowser(t *testing.T) {
	empty := sampleReport(nil, nil, 0)
	nasty := sampleStudies()["hostile"]
	dir := t.TempDir()
	var paths []string
	for name, parts := range map[string][]SeriesPart{"demo": series(), "odd": {{Report: empty}, {Report: nasty}}} {
		var a, b bytes.Buffer
		if err := WriteSeries(&a, parts, Options{Tool: "1.2.3"}); err != nil {
			t.Fatal(err)
		}
		if err := WriteSeries(&b, parts, Options{Tool: "1.2.3"}); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: two runs differ", name)
		}
		if !bytes.Contains(a.Bytes(), []byte("Stop on pain")) {
			t.Errorf("%s: the caution is missing", name)
		}
		path := filepath.Join(dir, name+".html")
		if err := os.WriteFile(path, a.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	peer.Chromium(t)
	var results []pageResult
	peer.Read(t, &results, "page.mjs", paths...)
	for _, got := range results {
		if len(got.Problems)+len(got.Asked) > 0 {
			t.Errorf("%s: %q, asks for %q", got.File, got.Problems, got.Asked)
		}
		if strings.HasSuffix(got.File, "demo.html") && !slices.Contains(got.Headings, "2. Bending & kneeling") {
			t.Errorf("headings %q", got.Headings)
		}
	}
}
