package analysis_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
)

func between(t testing.TB, from, to string, duration float64) *analysis.Movement {
	t.Helper()
	return whole.Between(analyse(t, from), analyse(t, to), duration)
}

func muscleIn(t testing.TB, mv *analysis.Movement, key string) analysis.MovementFinding {
	t.Helper()
	id, ok := whole.Model.Muscle(key)
	if !ok {
		t.Fatalf("no muscle %q", key)
	}
	return mv.Muscles[id]
}

func groupIn(mv *analysis.Movement, key string, toward bool) analysis.GroupWork {
	id := whole.Model.MustMovement(key)
	for _, g := range mv.Work {
		if g.Movement == id && g.Toward == toward {
			return g
		}
	}
	return analysis.GroupWork{}
}

const (
	armsDown = "standing; hands carry 2 kg"
	armsOut  = "standing; shoulders abducted 90; hands carry 2 kg"
	upright  = "standing; trunk flexed 10"
	stooped  = "standing; trunk flexed 40; neck flexed 20"
)

// What every teacher calls raising and lowering, and coming up and going down.
func TestWorkIsConcentricUpAndEccentricDown(t *testing.T) {
	for _, c := range []struct {
		from, to, movement string
		toward             bool
		want               analysis.Contraction
	}{
		{armsDown, armsOut, "shoulder_abduction_r", true, analysis.Concentric},
		{armsOut, armsDown, "shoulder_abduction_l", true, analysis.Eccentric},
		{"standing", "squat", "knee_flexion_r", false, analysis.Eccentric},
		{"squat", "standing", "knee_flexion_r", false, analysis.Concentric},
		{"standing; elbows flexed 20; hands carry 4 kg", "standing; elbows flexed 100; hands carry 4 kg", "elbow_flexion_r", true, analysis.Concentric},
		{"standing; elbows flexed 100; hands carry 4 kg", "standing; elbows flexed 20; hands carry 4 kg", "elbow_flexion_l", true, analysis.Eccentric},
		{"standing; shoulders abducted 90; elbows flexed 90; hands carry 4 kg", "standing; shoulders abducted 90; elbows flexed 90; neck rotated right 30; hands carry 4 kg", "shoulder_abduction_r", true, analysis.Isometric},
		{"standing on toes", "standing", "ankle_dorsiflexion_r", false, analysis.Eccentric},
		{"standing", "standing on toes", "ankle_dorsiflexion_l", false, analysis.Concentric},
	} {
		mv := between(t, c.from, c.to, 0)
		if got := groupIn(mv, c.movement, c.toward); got.Contraction != c.want {
			t.Errorf("%s to %s: %s %v works %q (peak %.2f, mean %.2f), not %q; %d of %d held", c.from, c.to, c.movement, c.toward, got.Contraction, got.Peak, got.Mean, c.want, mv.Held, mv.Looked)
		}
	}
}

func TestGoingBackTurnsTheContractionAround(t *testing.T) {
	turned := map[analysis.Contraction]analysis.Contraction{"": "", analysis.Concentric: analysis.Eccentric,
		analysis.Eccentric: analysis.Concentric, analysis.Isometric: analysis.Isometric, analysis.Mixed: analysis.Mixed}
	for _, c := range [][2]string{{armsDown, armsOut}, {"standing", "squat"}, {upright, stooped}} {
		there, back := between(t, c[0], c[1], 0), between(t, c[1], c[0], 0)
		for i, mf := range there.Muscles {
			other := back.Muscles[i]
			if math.Abs(mf.Peak-other.Peak) > 1e-6 || math.Abs(mf.Mean-other.Mean) > 1e-6 || turned[mf.Contraction] != other.Contraction {
				t.Errorf("%s and back: %s %q %.4f %.4f, then %q %.4f %.4f", c[0], whole.Model.Muscles[i].Key, mf.Contraction, mf.Peak, mf.Mean, other.Contraction, other.Peak, other.Mean)
			}
		}
	}
}

func TestMeansLieBelowPeaksAndQuietMusclesDoNothing(t *testing.T) {
	working := 0
	for _, c := range [][2]string{{armsDown, armsOut}, {"squat", "standing"}, {"all fours", "plank"}, {"standing", "standing on the left leg"}, {"standing", "supine"}} {
		mv := between(t, c[0], c[1], 1)
		for i, mf := range mv.Muscles {
			if mf.Mean > mf.Peak+1e-12 || mf.Mean < 0 || mf.Peak > 1+1e-9 {
				t.Errorf("%v: %s has mean %g and peak %g", c, whole.Model.Muscles[i].Key, mf.Mean, mf.Peak)
			}
			if (mf.Contraction != "") != (mf.Peak >= 0.05) && mv.Held == mv.Looked {
				t.Errorf("%v: %s peaks at %.3f and is called %q", c, whole.Model.Muscles[i].Key, mf.Peak, mf.Contraction)
			}
			if mf.Contraction != "" {
				working++
			}
		}
		if mv.Held < mv.Looked && !slices.ContainsFunc(mv.Doubts, func(d analysis.Doubt) bool { return d.Kind == "balance" }) {
			t.Errorf("%v: %d of %d positions are held, and nothing is said", c, mv.Held, mv.Looked)
		}
		t.Logf("%v: %d of %d held, quick below %.2f s", c, mv.Held, mv.Looked, mv.QuickBelow)
	}
	if working < 50 {
		t.Errorf("only %d muscles work in all: the test says little", working)
	}
}

// Raised quickly, an arm asks more at the start than at leisure; slow ways do not
// differ from one another.
func TestInertiaCountsWhenQuick(t *testing.T) {
	from, to := analyse(t, "standing"), analyse(t, "standing; shoulders flexed 90")
	limit := whole.QuickBelow(from, to)
	if limit < 0.5 || limit > 4 {
		t.Errorf("raising the arms counts as quick below %.2f s", limit)
	}
	slow, slower := whole.Between(from, to, limit), whole.Between(from, to, 10*limit)
	if slow.Quick || !reflect.DeepEqual(slow, slower) {
		t.Error("two slow ways differ")
	}
	quick := whole.Between(from, to, 0.4)
	flexors := func(mv *analysis.Movement) float64 { return groupIn(mv, "shoulder_flexion_r", true).Peak }
	if !quick.Quick || flexors(quick) < 1.1*flexors(slow) {
		t.Errorf("raised in 0.4 s the shoulder flexors peak at %.2f, at leisure at %.2f", flexors(quick), flexors(slow))
	}
	if !slices.ContainsFunc(quick.Doubts, func(d analysis.Doubt) bool { return d.Kind == "inertia" && strings.Contains(d.Text, "0.4 s") }) {
		t.Errorf("a quick way does not say so: %+v", quick.Doubts)
	}
	none := whole.Between(from, to, 0)
	if none.Quick || !slices.ContainsFunc(none.Doubts, func(d analysis.Doubt) bool { return strings.Contains(d.Text, "No time passes") }) {
		t.Errorf("a way that takes no time does not say so: %+v", none.Doubts)
	}
}

func TestMirroredMovementsGiveMirroredWork(t *testing.T) {
	a := between(t, "standing", "standing; right shoulder abducted 90; neck rotated left 30", 0.7)
	b := between(t, "standing", "standing; left shoulder abducted 90; neck rotated right 30", 0.7)
	for i, mf := range a.Muscles {
		other := b.Muscles[whole.Model.Muscles[i].Mirror]
		if math.Abs(mf.Peak-other.Peak) > 1e-4 || math.Abs(mf.Mean-other.Mean) > 1e-4 {
			t.Errorf("%s: peak %.5f mean %.5f, mirrored %.5f %.5f", whole.Model.Muscles[i].Key, mf.Peak, mf.Mean, other.Peak, other.Mean)
		}
	}
	if !reflect.DeepEqual(a, between(t, "standing", "standing; right shoulder abducted 90; neck rotated left 30", 0.7)) {
		t.Error("two runs differ")
	}
}

func TestOtherSupportsAreSaid(t *testing.T) {
	mv := between(t, "standing", "standing on the left leg", 0)
	if !slices.ContainsFunc(mv.Doubts, func(d analysis.Doubt) bool { return d.Kind == "support" }) {
		t.Errorf("going onto one leg does not say what carries the body: %+v", mv.Doubts)
	}
	if mv := between(t, armsDown, armsOut, 0); slices.ContainsFunc(mv.Doubts, func(d analysis.Doubt) bool { return d.Kind == "support" }) {
		t.Errorf("standing on both feet throughout carries a doubt: %+v", mv.Doubts)
	}
}

func BenchmarkBetween(b *testing.B) {
	for _, c := range []struct {
		name, from, to string
		duration       float64
	}{
		{"slow", "standing; hands carry 2 kg", "squat; hands carry 2 kg", 0},
		{"quick", "standing; hands carry 2 kg", "squat; hands carry 2 kg", 0.8},
		{"not to be held on the way", "standing", "supine", 0},
	} {
		from, to := analyse(b, c.from), analyse(b, c.to)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				whole.Between(from, to, c.duration)
			}
		})
		b.Run(c.name+", whether quick", func(b *testing.B) {
			for b.Loop() {
				whole.QuickBelow(from, to)
			}
		})
	}
}
