package viewer

import (
	"encoding/json"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"tautline/timeline"
)

// TestReportAnswers: what the page is told is the study, and nothing is null
// that a page would walk through.
func TestReportAnswers(t *testing.T) {
	x := serve(t, warmUp())
	r := read[apiReport](t, x, "/api/report")
	if r.Study.Title != "Warm-up for orchard pickers" || len(r.Phases) != 4 || r.Tool != "test" || r.Recording != nil {
		t.Fatalf("told %+v", r)
	}
	if len(r.Care) < 3 {
		t.Errorf("care says %q", r.Care)
	}
	if !r.Phases[1].Hold || r.Phases[0].Hold {
		t.Errorf("holds: %v %v, expected movement then hold", r.Phases[0].Hold, r.Phases[1].Hold)
	}
	if p := r.Phases[2]; p.Words != "" || p.InForce != r.Phases[1].Words {
		t.Errorf("the posture so far: words %q, in force %q", p.Words, p.InForce)
	}
	if r.Phases[3].Doubts == 0 {
		t.Error("words not understood count as no doubt")
	}
	null := regexp.MustCompile(`"(\w+)":null`)
	for _, path := range []string{"/api/report", "/api/model", "/api/frames", "/api/phases/1", "/api/phases/2", "/api/phases/4?voice=technical", "/api/phases/1/muscles/0", "/api/scenes/" + r.Phases[0].Scene} {
		_, body := x.get(t, path)
		for _, m := range null.FindAllStringSubmatch(body, -1) {
			if m[1] != "recording" {
				t.Errorf("%s: %s is null", path, m[1])
			}
		}
	}
}

// TestEffortAnswers: how firmly the posture is held, and what by, reaches the
// page with every muscle's effort; what is not told apart comes with spans.
func TestEffortAnswers(t *testing.T) {
	st := warmUp()
	st.Marks = st.Marks[:1]
	st.Marks[0].Words = "standing; knees flexed 45"
	x := serve(t, st)
	f := read[apiFindings](t, x, "/api/phases/1?voice=technical")
	if !f.Held.Held || f.Held.Text != "" || !strings.Contains(f.Held.Supports, "foot") || !strings.Contains(f.Held.NearBest, "10%") {
		t.Errorf("held: %+v", f.Held)
	}
	m := read[apiModel](t, x, "/api/model")
	most := 0
	for _, e := range f.Muscles.Efforts {
		most = max(most, e)
	}
	if len(f.Muscles.Efforts) != len(m.Muscles) || len(f.Muscles.NextEfforts) != len(m.Muscles) || most < 100 || most > 1000 {
		t.Errorf("%d and %d efforts, the most %d", len(f.Muscles.Efforts), len(f.Muscles.NextEfforts), most)
	}
	firm, open := false, false
	for _, s := range f.Statements {
		firm = firm || s.Kind == "work" && (s.Grade == "must" || s.Grade == "likely") && len(s.Reasons) > 2
		open = open || s.Kind == "untold" && len(s.Spans) > 1
		for _, span := range s.Spans {
			if span.Lo > span.Best || span.Best > span.Hi || span.Hi > 1 {
				t.Errorf("%s: %+v", s.Text, span)
			}
		}
	}
	if !firm || !open {
		t.Errorf("bent knees: something firm works %v, something is not told apart %v", firm, open)
	}
}

// TestEmptyStudyAnswers: a study without a mark has a page too.
func TestEmptyStudyAnswers(t *testing.T) {
	x := serve(t, timeline.Study{Title: "New", Person: timeline.Person{StatureM: 1.6, MassKg: 60, Sex: "female"}})
	r := read[apiReport](t, x, "/api/report")
	if len(r.Phases) != 0 || r.Phases == nil || r.EndMS != 0 {
		t.Errorf("told %+v", r)
	}
	if m := read[apiModel](t, x, "/api/model"); len(m.Parts) < 50 {
		t.Errorf("%d parts of the body", len(m.Parts))
	}
}

// TestUnchangedIsNotSentAgain: with the tag of the last answer the answer is
// 304 and empty, until something changes.
func TestUnchangedIsNotSentAgain(t *testing.T) {
	x := serve(t, warmUp())
	report := read[apiReport](t, x, "/api/report")
	paths := []string{"/api/report", "/api/model", "/api/phases/2", "/api/phases/2?voice=technical", "/api/scenes/" + report.Phases[0].Scene, "/web/main.js", "/"}
	tags := map[string]string{}
	for _, path := range paths {
		_, _, h := x.do(t, "GET", path, nil)
		tags[path] = h.Get("ETag")
		status, body, _ := x.do(t, "GET", path, nil, "If-None-Match", h.Get("ETag"))
		if status != http.StatusNotModified || body != "" {
			t.Errorf("%s with its tag: %d, %d bytes", path, status, len(body))
		}
	}
	if tags["/api/phases/2"] == tags["/api/phases/2?voice=technical"] {
		t.Error("both voices share a tag")
	}
	x.do(t, "PATCH", "/api/marks/2", map[string]any{"words": "standing; knees flexed 90"})
	for path, changed := range map[string]bool{"/api/report": true, "/api/phases/2": true, "/api/model": false, "/web/main.js": false} {
		status, _, _ := x.do(t, "GET", path, nil, "If-None-Match", tags[path])
		if got := status == http.StatusOK; got != changed {
			t.Errorf("%s after a change: %d", path, status)
		}
	}
}

// TestFindingsAreTold: a phase has sentences with their reasons, and the
// muscles that they rest on are the model's.
func TestFindingsAreTold(t *testing.T) {
	x := serve(t, warmUp())
	model := read[apiModel](t, x, "/api/model")
	f := read[apiFindings](t, x, "/api/phases/2")
	if len(f.Statements) == 0 {
		t.Fatal("nothing is said about an overhead reach on toes")
	}
	reasons := 0
	for _, s := range f.Statements {
		if s.Text == "" || s.Kind == "" || s.Grade == "" {
			t.Errorf("statement %+v", s)
		}
		reasons += len(s.Reasons)
		for _, m := range s.Muscles {
			if m < 0 || m >= len(model.Muscles) {
				t.Fatalf("%q rests on muscle %d of %d", s.Text, m, len(model.Muscles))
			}
		}
		for _, r := range s.Reasons {
			if r.Text == "" {
				t.Errorf("%q: a reason without words", s.Text)
			}
		}
	}
	if reasons == 0 {
		t.Error("no statement has a reason")
	}
	n := len(model.Muscles)
	if len(f.Muscles.Roles) != n || len(f.Muscles.Grades) != n || len(f.Muscles.NextRoles) != n || len(f.Muscles.NextGrades) != n || len(f.Muscles.Places) != n {
		t.Errorf("columns of %d, %d, %d for %d muscles", len(f.Muscles.Roles), len(f.Muscles.Grades), len(f.Muscles.Places), n)
	}
	if len(f.Cautions) == 0 {
		t.Error("no caution about balance on toes")
	}
	m := read[apiMuscle](t, x, "/api/phases/2/muscles/0")
	if m.Name == "" || m.State == "" || m.Length == "" || len(m.Sources) == 0 {
		t.Errorf("a muscle is told as %+v", m)
	}
	if first := read[apiFindings](t, x, "/api/phases/1"); len(first.Movement) == 0 {
		t.Error("nothing is said about the way up")
	}
}

// TestWordsAreRead: understood in canonical words; what is not understood at
// its place, counted as a page counts.
func TestWordsAreRead(t *testing.T) {
	x := serve(t, warmUp())
	for _, words := range []string{"standing; kness soft", "standing; 膝𝄞 soft; shoulders flexed 90", "😀; standing"} {
		status, body, _ := x.do(t, "POST", "/api/read", map[string]string{"words": words})
		var r apiReading
		if err := json.Unmarshal([]byte(body), &r); err != nil || status != 200 {
			t.Fatalf("%d %s", status, body)
		}
		if !strings.Contains(r.Canonical, "standing") {
			t.Errorf("%q understood as %q", words, r.Canonical)
		}
		if len(r.Unknown) == 0 {
			t.Errorf("%q: nothing is unknown", words)
		}
		units := utf16.Encode([]rune(words))
		for _, u := range r.Unknown {
			if u.From < 0 || u.To > len(units) || u.From >= u.To {
				t.Errorf("%q: unknown from %d to %d of %d", words, u.From, u.To, len(units))
				continue
			}
			if got := string(utf16.Decode(units[u.From:u.To])); got != u.Text {
				t.Errorf("%q: the place holds %q, the text is %q", words, got, u.Text)
			}
		}
	}
	if x.revision(t) != 1 {
		t.Error("reading words changed the study")
	}
}
