package exports

import (
	"slices"
	"strings"
	"testing"

	"tautline/testdata/peer"
)

// pageResult is what a browser made of one page.
type pageResult struct {
	File     string            `json:"file"`
	Problems []string          `json:"problems"`
	Asked    []string          `json:"asked"`
	Headings []string          `json:"headings"`
	Keys     map[string]string `json:"keys"`
}

// inPage opens pages in a browser: nothing that keeps people out, nothing asked
// for, every phase under its heading. A study of 10,000 phases is left to its
// readers' patience.
func inPage(t *testing.T, files []sample) {
	peer.Chromium(t)
	var paths []string
	var opened []sample
	for _, s := range files {
		if s.study != "crowd" {
			paths, opened = append(paths, s.path), append(opened, s)
		}
	}
	var results []pageResult
	peer.Read(t, &results, "page.mjs", paths...)
	for i, got := range results {
		s := opened[i]
		for _, p := range got.Problems {
			t.Errorf("%s: %s", s, p)
		}
		if len(got.Asked) > 0 {
			t.Errorf("%s asks for %q", s, got.Asked)
		}
		for k := range s.report().Phases {
			want := strings.Join(strings.Fields(pictureTitle(&s.report().Phases[k])), " ")
			if s.format == "notes-html" && !slices.ContainsFunc(got.Headings, func(h string) bool { return strings.Join(strings.Fields(h), " ") == want }) {
				t.Errorf("%s: no heading %.60q", s, want)
			}
		}
	}
}

// underKeys holds the review page to its keys on a study of known times.
func underKeys(t *testing.T, files []sample) {
	peer.Chromium(t)
	for _, s := range files {
		if s.study != "plain" || s.o.Voice == Technical {
			continue
		}
		var results []pageResult
		peer.Read(t, &results, "page.mjs", s.path)
		want := map[string]string{"End": "5 80000", "Home": "1 0", "]": "2 12500", "[": "1 0", "ArrowRight": "1 1000"}
		for key, place := range want {
			if results[0].Keys[key] != place {
				t.Errorf("%s leads to %q, want %q", key, results[0].Keys[key], place)
			}
		}
	}
}
