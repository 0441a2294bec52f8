package media

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"os"
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
	frames   []time.Duration // shown frames, in order
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
	// The packets say when frames should be shown; decoding says that they are.
	read("-select_streams", "V:0", "-show_entries", "frame=pts_time")
	if len(out.Frames) != len(p.frames) {
		t.Errorf("ffprobe decodes %d frames and lists %d packets to show", len(out.Frames), len(p.frames))
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
	path := ffmpeg(t, "hidden.webm", words("-f lavfi -i mandelbrot=size=160x120:rate=25 -t 4 "+
		"-c:v libvpx -auto-alt-ref 1 -lag-in-frames 25 -arnr-maxframes 7 -b:v 200k -cpu-used 2")...)
	agree(t, path, time.Millisecond, frame25)
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

func TestDurationsOfSoundMatchFFprobe(t *testing.T) {
	for _, c := range []struct {
		name, args string
		container  Container
		frame      time.Duration
	}{
		{"aac.m4a", "-c:a aac", M4A, frameAAC},
		{"aac.mp4", "-c:a aac", MP4, frameAAC},
		{"fragments.mp4", "-c:a aac -movflags frag_keyframe+empty_moov -frag_duration 300000", MP4, frameAAC},
		{"constant.mp3", "-c:a libmp3lame -b:a 128k", MP3, frameMP3},
		{"variable.mp3", "-c:a libmp3lame -q:a 5", MP3, frameMP3},
		{"untold.mp3", "-c:a libmp3lame -b:a 64k -write_xing 0", MP3, frameMP3},
		{"tagged.mp3", "-c:a libmp3lame -b:a 96k -write_id3v1 1 -id3v2_version 4 -metadata title=warm-up", MP3, frameMP3},
		{"half.mp3", "-c:a libmp3lame -ar 22050 -ac 1 -b:a 48k", MP3, 576 * time.Second / 22050},
		{"quarter.mp3", "-c:a libmp3lame -ar 11025 -ac 1 -b:a 16k", MP3, 576 * time.Second / 11025},
		{"plain.wav", "", WAV, time.Millisecond},
		{"float.wav", "-c:a pcm_f32le -ar 48000 -ac 2", WAV, time.Millisecond},
		{"extensible.wav", "-c:a pcm_s24le -ac 6", WAV, time.Millisecond},
		{"large.wav", "-rf64 always", WAV, time.Millisecond},
		{"adpcm.wav", "-c:a adpcm_ima_wav", WAV, 25 * time.Millisecond},
		{"opus.webm", "-c:a libopus", WebM, 20 * time.Millisecond},
		{"sound.mkv", "-c:a aac", Matroska, frameAAC},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := ffmpeg(t, c.name, words(tone+" "+c.args)...)
			rec := agree(t, path, 0, c.frame)
			if rec.Container != c.container || rec.Kind != Audio {
				t.Errorf("read as %s %s", rec.Container, rec.Kind)
			}
			if rec.CutShort || rec.Frames == nil || rec.Rate.PerSecond() != 0 {
				t.Errorf("%+v", rec)
			}
		})
	}
}

// A recorder that writes to a pipe cannot go back and fill in sizes.
func TestStreamedFilesTellTheirLength(t *testing.T) {
	for _, c := range []struct{ name, args string }{
		{"pipe.wav", tone + " -f wav"},
		{"pipe.mkv", moving + " " + tone + " " + h264 + " -c:a aac -f matroska"},
		{"pipe.webm", moving + " -c:v libvpx -deadline realtime -cpu-used 8 -f webm"},
		{"pipe.mp3", tone + " -c:a libmp3lame -f mp3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			args := append(append([]string{"-v", "error"}, words(c.args)...), "pipe:1")
			path := filepath.Join(t.TempDir(), c.name)
			if err := os.WriteFile(path, peer.Run(t, "ffmpeg", args...), 0o600); err != nil {
				t.Fatal(err)
			}
			rec := agree(t, path, time.Millisecond, frame25)
			if d := (rec.Duration - 2*time.Second).Abs(); d > 2*frame25 || rec.CutShort {
				t.Errorf("two seconds read as %v, cut short: %v", rec.Duration, rec.CutShort)
			}
		})
	}
}

func TestContentDecidesNotTheName(t *testing.T) {
	wav := ffmpeg(t, "tone.wav", words(tone)...)
	misnamed := filepath.Join(t.TempDir(), "tone.mp4")
	if err := os.Rename(wav, misnamed); err != nil {
		t.Fatal(err)
	}
	if rec, err := Open(misnamed); err != nil || rec.Container != WAV {
		t.Errorf("%+v, %v", rec, err)
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
