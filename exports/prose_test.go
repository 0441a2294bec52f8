package exports

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestDemoReadsAsProse keeps what the demo's captions, chapters and notes say, to
// be read aloud when the model or the wording changes:
//
//	go test ./exports -run Prose -update
func TestDemoReadsAsProse(t *testing.T) {
	for _, format := range []string{"captions", "chapters", "notes"} {
		f, err := FormatNamed(format)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []Voice{Plain, Technical} {
			if format == "notes" && v == Technical {
				continue // full of figures, which move with the model
			}
			var b strings.Builder
			r := demoReport()
			if err := f.Write(&b, r, Options{Tool: "1.2.3", Voice: v, TitleGroups: format == "chapters", Title: 100}); err != nil {
				t.Fatal(err)
			}
			text := strings.ReplaceAll(b.String(), r.Model.Version, "VERSION")
			path := filepath.Join("testdata", "golden", "demo", fmt.Sprintf("%s.%s", v, f.File))
			if *update {
				if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if string(want) != text {
				t.Errorf("%s says something else now; read it aloud, then run with -update:\n%s", path, firstChange(string(want), text))
			}
		}
	}
}

var (
	oddities = regexp.MustCompile(`  | [.,;:]|[.,;:]{2}|\ba [aeiou]|,[.]|\b(?:the|a|of|on|and) [.,;:]`)
)

// TestSentencesOfTheDemoAreEnglish: whole, without a word said twice running, and
// with verbs that agree with the things named.
func TestSentencesOfTheDemoAreEnglish(t *testing.T) {
	n := 0
	for _, v := range []Voice{Plain, Technical} {
		sp := newSpeaker(demoReport().Model, v)
		for _, p := range demoReport().Phases {
			all := append(sp.posture(p.Findings), sp.changes(p.Findings)...)
			for _, s := range append(append(all, sp.movement(p.Movement)...), sp.wayWork(p.Movement)...) {
				for _, text := range s.forms() {
					n++
					words := strings.Fields(text)
					for i := 1; i < len(words); i++ {
						if strings.EqualFold(words[i], words[i-1]) {
							t.Errorf("%q says %q twice", text, words[i])
						}
					}
					if !strings.HasSuffix(text, ".") || text[:1] != strings.ToUpper(text[:1]) || oddities.MatchString(text) {
						t.Errorf("no English sentence: %q", text)
					}
				}
				subject, _, _ := strings.Cut(strings.TrimPrefix(s.Text, "The "), " is ")
				if strings.Contains(s.Text, " is ") && !strings.Contains(subject, " ") && plural(subject) {
					t.Errorf("%q: one verb for many", s.Text)
				}
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d sentences", n)
	}
}
