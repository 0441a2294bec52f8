package exports

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// Every file that leaves the house is read here by programs that are not ours,
// and every cue they read is compared: most of them never fail by themselves.

// peerCue is a cue as a peer read it.
type peerCue struct {
	ID   string           `json:"id"`
	From timeline.Instant `json:"start_ms"`
	To   timeline.Instant `json:"end_ms"`
	Text string           `json:"text"`
}

// trackFile is one WebVTT file of one study with the cues that it must give.
type trackFile struct {
	study, kind, path string
	want              []Cue
}

// trackFiles writes captions and chapters of every sample study.
func trackFiles(t *testing.T) []trackFile {
	t.Helper()
	var files []trackFile
	dir := t.TempDir()
	for name, r := range sampleStudies() {
		captions, _, err := Captions(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, trackFile{name, "captions", filepath.Join(dir, name+".captions.vtt"), captions})
		chapters, _ := Chapters(r, Options{})
		cues := make([]Cue, len(chapters))
		for i, c := range chapters {
			cues[i] = Cue{"m" + strconv.FormatInt(c.Mark, 10), c.From, c.To, []string{c.Title}}
		}
		files = append(files, trackFile{name, "chapters", filepath.Join(dir, name+".chapters.vtt"), cues})
	}
	for _, f := range files {
		writeSample(t, f.path, f.kind, f.study)
	}
	return files
}

// writeSample writes one format of one study into a file.
func writeSample(t *testing.T, path, format, study string) {
	t.Helper()
	f, err := FormatNamed(format)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b, sampleStudies()[study], Options{Tool: "1.2.3"}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestWebVTTInTheValidator(t *testing.T) { readTracks(t, "webvtt.mjs") }
func TestWebVTTInAWebPlayer(t *testing.T)   { readTracks(t, "vttjs.mjs") }
func TestWebVTTInABrowser(t *testing.T) {
	peer.Chromium(t)
	readTracks(t, "tracks.mjs")
}

func readTracks(t *testing.T, script string) {
	files := trackFiles(t)
	args := make([]string, len(files))
	for i, f := range files {
		args[i] = f.kind + "=" + f.path
	}
	var results []struct {
		Cues     []peerCue `json:"cues"`
		Problems []string  `json:"problems"`
	}
	peer.Read(t, &results, script, args...)
	if len(results) != len(files) {
		t.Fatalf("%d results for %d files", len(results), len(files))
	}
	for i, got := range results {
		for _, p := range got.Problems {
			t.Errorf("%s, %s: %s", files[i].study, files[i].kind, p)
		}
		compareCues(t, files[i].study+", "+files[i].kind, got.Cues, files[i].want, true)
	}
}

// compareCues holds what a peer read to what was meant.
func compareCues(t *testing.T, what string, got []peerCue, want []Cue, ids bool) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d cues, want %d", what, len(got), len(want))
		return
	}
	wrong := 0
	for i, g := range got {
		w := want[i]
		if ids && g.ID != w.ID || g.From != w.From || g.To != w.To || g.Text != strings.Join(w.Lines, "\n") {
			if wrong++; wrong <= 3 {
				t.Errorf("%s, cue %d: %+v, want %+v", what, i+1, g, w)
			}
		}
	}
}

// TestCaptionsInMediaTools: ffprobe reads the files themselves, and what
// mkvmerge and ffmpeg make of them when they put them into a container.
func TestCaptionsInMediaTools(t *testing.T) {
	peer.Need(t, "ffprobe")
	peer.Need(t, "mkvmerge")
	peer.Need(t, "ffmpeg")
	dir := t.TempDir()
	for name, r := range sampleStudies() {
		want, _, err := Captions(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(want) == 0 {
			continue // an empty track has no packets, and mkvmerge refuses an empty SRT
		}
		for format, extension := range map[string]string{"captions": ".vtt", "srt": ".srt"} {
			meant := slices.Clone(want)
			if format == "srt" {
				for i := range meant {
					meant[i].Lines = srtLines(meant[i].Lines)
				}
			}
			path := filepath.Join(dir, name+extension)
			writeSample(t, path, format, name)
			compareCues(t, name+extension+", ffprobe", probe(t, path, format == "captions"), meant, false)
			mks := filepath.Join(dir, name+extension+".mks")
			peer.Run(t, "mkvmerge", "-q", "-o", mks, path)
			compareCues(t, name+extension+", mkvmerge", probe(t, mks, format == "captions"), meant, false)
		}
		// A player's container with timed text loses nothing either.
		mp4 := filepath.Join(dir, name+".mp4")
		peer.Run(t, "ffmpeg", "-v", "error", "-y", "-i", filepath.Join(dir, name+".vtt"), "-c:s", "mov_text", mp4)
		packets := 0
		for _, c := range probe(t, mp4, false) {
			if c.Text != "" { // darkness between cues is a packet of its own
				packets++
			}
		}
		if packets != len(want) {
			t.Errorf("%s: %d cues in MP4, want %d", name, packets, len(want))
		}
	}
}

// probe lists the packets of a subtitle file as cues; entities are decoded for
// WebVTT, whose packets keep them.
func probe(t *testing.T, path string, webvtt bool) []peerCue {
	t.Helper()
	var out struct {
		Packets []struct {
			From string `json:"pts_time"`
			Long string `json:"duration_time"`
			Data string `json:"data"`
		} `json:"packets"`
	}
	if err := json.Unmarshal(peer.Run(t, "ffprobe", "-v", "error", "-show_packets", "-show_data", "-of", "json", path), &out); err != nil {
		t.Fatal(err)
	}
	cues := make([]peerCue, len(out.Packets))
	for i, p := range out.Packets {
		text := strings.TrimRight(strings.ReplaceAll(dump(t, p.Data), "\r\n", "\n"), "\n")
		if strings.HasSuffix(path, ".mp4") {
			text = strings.TrimLeft(text, "\x00") // the length of an empty text
		}
		if webvtt {
			text = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(text)
		}
		from := ms(t, p.From)
		cues[i] = peerCue{From: from, To: from + ms(t, p.Long), Text: text}
	}
	return cues
}

// dump reads ffprobe's hexadecimal dump of a packet.
func dump(t *testing.T, data string) string {
	t.Helper()
	var b []byte
	for line := range strings.SplitSeq(strings.TrimSpace(data), "\n") {
		if len(line) < 10 {
			continue
		}
		digits := strings.ReplaceAll(line[10:min(50, len(line))], " ", "")
		part, err := hex.DecodeString(digits)
		if err != nil {
			t.Fatalf("dump line %q: %v", line, err)
		}
		b = append(b, part...)
	}
	return string(b)
}

func ms(t *testing.T, seconds string) timeline.Instant {
	t.Helper()
	s, err := strconv.ParseFloat(seconds, 64)
	if err != nil {
		t.Fatalf("time %q: %v", seconds, err)
	}
	return timeline.Instant(math.Round(s * 1000))
}
