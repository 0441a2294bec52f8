package analysis_test

import (
	"math"
	"slices"
	"testing"

	"tautline/analysis"
	"tautline/analysis/posture"
)

func finding(t testing.TB, f *analysis.Findings, key string) analysis.MuscleFinding {
	t.Helper()
	id, ok := whole.Model.Muscle(key)
	if !ok {
		t.Fatalf("no muscle %q", key)
	}
	return f.Muscles[id]
}

// plays looks for a part about a movement among all of a muscle's.
func plays(mf analysis.MuscleFinding, part analysis.Part, movement string, toward bool) bool {
	id := whole.Model.MustMovement(movement)
	return slices.ContainsFunc(mf.Parts, func(p analysis.PartIn) bool { return p.Part == part && p.Movement == id && p.Toward == toward })
}

const (
	curl = "standing; elbows flexed 90; forearms pronated fully; hands carry 4 kg"
	arms = "standing; shoulders abducted 90; hands carry 4 kg"
)

func TestPartsFollowFromWhatIsAskedAndWhatCancels(t *testing.T) {
	for _, c := range []struct {
		words, muscle string
		part          analysis.Part
		movement      string
		toward        bool
	}{
		{curl, "brachialis_r", analysis.Agonist, "elbow_flexion_r", true},
		{curl, "biceps_long_r", analysis.Synergist, "elbow_flexion_r", true},
		{curl, "triceps_lateral_l", analysis.Antagonist, "elbow_flexion_l", false},
		// Biceps would turn the palm up: the pronators cancel that.
		{curl, "pronator_quadratus_r", analysis.Neutraliser, "forearm_pronation_r", true},
		// The radial wrist extensors would bend the hand to the thumb's side.
		{curl, "extensor_carpi_ulnaris_r", analysis.Neutraliser, "wrist_radial_r", false},
		{arms, "deltoid_acromial_r", analysis.Agonist, "shoulder_abduction_r", true},
		{arms, "supraspinatus_l", analysis.Synergist, "shoulder_abduction_l", true},
		{arms, "pectoralis_major_sternocostal_r", analysis.Antagonist, "shoulder_abduction_r", false},
		{arms, "latissimus_thoracic_r", analysis.Antagonist, "shoulder_abduction_r", false},
		{"squat", "vastus_lateralis_r", analysis.Agonist, "knee_flexion_r", false},
		{"squat", "semimembranosus_r", analysis.Synergist, "hip_flexion_r", false},
		{"squat", "semimembranosus_r", analysis.Antagonist, "knee_flexion_r", true},
		{"squat", "iliacus_l", analysis.Antagonist, "hip_flexion_l", true},
		// The hamstrings that bend the free knee would also draw the thigh back.
		{"standing on the left leg", "semimembranosus_r", analysis.Agonist, "knee_flexion_r", true},
		{"standing on the left leg", "adductor_longus_r", analysis.Neutraliser, "hip_flexion_r", true},
		{"plank", "rectus_abdominis_r", analysis.Agonist, "lumbar_flexion", true},
		{"plank", "serratus_anterior_middle_r", analysis.Agonist, "shoulder_blade_protraction_r", true},
		{"standing; knees pulled straight strongly", "vastus_lateralis_r", analysis.Agonist, "knee_flexion_r", false},
	} {
		if mf := finding(t, analyse(t, c.words), c.muscle); !plays(mf, c.part, c.movement, c.toward) {
			t.Errorf("%s: %s (%.2f) is %q %+v, want %s at %s %v", c.words, c.muscle, mf.Best, mf.Part, mf.Parts, c.part, c.movement, c.toward)
		}
	}
}

func TestStabilisersAreThoseThatHoldWhatDoesNotMove(t *testing.T) {
	before := analyse(t, "standing")
	f := whole.Analyse(posture.Read(whole.Model, arms).Posture, before)
	if mf := finding(t, f, "deltoid_acromial_r"); mf.Part != analysis.Agonist {
		t.Errorf("raised from standing, the middle of the deltoid is %q", mf.Part)
	}
	if mf := finding(t, f, "longissimus_thoracis_thoracic_r"); mf.Part != analysis.Stabiliser {
		t.Errorf("with the arms raised, the back is %q", mf.Part)
	}
	still := whole.Analyse(posture.Read(whole.Model, arms).Posture, f)
	if mf := finding(t, still, "deltoid_acromial_r"); mf.Part != analysis.Stabiliser {
		t.Errorf("held where it was, the middle of the deltoid is %q", mf.Part)
	}
	for i, mf := range still.Muscles {
		if mf.Part == analysis.Agonist || mf.Part == analysis.Synergist {
			t.Errorf("%s has not changed since the posture before and is %q", whole.Model.Muscles[i].Key, mf.Part)
		}
	}
}

func TestMannerIsHowLongItIsWhileItWorks(t *testing.T) {
	for _, c := range []struct {
		words, muscle string
		want          analysis.Manner
	}{
		{"squat", "vastus_lateralis_r", analysis.Lengthened},
		{curl, "pronator_quadratus_r", analysis.Shortened},
		{curl, "extensor_carpi_radialis_brevis_r", analysis.Holding},
		{"squat", "iliacus_r", ""},
	} {
		if mf := finding(t, analyse(t, c.words), c.muscle); mf.Manner != c.want {
			t.Errorf("%s: %s (%s, %s) works %q, want %q", c.words, c.muscle, mf.Role, mf.State, mf.Manner, c.want)
		}
	}
}

func TestEveryWorkingMuscleOfAHeldPostureHasAPart(t *testing.T) {
	seen := map[analysis.Part]int{}
	for _, words := range postures {
		f := analyse(t, words)
		for i, mf := range f.Muscles {
			working := mf.Role == analysis.Working
			if mf.Parts == nil || (mf.Manner != "") != working {
				t.Errorf("%s: %s has parts %v and manner %q", words, whole.Model.Muscles[i].Key, mf.Parts, mf.Manner)
			}
			if f.Effort.Held && working && mf.Best >= 0.05 && mf.Part == "" {
				t.Errorf("%s: %s works at %.2f and plays no part", words, whole.Model.Muscles[i].Key, mf.Best)
			}
			if !f.Effort.Held && mf.Part != "" {
				t.Errorf("%s cannot be held, and %s is %q", words, whole.Model.Muscles[i].Key, mf.Part)
			}
			for _, p := range mf.Parts {
				if p.Share < 0 || p.Share > 1+1e-12 || math.IsNaN(p.Share) || !working && p.Part != analysis.Antagonist {
					t.Errorf("%s: %s plays %+v", words, whole.Model.Muscles[i].Key, p)
				}
			}
			seen[mf.Part]++
		}
	}
	for _, p := range []analysis.Part{analysis.Agonist, analysis.Synergist, analysis.Antagonist, analysis.Stabiliser, analysis.Neutraliser} {
		if seen[p] < 10 {
			t.Errorf("only %d muscles are %q: the test says little", seen[p], p)
		}
	}
}

func TestMirroredPosturesGiveMirroredParts(t *testing.T) {
	a := analyse(t, "standing; right shoulder abducted 80; right hand carries 3 kg")
	b := analyse(t, "standing; left shoulder abducted 80; left hand carries 3 kg")
	for i, mf := range a.Muscles {
		if other := b.Muscles[whole.Model.Muscles[i].Mirror]; mf.Part != other.Part || mf.Manner != other.Manner {
			t.Errorf("%s: %q %q %+v, mirrored %q %q %+v", whole.Model.Muscles[i].Key, mf.Part, mf.Manner, mf.Parts, other.Part, other.Manner, other.Parts)
		}
	}
}
