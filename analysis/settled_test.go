package analysis_test

import (
	"testing"

	"tautline/analysis/posture"
)

// Lopsided postures are the hard ones for the search: nothing is the same on
// both sides, and many quiet columns stand at narrow limits.
var (
	settledStances = []string{"standing", "standing on the left leg", "standing on the right leg", "standing on toes",
		"squat", "sitting", "kneeling", "half kneeling with the right knee down", "half kneeling with the left knee down",
		"all fours", "plank"}
	settledAdded = []string{"", "; right hand carries 5 kg", "; right shoulder abducted 90",
		"; left shoulder flexed 120; left elbow flexed 30", "; neck bent right 15; right elbow flexed 80", "; trunk turned left 20"}
	settledOthers = []string{
		"standing; right hand carries 15 kg",
		"standing; left hand carries 20 kg",
		"standing; trunk bent left 25; right shoulder abducted 165",
		"standing; hands on the wall",
		"standing; hips flexed 105; knees flexed 50; shoulders flexed 80; elbows flexed 5; hands carry 12 kg",
		"squat; left hand carries 10 kg",
		"supine",
		"supine; right hip flexed 20; right knee straight",
		"supine; left hip flexed 60; left knee straight",
		"prone",
		"prone; right hip extended 15; right knee straight",
		"sitting; left knee straight",
	}
)

// TestEveryPostureIsSettled holds whatever is asked to one of two answers, each
// with a proof: a way of holding it, or what is missing.
func TestEveryPostureIsSettled(t *testing.T) {
	list := settledOthers
	for _, s := range settledStances {
		for _, a := range settledAdded {
			list = append(list, s+a)
		}
	}
	held := 0
	for _, words := range list {
		r := posture.Read(whole.Model, words)
		if len(r.Unknown) > 0 {
			t.Errorf("%q: not understood: %q", words, r.Unknown[0].Text)
			continue
		}
		e := whole.Analyse(r.Posture, nil).Effort
		switch {
		case !e.Solved:
			t.Errorf("%q: neither a way of holding it nor what is missing", words)
		case !e.Held && len(e.Short) == 0:
			t.Errorf("%q: said not to be held, but nothing is missing", words)
		case e.Held:
			held++
		}
	}
	t.Logf("%d of %d can be held", held, len(list))
	if held < len(list)/2 {
		t.Errorf("only %d of %d can be held", held, len(list))
	}
}
