package viewer

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// overTime plays a story of webtest/time.mjs on a site.
func overTime(t *testing.T, story string, x *site, folder string) told {
	t.Helper()
	peer.Chromium(t)
	var found told
	peer.Read(t, &found, "../../viewer/webtest/time.mjs", story, x.URL(), folder)
	for _, p := range found.Problems {
		t.Errorf("%s: %s", story, p)
	}
	t.Logf("%s measured: %v", story, found.Notes)
	return found
}

// TestScoreByKeyboard: regions open, muscles are asked about, time is zoomed and
// moved, and all of it is there in words.
func TestScoreByKeyboard(t *testing.T) { overTime(t, "score", serve(t, warmUp()), "") }

// TestRemarksAreTalkedOver by two people in two windows.
func TestRemarksAreTalkedOver(t *testing.T) { overTime(t, "remarks", serve(t, warmUp()), "") }

// TestWindowsKeepStep when they are told to, and only then.
func TestWindowsKeepStep(t *testing.T) { overTime(t, "step", serve(t, warmUp()), "") }

// TestTimeSideForEveryone: axe in every state, 200 %, forced colours.
func TestTimeSideForEveryone(t *testing.T) {
	found := overTime(t, "axe", serve(t, warmUp()), os.Getenv("TAUTLINE_SHOTS"))
	if n, _ := found.Notes["passes"].(float64); n < 100 {
		t.Errorf("only %v rules applied", n)
	}
}

// ofFilm makes a recording with ffmpeg and the warm-up of it.
func ofFilm(t *testing.T, path, args string) timeline.Study {
	t.Helper()
	peer.Run(t, "ffmpeg", append(strings.Fields("-v error -y -f lavfi -i "+args), path)...)
	r, err := Describe(filepath.Join(filepath.Dir(path), "warm-up.study"), path)
	if err != nil {
		t.Fatal(err)
	}
	st := warmUp()
	st.Recording = r
	return st
}

const plainFilm = "testsrc2=size=320x180:rate=25:duration=20 -c:v libx264 -preset ultrafast -bf 2 -g 50 -pix_fmt yuv420p"

// TestRecordingMovedAway: the page says so and works without it, takes no other
// file for it, plays the one that is dropped and finds it again.
func TestRecordingMovedAway(t *testing.T) {
	peer.Chromium(t)
	t.Setenv("HOME", t.TempDir())
	dir, far := t.TempDir(), t.TempDir()
	st := ofFilm(t, filepath.Join(dir, "warm-up.mp4"), plainFilm)
	ofFilm(t, filepath.Join(far, "other.mp4"), strings.Replace(plainFilm, "testsrc2", "testsrc", 1))
	if err := os.Mkdir(filepath.Join(far, "hidden"), 0o777); err != nil {
		t.Fatal(err)
	}
	x := serveIn(t, dir, st)
	if err := os.Rename(filepath.Join(dir, "warm-up.mp4"), filepath.Join(far, "hidden", "warm-up.mp4")); err != nil {
		t.Fatal(err)
	}
	overTime(t, "moved", x, far)
	if now, err := x.store.Load(t.Context()); err != nil || now.Recording.Path != filepath.Join(far, "hidden", "warm-up.mp4") {
		t.Errorf("the study says it is at %q, %v", now.Recording.Path, err)
	}
}

// TestEveryFileCanBeTakenOut from the page, and captions stand over the picture.
func TestEveryFileCanBeTakenOut(t *testing.T) {
	peer.Chromium(t)
	dir := t.TempDir()
	found := overTime(t, "downloads", serveIn(t, dir, ofFilm(t, filepath.Join(dir, "warm-up.mp4"), plainFilm)), "")
	if n, _ := found.Notes["kept"].(float64); n < 8 {
		t.Errorf("only %v files were kept", n)
	}
}

// TestEveryFrameOfEveryKind: 200 frames in no order, at constant and variable
// rates, in MP4 and WebM.
func TestEveryFrameOfEveryKind(t *testing.T) {
	peer.Chromium(t)
	// A frame in three is dropped and the times of the rest stay: uneven.
	const uneven = " -vf select='mod(n\\,3)' -fps_mode vfr"
	const ntsc = "testsrc2=size=320x180:rate=30000/1001:duration=20"
	for name, c := range map[string]struct {
		args     string
		variable bool
	}{
		"steady.mp4":  {ntsc + " -c:v libx264 -preset ultrafast -bf 2 -g 60 -pix_fmt yuv420p", false},
		"uneven.mp4":  {ntsc + uneven + " -c:v libx264 -preset ultrafast -bf 2 -g 60 -pix_fmt yuv420p", true},
		"steady.webm": {ntsc + " -c:v libvpx -deadline realtime -cpu-used 8 -b:v 800k -g 15 -pix_fmt yuv420p", false},
		"uneven.webm": {ntsc + uneven + " -c:v libvpx -deadline realtime -cpu-used 8 -b:v 800k -g 15 -pix_fmt yuv420p", true},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			st := ofFilm(t, filepath.Join(dir, name), c.args)
			if st.Recording.Variable != c.variable {
				t.Fatalf("the recording is read as %+v", st.Recording)
			}
			overTime(t, "seek", serveIn(t, dir, st), "")
		})
	}
}

// thousand is a study of a thousand phases of eight postures.
func thousand() timeline.Study {
	st := warmUp()
	words := []string{
		"standing", "standing; shoulders flexed 90; elbows straight", "standing on toes; shoulders flexed 170; elbows straight", "standing; right shoulder abducted 150",
		"standing; hinge forward 60", "squat", "sitting", "standing; elbows flexed 90; hands carry 4 kg",
	}
	st.Marks = nil
	for i := range 1000 {
		st.Marks = append(st.Marks, timeline.Mark{At: timeline.Instant(i) * 2500, Title: fmt.Sprint("Pass ", i), Words: words[(i+i/8)%len(words)]})
	}
	return st
}

// TestAThousandPhasesStaySmooth: what is measured is logged; only drawing time,
// which does not hang on what else the machine does, is held to a limit.
func TestAThousandPhasesStaySmooth(t *testing.T) { overTime(t, "speed", serve(t, thousand()), "") }

// TestScrubbingLeavesNothingBehind. TAUTLINE_SCRUB_S says how long to scrub.
func TestScrubbingLeavesNothingBehind(t *testing.T) {
	overTime(t, "memory", serve(t, thousand()), "")
}
