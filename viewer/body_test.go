package viewer

import (
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"tautline/analysis/geom"
	"tautline/testdata/peer"
	"tautline/timeline"
	"tautline/timeline/media"
)

// onBody plays a story of webtest/body.mjs on a site.
func onBody(t *testing.T, story string, x *site, folder string) told {
	t.Helper()
	peer.Chromium(t)
	var found told
	peer.Read(t, &found, "../../viewer/webtest/body.mjs", story, x.URL(), folder)
	for _, p := range found.Problems {
		t.Errorf("%s: %s", story, p)
	}
	return found
}

// TestPostureByWordsAndByDial: one state, tried before it is kept.
func TestPostureByWordsAndByDial(t *testing.T) { onBody(t, "posture", serve(t, warmUp()), "") }

// TestPosturesAreCopiedAndKept by name, and undone like anything else.
func TestPosturesAreCopiedAndKept(t *testing.T) { onBody(t, "kept", serve(t, warmUp()), "") }

// TestAngleFromTheKnownPicture: read within a degree, by pointer and by keys, and
// with the plane turned; kept with the mark; set on the joint.
func TestAngleFromTheKnownPicture(t *testing.T) {
	peer.Chromium(t)
	const size, angle, lean, turn = 640, 112.0, 35.0, 40.0
	at := func(deg, long, narrow float64) [2]float64 {
		s, c := math.Sincos(geom.Deg(deg))
		return [2]float64{size/2 + narrow*long*c, size/4 - long*s}
	}
	narrow := math.Cos(geom.Deg(turn))
	found := onBody(t, "measure", filmed(t, size, [4][2]float64{at(lean, 120, narrow), at(0, 0, 1), at(lean+angle, 110, narrow), at(lean-90, 90, narrow)}), "")
	t.Logf("measured: %v", found.Notes)
	a, c := at(lean, 120, narrow), at(lean+angle, 110, narrow)
	flat := geom.Degrees(math.Atan2(size/4-c[1], c[0]-size/2) - math.Atan2(size/4-a[1], a[0]-size/2))
	for what, want := range map[string]float64{"three": flat, "four": angle, "keys": geom.Degrees(math.Atan2(80, 50))} {
		if got, ok := found.Notes[what].(float64); !ok || math.Abs(got-want) > 1 {
			t.Errorf("%s: read %v, drawn %.2f", what, found.Notes[what], want)
		}
	}
	if kept, _ := found.Notes["kept"].([]any); len(kept) != 1 || math.Abs(kept[0].(map[string]any)["angle_deg"].(float64)-(180-angle)) > 1.5 {
		t.Errorf("kept is %v", found.Notes["kept"])
	}
	if words, _ := found.Notes["words"].(string); !regexp.MustCompile(`^standing; right knee flexed 6[789]°$`).MatchString(words) {
		t.Errorf("set on the joint: %q", words)
	}
}

// filmed is a site whose recording shows one red, one green, one blue and one
// yellow dot, size by half of it.
func filmed(t *testing.T, size int, dots [4][2]float64) *site {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, size, size/2))
	draw.Draw(img, img.Bounds(), image.NewUniform(color.Gray{40}), image.Point{}, draw.Src)
	for i, ink := range []color.RGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {255, 255, 0, 255}} {
		for y := range size / 2 {
			for x := range size {
				if math.Hypot(float64(x)+0.5-dots[i][0], float64(y)+0.5-dots[i][1]) < 7 {
					img.Set(x, y, ink)
				}
			}
		}
	}
	dir := t.TempDir()
	picture, film := filepath.Join(dir, "dots.png"), filepath.Join(dir, "warm-up.webm")
	file, err := os.Create(picture)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(png.Encode(file, img), file.Close()); err != nil {
		t.Fatal(err)
	}
	peer.Run(t, "ffmpeg", "-v", "error", "-y", "-loop", "1", "-framerate", "10", "-t", "20", "-i", picture, "-c:v", "libvpx", "-b:v", "4M", "-pix_fmt", "yuv420p", film)
	fp, bytes, err := media.Fingerprint(film)
	if err != nil {
		t.Fatal(err)
	}
	st := warmUp()
	st.Recording = &timeline.Recording{Path: filepath.Base(film), Fingerprint: fp, Size: bytes, Kind: "video", Duration: 20_000, FrameRate: 10, Frames: 200, Width: size, Height: size / 2}
	return serveIn(t, dir, st)
}

// TestVariationsBesideEachOther: two bodies, what changes, and one slider for how
// much it is meant.
func TestVariationsBesideEachOther(t *testing.T) { onBody(t, "compare", serve(t, warmUp()), "") }

// TestAskingWhyByKeyboard alone, through the filters to a muscle and back.
func TestAskingWhyByKeyboard(t *testing.T) { onBody(t, "why", serve(t, warmUp()), "") }

// slowestDial is how long a turned dial may take to show on the findings in 95
// of 100 cases, ms. 120 is what is promised of a machine with nothing else to
// do; one that runs other tests meanwhile gets three times that.
const slowestDial = 3 * 120

// TestDialsAnswerWhileTheyTurn measures it in the browser.
func TestDialsAnswerWhileTheyTurn(t *testing.T) {
	found := onBody(t, "quick", serve(t, warmUp()), "")
	t.Logf("measured: %v", found.Notes)
	for _, how := range []string{"turning", "steps"} {
		if ms, ok := found.Notes[how+"_p95_ms"].(float64); !ok || ms > slowestDial {
			t.Errorf("%s: %v ms in 95 of 100 cases", how, found.Notes[how+"_p95_ms"])
		}
	}
}

// TestWorkOnThePostureForEveryone: axe finds nothing while a posture is edited,
// measured or compared. With TAUTLINE_SHOTS naming a folder the pictures are
// kept there.
func TestWorkOnThePostureForEveryone(t *testing.T) {
	peer.Chromium(t)
	found := onBody(t, "axe", filmed(t, 640, [4][2]float64{{100, 100}, {200, 200}, {300, 100}, {400, 200}}), os.Getenv("TAUTLINE_SHOTS"))
	t.Logf("measured: %v", found.Notes)
	if n, _ := found.Notes["passes"].(float64); n < 100 {
		t.Errorf("only %v rules applied", n)
	}
}
