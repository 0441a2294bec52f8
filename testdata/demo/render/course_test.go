package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/testdata/demo"
	"tautline/testdata/peer"
	"tautline/timeline"
)

func report(t *testing.T) *timeline.Report {
	t.Helper()
	r, err := timeline.Assess(context.Background(), analysis.New(body.Adult()), demo.Study(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestEveryMarkIsItsPosture: at a mark's time each segment is turned exactly as
// the analysis has it, wherever the body stands by then.
func TestEveryMarkIsItsPosture(t *testing.T) {
	r := report(t)
	c := newCourse(r.Model, r.Phases)
	for _, p := range r.Phases {
		got := c.frames(p.From.Seconds())
		for id, want := range p.Findings.Frames {
			for k := range 3 {
				if d := got[id].Rot.Column(k).Sub(want.Rot.Column(k)).Norm(); d > 1e-9 {
					t.Errorf("%s: %s is turned off by %g", p.Mark.Title, r.Model.Segments[id].Key, d)
				}
			}
		}
	}
}

// TestNobodyJumpsSlidesOrSinks: from picture to picture no part moves farther
// than a calm person's does, what stands stays, and nothing goes into the floor.
func TestNobodyJumpsSlidesOrSinks(t *testing.T) {
	r := report(t)
	c := newCourse(r.Model, r.Phases)
	const (
		calm   = 0.10 // m from picture to picture: 2.5 m/s
		deep   = 0.02 // m into the floor: soles and knees give
		slides = 0.03 // m: a foot turns on its ball as the heel rises
	)
	foot := r.Model.Segments
	right := slices.IndexFunc(foot, func(s body.Segment) bool { return s.Key == "toes_r" })
	start := c.frames(0)[right].At
	before := slices.Clone(c.frames(0))
	for k := 1; k < 1000; k++ {
		now := c.frames(float64(k) / rate)
		for id := range now {
			if d := now[id].At.Sub(before[id].At).Norm(); d > calm {
				t.Fatalf("picture %d: %s moves %.3f m", k, foot[id].Key, d)
			}
		}
		if d := now[right].At.Sub(start).Norm(); d > slides {
			t.Fatalf("picture %d: the right toes have moved %.3f m", k, d)
		}
		for _, s := range c.skin {
			f := now[s.Segment]
			if low := min(f.Point(s.A).Y-s.RA, f.Point(s.B).Y-s.RB); low < -deep {
				t.Fatalf("picture %d: %s %s is %.3f m in the floor", k, foot[s.Segment].Key, s.Part, -low)
			}
		}
		copy(before, now)
	}
}

// TestHandsHoldTheCrate: at its mark both hands are at the crate's sides, by its
// upper edge.
func TestHandsHoldTheCrate(t *testing.T) {
	r := report(t)
	s := newStage(r)
	if math.IsInf(s.carried, 1) {
		t.Fatal("nothing is carried")
	}
	f := newCourse(r.Model, r.Phases).frames(s.carried)
	brim := standHeight + lifted + crateHeight
	for _, side := range []string{"_r", "_l"} {
		id, _ := r.Model.Segment("fingers_proximal" + side)
		p := f[id].At
		if math.Abs(p.X-crateAhead) > crateLength/2 || math.Abs(math.Abs(p.Z)-crateWidth/2) > 0.06 || math.Abs(p.Y-brim) > 0.07 {
			t.Errorf("knuckles %s are at %v, the brim at %.2f", side, p, brim)
		}
	}
}

// TestRecordingShowsThesePostures: the recording in the folder is the one that
// these words, this body and this program make: its picture at each mark is the
// one drawn now. When this fails: go run ./testdata/demo/render
func TestRecordingShowsThesePostures(t *testing.T) {
	peer.Need(t, "ffmpeg")
	dir := t.TempDir()
	file := filepath.Join(dir, "r.mp4")
	if err := os.WriteFile(file, demo.Recording(), 0o600); err != nil {
		t.Fatal(err)
	}
	r := report(t)
	p := newStage(r).player()
	for _, ph := range r.Phases {
		frame := filepath.Join(dir, fmt.Sprintf("%d.raw", ph.Number))
		peer.Run(t, "ffmpeg", "-v", "error", "-i", file, "-vf", fmt.Sprintf("select=eq(n\\,%d)", int(ph.From)*rate/1000),
			"-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "rgba", frame)
		theirs, err := os.ReadFile(frame)
		if err != nil {
			t.Fatal(err)
		}
		ours := p.picture(ph.From.Seconds())
		if len(theirs) != len(ours.Pix) {
			t.Fatalf("%s: %d bytes of picture, expected %d", ph.Mark.Title, len(theirs), len(ours.Pix))
		}
		// Pixels that compression cannot explain: off by more than 40 levels.
		off := 0
		for i := 0; i < len(theirs); i += 4 {
			if math.Abs(float64(theirs[i+1])-float64(ours.Pix[i+1])) > 40 {
				off++
			}
		}
		if most := len(theirs) / 4 / 500; off > most {
			t.Errorf("%s: %d pixels are not as drawn now, at most %d", ph.Mark.Title, off, most)
		} else {
			t.Logf("%s: %d pixels off", ph.Mark.Title, off)
		}
	}
}
