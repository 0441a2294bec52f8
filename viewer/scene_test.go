package viewer

import (
	"math"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/exports/figure"
	"tautline/timeline"
)

// TestScenesAreTheReportsPostures: a hold is one sample, a movement begins and
// ends in the very postures of its marks, and every array has its length.
func TestScenesAreTheReportsPostures(t *testing.T) {
	x := serve(t, warmUp())
	model := read[apiModel](t, x, "/api/model")
	report := read[apiReport](t, x, "/api/report")
	scenes := make([]apiScene, len(report.Phases))
	for i, p := range report.Phases {
		s := read[apiScene](t, x, "/api/scenes/"+p.Scene)
		scenes[i] = s
		if hold := p.Hold || i == len(report.Phases)-1; hold != (len(s.Samples) == 1) {
			t.Errorf("phase %d: hold %v has %d samples", p.Number, hold, len(s.Samples))
		}
		for _, sample := range s.Samples {
			if len(sample.Body) != 6*len(model.Parts) || len(sample.Lines) != 3*model.LinePoints*len(model.Muscles) || len(sample.Centre) != 3 {
				t.Fatalf("phase %d: arrays of %d, %d, %d", p.Number, len(sample.Body), len(sample.Lines), len(sample.Centre))
			}
		}
	}
	for i := 0; i+1 < len(scenes); i++ {
		last, first := scenes[i].Samples[len(scenes[i].Samples)-1], scenes[i+1].Samples[0]
		for k := range last.Body {
			if last.Body[k] != first.Body[k] {
				t.Fatalf("phase %d ends elsewhere than phase %d begins: number %d, %d and %d", i+1, i+2, k, last.Body[k], first.Body[k])
			}
		}
	}
	if len(model.RadiiMM) != 2*len(model.Parts) {
		t.Errorf("%d radii of %d parts", len(model.RadiiMM), len(model.Parts))
	}
}

// TestMovementsAreSmoothAndStayUp: between samples nothing jumps and no foot
// goes through the floor.
func TestMovementsAreSmoothAndStayUp(t *testing.T) {
	x := serve(t, warmUp())
	report := read[apiReport](t, x, "/api/report")
	s := read[apiScene](t, x, "/api/scenes/"+report.Phases[0].Scene)
	// A hand is 1.4 m from its shoulder's far side at most and turns at the most
	// twice sampleTurn in a step, for speed peaks at 1.9 times its mean.
	const step = 1400 * 2 * sampleTurn
	model := read[apiModel](t, x, "/api/model")
	for k := 1; k < len(s.Samples); k++ {
		for i := range s.Samples[k].Body {
			if d := math.Abs(float64(s.Samples[k].Body[i] - s.Samples[k-1].Body[i])); d > step {
				t.Fatalf("sample %d: number %d jumps %g mm", k, i, d)
			}
		}
	}
	for k, sample := range s.Samples {
		for i := 0; i < len(sample.Body); i += 3 {
			if low := float64(sample.Body[i+1]) - model.RadiiMM[i/3]; low < -20 {
				t.Errorf("sample %d: %s is %g mm under the floor", k, model.Parts[i/6], low)
			}
		}
	}
}

// TestBodyIsDrawnInItsSize: a taller person's scene is taller by as much.
func TestBodyIsDrawnInItsSize(t *testing.T) {
	tall := warmUp()
	tall.Person.StatureM = 1.925 // a tenth more
	height := func(st timeline.Study) float64 {
		x := serve(t, st)
		m := read[apiModel](t, x, "/api/model")
		top := 0.0
		s := read[apiScene](t, x, "/api/scenes/"+read[apiReport](t, x, "/api/report").Phases[0].Scene).Samples[0]
		for i := 0; i < len(s.Body); i += 3 {
			top = max(top, float64(s.Body[i+1])+m.RadiiMM[i/3])
		}
		return top
	}
	if ratio := height(tall) / height(warmUp()); math.Abs(ratio-1.1) > 0.005 {
		t.Errorf("a tenth taller is drawn %.3f times as tall", ratio)
	}
}

// TestLinesAreEven: points stand at even distances and keep both ends.
func TestLinesAreEven(t *testing.T) {
	line := []geom.Vec{geom.V(0, 0, 0), geom.V(0, 0, 0), geom.V(1, 0, 0), geom.V(1, 0.1, 0)}
	out := even(nil, line)
	if len(out) != 3*linePoints {
		t.Fatalf("%d numbers", len(out))
	}
	if out[0] != 0 || out[len(out)-3] != 1000 || out[len(out)-2] != 100 {
		t.Errorf("ends at %v and %v", out[:3], out[len(out)-3:])
	}
	for k := 1; k < linePoints-1; k++ {
		if d := out[3*k] - out[3*k-3]; d != 100 {
			t.Errorf("step %d is %d mm", k, d)
		}
	}
	if still := even(nil, []geom.Vec{geom.V(1, 2, 3), geom.V(1, 2, 3)}); still[3] != 1000 || len(still) != 3*linePoints {
		t.Errorf("a line of no length: %v", still[:6])
	}
}

// TestDrawerKeepsToOneModel: switching bodies does not mix them up.
func TestDrawerKeepsToOneModel(t *testing.T) {
	small, err := body.Adult().Scaled(body.Person{Stature: 1.5, Mass: 50, Sex: body.Female})
	if err != nil {
		t.Fatal(err)
	}
	var d drawer
	for range 2 {
		for _, m := range []*body.Model{body.Adult(), small} {
			f := analysis.New(m).Analyse(body.Posture{}, nil)
			s := d.scene(m, &timeline.PhaseReport{Findings: f}, nil)
			if len(s.Samples) != 1 || len(s.Samples[0].Body) != 6*len(figure.Outline(m)) {
				t.Fatalf("%d samples", len(s.Samples))
			}
		}
	}
}
