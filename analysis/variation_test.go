package analysis_test

import (
	"math"
	"slices"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// vary compares a posture with a variant of it, both in words.
func vary(t *testing.T, words, variant string) analysis.Variation {
	t.Helper()
	from := posture.Read(whole.Model, words)
	to := posture.Vary(whole.Model, from.Posture, variant)
	if len(from.Unknown)+len(to.Unknown) > 0 {
		t.Fatalf("%q with %q is not understood", words, variant)
	}
	a := whole.Analyse(from.Posture, nil)
	return whole.Compare(a, whole.Analyse(to.Posture, a))
}

// turned finds what a variation says of a group in a role, by its key.
func turned(v analysis.Variation, key string, toward bool, role analysis.Role) (analysis.GroupVariation, bool) {
	id := whole.Model.MustMovement(key)
	i := slices.IndexFunc(v.Groups, func(g analysis.GroupVariation) bool {
		return g.Movement == id && g.Toward == toward && g.Role == role
	})
	if i < 0 {
		return analysis.GroupVariation{}, false
	}
	return v.Groups[i], true
}

// muscleOf finds a muscle by its key.
func muscleOf(t *testing.T, key string) body.MuscleID {
	t.Helper()
	id, ok := whole.Model.Muscle(key)
	if !ok {
		t.Fatalf("there is no muscle %q", key)
	}
	return id
}

func TestNothingChangesAgainstItself(t *testing.T) {
	f := analyse(t, "standing; shoulders flexed 90; hands carry 2 kg")
	v := whole.Compare(f, f)
	if n := len(v.Joints) + len(v.Groups) + len(v.Muscles) + len(v.Loads) + len(v.Unload) + len(v.Cues) + len(v.Uncued) + len(v.Rested) + len(v.Left); n > 0 || v.Effort != 0 {
		t.Errorf("%d changes, effort %g", n, v.Effort)
	}
}

// TestThereAndBackAreOpposite: what begins one way ends the other way, by as much.
func TestThereAndBackAreOpposite(t *testing.T) {
	a, b := analyse(t, "standing; shoulders flexed 90"), analyse(t, "standing; shoulders abducted 90; hands carry 3 kg")
	there, back := whole.Compare(a, b), whole.Compare(b, a)
	if len(there.Groups) == 0 || len(there.Groups) != len(back.Groups) || len(there.Muscles) != len(back.Muscles) || there.Effort != -back.Effort {
		t.Fatalf("%d groups there and %d back, %d muscles and %d", len(there.Groups), len(back.Groups), len(there.Muscles), len(back.Muscles))
	}
	opposite := map[analysis.Turn]analysis.Turn{analysis.Begins: analysis.Ends, analysis.Ends: analysis.Begins, analysis.Rises: analysis.Falls,
		analysis.Falls: analysis.Rises, analysis.Firmer: analysis.Weaker, analysis.Weaker: analysis.Firmer}
	for _, g := range there.Groups {
		h, ok := turned(back, whole.Model.Movements[g.Movement].Key, g.Toward, g.Role)
		if !ok || h.Turn != opposite[g.Turn] || h.By != -g.By || h.Moment != -g.Moment {
			t.Errorf("%s %s by %g there, %s by %g back", whole.Model.Movements[g.Movement].Key, g.Turn, g.By, h.Turn, h.By)
		}
	}
}

// TestVariationsSayWhatTeachersExpect, and from which joint, load or cue.
func TestVariationsSayWhatTeachersExpect(t *testing.T) {
	m := whole.Model
	v := vary(t, "standing on toes; arms overhead", "heels down")
	if g, ok := turned(v, "ankle_dorsiflexion_r", false, analysis.Working); ok && (g.Turn == analysis.Begins || g.Turn == analysis.Rises) {
		t.Errorf("heels down asks more of the plantar flexors: %+v", g)
	}
	soleus := muscleOf(t, "soleus_r")
	i := slices.IndexFunc(v.Muscles, func(x analysis.MuscleVariation) bool { return x.Muscle == soleus })
	if i < 0 || v.Muscles[i].Length <= 0 || len(v.Muscles[i].Why) == 0 || m.Movements[v.Muscles[i].Why[0].Movement].Key != "ankle_dorsiflexion_r" {
		t.Errorf("heels down must lengthen soleus, by the ankle")
	}

	v = vary(t, "standing; elbows flexed 90", "with 4 kg")
	if len(v.Loads) != 2 || len(v.Joints) != 0 {
		t.Errorf("with 4 kg: %d loads differ and %d joints", len(v.Loads), len(v.Joints))
	}
	g, ok := turned(v, "elbow_flexion_r", true, analysis.Working)
	if !ok || g.By <= 0 || g.Moment <= 0 {
		t.Errorf("4 kg more do not ask more of the elbow flexors: %+v", g)
	}
	if v.Effort <= 0 {
		t.Errorf("4 kg more cost %g", v.Effort)
	}

	v = vary(t, "standing; elbows flexed 90; palms up", "palms turned")
	biceps := muscleOf(t, "biceps_long_l")
	i = slices.IndexFunc(v.Muscles, func(x analysis.MuscleVariation) bool { return x.Muscle == biceps })
	if i < 0 || v.Muscles[i].Length <= 0 {
		t.Errorf("palms turned down must lengthen biceps")
	}
}

// TestMoreIntentRaisesActivity: a cue is a slider.
func TestMoreIntentRaisesActivity(t *testing.T) {
	for _, words := range []string{"standing; knees pulled straight ", "standing; arms overhead; elbows pulled straight ", "standing; elbows flexed 90; brace the elbows "} {
		var before *analysis.Findings
		for _, how := range []string{"lightly", "firmly", "strongly"} {
			f := analyse(t, words+how)
			if !f.Effort.Held || len(f.Effort.Unmet) > 0 {
				t.Fatalf("%s%s: held %v, unmet %v", words, how, f.Effort.Held, f.Effort.Unmet)
			}
			if before != nil {
				v := whole.Compare(before, f)
				if v.Effort <= 0 || len(v.Cues) == 0 || len(v.Uncued) != 0 {
					t.Errorf("%s%s costs %g more than before, with %d cues", words, how, v.Effort, len(v.Cues))
				}
				for _, c := range f.Posture.Cues {
					gs := func(x *analysis.Findings) float64 {
						most := 0.0
						for _, g := range x.Groups {
							if g.Movement == c.Movement && g.Role == analysis.Working && (c.Kind == body.Brace || g.Toward == c.Toward) {
								most = math.Max(most, g.Effort)
							}
						}
						return most
					}
					if gs(f) <= gs(before) {
						t.Errorf("%s%s: %s at %.3f, before %.3f", words, how, whole.Model.Movements[c.Movement].Key, gs(f), gs(before))
					}
				}
			}
			before = f
		}
	}
}
