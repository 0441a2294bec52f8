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
