package viewer

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"
)

// TestScoreTellsWhatThePhasesTell: read back, every character of the score says
// what the findings of its phase say, to the fineness of a character.
func TestScoreTellsWhatThePhasesTell(t *testing.T) {
	x := serve(t, warmUp())
	got := read[apiScore](t, x, "/api/score")
	if len(got.Phases) != 4 || got.Phases[1] != got.Phases[2] || got.Phases[0] == got.Phases[1] || len(got.Stands) != 3 {
		t.Fatalf("phases %v, %d stands", got.Phases, len(got.Stands))
	}
	value := func(column string, i int) float64 { return float64(strings.IndexByte(scoreDigits, column[i])) }
	working := 0
	for n, at := range got.Phases {
		m := read[apiFindings](t, x, fmt.Sprintf("/api/phases/%d", n+1)).Muscles
		s := got.Stands[at]
		for _, column := range []string{s.Looks, s.Places, s.Efforts, s.Lows, s.Highs} {
			if len(column) != len(m.Roles) {
				t.Fatalf("phase %d: %d characters for %d muscles", n+1, len(column), len(m.Roles))
			}
		}
		for i := range m.Roles {
			look := int(value(s.Looks, i))
			if "qslw"[look/5] != m.Roles[i] || "gnylm"[look%5] != m.Grades[i] {
				t.Fatalf("phase %d, muscle %d: look %d for %c%c", n+1, i, look, m.Roles[i], m.Grades[i])
			}
			effort := math.Pow(value(s.Efforts, i)/63, 2)
			if math.Abs(effort-float64(m.Efforts[i])/1000) > 0.017 {
				t.Errorf("phase %d, muscle %d: effort %.3f for %d", n+1, i, effort, m.Efforts[i])
			}
			place := max(0, min(1, float64(m.Places[i])/1000))
			if math.Abs(value(s.Places, i)/63-place) > 0.009 {
				t.Errorf("phase %d, muscle %d: place %.0f for %.3f", n+1, i, value(s.Places, i), place)
			}
			if value(s.Lows, i) > value(s.Efforts, i)+1 || value(s.Highs, i) < value(s.Efforts, i) {
				t.Errorf("phase %d, muscle %d: effort outside its span", n+1, i)
			}
			if m.Roles[i] == 'w' {
				working++
			}
		}
	}
	if working == 0 {
		t.Error("no muscle works in any phase: nothing was compared")
	}
}

// TestScoreIsTagged: asked again it is not sent again; a change of a title does
// not change it, a change of words does.
func TestScoreIsTagged(t *testing.T) {
	x := serve(t, warmUp())
	_, _, h := x.do(t, "GET", "/api/score", nil)
	again := func() int {
		status, _, _ := x.do(t, "GET", "/api/score", nil, "If-None-Match", h.Get("ETag"))
		return status
	}
	if got := again(); got != http.StatusNotModified {
		t.Errorf("asked again: %d", got)
	}
	x.do(t, "PATCH", "/api/marks/1", map[string]any{"title": "Stand"})
	if got := again(); got != http.StatusNotModified {
		t.Errorf("with another title: %d", got)
	}
	x.do(t, "PATCH", "/api/marks/1", map[string]any{"words": "sitting"})
	if got := again(); got != http.StatusOK {
		t.Errorf("with other words: %d", got)
	}
}
