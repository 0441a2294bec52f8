package exports

import (
	"encoding/json"
	"encoding/xml"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// chaptersInFFprobe: the side file itself, recognised by its first line.
func chaptersInFFprobe(t *testing.T, files []sample) {
	for _, f := range files {
		compareCues(t, f.String(), probeChapters(t, f.path), f.cues(t), false)
	}
}

// chaptersIntoRecording puts the chapters into recordings of both kinds, as a
// maker would, and reads them back from there.
func chaptersIntoRecording(t *testing.T, files []sample) {
	peer.Need(t, "ffmpeg")
	tone := filepath.Join(t.TempDir(), "tone.m4a")
	peer.Run(t, "ffmpeg", "-v", "error", "-f", "lavfi", "-i", "anullsrc=r=8000:cl=mono", "-t", "600", "-c:a", "aac", "-b:a", "8k", tone)
	for _, f := range files {
		if f.study == "crowd" || len(f.cues(t)) == 0 {
			continue // longer than the recording; nothing to put in
		}
		for _, kind := range []string{".mp4", ".mkv"} {
			out := f.path + kind
			peer.Run(t, "ffmpeg", "-v", "error", "-y", "-i", tone, "-i", f.path, "-map", "0:a", "-map_metadata", "1", "-map_chapters", "1", "-c", "copy", out)
			compareCues(t, f.String()+kind, probeChapters(t, out), f.cues(t), false)
			if said := string(peer.Run(t, "ffprobe", "-v", "error", "-show_format", "-of", "json", out)); !strings.Contains(said, "Stop on pain, dizziness or numbness.") {
				t.Errorf("%s: the care line is not in the recording: %s", f, said)
			}
		}
	}
}

// probeChapters lists what ffprobe reads.
func probeChapters(t *testing.T, path string) []peerCue {
	t.Helper()
	var out struct {
		Chapters []struct {
			From string            `json:"start_time"`
			To   string            `json:"end_time"`
			Tags map[string]string `json:"tags"`
		} `json:"chapters"`
	}
	if err := json.Unmarshal(peer.Run(t, "ffprobe", "-v", "error", "-show_chapters", "-of", "json", path), &out); err != nil {
		t.Fatal(err)
	}
	cues := make([]peerCue, len(out.Chapters))
	for i, c := range out.Chapters {
		cues[i] = peerCue{From: ms(t, c.From), To: ms(t, c.To), Text: c.Tags["title"]}
	}
	return cues
}

// inChapterDTD holds the XML to the document type that comes with the tools.
func inChapterDTD(t *testing.T, files []sample) {
	dtd := peer.File(t, "/usr/share/doc/mkvtoolnix/examples/matroskachapters.dtd")
	args := []string{"--nonet", "--noout", "--dtdvalid", dtd}
	for _, f := range files {
		args = append(args, f.path)
	}
	peer.Run(t, "xmllint", args...)
}

// chaptersInMkvmerge: into a container and out again.
func chaptersInMkvmerge(t *testing.T, files []sample) {
	peer.Need(t, "mkvextract")
	for _, f := range files {
		want := f.cues(t)
		if len(want) == 0 {
			continue // a container without anything in it is refused
		}
		mkv := f.path + ".mkv"
		peer.Run(t, "mkvmerge", "-q", "-o", mkv, "--chapters", f.path)
		var doc struct {
			Atoms []struct {
				UID  uint64 `xml:"ChapterUID"`
				From string `xml:"ChapterTimeStart"`
				To   string `xml:"ChapterTimeEnd"`
				Text string `xml:"ChapterDisplay>ChapterString"`
			} `xml:"EditionEntry>ChapterAtom"`
		}
		out := mkv + ".xml"
		peer.Run(t, "mkvextract", mkv, "chapters", out)
		text, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		if err := xml.Unmarshal([]byte(strings.TrimPrefix(string(text), "\ufeff")), &doc); err != nil {
			t.Fatal(err)
		}
		uids := map[uint64]bool{}
		got := make([]peerCue, len(doc.Atoms))
		for i, a := range doc.Atoms {
			got[i] = peerCue{From: nanoClock(t, a.From), To: nanoClock(t, a.To), Text: a.Text}
			uids[a.UID] = true
		}
		compareCues(t, f.String(), got, want, false)
		if len(uids) != len(want) {
			t.Errorf("%s: %d different numbers for %d chapters", f, len(uids), len(want))
		}
	}
}

// nanoClock reads 00:00:00.000000000.
func nanoClock(t *testing.T, clock string) timeline.Instant {
	t.Helper()
	at := 0.0
	for part := range strings.SplitSeq(clock, ":") {
		at = at*60 + float64(ms(t, part))
	}
	return timeline.Instant(math.Round(at))
}

// asPodcast reads the times and titles of podcast chapters.
func asPodcast(t *testing.T, files []sample) {
	for _, f := range files {
		var doc struct {
			Description string
			Chapters    []struct {
				From  json.Number `json:"startTime"`
				To    json.Number `json:"endTime"`
				Title string
			}
		}
		text, err := os.ReadFile(f.path)
		if err == nil {
			err = json.Unmarshal(text, &doc)
		}
		if err != nil {
			t.Fatal(err)
		}
		got := make([]peerCue, len(doc.Chapters))
		for i, c := range doc.Chapters {
			got[i] = peerCue{From: ms(t, c.From.String()), To: ms(t, c.To.String()), Text: c.Title}
		}
		compareCues(t, f.String(), got, f.cues(t), false)
	}
}

// asListLines reads a chapter list as platforms do: lines that begin with a time.
// Below the list nothing may look like one.
func asListLines(t *testing.T, files []sample) {
	line := regexp.MustCompile(`(?m)^(?:(\d+):)?(\d{1,2}):(\d\d) (.+)$`)
	for _, f := range files {
		text, err := os.ReadFile(f.path)
		if err != nil {
			t.Fatal(err)
		}
		want, _, err := ChapterList(f.report(), f.o)
		if err != nil {
			t.Fatal(err)
		}
		got := []ListItem{}
		for _, m := range line.FindAllStringSubmatch(string(text), -1) {
			second := 0
			for _, part := range m[1:4] {
				if part != "" {
					second = second*60 + int(ms(t, part)/1000)
				}
			}
			got = append(got, ListItem{second, m[4]})
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: reads as %v, want %v", f, got[:min(3, len(got))], want[:min(3, len(want))])
		}
	}
}
