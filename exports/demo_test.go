package exports

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/testdata/demo"
	"tautline/timeline"
)

// demoReport assesses the demo study once.
var demoReport = sync.OnceValue(func() *timeline.Report {
	study := demo.Study()
	study.Revision = 1
	study.Recording = &timeline.Recording{Path: demo.Name + ".mp4", Fingerprint: "demo", Kind: "video", Duration: demo.Length, FrameRate: 25}
	r, err := timeline.Assess(context.Background(), analysis.New(body.Adult()), study, nil)
	if err != nil {
		panic(err)
	}
	return r
})

// TestDemoCaptionsKeepTheirPace: the limits on real findings, in both voices.
func TestDemoCaptionsKeepTheirPace(t *testing.T) {
	for _, v := range []Voice{Plain, Technical} {
		cues, silent, err := Captions(demoReport(), Options{Voice: v})
		if err != nil {
			t.Fatal(err)
		}
		if len(silent.Phases) > 0 || silent.Care || len(cues) < len(demoReport().Phases) {
			t.Errorf("%s: %d cues, silent: %+v", v, len(cues), silent)
		}
		holdPace(t, demoReport(), DefaultPace, cues)
	}
}

// TestRegionsNameMusclesOfTheModel: every key exists, once.
func TestRegionsNameMusclesOfTheModel(t *testing.T) {
	m := body.Adult()
	in := map[string]string{}
	for _, r := range regions {
		for _, key := range r.muscles {
			if _, ok := m.Muscle(key + "_r"); !ok {
				t.Errorf("region %q names %q, which the model lacks", r.noun, key)
			}
			if other, twice := in[key]; twice {
				t.Errorf("%q is in %q and in %q", key, other, r.noun)
			}
			in[key] = r.noun
		}
	}
	for key := range alone {
		if _, ok := m.Muscle(key + "_r"); !ok {
			t.Errorf("a name stands for %q, which the model lacks", key)
		}
	}
}

// TestEveryMuscleCanBeSaid: "the X" must be English for each of them.
func TestEveryMuscleCanBeSaid(t *testing.T) {
	m := body.Adult()
	sp := newSpeaker(m, Plain)
	for i := range m.Muscles {
		noun := sp.single[i]
		first, _, _ := strings.Cut(noun, " ")
		if noun == "" || strings.Contains(noun, ",") || slices.Contains([]string{"behind", "between", "under", "the", "left", "right"}, first) {
			t.Errorf("%s: %q", m.Muscles[i].Key, "the "+noun)
		}
	}
}

// TestEveryCautionOfTheDemoHasWords: the demo calls for some; each has words
// of its own.
func TestEveryCautionOfTheDemoHasWords(t *testing.T) {
	n := 0
	for _, p := range demoReport().Phases {
		for _, c := range p.Findings.Cautions {
			n++
			if _, ok := specificCare[c.Key]; !ok {
				t.Errorf("phase %d: no words for the caution %q", p.Number, c.Key)
			}
		}
	}
	if n == 0 {
		t.Error("the demo calls for no caution at all")
	}
}
