package analysis_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
)

// assumed gives the words in which the analysis says what it took the arms to do.
func assumed(f *analysis.Findings) string {
	for _, d := range f.Doubts {
		if d.Kind == "assumed" {
			_, words, _ := strings.Cut(strings.TrimSuffix(d.Text, "."), ": ")
			return words
		}
	}
	return ""
}

// plumb is the angle between an upper arm and the vertical, degrees.
func plumb(t *testing.T, f *analysis.Findings, side body.Side) float64 {
	t.Helper()
	id, ok := whole.Model.Segment("humerus" + side.Suffix())
	if !ok {
		t.Fatal("no upper arm")
	}
	along := f.Frames[id].Dir(geom.V(0, -1, 0))
	return geom.Degrees(math.Acos(-along.Y))
}

func TestArmsThatNobodySpokeOfHangFromALeaningTrunk(t *testing.T) {
	for _, words := range []string{
		"standing; hinge forward 60", "standing; hinge forward 60; hands carry 10 kg", "standing; bend forward fully",
		"sitting; hips flexed 130", "kneeling; hips flexed 60", "standing; hinge forward 45; elbows flexed 90",
	} {
		f := analyse(t, words)
		for _, side := range []body.Side{body.Right, body.Left} {
			if off := plumb(t, f, side); off > 1 {
				t.Errorf("%s: the %s arm hangs %.1f degrees off the plumb line", words, side, off)
			}
		}
		said := assumed(f)
		if said == "" {
			t.Errorf("%s: nobody is told that the arms are taken to hang", words)
			continue
		}
		// What was assumed can be said, and means the same.
		stated := analyse(t, words+"; "+said)
		if again := assumed(stated); again != "" {
			t.Errorf("%s; %s: the arms are stated and taken to hang: %s", words, said, again)
		}
		if off := plumb(t, stated, body.Right); off > 1.5 {
			t.Errorf("%s; %s: the arm points %.1f degrees off the plumb line", words, said, off)
		}
	}
}

func TestArmsStayWhereTheyAreSaidToBe(t *testing.T) {
	for _, words := range []string{
		"standing", "standing; hinge forward 60; arms along the trunk", "standing; hinge forward 60; arms overhead",
		"squat", "plank", "all fours", "supine", "prone", "hanging", "standing; hinge forward 60; palms on the wall",
		"standing; hinge forward 60; right hand pushes forward 50 N; left shoulder flexed 20",
	} {
		if said := assumed(analyse(t, words)); said != "" {
			t.Errorf("%s: the arms are taken to hang: %s", words, said)
		}
	}
}

// Said to hang, arms do, whatever the stance would have them do.
func TestArmsHangWhenTold(t *testing.T) {
	for _, words := range []string{"squat; arms hanging", "standing; arms hanging", "standing; hinge forward 60; arms hanging down"} {
		f := analyse(t, words)
		if off := plumb(t, f, body.Left); off > 1 || assumed(f) != "" {
			t.Errorf("%s: %.1f degrees off, assumed %q", words, off, assumed(f))
		}
	}
	f := analyse(t, "squat; left arm hanging")
	if r, l := plumb(t, f, body.Right), plumb(t, f, body.Left); l > 1 || r < 10 {
		t.Errorf("the left arm alone: left %.1f, right %.1f degrees off", l, r)
	}
}

// Arms that hang need no muscle of shoulder or elbow to hold them out.
func TestHangingArmsAskNothingOfTheElbow(t *testing.T) {
	f := analyse(t, "standing; hinge forward 60; hands carry 4 kg")
	for _, agents := range []string{"elbow flexors", "elbow extensors", "shoulder flexors", "shoulder extensors", "shoulder abductors"} {
		if mustWork(f, agents) {
			t.Errorf("the %s are said to have to work while the arms hang", agents)
		}
	}
}

// A variant that moves the arms takes them in hand; one that lets them hang
// leaves nothing of where they were.
func TestVariantsOfHangingArms(t *testing.T) {
	m := whole.Model
	hung := posture.Read(m, "standing; arms hanging").Posture
	if v := posture.Vary(m, hung, "right arm overhead"); v.Posture.Hanging != (body.Arms{Left: true}) {
		t.Errorf("%q still lets hang %+v", v.Canonical, v.Posture.Hanging)
	}
	v := posture.Vary(m, posture.Read(m, "standing; arms overhead").Posture, "arms hanging")
	if v.Posture.Hanging != (body.Arms{Right: true, Left: true}) ||
		slices.ContainsFunc(v.Posture.Positions, func(p body.Position) bool { return m.SetsArm(p.Movement, body.Right) }) {
		t.Errorf("the variant reads %q", v.Canonical)
	}
}
