package exports

import (
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// Whoever teaches standing at ease names a few groups and counts the rest; the
// technical voice names all.
func TestPlainWordsCountWhatWorksALittle(t *testing.T) {
	m := body.Adult()
	f := analysis.New(m).Analyse(posture.Read(m, "standing").Posture, nil)
	named, counted := 0, 0
	for _, s := range Statements(m, f, Plain) {
		switch {
		case strings.HasSuffix(s.Text, "a little.") || strings.Contains(s.Text, "a little, and"):
			counted += len(s.Groups)
		case s.Kind == Work:
			named++
		}
	}
	if named == 0 || named > 5 || counted < 2 {
		t.Errorf("of quiet standing %d statements of work and %d groups counted", named, counted)
	}
	for _, s := range Statements(m, f, Technical) {
		if strings.Contains(s.Text, "a little") {
			t.Errorf("the technical voice counts: %s", s.Text)
		}
	}
}

// What has to work hard is named, however much there is of it.
func TestNothingHardIsCountedAsLittle(t *testing.T) {
	m := body.Adult()
	f := analysis.New(m).Analyse(posture.Read(m, "squat").Posture, nil)
	for i := range f.Groups {
		if g := &f.Groups[i]; g.Role == analysis.Working && g.Best >= littleItself && isLittle(f, []int{i}) {
			t.Errorf("%s at %.2f is called little", m.Movements[g.Movement].Key, g.Best)
		}
	}
}
