package exports

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
)

// texts gives the sentences of a posture.
func texts(m *body.Model, f *analysis.Findings, v Voice) []string {
	out := []string{}
	for _, s := range Statements(m, f, v) {
		out = append(out, s.Text)
	}
	return out
}

// TestFirmIsSaidBeforeSoft: what ranks first in the analysis leads, be it work
// or length; must before likely, and both before may.
func TestFirmIsSaidBeforeSoft(t *testing.T) {
	m := sampleModel()
	b := analysis.Bounds{Best: 0.3, Least: 0.2, Lo: 0.2, Hi: 0.3}
	must := sampleWork(m, "knee_flexion_r-", analysis.Must, b, "rectus_femoris_r")
	likely := sampleWork(m, "shoulder_flexion_r+", analysis.Likely, b, "deltoid_anterior_r")
	may := sampleGroup(m, "knee_flexion_r+", analysis.Working, analysis.May, "biceps_femoris_r")
	long := sampleGroup(m, "trunk_bend-", analysis.DrawnLong, analysis.Geometry, "obliques_l")
	const (
		saysMust   = "The front of the thigh has to be working on the right."
		saysLikely = "The front of the shoulder is likely working on the right."
		saysMay    = "The outer hamstring may be working on the right."
		saysLong   = "The side of the waist is drawn long on the left."
	)
	for _, c := range []struct {
		groups []analysis.GroupFinding
		want   []string
	}{
		{[]analysis.GroupFinding{may, long, likely, must}, []string{saysLong, saysMust, saysLikely, saysMay}},
		{[]analysis.GroupFinding{likely, long, must, may}, []string{saysMust, saysLong, saysLikely, saysMay}},
		{[]analysis.GroupFinding{may, likely}, []string{saysLikely, saysMay}},
	} {
		if got := texts(m, &analysis.Findings{Groups: c.groups}, Plain); !slices.Equal(got, c.want) {
			t.Errorf("got  %q\nwant %q", got, c.want)
		}
	}
}

// TestWhatIsNotToldApart: the members by name, with figures in the technical
// voice and the cap that the figures hold under.
func TestWhatIsNotToldApart(t *testing.T) {
	m := sampleModel()
	b := analysis.Bounds{Best: 0.3, Least: 0.27, Lo: 0.29, Hi: 0.3}
	right := sampleWork(m, "ankle_dorsiflexion_r-", analysis.Must, b, "soleus_r", "gastrocnemius_medial_r")
	left := sampleWork(m, "ankle_dorsiflexion_l-", analysis.Must, b, "soleus_l", "gastrocnemius_medial_l")
	open := right
	open.Split = slices.Clone(right.Split)
	open.Split[0].Lo = 0
	apart := sampleWork(m, "shoulder_flexion_r+", analysis.Must, b, "deltoid_anterior_r", "deltoid_posterior_r")
	only := right
	only.Split = []analysis.Span{right.Split[0], {Muscle: right.Muscles[1]}}
	for _, c := range []struct {
		why              string
		groups           []analysis.GroupFinding
		plain, technical string
	}{
		{"one is in every near-best way", []analysis.GroupFinding{right}, "Position alone cannot tell how the parts of the calf share the work on the right.",
			"How the soleus and the medial head of the gastrocnemius share the work on the right is not settled by the position."},
		{"none is", []analysis.GroupFinding{open}, "Position alone cannot tell which part of the calf works on the right.",
			"Which of the soleus and the medial head of the gastrocnemius does the work on the right is not settled by the position."},
		{"both sides alike", []analysis.GroupFinding{right, left}, "Position alone cannot tell how the parts of the calf share the work on both sides.",
			"How the soleus and the medial head of the gastrocnemius share the work on both sides is not settled by the position."},
		{"of two regions", []analysis.GroupFinding{apart}, "Position alone cannot tell how the front of the shoulder and the back of the shoulder share the work on the right.",
			"How the anterior deltoid and the posterior deltoid share the work on the right is not settled by the position."},
		{"one that near-best ways leave out is no rival", []analysis.GroupFinding{only}, "", ""},
	} {
		f := &analysis.Findings{Groups: c.groups, Effort: analysis.Effort{NearBest: 1.1}}
		for v, want := range map[Voice]string{Plain: c.plain, Technical: c.technical} {
			all := Statements(m, f, v)
			last := all[len(all)-1]
			if want == "" {
				if last.Kind == Untold {
					t.Errorf("%s: says %q", c.why, last.Text)
				}
				continue
			}
			if last.Text != want || last.Kind != Untold || last.Grade != analysis.NotTold || len(last.Groups) != len(c.groups) {
				t.Errorf("%s, %s: %+v, want %q", c.why, v, last, want)
			}
			if v == Technical && (!strings.Contains(last.Figures, "31%, ") || !strings.Contains(last.Figures, " 0 to 24% for up to 10% more effort")) {
				t.Errorf("%s: figures %q", c.why, last.Figures)
			}
		}
	}
}

// TestLinksOfWorkInWords: moment, arm, bound and what the model leaves out, and
// no firmer than each bound is.
func TestLinksOfWorkInWords(t *testing.T) {
	m := sampleModel()
	f := sampleFindings(m)
	ankle := sampleMovement(m, "ankle_dorsiflexion_r")
	say := func(grade analysis.Grade, b analysis.Bounds, r analysis.Reason) string {
		g := sampleWork(m, "ankle_dorsiflexion_r-", grade, b, "soleus_r")
		return groupReason(m, f, &g, r)
	}
	bound := func(b analysis.Bounds) analysis.Reason {
		return analysis.Reason{Kind: "bound", Movement: -1, Value: b.Least, Length: b.Lo}
	}
	must, likely, may := analysis.Bounds{Best: 0.3, Least: 0.27, Lo: 0.29}, analysis.Bounds{Best: 0.3, Lo: 0.11}, analysis.Bounds{Best: 0.3}
	for _, c := range []struct{ got, want string }{
		{say(analysis.Must, must, analysis.Reason{Kind: "load", Movement: ankle, Value: 34.2}), "At the right ankle they give 34 N·m toward plantarflexion in the way of holding this that costs least effort."},
		{say(analysis.Must, must, bound(must)), "Every way of holding this uses at least 27% of what they can do here."},
		{say(analysis.Likely, likely, bound(likely)), "Ways that cost at most 10% more effort there than the best all use at least 11% of what they can do here; some costlier way does without."},
		{say(analysis.May, may, bound(may)), "Ways that cost at most 10% more effort there than the best include some that do almost without them."},
		{say(analysis.May, likely, bound(likely)), "Ways that cost at most 10% more effort there than the best all use at least 11% of what they can do here; some costlier way does without; with angles, arms and weights a little off it may come out less, so it is said less firmly."},
		{say(analysis.Must, must, analysis.Reason{Kind: "model", Movement: -1}), "This is for holding still; habit and tension of one's own choosing are not in it."},
		{say(analysis.Must, must, analysis.Reason{Kind: "cue", Movement: ankle, Value: 0.3}), "The words ask for 30% of what they can do."},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestFiguresOfWork: moment, share and what is settled of it; a share past all
// strength is said as that.
func TestFiguresOfWork(t *testing.T) {
	m := sampleModel()
	figures := func(g analysis.GroupFinding) string {
		f := &analysis.Findings{Groups: []analysis.GroupFinding{g}, Effort: analysis.Effort{NearBest: 1.1}}
		return Statements(m, f, Technical)[0].Figures
	}
	asked := sampleGroup(m, "knee_flexion_r-", analysis.Working, analysis.May, "rectus_femoris_r")
	tooMuch := asked
	tooMuch.Effort = 26.2
	for _, c := range []struct{ got, want string }{
		{figures(asked), "rectus femoris; gravity and loads ask 34 N·m, 21% of what they could do here"},
		{figures(tooMuch), "rectus femoris; gravity and loads ask 34 N·m, more than they could do here"},
		{figures(sampleWork(m, "knee_flexion_r-", analysis.Must, analysis.Bounds{Best: 0.3, Least: 0.27, Lo: 0.29}, "rectus_femoris_r")),
			"rectus femoris; with the least effort they give 34 N·m, 30% of what they could do here; at least 27% in any way"},
		{figures(sampleWork(m, "knee_flexion_r-", analysis.Likely, analysis.Bounds{Best: 0.3, Lo: 0.11}, "rectus_femoris_r")),
			"rectus femoris; with the least effort they give 34 N·m, 30% of what they could do here; at least 11% for up to 10% more effort"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestMuscleAtWorkInWords: role by length, grade by bounds, effort in figures.
func TestMuscleAtWorkInWords(t *testing.T) {
	f := &analysis.Findings{Effort: analysis.Effort{Held: true, NearBest: 1.1}}
	for _, c := range []struct {
		mf            analysis.MuscleFinding
		state, effort string
	}{
		{analysis.MuscleFinding{Role: analysis.Working, Grade: analysis.Must, State: analysis.Short, Bounds: analysis.Bounds{Best: 0.4, Least: 0.2, Lo: 0.3, Hi: 0.4}},
			"It has to be working, shortened.", "40% of its full effort in the way that costs least; at least 30% for up to 10% more effort; at least 20% in any way."},
		{analysis.MuscleFinding{Role: analysis.Working, Grade: analysis.Likely, State: analysis.Long, Bounds: analysis.Bounds{Best: 0.4, Lo: 0.27, Hi: 0.61}},
			"It is likely working, lengthened.", "40% of its full effort in the way that costs least; 27 to 61% for up to 10% more effort; some way of holding this does without it."},
		{analysis.MuscleFinding{Role: analysis.Working, Grade: analysis.May, State: analysis.Mid, Bounds: analysis.Bounds{Best: 0.1, Hi: 0.1}},
			"It may be working, holding, neither drawn long nor slack.", "10% of its full effort in the way that costs least; some way of holding this does without it."},
		{analysis.MuscleFinding{Role: analysis.Working, Grade: analysis.NotTold, State: analysis.Mid}, "It is neither drawn long nor slack. Position alone cannot tell whether it is working.", ""},
		{analysis.MuscleFinding{Role: analysis.DrawnLong, Grade: analysis.Geometry, State: analysis.Long}, "It is long. It is not known to work.", ""},
	} {
		if got := roleWords(&c.mf); got != c.state {
			t.Errorf("%q, want %q", got, c.state)
		}
		if got := effortWords(f, &c.mf); got != c.effort {
			t.Errorf("%q, want %q", got, c.effort)
		}
	}
}

// TestSupportsBearTheWeight: parts of one foot together, in body weights.
func TestSupportsBearTheWeight(t *testing.T) {
	m := sampleModel() // 73 kg: 716 N
	if got, want := supportWords(m, sampleFindings(m)), "The right foot bears 50% of body weight and the left foot 50%."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := supportWords(m, &analysis.Findings{}); got != "" {
		t.Errorf("without forces: %q", got)
	}
}

// TestUnheldIsAlwaysSaid: once, with what is missing where that is known.
func TestUnheldIsAlwaysSaid(t *testing.T) {
	m := sampleModel()
	f := sampleFindings(m)
	if text, mend := Unheld(f); text != "" || mend != "" {
		t.Errorf("held, and says %q, %q", text, mend)
	}
	f.Effort = analysis.Effort{}
	if text, mend := Unheld(f); text == "" || mend == "" || len(doubts(f)) != len(f.Doubts)+1 || doubts(f)[0].Text != text {
		t.Errorf("not held, and says %q, %q: %+v", text, mend, doubts(f))
	}
	f.Doubts = append(f.Doubts, analysis.Doubt{Kind: "balance", Text: "The right shoulder lacks 4 N·m.", Mend: "Take off load."})
	if text, mend := Unheld(f); text != "The right shoulder lacks 4 N·m." || mend != "Take off load." || len(doubts(f)) != len(f.Doubts) {
		t.Errorf("says %q, %q", text, mend)
	}
	var b bytes.Buffer
	if err := WriteExplainJoint(&b, m, f, []body.MovementID{0}, Options{}); err != nil || !strings.Contains(b.String(), "The right shoulder lacks 4 N·m. Take off load.") {
		t.Errorf("%v: %s", err, b.String())
	}
}

// TestEffortInJSON: keys with units, spans beside what they are spans of, null
// for what was not looked for, and no null list.
func TestEffortInJSON(t *testing.T) {
	m := sampleModel()
	f := sampleFindings(m)
	text, err := json.Marshal(RecordPosture(m, nil, f, Plain))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`"effort":{"held":true,"cost":0.4,"near_best":1.1,"short":[],"forces":[{"patch":"heel_r","force_n":[0,300,0],"body_weights":0.4191}`,
		`"certificate":{"missed":1e-12,"gap":1e-12}`,
		`"best":0.3,"least":0.27,"near_best_lo":0.29,"near_best_hi":null,"split":[{"muscle":"soleus_r","best":0.2,"least":0,"near_best_lo":0.08,"near_best_hi":0.31}`,
		`"kind":"bound","movement":"","value":0.27,"unit":"ratio"`,
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("lacks %s", want)
		}
	}
	for _, key := range []string{"split", "short", "forces", "reasons", "muscles"} {
		if strings.Contains(string(text), `"`+key+`":null`) {
			t.Errorf("%s is null", key)
		}
	}
}
