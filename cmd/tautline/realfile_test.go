package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tautline/testdata/peer"
)

// The whole job on real files: each made by ffmpeg from moving pictures and a
// tone, marked, analysed and exported by the program as a person would type it,
// and what comes out read by programs that are not ours.

const (
	moving = "-f lavfi -i testsrc2=size=320x240:rate=25:duration=16"
	tone   = "-f lavfi -i sine=frequency=330:duration=16"
	quick  = "-c:v libx264 -preset ultrafast -bf 2 -g 50 -pix_fmt yuv420p"
	web    = "-c:v libvpx -deadline realtime -cpu-used 8 -b:v 300k"
	// uneven drops pictures so that their spacing changes along the way.
	uneven = "-vf select='lt(t,5)+gte(t,5)*not(mod(n,3))' -fps_mode vfr"
)

// realFiles are the recordings; end is how far the length may be from ffprobe's,
// in ms: one frame.
var realFiles = []struct {
	name     string
	make     []string // arguments of ffmpeg, one run each, the name left out
	kind     string
	variable bool
	frame    float64
}{
	{"constant.mp4", []string{moving + " " + tone + " " + quick + " -c:a aac -shortest"}, "video", false, 40},
	{"uneven.webm", []string{moving + " " + tone + " " + uneven + " " + web + " -c:a libopus -shortest"}, "video", true, 120},
	{"edited.mp4", []string{moving + " " + tone + " " + quick + " -c:a aac -shortest whole.mp4", "-ss 1.3 -i whole.mp4 -c copy"}, "video", false, 40},
	{"voice.m4a", []string{tone + " -c:a aac"}, "audio", false, 1024 * 1000 / 44100.},
}

// marks are what the story marks: the time as typed, in ms, the title, the words.
var marks = []struct {
	typed string
	at    int
	title string
	words string
}{
	{"0", 0, "Quiet stand", "standing; arms by the sides"},
	{"0:03.5", 3500, "Overhead <reach> & more", "standing on toes; shoulders flexed 170; elbows straight; wrists extended 60"},
	{"0:00:07.250", 7250, "Crate hinge", "standing; hips flexed 70; knees flexed 25; hands carry 8 kg"},
	{"11", 11000, "Rest", "half kneeling with the left knee down"},
}

// call runs the program in this process and returns what it printed. It fails
// the test unless the program ends with 0.
func call(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	if code := run(t.Context(), args, strings.NewReader(""), &out, &errs); code != 0 {
		t.Fatalf("tautline %s: exit code %d\n%s%s", strings.Join(args, " "), code, out.Bytes(), errs.Bytes())
	}
	return out.Bytes()
}

func decode(t *testing.T, b []byte, v any) {
	t.Helper()
	if err := json.Unmarshal(b, v); err != nil {
		t.Fatalf("%v\n%.300s", err, b)
	}
}

func TestWholeJobOnRealFiles(t *testing.T) {
	peer.Need(t, "ffmpeg")
	peer.Need(t, "ffprobe")
	peer.Chromium(t)
	peer.Package(t, "webvtt-parser")
	dir := t.TempDir()
	t.Chdir(dir)
	var tracks []string
	for _, f := range realFiles {
		for i, line := range f.make {
			args := append([]string{"-v", "error", "-y"}, strings.Fields(line)...)
			if i == len(f.make)-1 {
				args = append(args, f.name)
			}
			peer.Run(t, "ffmpeg", args...)
		}
		study := f.name + ".study"
		call(t, "new", study, f.name)
		for _, m := range marks {
			if out := call(t, "mark", "add", study, m.typed, m.title, "--posture", m.words); bytes.Contains(out, []byte("not understood")) {
				t.Errorf("%s", out)
			}
		}
		compareWithProbe(t, f.name, study, f.kind, f.variable, f.frame)
		call(t, "analyse", study)
		if out := call(t, "check", study); !bytes.Contains(out, []byte("\n0 wrong")) && !bytes.HasPrefix(out, []byte("0 wrong")) {
			t.Errorf("%s: %s", f.name, out)
		}
		call(t, "export", study, "--to", "out")
		tracks = append(tracks, "captions="+filepath.Join("out", f.name+".captions.vtt"), "chapters="+filepath.Join("out", f.name+".chapters.vtt"))
	}
	readers := map[string][]track{}
	for _, script := range []string{"tracks.mjs", "webvtt.mjs", "vttjs.mjs"} {
		var got []track
		peer.Read(t, &got, script, tracks...)
		if len(got) != len(tracks) {
			t.Fatalf("%s read %d of %d files", script, len(got), len(tracks))
		}
		readers[script] = got
	}
	for i, f := range realFiles {
		checkChapters(t, f.name, readers, 2*i+1)
		checkCaptions(t, f.name, readers, 2*i)
	}
}

// compareWithProbe holds what the study says of its recording to ffprobe.
func compareWithProbe(t *testing.T, file, study, kind string, variable bool, frame float64) {
	t.Helper()
	var said studyJSON
	decode(t, call(t, "list", study, "--json"), &said)
	var probe struct {
		Format struct {
			Duration string `json:"duration"`
		} `json:"format"`
		Frames []struct {
			Time string `json:"best_effort_timestamp_time"`
		} `json:"frames"`
	}
	decode(t, peer.Run(t, "ffprobe", "-v", "error", "-select_streams", "v", "-show_entries", "format=duration:frame=best_effort_timestamp_time", "-of", "json", file), &probe)
	long := 1000 * number64(t, probe.Format.Duration)
	rec := said.Recording
	if math.Abs(float64(rec.DurationMS)-long) > frame {
		t.Errorf("%s lasts %d ms, by ffprobe %.1f: more than a frame apart", file, rec.DurationMS, long)
	}
	if rec.Kind != kind || rec.Variable != variable || rec.Frames != len(probe.Frames) {
		t.Errorf("%s: %s, variable %v, %d frames; ffprobe shows %d", file, rec.Kind, rec.Variable, rec.Frames, len(probe.Frames))
	}
	// Frames by number stand where ffprobe shows them.
	for n := 0; n < len(probe.Frames); n += 37 {
		var m markJSON
		decode(t, call(t, "mark", "add", study, "#"+strconv.Itoa(n), "frame", "--json"), &m)
		if want := 1000 * number64(t, probe.Frames[n].Time); math.Abs(float64(m.AtMS)-want) > 1 {
			t.Errorf("%s: frame %d is at %d ms, by ffprobe at %.1f", file, n, m.AtMS, want)
		}
		call(t, "undo", study)
	}
}

func number64(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// track is a WebVTT file as a reader gave it.
type track struct {
	Cues     []cue    `json:"cues"`
	Problems []string `json:"problems"`
}

type cue struct {
	ID   string `json:"id"`
	From int    `json:"start_ms"`
	To   int    `json:"end_ms"`
	Text string `json:"text"`
}

// checkChapters: in every reader there is one chapter for each mark, from its
// time to the next one's, with its title.
func checkChapters(t *testing.T, file string, readers map[string][]track, at int) {
	t.Helper()
	for script, tracks := range readers {
		got := tracks[at]
		for _, p := range got.Problems {
			t.Errorf("%s, chapters in %s: %s", file, script, p)
		}
		if len(got.Cues) != len(marks) {
			t.Errorf("%s, chapters in %s: %d of %d", file, script, len(got.Cues), len(marks))
			continue
		}
		for i, c := range got.Cues {
			if c.From != marks[i].at || c.Text != marks[i].title || i+1 < len(marks) && c.To != marks[i+1].at || c.To <= c.From {
				t.Errorf("%s, chapter %d in %s: %+v, marked %+v", file, i+1, script, c, marks[i])
			}
		}
	}
}

// checkCaptions: every reader gives the same cues, in order, one at a time; every
// phase, all being long enough to be read, has a caption of its own; and ffprobe
// finds the same in the SRT file.
func checkCaptions(t *testing.T, file string, readers map[string][]track, at int) {
	t.Helper()
	browser := readers["tracks.mjs"][at].Cues
	for script, tracks := range readers {
		for _, p := range tracks[at].Problems {
			t.Errorf("%s, captions in %s: %s", file, script, p)
		}
		if got := fmt.Sprint(tracks[at].Cues); got != fmt.Sprint(browser) {
			t.Errorf("%s: %s gives\n%s\nthe browser\n%v", file, script, got, browser)
		}
	}
	for i, m := range marks {
		end := math.MaxInt
		if i+1 < len(marks) {
			end = marks[i+1].at
		}
		inside := func(c cue) bool { return c.From >= m.at && c.To <= end && strings.TrimSpace(c.Text) != "" }
		if !slices.ContainsFunc(browser, inside) {
			t.Errorf("%s: phase %d has no caption of its own", file, i+1)
		}
	}
	for i := 1; i < len(browser); i++ {
		if browser[i].From < browser[i-1].To {
			t.Errorf("%s: cue %d begins before the one before it ends", file, i+1)
		}
	}
	var probe struct {
		Packets []struct {
			From string `json:"pts_time"`
			Long string `json:"duration_time"`
		} `json:"packets"`
	}
	srt := filepath.Join("out", file+".captions.srt")
	decode(t, peer.Run(t, "ffprobe", "-v", "error", "-show_packets", "-of", "json", srt), &probe)
	if len(probe.Packets) != len(browser) {
		t.Errorf("%s: ffprobe finds %d cues in the SRT file, the browser %d in the WebVTT file", file, len(probe.Packets), len(browser))
		return
	}
	for i, p := range probe.Packets {
		from, long := 1000*number64(t, p.From), 1000*number64(t, p.Long)
		if math.Abs(from-float64(browser[i].From)) > 0.5 || math.Abs(from+long-float64(browser[i].To)) > 0.5 {
			t.Errorf("%s: cue %d is from %.0f for %.0f ms in the SRT file, in the WebVTT file %+v", file, i+1, from, long, browser[i])
		}
	}
	// The words: ffmpeg turns the SRT file into WebVTT, and the validator reads it.
	turned := filepath.Join("out", file+".turned.vtt")
	peer.Run(t, "ffmpeg", "-v", "error", "-y", "-i", srt, turned)
	var words []track
	peer.Read(t, &words, "webvtt.mjs", "captions="+turned)
	for i, c := range words[0].Cues {
		if i < len(browser) && plainText(c.Text) != plainText(browser[i].Text) {
			t.Errorf("%s: cue %d says %q in the SRT file, %q in the WebVTT file", file, i+1, c.Text, browser[i].Text)
		}
	}
}

// plainText leaves out what SRT cannot say as it stands: an angle bracket there
// begins a tag and is written as a look-alike.
func plainText(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune("<>‹›〈〉＜＞", r) {
			return -1
		}
		return r
	}, strings.Join(strings.Fields(s), " "))
}
