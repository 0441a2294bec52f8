package analysis_test

import (
	"math"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/pose"
	"tautline/analysis/posture"
)

// What teachers of movement take for granted. Each fact is common practice
// without a source of its own, and is held as such: said in a teacher's words,
// read by the reader of postures, answered by the analysis of both sides.

// facts compares postures, each analysed once.
type facts struct {
	a    *analysis.Analyser
	seen map[string]*analysis.Findings
}

// Parts by the names that people use for the whole.
const (
	biceps        = "biceps_long biceps_short"
	fingerFlexors = "flexor_digitorum_superficialis flexor_digitorum_profundus"
	serratus      = "serratus_anterior_upper serratus_anterior_middle serratus_anterior_lower"
	rhomboids     = "rhomboid_minor rhomboid_major"
	latissimus    = "latissimus_thoracic latissimus_lumbar"
	bellyWall     = "rectus_abdominis external_oblique_anterior external_oblique_lateral internal_oblique_anterior internal_oblique_lateral"
	hipFlexors    = "psoas_upper psoas_lower iliacus rectus_femoris sartorius tensor_fasciae_latae pectineus"
	gluteus       = "gluteus_maximus_upper gluteus_maximus_middle gluteus_maximus_lower"
	hamstrings    = "semimembranosus semitendinosus biceps_femoris_long"
	gastrocnemius = "gastrocnemius_medial gastrocnemius_lateral"
	overTheFoot   = "tibialis_anterior extensor_hallucis_longus extensor_digitorum_longus fibularis_tertius"
)

// leastTold is the change of length that counts as one, m: well above rounding
// and below anything that a teacher would call a change.
const leastTold = 0.0005

func TestFactsOfTheTrade(t *testing.T) {
	f := &facts{analysis.New(body.Adult()), map[string]*analysis.Findings{}}
	for _, c := range []struct{ fact, muscles, longer, than string }{
		{"turning the palm down lengthens biceps", biceps, "standing; elbows flexed 90; forearms pronated fully", "standing; elbows flexed 90; forearms supinated fully"},
		{"turning the palm down lengthens biceps, elbows straight", biceps, "standing; forearms pronated fully", "standing; forearms supinated fully"},
		{"straightening the elbow lengthens biceps further", biceps, "standing; forearms pronated fully; elbows straight", "standing; forearms pronated fully; elbows flexed 90"},
		{"reaching overhead with the elbow straight lengthens biceps beyond the bent elbow", biceps, "standing; arms overhead; elbows straight", "standing; arms overhead; elbows flexed 90"},
		// Not beyond the arm at the side: both heads cross the shoulder in front
		// with published flexing arms of 10 to 40 mm, so raising the arm takes
		// back some of what the straight elbow gives.
		{"wrist and fingers drawn back lengthen the finger flexors", fingerFlexors, "standing; wrists extended fully; fingers straight; knuckles extended fully", "standing"},
		{"fingers drawn back lengthen them beyond the wrist alone", fingerFlexors, "standing; wrists extended fully; fingers straight; knuckles extended fully", "standing; wrists extended fully; fingers flexed half"},
		{"arms overhead lengthen latissimus", latissimus, "standing; arms overhead", "standing"},
		{"arms overhead lengthen the lower chest", "pectoralis_major_sternocostal", "standing; arms overhead", "standing"},
		{"arms overhead lengthen teres major", "teres_major", "standing; arms overhead", "standing"},
		{"arms overhead lengthen pectoralis minor", "pectoralis_minor", "standing; arms overhead", "standing"},
		{"arms overhead lengthen the rhomboids", rhomboids, "standing; arms overhead", "standing"},
		{"arms overhead lengthen levator scapulae", "levator_scapulae", "standing; arms overhead", "standing"},
		{"arms overhead shorten the upper trapezius", "trapezius_descending", "standing", "standing; arms overhead"},
		{"arms overhead shorten the lower serratus", "serratus_anterior_lower", "standing", "standing; arms overhead"},
		{"drawing the blade back lengthens serratus", serratus, "standing; shoulder blades retracted fully", "standing"},
		// Turning up draws the blade back by itself, so that the other has it held forward.
		{"drawing the blade back lengthens serratus even while turned up", serratus, "standing; shoulder blades upwardly rotated 40; shoulder blades retracted fully", "standing; shoulder blades upwardly rotated 40; shoulder blades protracted 0"},
		{"drawing the blade back lengthens serratus even with arms overhead", serratus, "standing; arms overhead; shoulder blades retracted fully", "standing; arms overhead"},
		{"lifting the ribs with the trunk extended lengthens the belly wall", bellyWall, "standing; trunk extended fully", "standing"},
		{"lifting the ribs alone lengthens the belly wall", bellyWall, "standing; thoracic spine extended fully", "standing"},
		{"tipping the pelvis forward shortens the hip flexors", hipFlexors, "standing", "standing; pelvis tilted anteriorly fully"},
		{"tipping the pelvis forward lengthens gluteus maximus", gluteus, "standing; pelvis tilted anteriorly fully", "standing"},
		{"tipping the pelvis forward lengthens the hamstrings", hamstrings, "standing; pelvis tilted anteriorly fully", "standing"},
		{"straightening the knee lengthens the hamstrings", hamstrings + " biceps_femoris_short", "supine; hips flexed 60; knees straight", "supine; hips flexed 60; knees flexed 90"},
		{"rising on the toes shortens the calf", gastrocnemius + " soleus plantaris", "standing", "standing on toes"},
		{"rising on the toes lengthens the front of the shin and the top of the foot", overTheFoot, "standing on toes", "standing"},
		{"bending the knee slackens gastrocnemius", gastrocnemius, "supine; knees straight; ankles neutral in dorsiflexion", "supine; knees flexed 90; ankles neutral in dorsiflexion"},
		{"grip with the wrist drawn back lengthens the finger flexors", fingerFlexors, "standing; fingers flexed fully; wrists extended 40", "standing; fingers flexed fully"},
	} {
		t.Run(c.fact, func(t *testing.T) { f.longer(t, c.muscles, c.longer, c.than) })
	}
	t.Run("bending the knee leaves soleus as it is", func(t *testing.T) {
		bent := f.in(t, "supine; knees flexed 90; ankles neutral in dorsiflexion")
		straight := f.in(t, "supine; knees straight; ankles neutral in dorsiflexion")
		for _, id := range f.both(t, "soleus") {
			if d := bent.Muscles[id].Length - straight.Muscles[id].Length; math.Abs(d) > 1e-12 {
				t.Errorf("%s changes by %.2f mm", f.a.Model.Muscles[id].Name, 1000*d)
			}
		}
	})
	for _, c := range []struct{ fact, muscles, in string }{
		{"arms overhead draw long what holds the arm down and the blade back", latissimus + " pectoralis_major_sternocostal teres_major pectoralis_minor levator_scapulae " + rhomboids, "standing; arms overhead"},
		{"wrist and fingers drawn back draw the finger flexors long", fingerFlexors, "standing; wrists extended fully; fingers straight; knuckles extended fully"},
		{"the straight elbow with the palm down draws biceps long", biceps, "standing; forearms pronated fully; elbows straight"},
	} {
		t.Run(c.fact, func(t *testing.T) {
			found := f.in(t, c.in)
			for _, id := range f.both(t, c.muscles) {
				if mf := found.Muscles[id]; mf.State != analysis.Long {
					t.Errorf("%s in %q is called %s: %+.1f mm from the anatomical position, place %.2f in its span, fibres %.2f of their best length",
						f.a.Model.Muscles[id].Name, c.in, mf.State, 1000*mf.FromAnatomical, mf.Place, mf.Fibre)
				}
			}
		})
	}
	for _, c := range []struct {
		fact, muscles string
		sign          float64
	}{
		{"upper and lower trapezius with lower serratus turn the blade up", "trapezius_descending trapezius_ascending serratus_anterior_lower", 1},
		{"rhomboids, levator and pectoralis minor turn the blade down", rhomboids + " levator_scapulae pectoralis_minor", -1},
	} {
		t.Run(c.fact, func(t *testing.T) {
			for _, in := range []string{"standing", "standing; shoulders flexed 30", "standing; shoulders abducted 60"} {
				f.turns(t, c.muscles, "shoulder_blade_upward_rotation", c.sign, in)
			}
		})
	}
}

// in analyses a posture in words; every word of it must be understood.
func (f *facts) in(t *testing.T, words string) *analysis.Findings {
	t.Helper()
	if got, ok := f.seen[words]; ok {
		return got
	}
	read := posture.Read(f.a.Model, words)
	for _, u := range read.Unknown {
		t.Fatalf("%q: %q is not understood: %s", words, u.Text, u.Why)
	}
	got := f.a.Analyse(read.Posture, nil)
	f.seen[words] = got
	return got
}

// both gives the muscles of a list on both sides.
func (f *facts) both(t *testing.T, muscles string) []body.MuscleID {
	t.Helper()
	var ids []body.MuscleID
	for _, key := range strings.Fields(muscles) {
		for _, side := range []body.Side{body.Right, body.Left} {
			id, ok := f.a.Model.Muscle(key + side.Suffix())
			if !ok {
				t.Fatalf("there is no muscle %q", key)
			}
			ids = append(ids, id)
		}
	}
	return ids
}

func (f *facts) longer(t *testing.T, muscles, in, than string) {
	t.Helper()
	a, b := f.in(t, in), f.in(t, than)
	for _, id := range f.both(t, muscles) {
		x, y := a.Muscles[id], b.Muscles[id]
		if x.Length-y.Length < leastTold {
			t.Errorf("%s: %.1f mm (place %.2f) in %q and %.1f mm (place %.2f) in %q, it must be longer in the first",
				f.a.Model.Muscles[id].Name, 1000*x.Length, x.Place, in, 1000*y.Length, y.Place, than)
		}
	}
}

// turns demands the sign of an arm about a movement.
func (f *facts) turns(t *testing.T, muscles, movement string, sign float64, in string) {
	t.Helper()
	p := pose.New(f.a.Model)
	p.Set(f.in(t, in).Coords)
	p.Measure()
	for _, id := range f.both(t, muscles) {
		mu := &f.a.Model.Muscles[id]
		arm := p.MovementArm(id, f.a.Model.MustMovement(movement+mu.Side.Suffix()))
		if arm*sign <= 0 {
			t.Errorf("%s in %q: arm %.1f mm about %s", mu.Name, in, 1000*arm, movement)
		}
	}
}
