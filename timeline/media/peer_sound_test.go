package media

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"tautline/testdata/peer"
)

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
