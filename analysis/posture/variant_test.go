package posture

import (
	"testing"

	"tautline/analysis/body"
)

// TestVariantsStandAgainstTheirBase: what a variant says replaces what the base
// said of the same thing and nothing else, and the whole reads back.
func TestVariantsStandAgainstTheirBase(t *testing.T) {
	m := body.Adult()
	for _, c := range []struct{ base, variant, want string }{
		{"standing on toes; arms overhead", "heels down", "standing; arms overhead"},
		{"standing; elbows flexed 90; hands carry 4 kg", "seated", "sitting; elbows flexed 90; hands carry 4 kg"},
		{"standing; elbows flexed 90; palms up", "palms turned", "standing; elbows flexed 90; palms down"},
		{"standing; elbows flexed 90; palms down", "palms turned", "standing; elbows flexed 90; palms up"},
		{"standing; arms forward; elbows straight", "arms bent", "standing; arms forward; elbows flexed 90"},
		{"standing; arms forward", "with 2 kg", "standing; arms forward; hands carry 2 kg"},
		{"standing; arms forward; hands carry 2 kg", "with 6 kg", "standing; arms forward; hands carry 6 kg"},
		{"standing; arms forward; hands carry 2 kg", "without load", "standing; arms forward"},
		{"standing; knees pulled straight lightly", "knees pulled straight strongly", "standing; knees pulled straight strongly"},
		{"standing; knees pulled straight lightly; hands carry 2 kg", "without cues", "standing; hands carry 2 kg"},
		{"plank; palms on the floor", "forearm plank", "forearm plank"},
		{"squat", "heels on the floor", "squat"},
	} {
		base, want := Read(m, c.base), Read(m, c.want)
		got := Vary(m, base.Posture, c.variant)
		for _, r := range []Reading{base, want, got} {
			for _, u := range r.Unknown {
				t.Errorf("%q with %q: %q is not understood", c.base, c.variant, u.Text)
			}
		}
		if got.Canonical != want.Canonical {
			t.Errorf("%q with %q is %q, not %q", c.base, c.variant, got.Canonical, want.Canonical)
		}
		if again := Read(m, got.Canonical); again.Canonical != got.Canonical {
			t.Errorf("%q reads back as %q", got.Canonical, again.Canonical)
		}
	}
}

// TestVariantsKeepPlacesInTheText: what is not understood is told where it is.
func TestVariantsKeepPlacesInTheText(t *testing.T) {
	m := body.Adult()
	words := "without load; knees qqq 5"
	r := Vary(m, body.Posture{Stance: "standing"}, words)
	if len(r.Unknown) == 0 {
		t.Fatal("nothing is reported")
	}
	if u := r.Unknown[0]; words[u.From:u.To] != u.Text {
		t.Errorf("%q is said to stand where %q stands", u.Text, words[u.From:u.To])
	}
}
