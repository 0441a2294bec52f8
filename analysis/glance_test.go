package analysis

import (
	"slices"
	"testing"

	"tautline/analysis/posture"
)

// TestAGlanceClaimsNoMoreThanTheWholeAnswer: the same lengths, supports and best
// way, and nothing said more firmly than may.
func TestAGlanceClaimsNoMoreThanTheWholeAnswer(t *testing.T) {
	for _, words := range []string{
		"standing; shoulders flexed 75; elbows straight",
		"standing on the left leg; right hip flexed 60; right knee flexed 80",
		"standing; hips flexed 105; knees flexed 50; hands carry 12 kg",
		"standing; knees pulled straight firmly",
	} {
		p := posture.Read(model.Model, words).Posture
		quick, whole := model.Glance(p), model.Analyse(p, nil)
		if quick.Effort.Held != whole.Effort.Held || quick.Effort.Cost != whole.Effort.Cost || !slices.Equal(quick.Coords, whole.Coords) {
			t.Errorf("%s: another way of holding it", words)
		}
		works := 0
		for i := range quick.Muscles {
			q, w := &quick.Muscles[i], &whole.Muscles[i]
			if q.Length != w.Length || q.Place != w.Place || q.Best != w.Best {
				t.Fatalf("%s: %s differs", words, model.Model.Muscles[i].Key)
			}
			if q.Role == Working {
				works++
				if q.Grade != May {
					t.Errorf("%s: %s is said %s at a glance", words, model.Model.Muscles[i].Key, q.Grade)
				}
			}
		}
		if works == 0 {
			t.Errorf("%s: nothing works", words)
		}
		for _, g := range quick.Groups {
			if g.Role == Working && g.Grade != May {
				t.Errorf("%s: a group is said %s at a glance", words, g.Grade)
			}
		}
	}
}
