package analysis

import (
	"math"
	"testing"

	"tautline/analysis/body"
)

// What the parts rest on: in the least effort every muscle between rest and full
// strength works exactly as much as its joints' prices speak for, whatever the
// solver did to get there; and one at rest is spoken for by no more than nothing.
func TestPricesSpeakForEveryActivation(t *testing.T) {
	a := New(body.Adult())
	p := a.pose()
	defer a.poses.Put(p)
	between, rest := 0, 0
	for _, words := range []string{"squat", "standing; elbows flexed 90; hands carry 4 kg", "standing; shoulders abducted 90; hands carry 4 kg"} {
		f := read(t, a, words)
		p.Set(f.Coords)
		p.Measure()
		supports, _ := sharedContacts(f, f)
		e := newEffort(a, p, f, supports, f.Posture)
		for j := range f.Muscles {
			rows, values := e.b.prog.A.Column(j)
			spoken := 0.0
			for k, i := range rows {
				spoken += e.best.Y[i] * values[k]
			}
			switch x := e.best.X[j]; {
			case a.Model.Muscles[j].Passive:
			case x < 1e-9:
				rest++
				if spoken > 1e-6 {
					t.Errorf("%s: %s rests and %.6f speaks for it", words, a.Model.Muscles[j].Key, spoken)
				}
			case x < 1-1e-9:
				between++
				if math.Abs(spoken-x) > 1e-6 {
					t.Errorf("%s: %s works at %.6f and %.6f speaks for it", words, a.Model.Muscles[j].Key, x, spoken)
				}
			}
		}
	}
	if between < 100 || rest < 100 {
		t.Errorf("%d muscles work and %d rest: the test says little", between, rest)
	}
}

func BenchmarkRolesAndPulls(b *testing.B) {
	a := New(body.Adult())
	p := a.pose()
	defer a.poses.Put(p)
	posture := body.Posture{Stance: "squat"}
	f := a.Analyse(posture, nil)
	p.Set(f.Coords)
	p.Measure()
	supports, _ := sharedContacts(f, f)
	e := newEffort(a, p, f, supports, posture)
	b.Run("roles", func(b *testing.B) {
		for b.Loop() {
			a.roles(f, p, e)
		}
	})
	b.Run("pulls", func(b *testing.B) {
		for b.Loop() {
			a.pulls(f, p, e)
		}
	})
}
