package media

import (
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"tautline/testdata/peer"
)

func TestFrameTimesOfVideoMatchFFprobe(t *testing.T) {
	for _, c := range []struct {
		name, args string
		container  Container
		variable   bool
		tick       time.Duration
	}{
		{"bframes.mp4", moving + " " + tone + " " + h264 + " -c:a aac", MP4, false, clock12800},
		{"indexfirst.mp4", moving + " " + h264 + " -movflags +faststart", MP4, false, clock12800},
		{"negative.mp4", moving + " " + h264 + " -movflags +negative_cts_offsets", MP4, false, clock12800},
		{"uneven.mp4", moving + " " + uneven + " " + h264, MP4, true, clock12800},
		{"ntsc.mp4", "-f lavfi -i testsrc2=size=160x120:rate=30000/1001:duration=2 " + h264, MP4, false, clock12800},
		{"milliseconds.mp4", "-f lavfi -i testsrc2=size=160x120:rate=30:duration=4 " + h264 + " -video_track_timescale 1000", MP4, false, time.Millisecond},
		{"noedits.mp4", moving + " " + tone + " " + h264 + " -c:a aac -use_editlist 0", MP4, false, clock12800},
		{"late.mp4", "-itsoffset 0.7 " + moving + " " + tone + " " + h264 + " -c:a aac", MP4, false, clock12800},
		{"plain.mov", moving + " " + tone + " " + h264 + " -c:a pcm_s16le", MOV, false, clock12800},
		{"still.mov", moving + " -c:v mjpeg", MOV, false, clock12800},
		{"fragments.mp4", moving + " " + tone + " " + h264 + " -c:a aac -movflags frag_keyframe+empty_moov", MP4, false, clock12800},
		{"hybrid.mp4", moving + " " + tone + " " + h264 + " -c:a aac -movflags frag_keyframe", MP4, false, clock12800},
		{"base.mp4", moving + " " + h264 + " -movflags frag_every_frame+empty_moov+default_base_moof", MP4, false, clock12800},
		{"dash.mp4", moving + " " + h264 + " -movflags dash+delay_moov+frag_keyframe", MP4, false, clock12800},
		{"fragnegative.mp4", moving + " " + h264 + " -movflags frag_keyframe+empty_moov+negative_cts_offsets", MP4, false, clock12800},
		{"cmaf.mp4", moving + " " + h264 + " -movflags cmaf+delay_moov+frag_keyframe", MP4, false, clock12800},
		{"unevenfragments.mp4", moving + " " + uneven + " " + h264 + " -movflags frag_keyframe+empty_moov", MP4, true, clock12800},
		{"even.webm", moving + " " + tone + " -c:v libvpx -deadline realtime -cpu-used 8 -c:a libvorbis", WebM, false, time.Millisecond},
		{"uneven8.webm", moving + " " + uneven + " -c:v libvpx -deadline realtime -cpu-used 8", WebM, true, time.Millisecond},
		{"uneven9.webm", moving + " " + uneven + " -c:v libvpx-vp9 -deadline realtime -cpu-used 8", WebM, true, time.Millisecond},
		{"ntsc9.webm", "-f lavfi -i testsrc2=size=160x120:rate=30000/1001:duration=2 " + tone + " -c:v libvpx-vp9 -deadline realtime -cpu-used 8 -c:a libopus", WebM, false, time.Millisecond},
		{"bframes.mkv", moving + " " + tone + " " + h264 + " -c:a aac", Matroska, false, time.Millisecond},
		{"uneven.mkv", moving + " " + uneven + " " + h264, Matroska, true, time.Millisecond},
		{"live.mkv", moving + " " + tone + " " + h264 + " -c:a aac -live 1", Matroska, false, time.Millisecond},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := ffmpeg(t, c.name, words(c.args)...)
			rec := agree(t, path, c.tick, frame25)
			if rec.Container != c.container || rec.Kind != Video || rec.Width != 160 || rec.Height != 120 {
				t.Errorf("read as %s %s %dx%d", rec.Container, rec.Kind, rec.Width, rec.Height)
			}
			if rec.Variable != c.variable {
				t.Errorf("variable frame rate: %v", rec.Variable)
			}
			if rec.CutShort {
				t.Error("a whole file is called cut short")
			}
		})
	}
}

// VP8 writes frames of its own that only help to decode others; they are
// blocks of the file and must not count as frames.
func TestHiddenFramesOfVP8AreNotShown(t *testing.T) {
	const zoom = "-f lavfi -i mandelbrot=size=160x120:rate=25 -t 3 " +
		"-c:v libvpx -auto-alt-ref 1 -lag-in-frames 25 -arnr-maxframes 7 -b:v 200k -cpu-used 2 -deadline good"
	log := filepath.Join(t.TempDir(), "passes")
	peer.Run(t, "ffmpeg", append(words("-v error "+zoom), "-pass", "1", "-passlogfile", log, "-f", "null", "-")...)
	path := ffmpeg(t, "hidden.webm", append(words(zoom), "-pass", "2", "-passlogfile", log)...)
	rec, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	want := ffprobe(t, path)
	if len(want.frames) <= len(want.decoded) {
		t.Fatalf("%d blocks for %d frames: the file hides none", len(want.frames), len(want.decoded))
	}
	if !slices.Equal(rec.Frames, want.decoded) {
		t.Errorf("%v\nffprobe %v", rec.Frames, want.decoded)
	}
}

func TestFilesCutWithoutReencodingStartAtZero(t *testing.T) {
	whole := ffmpeg(t, "whole.mp4", words(moving+" "+tone+" "+h264+" -g 50 -c:a aac")...)
	for _, from := range []string{"0.5", "0.517", "1.3"} {
		t.Run(from, func(t *testing.T) {
			cut := ffmpeg(t, "cut.mp4", "-ss", from, "-i", whole, "-c", "copy")
			rec := agree(t, cut, clock12800, frame25)
			if rec.Frames[0] != 0 || len(rec.Frames) >= 50 {
				t.Errorf("%d frames from %v on", len(rec.Frames), rec.Frames[0])
			}
		})
	}
	t.Run("end", func(t *testing.T) {
		agree(t, ffmpeg(t, "cut.mp4", "-i", whole, "-t", "0.9", "-c", "copy"), clock12800, frame25)
	})
}

func TestTurnedPicturesSayTheirShownSize(t *testing.T) {
	whole := ffmpeg(t, "whole.mp4", words(moving+" "+h264)...)
	turns := map[int]bool{}
	for _, angle := range []int{0, 90, 180, 270} {
		path := ffmpeg(t, "turned.mp4", "-i", whole, "-c", "copy", "-metadata:s:v", fmt.Sprintf("rotate=%d", angle))
		rec, want := agree(t, path, clock12800, frame25), ffprobe(t, path)
		turns[rec.Rotation] = true
		width, height := 160, 120
		if angle%180 != 0 {
			width, height = height, width
		}
		if rec.Rotation != want.turn || rec.Width != width || rec.Height != height {
			t.Errorf("turned by %d: read as %d, %dx%d", want.turn, rec.Rotation, rec.Width, rec.Height)
		}
	}
	if len(turns) != 4 {
		t.Errorf("four turns read as %v", turns)
	}
}

func TestWidePixelsSayTheirShownSize(t *testing.T) {
	for _, name := range []string{"wide.mp4", "wide.mkv"} {
		rec := agree(t, ffmpeg(t, name, words(moving+" -vf setsar=4/3 "+h264)...), time.Millisecond, frame25)
		if rec.Width != 213 || rec.Height != 120 {
			t.Errorf("%s: %dx%d", name, rec.Width, rec.Height)
		}
	}
}

// FFmpeg writes no edit list of several edits, so one is put into its file.
func TestSeveralEditsMatchFFprobe(t *testing.T) {
	whole, err := os.ReadFile(ffmpeg(t, "whole.mp4", words(moving+" "+h264+" -bf 0")...))
	if err != nil {
		t.Fatal(err)
	}
	for name, edits := range map[string][]edit{
		"one":                {{1000, 480 * 12800 / 1000}},
		"halves swapped":     {{1000, 960 * 12800 / 1000}, {960, 0}},
		"a pause in front":   {{400, -1}, {1000, 480 * 12800 / 1000}},
		"the start repeated": {{480, 0}, {480, 0}, {480, 0}},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "edits.mp4")
			changed := replaceEdits(whole, edits)
			if err := os.WriteFile(path, changed, 0o600); err != nil {
				t.Fatal(err)
			}
			rec, err := Open(path)
			if err != nil {
				t.Fatal(err)
			}
			// The movie header still tells the old length, to ffprobe and to us.
			want := ffprobe(t, path)
			if len(rec.Frames) != len(want.frames) || len(want.frames) == 0 {
				t.Fatalf("%v\nffprobe %v", rec.Frames, want.frames)
			}
			for i := range rec.Frames {
				if (rec.Frames[i] - want.frames[i]).Abs() > clock12800+time.Microsecond {
					t.Errorf("frame %d at %v, ffprobe %v", i, rec.Frames[i], want.frames[i])
				}
			}
		})
	}
}

// replaceEdits copies boxes, with another edit list. The media comes before
// the index in these files, so nothing that points at it moves.
func replaceEdits(data []byte, edits []edit) []byte {
	var out []byte
	for len(data) >= 8 {
		size := int(binary.BigEndian.Uint32(data))
		kind, body := string(data[4:8]), data[8:size]
		switch kind {
		case "moov", "trak", "edts":
			body = replaceEdits(body, edits)
		case "elst":
			body = join(be32(0), be32(uint32(len(edits))))
			for _, e := range edits {
				body = join(body, be32(uint32(e.length)), be32(uint32(int32(e.start))), be32(1<<16))
			}
		}
		out = append(out, atom(kind, body)...)
		data = data[size:]
	}
	return out
}
