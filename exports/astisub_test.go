package exports

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/asticode/go-astisub"
)

// The tests of this file pin what keeps us from writing captions through the
// subtitle package. When one of them fails, a release has mended the defect:
// look at vtt.go and srt.go again.

func oneCue(lines ...string) *astisub.Subtitles {
	return asSubtitles([]Cue{{From: 0, To: 2000, Lines: lines}, {From: 3000, To: 4000, Lines: []string{"next"}}})
}

func written(t *testing.T, write func(*bytes.Buffer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestSubtitlePackageStillLosesCueIDs(t *testing.T) {
	s, err := astisub.ReadFromWebVTT(strings.NewReader("WEBVTT\n\nm12-1\n00:00.000 --> 00:02.000\nReach\n"))
	if err != nil {
		t.Fatal(err)
	}
	out := written(t, func(b *bytes.Buffer) error { return s.WriteToWebVTT(b) })
	if !strings.Contains(out, "Reach") || strings.Contains(out, "m12-1") {
		t.Errorf("cue ids survive now:\n%s", out)
	}
}

func TestSubtitlePackageStillWritesTheArrowRaw(t *testing.T) {
	out := written(t, func(b *bytes.Buffer) error { return oneCue("up --> down").WriteToWebVTT(b) })
	if !strings.Contains(out, "up --> down") {
		t.Errorf("the arrow is escaped now:\n%s", out)
	}
}

func TestSubtitlePackageStillWritesBlankLinesIntoCues(t *testing.T) {
	out := written(t, func(b *bytes.Buffer) error { return oneCue("one", "", "two").WriteToWebVTT(b) })
	if !strings.Contains(out, "one\n\ntwo") {
		t.Errorf("blank lines are mended now:\n%s", out)
	}
}

func TestSubtitlePackageStillEscapesSRTLikeHTML(t *testing.T) {
	out := written(t, func(b *bytes.Buffer) error { return oneCue("hip & knee").WriteToSRT(b) })
	if !strings.Contains(out, "hip &amp; knee") || !strings.HasPrefix(out, "\ufeff") {
		t.Errorf("SRT is no longer escaped, or has no byte order mark now:\n%q", out)
	}
}

func TestSubtitlePackageStillRefusesEmptyFiles(t *testing.T) {
	if err := astisub.NewSubtitles().WriteToWebVTT(&bytes.Buffer{}); err == nil {
		t.Error("a file without cues can be written now")
	}
}

// TestSubtitlePackageReadsWhatWeWrite: as a reader it is a peer that is always
// at hand. Its own reader takes NOTE and STYLE at the start of a line for
// blocks, so that the hostile study is left to the other peers.
func TestSubtitlePackageReadsWhatWeWrite(t *testing.T) {
	for name, r := range sampleStudies() {
		want, _, err := Captions(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if name == "hostile" {
			continue
		}
		vtt := written(t, func(b *bytes.Buffer) error { return writeCaptionsVTT(b, r, Options{}) })
		srt := written(t, func(b *bytes.Buffer) error { return writeCaptionsSRT(b, r, Options{}) })
		for format, read := range map[string]func() (*astisub.Subtitles, error){
			"WebVTT": func() (*astisub.Subtitles, error) { return astisub.ReadFromWebVTT(strings.NewReader(vtt)) },
			"SRT":    func() (*astisub.Subtitles, error) { return astisub.ReadFromSRT(strings.NewReader(srt)) },
		} {
			s, err := read()
			if err != nil {
				t.Fatalf("%s, %s: %v", name, format, err)
			}
			if len(s.Items) != len(want) {
				t.Fatalf("%s, %s: %d cues of %d", name, format, len(s.Items), len(want))
			}
			for i, item := range s.Items {
				lines := make([]string, len(item.Lines))
				for k, l := range item.Lines {
					lines[k] = l.String()
				}
				ms := func(d time.Duration) int64 { return d.Milliseconds() }
				if ms(item.StartAt) != int64(want[i].From) || ms(item.EndAt) != int64(want[i].To) || strings.Join(lines, "\n") != strings.Join(want[i].Lines, "\n") {
					t.Errorf("%s, %s, cue %d: %v to %v %q, want %v", name, format, i+1, item.StartAt, item.EndAt, lines, want[i])
				}
			}
		}
	}
}

func TestSubtitlePackageStillLeavesOutTheLanguageOfTTML(t *testing.T) {
	s := oneCue("Reach")
	s.Metadata = &astisub.Metadata{Language: "german"}
	out := written(t, func(b *bytes.Buffer) error { return s.WriteToTTML(b) })
	if !strings.Contains(out, "Reach") || strings.Contains(out, "xml:lang") || strings.Contains(out, "xml:id") || strings.HasPrefix(out, "<?xml") {
		t.Errorf("TTML has a language, ids or a declaration now:\n%s", out)
	}
}

func TestSubtitlePackageStillEscapesDataLikeText(t *testing.T) {
	out := written(t, func(b *bytes.Buffer) error { return oneCue(`{"a":"b & c"}`).WriteToWebVTT(b) })
	if !strings.Contains(out, "b &amp; c") {
		t.Errorf("data can be written into a track now:\n%s", out)
	}
}

// TestSubtitlePackageStillReadsNotesInCues: the reason why the hostile study is
// left to other peers, and why nothing is read back through it.
func TestSubtitlePackageStillReadsNotesInCues(t *testing.T) {
	s, err := astisub.ReadFromWebVTT(strings.NewReader("WEBVTT\n\n00:00.000 --> 00:02.000\nReach\nNOTE the pelvis\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Items) != 1 || len(s.Items[0].Lines) != 1 {
		t.Errorf("a line that begins with NOTE stays in its cue now: %+v", s.Items)
	}
}
