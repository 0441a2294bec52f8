package demo

import (
	"bytes"
	"context"
	"testing"
	"time"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
	"tautline/timeline"
	"tautline/timeline/media"
)

// TestRecordingIsWhatTheStudySays: small enough to carry along, as long as the
// study says, every frame in its place, ready to play from its first bytes.
func TestRecordingIsWhatTheStudySays(t *testing.T) {
	b := Recording()
	const most = 2 << 20
	if len(b) > most {
		t.Errorf("%d bytes, at most %d are carried along", len(b), most)
	}
	rec, err := media.Read(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	const frame = time.Second / 25
	length := time.Duration(Length) * time.Millisecond
	if d := rec.Duration - length; d < -frame || d > frame {
		t.Errorf("lasts %v, the study says %v", rec.Duration, length)
	}
	if rec.Kind != media.Video || len(rec.Frames) != 1000 || rec.Variable || rec.Rate.PerSecond() != 25 {
		t.Errorf("%v with %d frames, %v per second, variable %t", rec.Kind, len(rec.Frames), rec.Rate, rec.Variable)
	}
	if index, data := bytes.Index(b, []byte("moov")), bytes.Index(b, []byte("mdat")); index < 0 || index > data {
		t.Errorf("the index is at byte %d, after the pictures at %d", index, data)
	}
}

// TestMarksStandInOrderOnFrames: six marks, each on the time of a frame.
func TestMarksStandInOrderOnFrames(t *testing.T) {
	s := Study()
	if len(s.Marks) != 6 {
		t.Fatalf("%d marks", len(s.Marks))
	}
	before := timeline.Instant(-1)
	for _, m := range s.Marks {
		if m.At <= before || m.At >= Length || m.At%40 != 0 {
			t.Errorf("mark %d is at %v", m.ID, m.At)
		}
		before = m.At
	}
}

// TestEveryWordIsUnderstood: all words are read, nothing that is stated is past
// its published range, what is written canonically reads back, and a whole
// assessment finds nothing wrong.
func TestEveryWordIsUnderstood(t *testing.T) {
	m := body.Adult()
	s := Study()
	s.Recording = &timeline.Recording{Duration: Length, Kind: "video"}
	report, err := timeline.Assess(context.Background(), analysis.New(m), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range report.Problems {
		if !p.Doubt {
			t.Errorf("%s: %s", p.Kind, p.Text)
		}
	}
	for _, p := range report.Phases {
		for _, u := range p.Reading.Unknown {
			t.Errorf("%s: %q is not understood: %s", p.Mark.Title, u.Text, u.Why)
		}
		if again := posture.Read(m, p.Reading.Canonical).Canonical; again != p.Reading.Canonical {
			t.Errorf("%s: %q reads back as %q", p.Mark.Title, p.Reading.Canonical, again)
		}
		for _, j := range p.Findings.Joints {
			if j.Stated && j.Past > 0 {
				t.Errorf("%s: %s is %.1f degrees past its published range", p.Mark.Title, m.Movements[j.Movement].Key, geom.Degrees(j.Past))
			}
		}
		for _, c := range p.Findings.Contacts {
			// Soles give by some millimetres.
			if c.Gap > 0.005 || c.Gap < -0.005 {
				t.Errorf("%s: %s is %.0f mm off the %s", p.Mark.Title, c.Patch, c.Gap*1000, c.On)
			}
		}
	}
}

// TestPosturesMeanWhatTheirTitlesSay: the hands are where the title puts them.
func TestPosturesMeanWhatTheirTitlesSay(t *testing.T) {
	m := body.Adult()
	a := analysis.New(m)
	at := func(mark int, segment string) geom.Vec {
		f := a.Analyse(posture.Read(m, Study().Marks[mark-1].Words).Posture, nil)
		id, ok := m.Segment(segment)
		if !ok {
			t.Fatalf("no segment %s", segment)
		}
		return f.Frames[id].At
	}
	head, shoulder := at(1, "head"), at(2, "humerus_r")
	if h := at(1, "hand_r"); h.Y > shoulder.Y-0.4 {
		t.Errorf("quiet stand: the hand is at %v", h)
	}
	if h, f := at(2, "hand_r"), at(2, "fingers_distal_r"); h.X < shoulder.X+0.4 || f.Y < h.Y+0.08 {
		t.Errorf("forearm and wrist preparation: wrist %v, fingers %v", h, f)
	}
	for _, side := range []string{"_r", "_l"} {
		if h, heel := at(3, "hand"+side), at(3, "foot"+side); h.Y < head.Y+0.3 || heel.Y < at(1, "foot"+side).Y+0.03 {
			t.Errorf("overhead reach on toes: hand %v, ankle %v", h, heel)
		}
	}
	if r, l := at(4, "hand_r"), at(4, "hand_l"); r.Y < head.Y+0.2 || l.Y > 1 || at(4, "head").Z > -0.1 {
		t.Errorf("one-arm side reach: hands %v and %v, head %v", r, l, at(4, "head"))
	}
	if r, l := at(5, "hand_r"), at(5, "hand_l"); r.Y > 0.65 || l.Y > 0.65 || r.X < 0.2 || at(5, "pelvis").X > -0.15 {
		t.Errorf("loaded crate hinge: hands %v and %v, pelvis %v", r, l, at(5, "pelvis"))
	}
	if hand, knee, other := at(6, "hand_r"), at(6, "shank_r"), at(6, "shank_l"); hand.Sub(knee).Norm() > 0.16 || other.Y > 0.1 {
		t.Errorf("half-kneeling rest: hand %v, knees %v and %v", hand, knee, other)
	}
}
