package media

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"tautline/testdata/peer"
)

// These tests make real recordings with FFmpeg and hold what is read against
// what ffprobe says of them.

// ffmpeg runs ffmpeg to write a file called name in a fresh folder.
func ffmpeg(t *testing.T, name string, args ...string) string {
	t.Helper()
	peer.Need(t, "ffprobe")
	path := filepath.Join(t.TempDir(), name)
	peer.Run(t, "ffmpeg", append(append([]string{"-v", "error", "-y"}, args...), path)...)
	return path
}

// words splits a command line; no argument here holds a space.
func words(s string) []string { return strings.Fields(s) }

const (
	moving = "-f lavfi -i testsrc2=size=160x120:rate=25:duration=2"
	tone   = "-f lavfi -i sine=frequency=330:duration=2"
	h264   = "-c:v libx264 -preset ultrafast -bf 3 -b_strategy 0 -g 12 -pix_fmt yuv420p"
	uneven = "-vf select='not(eq(mod(n,7),3))*not(between(n,20,26))' -fps_mode vfr"
)

// probed is what ffprobe says.
type probed struct {
	duration time.Duration
	frames   []time.Duration // when packets that are not to be discarded should be shown
	decoded  []time.Duration // when decoded frames are shown
	rate     string          // "25/1"
	turn     int             // degrees clockwise
}

func ffprobe(t *testing.T, path string) probed {
	t.Helper()
	var out struct {
		Format struct{ Duration string }
		Stream []struct {
			Rate string                   `json:"r_frame_rate"`
			Side []struct{ Rotation int } `json:"side_data_list"`
		} `json:"streams"`
		Packets []struct {
			Time  string `json:"pts_time"`
			Flags string
		}
		Frames []struct {
			Time string `json:"pts_time"`
		}
	}
	read := func(args ...string) {
		b := peer.Run(t, "ffprobe", append(append([]string{"-v", "error", "-of", "json"}, args...), path)...)
		if err := json.Unmarshal(b, &out); err != nil {
			t.Fatal(err)
		}
	}
	read("-show_entries", "format=duration")
	p := probed{duration: seconds(t, out.Format.Duration)}
	read("-select_streams", "V:0", "-show_entries", "stream=r_frame_rate:stream_side_data=rotation:packet=pts_time,flags")
	if len(out.Stream) == 0 {
		return p
	}
	p.rate = out.Stream[0].Rate
	for _, side := range out.Stream[0].Side {
		p.turn = (360 - side.Rotation) % 360 // ffprobe counts the other way round
	}
	for _, k := range out.Packets {
		if !strings.Contains(k.Flags, "D") {
			p.frames = append(p.frames, seconds(t, k.Time))
		}
	}
	slices.Sort(p.frames)
	read("-select_streams", "V:0", "-show_entries", "frame=pts_time")
	for _, f := range out.Frames {
		p.decoded = append(p.decoded, seconds(t, f.Time))
	}
	return p
}

func seconds(t *testing.T, s string) time.Duration {
	t.Helper()
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return time.Duration(v*1e9 + 0.5)
}

// agree holds a recording against ffprobe. Frame times may differ by what
// ffprobe's own six decimals round away, and a tick of the file's clock;
// durations by one frame of picture or sound.
func agree(t *testing.T, path string, tick, frame time.Duration) *Recording {
	t.Helper()
	rec, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	want := ffprobe(t, path)
	if want.duration > 0 && (rec.Duration-want.duration).Abs() > frame {
		t.Errorf("duration %v, ffprobe %v", rec.Duration, want.duration)
	}
	if len(rec.Frames) != len(want.frames) {
		t.Fatalf("%d frames, ffprobe %d\n got %v\nwant %v", len(rec.Frames), len(want.frames), rec.Frames, want.frames)
	}
	// The packets say when frames should be shown; decoding says that they are.
	if len(want.decoded) != len(want.frames) {
		t.Errorf("ffprobe decodes %d frames and lists %d packets to show", len(want.decoded), len(want.frames))
	}
	worst := time.Duration(0)
	for i := range rec.Frames {
		worst = max(worst, (rec.Frames[i] - want.frames[i]).Abs())
	}
	if worst > tick+time.Microsecond {
		t.Errorf("a frame time differs from ffprobe's by %v\n got %v\nwant %v", worst, rec.Frames, want.frames)
	}
	if rec.Kind == Video && !rec.Variable {
		if got := fmt.Sprintf("%d/%d", rec.Rate.Num, rec.Rate.Den); got != want.rate {
			t.Errorf("rate %s, ffprobe %s", got, want.rate)
		}
	}
	return rec
}

const (
	clock12800 = time.Second/12800 + 1
	frame25    = time.Second / 25
	frameAAC   = 1024 * time.Second / 44100
	frameMP3   = 1152 * time.Second / 44100
)
