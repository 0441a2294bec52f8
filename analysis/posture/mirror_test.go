package posture

import (
	"reflect"
	"testing"

	"tautline/analysis/body"
)

// TestMirrorsInWords: what is said of one side is said of the other, and twice
// mirrored is as it was.
func TestMirrorsInWords(t *testing.T) {
	model := body.Adult()
	for words, want := range map[string]string{
		"standing on the left leg; right shoulder abducted 160":                             "standing on the right leg; left shoulder abducted 160°",
		"standing; trunk bent left 25; neck rotated right 30":                               "standing; trunk bent right 25°; neck rotated left 30°",
		"half kneeling with the left knee down; right palm down":                            "half kneeling with the right knee down; left forearm pronated 80°",
		"standing; right hand carries 2 kg":                                                 "standing; left hand carries 2 kg",
		"standing; both shoulders flexed 90":                                                "standing; both shoulders flexed 90°",
		"split stance with the left foot forward; left knee flexed 40":                      "split stance with the right foot forward; right knee flexed 40°",
		"side lying on the right side; left hip abducted 20; left knee straight":            "side lying on the left side; right hip abducted 20°; right knee straight",
		"standing; trunk pulled into bend left firmly; right knee pulled straight strongly": "standing; left knee pulled into extension strongly; trunk pulled into bend right firmly",
	} {
		p := Read(model, words).Posture
		once := Mirror(model, p)
		if got := Write(model, once); got != want {
			t.Errorf("%q mirrored is %q, not %q", words, got, want)
		}
		if reflect.DeepEqual(once, p) != (words == "standing; both shoulders flexed 90") {
			t.Errorf("%q: mirrored is the same: %v", words, reflect.DeepEqual(once, p))
		}
		Sort(model, &p)
		if twice := Mirror(model, once); Write(model, twice) != Write(model, p) {
			t.Errorf("%q mirrored twice is %q", words, Write(model, twice))
		}
	}
}
