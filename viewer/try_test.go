package viewer

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
)

type ask = map[string]any

// TestTryingIsTheSameAsKeeping: a posture that is tried is told as the one at a
// mark is, and nothing is written.
func TestTryingIsTheSameAsKeeping(t *testing.T) {
	x := serve(t, warmUp())
	before := x.revision(t)
	tried := post[apiTried](t, x, "/api/try", ask{"words": warmUp().Marks[1].Words})
	kept := read[apiFindings](t, x, "/api/phases/2")
	if !reflect.DeepEqual(tried.Findings.Statements, kept.Statements) || !reflect.DeepEqual(tried.Findings.Doubts, kept.Doubts) {
		t.Errorf("tried:\n%+v\nkept:\n%+v", tried.Findings.Statements, kept.Statements)
	}
	report := read[apiReport](t, x, "/api/report")
	scene := read[apiScene](t, x, "/api/scenes/"+report.Phases[1].Scene)
	if !slices.Equal(tried.Sample.Body, scene.Samples[0].Body) || !slices.Equal(tried.Sample.Lines, scene.Samples[0].Lines) {
		t.Error("the body stands otherwise")
	}
	works := strings.IndexByte(kept.Muscles.Roles, 'w')
	muscle := read[apiMuscle](t, x, "/api/tried/"+tried.Key+"/muscles/"+strconv.Itoa(works))
	if same := read[apiMuscle](t, x, "/api/phases/2/muscles/"+strconv.Itoa(works)); muscle.State != same.State || muscle.Name != same.Name || len(muscle.Reasons) == 0 {
		t.Errorf("%+v, and at the mark %+v", muscle, same)
	}
	if x.revision(t) != before {
		t.Error("trying changed the study")
	}
}

// TestDialsAndWordsAreOneState: words to dials and back are the same words, a
// dial that is turned is said, and what the dials cannot say is told.
func TestDialsAndWordsAreOneState(t *testing.T) {
	x := serve(t, warmUp())
	for _, words := range []string{
		"standing on toes; shoulders flexed 170; knees pulled straight firmly; hands carry 2 kg",
		"half kneeling with the left knee down; right palm against the wall; trunk bent left 12.5",
		"standing; right palm pushes forward 30 N; feet pushed away at 22 %",
		"",
	} {
		said := post[apiTried](t, x, "/api/try", ask{"words": words, "glance": true})
		set := post[apiTried](t, x, "/api/try", ask{"state": said.State, "glance": true})
		if said.Canonical != set.Canonical || !reflect.DeepEqual(said.State, set.State) || said.Key != set.Key {
			t.Errorf("%q: by words %q, by dials %q", words, said.Canonical, set.Canonical)
		}
	}
	vocabulary := read[apiVocabulary](t, x, "/api/vocabulary")
	knee := slices.IndexFunc(vocabulary.Movements, func(d apiDial) bool { return d.Key == "knee_flexion_r" })
	d := vocabulary.Movements[knee]
	if d.HiDeg <= 90 || d.LoDeg > 0 || len(d.Ranges) == 0 || vocabulary.Movements[d.Other].Key != "knee_flexion_l" || d.Toward != "flexed" {
		t.Errorf("%+v", d)
	}
	state := apiState{Stance: "standing_on_left_leg", Positions: []apiPosition{{"knee_flexion_r", 37}}}
	set := post[apiTried](t, x, "/api/try", ask{"state": state, "glance": true})
	if set.Canonical != "standing on the left leg; right knee flexed 37°" || set.Values[knee] != 37 {
		t.Errorf("%q, the knee at %g", set.Canonical, set.Values[knee])
	}
	mirror := post[apiTried](t, x, "/api/try", ask{"state": state, "mirror": true, "glance": true})
	if mirror.Canonical != "standing on the right leg; left knee flexed 37°" {
		t.Errorf("mirrored: %q", mirror.Canonical)
	}
}

// TestVariationsAreTold: what differs, in words and figures; a cue's intent as
// it is set; and nothing where nothing differs.
func TestVariationsAreTold(t *testing.T) {
	x := serve(t, warmUp())
	base := "standing on toes; shoulders flexed 170"
	v := post[apiTried](t, x, "/api/try", ask{"base": base, "words": "heels down; right knee flexed 20", "against": base, "glance": true})
	if v.Canonical != "standing; both shoulders flexed 170°; right knee flexed 20°" || v.Varied == nil || len(v.Varied.Statements) == 0 ||
		len(v.Varied.Figures) == 0 || len(v.Varied.Differs) == 0 || v.Varied.Effort == "" {
		t.Errorf("%q: %+v", v.Canonical, v.Varied)
	}
	same := post[apiTried](t, x, "/api/try", ask{"words": base, "against": base, "glance": true})
	if len(same.Varied.Statements) != 0 || len(same.Varied.Figures) != 0 {
		t.Errorf("between a posture and itself: %+v", same.Varied)
	}
	cued := "standing; knees pulled straight firmly"
	does := func(intent float64) (sum float64) {
		r := post[apiTried](t, x, "/api/try", ask{"words": cued, "intent": intent, "glance": true})
		for _, c := range r.State.Cues {
			if math.Abs(c.Intensity-intent) > 1e-9 {
				t.Errorf("a cue of %g, not %g", c.Intensity, intent)
			}
		}
		for _, e := range r.Findings.Muscles.Efforts {
			sum += float64(e)
		}
		return sum
	}
	if none, some, much := does(0), does(0.2), does(0.6); !(none < some && some < much) {
		t.Errorf("with more intent the efforts are %g, %g, %g", none, some, much)
	}
}

// TestTriedPosturesAreForgotten in the end, the oldest first.
func TestTriedPosturesAreForgotten(t *testing.T) {
	var b bench
	for i := range mostTried + 5 {
		b.keep(strconv.Itoa(i), tried{})
	}
	b.keep(strconv.Itoa(5), tried{})
	b.keep("new", tried{})
	for key, want := range map[string]bool{"0": false, "4": false, "5": true, "6": false, "7": true, "new": true} {
		if _, ok := b.find(key); ok != want {
			t.Errorf("%s is kept: %v", key, ok)
		}
	}
	if len(b.tried) != mostTried || len(b.order) != mostTried {
		t.Errorf("%d and %d are kept", len(b.tried), len(b.order))
	}
}
