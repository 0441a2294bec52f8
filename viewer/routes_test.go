package viewer

import (
	"net/http"
	"strings"
	"testing"
)

// TestNoGETWrites: in the table no row that writes is a GET, and asking for
// every readable address leaves the study as it was.
func TestNoGETWrites(t *testing.T) {
	dir := t.TempDir()
	x := serveIn(t, dir, withSound(t, dir, "warm-up.wav"))
	report := read[apiReport](t, x, "/api/report")
	tried := post[apiTried](t, x, "/api/try", map[string]any{"words": "standing", "glance": true})
	fill := strings.NewReplacer("{$}", "", "{file...}", "main.js", "{id}", strings.TrimPrefix(report.Recording.URL, "/media/"),
		"{number}", "2", "{muscle}", "0", "{format}", "captions", "{key}", report.Phases[1].Scene)
	before := x.revision(t)
	safe := 0
	for _, r := range x.routes {
		if r.method != "GET" {
			continue
		}
		safe++
		if r.writes {
			t.Errorf("%s %s writes", r.method, r.pattern)
		}
		status, body := x.get(t, fill.Replace(strings.Replace(r.pattern, "tried/{key}", "tried/"+tried.Key, 1)))
		if r.pattern == "/ws" {
			if status < 400 {
				t.Errorf("the socket answers a plain request with %d", status)
			}
		} else if status != http.StatusOK {
			t.Errorf("GET %s: %d %.100s", r.pattern, status, body)
		}
	}
	if safe < 8 {
		t.Errorf("only %d readable addresses were tried", safe)
	}
	if after := x.revision(t); after != before {
		t.Errorf("reading changed the study from revision %d to %d", before, after)
	}
	// What writes is not reached by a GET either.
	for _, r := range x.routes {
		if r.writes {
			if status, _ := x.get(t, strings.ReplaceAll(r.pattern, "{id}", "1")); status != http.StatusMethodNotAllowed {
				t.Errorf("GET %s: %d", r.pattern, status)
			}
		}
	}
}

// TestFaultsHaveAnswers: what a page may do wrong is answered with the status
// that says so, one line of what was wrong, and never with a change.
func TestFaultsHaveAnswers(t *testing.T) {
	x := serve(t, warmUp())
	long := strings.Repeat("a", maxBody+1)
	for _, c := range []struct {
		what, method, path string
		body               any
		status             int
	}{
		{"phase zero", "GET", "/api/phases/0", nil, 404},
		{"phase past the end", "GET", "/api/phases/99", nil, 404},
		{"phase that is no number", "GET", "/api/phases/first", nil, 404},
		{"muscle past the end", "GET", "/api/phases/1/muscles/100000", nil, 404},
		{"muscle below zero", "GET", "/api/phases/1/muscles/-1", nil, 404},
		{"unknown scene", "GET", "/api/scenes/ffffffffffffffff", nil, 404},
		{"mark without a time", "POST", "/api/marks", map[string]any{"title": "x"}, 400},
		{"mark before zero", "POST", "/api/marks", map[string]any{"at_ms": -1}, 422},
		{"mark past what can be kept", "POST", "/api/marks", map[string]any{"at_ms": int64(4e12)}, 422},
		{"control character", "PATCH", "/api/marks/1", map[string]any{"title": "a\x07b"}, 422},
		{"mark that is not there", "PATCH", "/api/marks/77", map[string]any{"title": "x"}, 404},
		{"removal of what is not there", "DELETE", "/api/marks/77", nil, 404},
		{"mark that is no number", "DELETE", "/api/marks/first", nil, 400},
		{"unknown field", "POST", "/api/marks", `{"at_ms":1,"colour":"red"}`, 400},
		{"two values", "POST", "/api/marks", `{"at_ms":1}{"at_ms":2}`, 400},
		{"not JSON", "POST", "/api/marks", `at_ms=1`, 400},
		{"wrong kind of value", "POST", "/api/marks", `{"at_ms":"soon"}`, 400},
		{"time with a fraction", "POST", "/api/marks", `{"at_ms":1.5}`, 400},
		{"nothing at all", "POST", "/api/marks", ``, 400},
		{"too long", "POST", "/api/marks", `{"at_ms":1,"title":"` + long + `"}`, 413},
		{"nothing to try", "POST", "/api/try", map[string]any{}, 400},
		{"words and dials at once", "POST", "/api/try", map[string]any{"words": "standing", "state": map[string]any{}}, 400},
		{"a movement that nobody has", "POST", "/api/try", `{"state":{"positions":[{"movement":"tail_flexion","value_deg":1}]}}`, 400},
		{"a dial turned round and round", "POST", "/api/try", `{"state":{"positions":[{"movement":"knee_flexion_r","value_deg":1e6}]}}`, 400},
		{"a cue beyond all strength", "POST", "/api/try", `{"state":{"cues":[{"kind":"brace","movement":"knee_flexion_r","intensity":2}]}}`, 400},
		{"a load of nothing", "POST", "/api/try", `{"state":{"loads":[{"kind":"carry","patch":"palm_r","mass_kg":0}]}}`, 400},
		{"a load where there is no body", "POST", "/api/try", `{"state":{"loads":[{"kind":"carry","patch":"tail","mass_kg":2}]}}`, 400},
		{"a stance that nobody takes", "POST", "/api/try", `{"state":{"stance":"flying"}}`, 400},
		{"muscle of a posture never tried", "GET", "/api/tried/ffffffffffffffff/muscles/0", nil, 404},
		{"too long to read", "POST", "/api/read", `{"words":"` + long + `"}`, 413},
		{"nothing to undo", "POST", "/api/undo", nil, 409},
		{"nothing to redo", "POST", "/api/redo", nil, 409},
	} {
		before := x.revision(t)
		status, body, h := x.do(t, c.method, c.path, c.body)
		if status != c.status {
			t.Errorf("%s: %d, expected %d: %.120s", c.what, status, c.status, body)
		}
		if !strings.HasPrefix(h.Get("Content-Type"), "application/json") || !strings.Contains(body, `"error":"`) || strings.Contains(strings.TrimSpace(body), "\n") {
			t.Errorf("%s: answered %q", c.what, body)
		}
		if strings.Contains(body, "<") {
			t.Errorf("%s: markup in the answer", c.what)
		}
		if x.revision(t) != before {
			t.Errorf("%s: the study was changed", c.what)
		}
	}
	status, _, _ := x.do(t, "POST", "/api/marks", `{"at_ms":1}`, "Content-Type", "text/plain")
	if status != http.StatusBadRequest {
		t.Errorf("a form of another page: %d", status)
	}
}
