package exports

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"tautline/timeline"
)

// TestEveryWriterTakesEveryStudy holds every format to what all must do with
// any study: write it or refuse by name, the same bytes each time, valid UTF-8
// without control characters, with who made it.
func TestEveryWriterTakesEveryStudy(t *testing.T) {
	for name, r := range sampleStudies() {
		for _, f := range Formats() {
			for _, voice := range voices(name) {
				if name == "crowd" && !unread[f.Name] {
					continue // other programs read it: it is written there
				}
				o := Options{Tool: "1.2.3", Voice: voice}
				var first, second bytes.Buffer
				err := f.Write(&first, r, o)
				if again := f.Write(&second, r, o); (err == nil) != (again == nil) || !bytes.Equal(first.Bytes(), second.Bytes()) {
					t.Errorf("%s, %s: two runs differ", name, f.Name)
				}
				var few *ChapterListError
				if err != nil && !(f.Name == "chapter-list" && errors.As(err, &few)) {
					t.Errorf("%s, %s: %v", name, f.Name, err)
				}
				text := first.String()
				if f.Binary() {
					text = "" // its words are looked for below
				}
				if !utf8.ValidString(text) {
					t.Errorf("%s, %s: not UTF-8", name, f.Name)
				}
				if i := strings.IndexFunc(text, func(r rune) bool {
					return r < ' ' && r != '\n' && r != '\r' || r == 0x7f && f.Name != "json" && f.Name != "metadata"
				}); i >= 0 {
					t.Errorf("%s, %s: control character %q", name, f.Name, text[i])
				}
				if f.Name == "srt" || f.Name == "muscle-table" && name == "empty" || err != nil {
					continue // no place for it; no rows; no file
				}
				for _, must := range []string{"tautline 1.2.3", "Stop on pain, dizziness or numbness."} {
					if !bytes.Contains(first.Bytes(), []byte(must)) {
						t.Errorf("%s, %s: %q is missing", name, f.Name, must)
					}
				}
			}
		}
	}
}

func TestCaptionsReadBackByStrictReaders(t *testing.T) {
	for name, r := range sampleStudies() {
		want, _, err := Captions(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var vtt, srt bytes.Buffer
		if err := errors.Join(writeCaptionsVTT(&vtt, r, Options{}), writeCaptionsSRT(&srt, r, Options{})); err != nil {
			t.Fatal(err)
		}
		got, _, err := readVTT(vtt.String(), false)
		if err != nil {
			t.Fatalf("%s: WebVTT: %v", name, err)
		}
		if !slices.EqualFunc(got, want, sameCue) {
			t.Errorf("%s: WebVTT reads back as other cues", name)
		}
		plain, err := readSRT(srt.String())
		if err != nil {
			t.Fatalf("%s: SRT: %v", name, err)
		}
		if len(plain) != len(want) {
			t.Fatalf("%s: SRT has %d cues of %d", name, len(plain), len(want))
		}
		for i, c := range plain {
			if c.From != want[i].From || c.To != want[i].To || !slices.Equal(c.Lines, srtLines(want[i].Lines)) {
				t.Errorf("%s: SRT cue %d: %v, want %v", name, i+1, c, want[i])
			}
		}
	}
}

// TestSRTHasNoMarkupAndNoStrayCounter: what players would take for either.
func TestSRTHasNoMarkupAndNoStrayCounter(t *testing.T) {
	got := srtLines([]string{"12", "a <b> {\\an8} --> c & d", "12 palms"})
	if want := []string{"12.", "a ‹b› (/an8) → c & d", "12 palms"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func sameCue(a, b Cue) bool {
	return a.ID == b.ID && a.From == b.From && a.To == b.To && slices.Equal(a.Lines, b.Lines)
}

func TestChaptersReadBackByAStrictReader(t *testing.T) {
	for name, r := range sampleStudies() {
		var b bytes.Buffer
		if err := writeChaptersVTT(&b, r, Options{}); err != nil {
			t.Fatal(err)
		}
		cues, _, err := readVTT(b.String(), false)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		chapters, _ := Chapters(r, Options{})
		if len(cues) != len(chapters) {
			t.Fatalf("%s: %d cues for %d chapters", name, len(cues), len(chapters))
		}
		for i, c := range cues {
			if c.From != chapters[i].From || c.To != chapters[i].To || !slices.Equal(c.Lines, []string{chapters[i].Title}) {
				t.Errorf("%s: chapter %d is %v, want %v", name, i+1, c, chapters[i])
			}
			if width(chapters[i].Title) > 70 {
				t.Errorf("%s: title of %d characters", name, width(chapters[i].Title))
			}
		}
	}
}

// TestPhasesWithoutACaptionAreTold: never silent about silence.
func TestPhasesWithoutACaptionAreTold(t *testing.T) {
	r := sampleStudies()["no length"]
	var told []string
	var b bytes.Buffer
	if err := writeCaptionsVTT(&b, r, Options{Warn: func(s string) { told = append(told, s) }}); err != nil {
		t.Fatal(err)
	}
	const want = "6 phases are too short for a caption: 1, 2, 3, 4, 5, 6"
	if len(told) != 1 || told[0] != want {
		t.Errorf("told %q, want %q", told, want)
	}
	_, notes, err := readVTT(b.String(), false)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(notes, want+".") {
		t.Errorf("the file's notes do not say it: %q", notes)
	}
}

// TestJSONHasNoNullSlice: JavaScript reads lengths without asking first.
func TestJSONHasNoNullSlice(t *testing.T) {
	nullable := map[string]bool{"analysis": true, "movement": true, "recording": true, "near_best_hi": true, "pull": true} // the last two where they were not looked for
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, inner := range v {
				if inner == nil && !nullable[k] {
					t.Errorf("%s.%s is null", path, k)
				}
				walk(path+"."+k, inner)
			}
		case []any:
			for _, inner := range v {
				walk(path+"[]", inner)
			}
		}
	}
	studies := maps.Clone(sampleStudies())
	studies["bare"] = &timeline.Report{Model: sampleModel(), Phases: []timeline.PhaseReport{{}}}
	for name, r := range studies {
		if name == "crowd" {
			continue
		}
		var b bytes.Buffer
		if err := WriteJSON(&b, r, Options{Tool: "1.2.3"}); err != nil {
			t.Fatal(err)
		}
		var doc map[string]any
		if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if doc["format"] != ReportFormat {
			t.Errorf("%s: format is %v", name, doc["format"])
		}
		walk(name, doc)
	}
}

func TestNumbersInJSON(t *testing.T) {
	nan := 0.0
	for _, c := range []struct {
		n    Number
		want string
	}{
		{mm(0.0123456), "12.35"}, {deg(0.5), "28.65"}, {share(1.0 / 3), "0.3333"}, {Number(-nan), "0"}, {mm(-1e-9), "0"},
		{Number(nan / nan), "null"}, {Number(1 / nan), "null"}, {Number(1e7), "10000000"},
	} {
		if got, err := json.Marshal(c.n); err != nil || string(got) != c.want {
			t.Errorf("%v is written %s, want %s (%v)", float64(c.n), got, c.want, err)
		}
	}
}

// TestWritersPassOnErrors: a full disk is never taken for a finished file.
func TestWritersPassOnErrors(t *testing.T) {
	r := sampleStudies()["plain"]
	for _, f := range Formats() {
		if err := f.Write(brokenWriter{}, r, Options{}); !errors.Is(err, io.ErrShortWrite) {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// TestManyPhasesOfJSON: a long study is written piece by piece.
func TestManyPhasesOfJSON(t *testing.T) {
	r := sampleStudies()["crowd"]
	w := &counting{}
	if err := WriteJSON(w, r, Options{}); err != nil {
		t.Fatal(err)
	}
	if w.lines < len(r.Phases) {
		t.Errorf("%d lines for %d phases", w.lines, len(r.Phases))
	}
}

type counting struct{ lines int }

func (c *counting) Write(p []byte) (int, error) {
	c.lines += bytes.Count(p, []byte("\n"))
	return len(p), nil
}

// voices are those that a study is written in: the longest in one is enough.
func voices(study string) []Voice {
	if study == "crowd" {
		return []Voice{Plain}
	}
	return []Voice{Plain, Technical}
}
