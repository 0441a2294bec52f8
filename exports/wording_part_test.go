package exports

import (
	"bytes"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
)

// TestPartsInWords: each part in both voices, with its share where it has one.
func TestPartsInWords(t *testing.T) {
	m := sampleModel()
	knee := sampleMovement(m, "knee_flexion_r")
	in := func(p analysis.Part, share float64) analysis.PartIn {
		return analysis.PartIn{Movement: knee, Part: p, Share: share}
	}
	for _, c := range []struct {
		mf               analysis.MuscleFinding
		plain, technical string
	}{
		{analysis.MuscleFinding{Part: analysis.Agonist, Parts: []analysis.PartIn{in(analysis.Agonist, 0.44)}},
			"A main worker for straightening the knee on the right.", "Agonist for right knee extension (44% of that pull)."},
		{analysis.MuscleFinding{Part: analysis.Stabiliser, Parts: []analysis.PartIn{in(analysis.Synergist, 0.1)}},
			"It steadies: it works and keeps its length; a helper for straightening the knee on the right.",
			"Stabiliser: it works and keeps its length; synergist for right knee extension (10% of that pull)."},
		{analysis.MuscleFinding{Part: analysis.Antagonist, Parts: []analysis.PartIn{in(analysis.Antagonist, 0)}},
			"The opponent here: by itself it would be straightening the knee on the right.", "Antagonist for right knee extension."},
		{analysis.MuscleFinding{Part: analysis.Neutraliser, Parts: []analysis.PartIn{in(analysis.Neutraliser, 0.2)}},
			"It takes back what others do besides, by straightening the knee on the right.", "Neutraliser for right knee extension (20% of that pull)."},
		{analysis.MuscleFinding{Parts: []analysis.PartIn{{Movement: -1, Part: analysis.Agonist}}}, "", ""},
	} {
		if got := partWords(m, &c.mf, Plain); got != c.plain {
			t.Errorf("%q, want %q", got, c.plain)
		}
		if got := partWords(m, &c.mf, Technical); got != c.technical {
			t.Errorf("%q, want %q", got, c.technical)
		}
	}
}

// TestPullsInWords: from the end that moves to the one that is held, why it
// counts as held, and the reverse.
func TestPullsInWords(t *testing.T) {
	m := sampleModel()
	m.Segments = []body.Segment{{Key: "pelvis", Name: "pelvis"}, {Key: "thigh_r", Name: "right thigh"}}
	for _, c := range []struct {
		pull analysis.Pull
		want string
	}{
		{analysis.Pull{Moves: 0, Held: 1, Way: analysis.Backward, Other: analysis.Backward, By: analysis.Nearer},
			"With the right thigh held (it is nearer to a support), it pulls the pelvis backward; with the pelvis held it would pull the right thigh backward."},
		{analysis.Pull{Moves: 1, Held: 0, Way: analysis.TurnLeft, By: analysis.Carries},
			"With the pelvis held (its supports carry more), it turns the right thigh to the left; with the right thigh held it would pull the pelvis toward the right thigh."},
		{analysis.Pull{Moves: 1, Held: 0, Way: analysis.Forward, Other: analysis.TurnRight, By: analysis.ByCustom},
			"With the pelvis held (as textbooks take it; the supports do not tell), it pulls the right thigh forward; with the right thigh held it would turn the pelvis to the right."},
	} {
		f := &analysis.Findings{Pulls: []analysis.Pull{c.pull}}
		if got := pullWords(m, f, 0); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := pullWords(m, &analysis.Findings{}, 0); got != "" {
		t.Errorf("without pulls: %q", got)
	}
}

// TestExplainSaysPartAndPull on a real posture.
func TestExplainSaysPartAndPull(t *testing.T) {
	r := demoReport()
	f := r.Phases[2].Findings
	id, ok := r.Model.Muscle("vastus_lateralis_r")
	if !ok {
		t.Fatal("no vastus lateralis")
	}
	var b bytes.Buffer
	if err := WriteExplainMuscle(&b, r.Model, f, id, Options{Voice: Technical, Width: 500}); err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"for right knee extension", " held (", "; with the right shank held it would ", "of its full effort"} {
		if !strings.Contains(b.String(), must) {
			t.Errorf("lacks %q:\n%s", must, b.String())
		}
	}
}
