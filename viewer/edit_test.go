package viewer

import (
	"encoding/json"
	"net/http"
	"testing"
)

// TestMarksAreWritten: what the page adds, changes, moves, removes, takes back
// and does again is in the store, and one step each.
func TestMarksAreWritten(t *testing.T) {
	x := serve(t, warmUp())
	status, body, _ := x.do(t, "POST", "/api/marks", map[string]any{"at_ms": 6500, "title": "Reach higher"})
	var added apiChanged
	if err := json.Unmarshal([]byte(body), &added); err != nil || status != http.StatusCreated || added.Mark == 0 {
		t.Fatalf("adding: %d %s", status, body)
	}
	stored := func() (at int64, title, words string, there bool) {
		st, err := x.store.Load(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		m, ok := st.Mark(added.Mark)
		return int64(m.At), m.Title, m.Words, ok
	}
	for _, step := range []struct {
		what, method, path string
		body               any
		at                 int64
		title, words       string
		there              bool
	}{
		{"retitle", "PATCH", markPath(added.Mark), map[string]any{"title": "Reach"}, 6500, "Reach", "", true},
		{"words", "PATCH", markPath(added.Mark), map[string]any{"words": "standing"}, 6500, "Reach", "standing", true},
		{"move", "PATCH", markPath(added.Mark), map[string]any{"at_ms": 7000}, 7000, "Reach", "standing", true},
		{"several at once", "PATCH", markPath(added.Mark), map[string]any{"title": "A", "words": "", "at_ms": 1}, 1, "A", "", true},
		{"take back", "POST", "/api/undo", nil, 7000, "Reach", "standing", true},
		{"take back once more", "POST", "/api/undo", nil, 6500, "Reach", "standing", true},
		{"do again", "POST", "/api/redo", nil, 7000, "Reach", "standing", true},
		{"remove", "DELETE", markPath(added.Mark), nil, 0, "", "", false},
		{"bring back", "POST", "/api/undo", nil, 7000, "Reach", "standing", true},
	} {
		before := x.revision(t)
		if status, body, _ := x.do(t, step.method, step.path, step.body); status != http.StatusOK {
			t.Fatalf("%s: %d %s", step.what, status, body)
		}
		if got := x.revision(t); got != before+1 {
			t.Errorf("%s: revision %d after %d", step.what, got, before)
		}
		if at, title, words, there := stored(); at != step.at || title != step.title || words != step.words || there != step.there {
			t.Errorf("%s: stored %d %q %q %v", step.what, at, title, words, there)
		}
	}
	r := read[apiReport](t, x, "/api/report")
	if r.Undo == "" || r.Redo == "" && r.Phases == nil {
		t.Errorf("steps told: undo %q, redo %q", r.Undo, r.Redo)
	}
}

// TestWritesOfSeveralWindowsAreAllKept: windows and the command line write at
// once, and no acknowledged mark is lost.
func TestWritesOfSeveralWindowsAreAllKept(t *testing.T) {
	x := serve(t, warmUp())
	const windows, each = 6, 8
	errs := make(chan int, windows*each)
	for w := range windows {
		go func() {
			for i := range each {
				status, _, _ := x.do(t, "POST", "/api/marks", map[string]any{"at_ms": 100*w + i})
				errs <- status
			}
		}()
	}
	for range windows * each {
		if status := <-errs; status != http.StatusCreated {
			t.Errorf("a mark was answered with %d", status)
		}
	}
	if r := read[apiReport](t, x, "/api/report"); len(r.Phases) != 4+windows*each {
		t.Errorf("%d phases", len(r.Phases))
	}
}
