package exports

import (
	"encoding/json"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// inSchema holds JSON files to the schema of their format: our published one, or
// for formats that others define one of ours in testdata/schema.
func inSchema(t *testing.T, files []sample) {
	schema := filepath.Join("testdata", "schema", files[0].format+".json")
	if files[0].format == "json" {
		schema = "report.schema.json"
	}
	args := []string{schema}
	for _, f := range files {
		args = append(args, f.path)
	}
	var problems []string
	if peer.Read(t, &problems, "schema.mjs", args...); len(problems) > 0 {
		t.Errorf("%d problems: %q", len(problems), problems[:min(5, len(problems))])
	}
}

// load decodes a JSON file.
func load(t *testing.T, f sample, value any) {
	t.Helper()
	text, err := os.ReadFile(f.path)
	if err == nil {
		err = json.Unmarshal(text, value)
	}
	if err != nil {
		t.Fatalf("%s: %v", f, err)
	}
}

// asReport reads the phases of the report, with every title as it was typed.
func asReport(t *testing.T, files []sample) {
	for _, f := range files {
		var doc ReportDocument
		load(t, f, &doc)
		r := f.report()
		if len(doc.Phases) != len(r.Phases) || doc.Study.Revision != r.Study.Revision || !slices.Equal(doc.Care, careText) {
			t.Errorf("%s: %d phases of revision %d", f, len(doc.Phases), doc.Study.Revision)
			continue
		}
		for i, p := range doc.Phases {
			want := &r.Phases[i]
			if p.FromMs != int64(want.From) || p.ToMs != int64(want.To) || p.Title != string([]rune(want.Mark.Title)) {
				t.Errorf("%s, phase %d: %d to %d, %q", f, i+1, p.FromMs, p.ToMs, p.Title)
			}
		}
	}
}

// inPythonTable lets Python's reader of RFC 4180 take the tables apart.
func inPythonTable(t *testing.T, files []sample) {
	args := make([]string, len(files))
	for i, f := range files {
		args[i] = f.path
	}
	var tables []struct {
		Lines int // that end in CRLF
		Rows  [][]string
	}
	peer.Tables(t, &tables, args...)
	for i, got := range tables {
		f, r := files[i], files[i].report()
		if got.Lines != len(got.Rows) || len(got.Rows) == 0 {
			t.Errorf("%s: %d rows in %d lines", f, len(got.Rows), got.Lines)
			continue
		}
		column := map[string]int{}
		for k, name := range got.Rows[0] {
			column[name] = k
		}
		rows := map[string]int{} // of each phase
		for n, row := range got.Rows {
			if len(row) != len(got.Rows[0]) {
				t.Errorf("%s, row %d: %d fields of %d", f, n, len(row), len(got.Rows[0]))
				continue
			}
			if row[column["phase"]] != "" && n > 0 {
				number := int(ms(t, row[column["phase"]]) / 1000)
				p := &r.Phases[number-1]
				rows[row[column["phase"]]]++
				if ms(t, row[column["from_s"]]) != p.From || ms(t, row[column["to_s"]]) != p.To {
					t.Errorf("%s, row %d: %s to %s, want %v to %v", f, n, row[column["from_s"]], row[column["to_s"]], p.From, p.To)
				}
				if k, there := column["title"]; there && row[k] != cleanLine(p.Mark.Title) {
					t.Errorf("%s, row %d: title %.80q, want %.80q", f, n, row[k], p.Mark.Title)
				}
			}
		}
		if len(rows) != len(r.Phases) {
			t.Errorf("%s: rows of %d phases of %d", f, len(rows), len(r.Phases))
		}
	}
}

var fragmentTime = regexp.MustCompile(`^t=(\d+(?:\.\d+)?),(\d+(?:\.\d+)?)$`)

// asAnnotations reads the fragments and the tags of annotations.
func asAnnotations(t *testing.T, files []sample) {
	for _, f := range files {
		var page struct {
			PartOf struct{ Total int }
			Items  []struct {
				ID     string
				Body   []struct{ Purpose, Value string }
				Target struct {
					Source   string
					Selector struct{ Value string }
				}
			}
		}
		load(t, f, &page)
		got, want := []peerCue{}, f.plainCues(t)
		for i, a := range page.Items {
			if _, err := url.Parse(a.Target.Source); err != nil || a.Target.Source == "" || f.o.URL != "" && a.Target.Source != f.o.URL {
				t.Errorf("%s: source %q", f, a.Target.Source)
			}
			if i == 0 {
				if !strings.Contains(a.Body[0].Value, "Stop on pain") || a.Target.Selector.Value != "" {
					t.Errorf("%s: the first annotation is %v", f, a)
				}
				continue
			}
			m := fragmentTime.FindStringSubmatch(a.Target.Selector.Value)
			if m == nil {
				t.Fatalf("%s: fragment %q", f, a.Target.Selector.Value)
			}
			_, id, _ := strings.Cut(a.ID, "#")
			got = append(got, peerCue{id, ms(t, m[1]), ms(t, m[2]), a.Body[0].Value})
		}
		compareCues(t, f.String(), got, want, true)
		if page.PartOf.Total != len(page.Items) {
			t.Errorf("%s: %d of %d", f, len(page.Items), page.PartOf.Total)
		}
	}
}

// plainCues are the chapters with titles that carry no groups.
func (s sample) plainCues(t *testing.T) []Cue {
	s.o.TitleGroups = false
	return s.cues(t)
}

// asClips reads the clips: within the recording, each address a fragment of its own.
func asClips(t *testing.T, files []sample) {
	for _, f := range files {
		var doc struct {
			Duration string
			HasPart  []struct {
				Name                   string
				StartOffset, EndOffset json.Number
				URL                    string
			}
		}
		load(t, f, &doc)
		got := []peerCue{}
		addresses := map[string]bool{}
		for _, c := range doc.HasPart {
			got = append(got, peerCue{From: ms(t, c.StartOffset.String()), To: ms(t, c.EndOffset.String()), Text: c.Name})
			addresses[c.URL] = true
			if bare, _, _ := strings.Cut(c.URL, "#"); bare != f.o.URL {
				t.Errorf("%s: address %q", f, c.URL)
			}
		}
		compareCues(t, f.String(), got, f.cues(t), false)
		if f.o.URL != "" && len(addresses) != len(got) {
			t.Errorf("%s: %d addresses for %d clips", f, len(addresses), len(got))
		}
		seconds := strings.TrimSuffix(strings.TrimPrefix(doc.Duration, "PT"), "S")
		if over := ms(t, seconds) - end(f.report()); over < 0 || over >= 1000 {
			t.Errorf("%s: lasts %q, want %v", f, doc.Duration, end(f.report()))
		}
	}
}

// TestCellsThatLookLikeFormulasAreGuarded, when asked and only then.
func TestCellsThatLookLikeFormulasAreGuarded(t *testing.T) {
	for _, title := range []string{"=1+1", "+plus", "-dash", "@here"} {
		for _, guard := range []bool{false, true} {
			var b strings.Builder
			r := sampleReport([]string{title}, []timeline.Instant{0}, 20_000)
			if err := writeFindingsTable(&b, r, Options{GuardCells: guard}); err != nil {
				t.Fatal(err)
			}
			if got := strings.Contains(b.String(), ",'"+title); got != guard {
				t.Errorf("%q, guard %v: guarded %v", title, guard, got)
			}
			if strings.Contains(b.String(), "'-0") {
				t.Error("a figure is guarded")
			}
		}
	}
}
