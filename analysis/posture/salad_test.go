package posture

import (
	"math/rand/v2"
	"strings"
	"testing"

	"tautline/analysis/body"
)

// TestKnownWordsInAnyOrderReadBack holds texts of known words and phrases in
// any order, which mutated bytes hardly ever make, to the promises of FuzzRead.
func TestKnownWordsInAnyOrderReadBack(t *testing.T) {
	m := body.Adult()
	x := lexiconOf(m)
	r := rand.New(rand.NewPCG(3, 5))
	joints := []string{}
	for _, mv := range m.Movements {
		joints = append(joints, mv.Joint, x.participle[mv.Toward], x.participle[mv.Away])
	}
	understood := 0
	for range 6000 {
		var b strings.Builder
		for range 1 + r.IntN(9) {
			switch r.IntN(7) {
			case 0:
				b.WriteString(x.phrases[r.IntN(len(x.phrases))])
			case 1:
				b.WriteString(x.nearWords[r.IntN(len(x.nearWords))])
			case 2:
				b.WriteString([]string{"left", "right", "both", "each", "and", ",", ";", "on the floor", "firmly"}[r.IntN(9)])
			case 3:
				b.WriteString([]string{"30", "-12.5", "50 %", "2 kg", "40 N", "half", "fully", "neutral", "straight"}[r.IntN(9)])
			default:
				b.WriteString(joints[r.IntN(len(joints))])
			}
			b.WriteString([]string{" ", " ", "; "}[r.IntN(3)])
		}
		text := b.String()
		got := Read(m, text)
		sound(t, text, got)
		back(t, m, got)
		if t.Failed() {
			t.Fatalf("text: %q", text)
		}
		if got.Canonical != "" {
			understood++
		}
	}
	if understood < 500 {
		t.Errorf("%d of 6000 texts say anything; the test shows little", understood)
	}
}
