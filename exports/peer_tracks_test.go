package exports

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// peerCue is a cue as a peer read it.
type peerCue struct {
	ID   string           `json:"id"`
	From timeline.Instant `json:"start_ms"`
	To   timeline.Instant `json:"end_ms"`
	Text string           `json:"text"`
}

// The W3C's validator, the parser of a web player, and a browser read tracks.
func inValidator(t *testing.T, files []sample) { readTracks(t, "webvtt.mjs", files) }
func inWebPlayer(t *testing.T, files []sample) { readTracks(t, "vttjs.mjs", files) }
func inBrowser(t *testing.T, files []sample) {
	peer.Chromium(t)
	readTracks(t, "tracks.mjs", files)
}

func readTracks(t *testing.T, script string, files []sample) {
	args := make([]string, len(files))
	for i, f := range files {
		args[i] = f.format + "=" + f.path // the formats are called by their kinds
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
			t.Errorf("%s: %s", files[i], p)
		}
		compareCues(t, files[i].String(), got.Cues, files[i].cues(t), true)
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
				t.Errorf("%s, cue %d: %.300s, want %.300s", what, i+1, fmt.Sprintf("%+v", g), fmt.Sprintf("%+v", w))
			}
		}
	}
}

// inMediaTools: ffprobe reads the files themselves, and what mkvmerge makes of
// them when it puts them into a container.
func inMediaTools(t *testing.T, files []sample) {
	peer.Need(t, "ffprobe")
	peer.Need(t, "mkvmerge")
	for _, f := range files {
		want := f.cues(t)
		if len(want) == 0 || f.format == "metadata" && f.study == "crowd" {
			continue // no packets, and mkvmerge refuses an empty SRT; 30 MB of packets take a minute to print
		}
		webvtt := f.format != "srt"
		compareCues(t, f.String()+", ffprobe", probe(t, f.path, webvtt), want, false)
		mks := f.path + ".mks"
		peer.Run(t, "mkvmerge", "-q", "-o", mks, f.path)
		compareCues(t, f.String()+", mkvmerge", probe(t, mks, webvtt), want, false)
	}
}

// inTimedText: a player's container with timed text loses no cue either.
func inTimedText(t *testing.T, files []sample) {
	peer.Need(t, "ffprobe")
	for _, f := range files {
		want := f.cues(t)
		if len(want) == 0 {
			continue
		}
		mp4 := f.path + ".mp4"
		peer.Run(t, "ffmpeg", "-v", "error", "-y", "-i", f.path, "-c:s", "mov_text", mp4)
		packets := 0
		for _, c := range probe(t, mp4, false) {
			if c.Text != "" { // darkness between cues is a packet of its own
				packets++
			}
		}
		if packets != len(want) {
			t.Errorf("%s: %d cues in MP4, want %d", f, packets, len(want))
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
