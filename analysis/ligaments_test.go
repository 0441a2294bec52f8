package analysis_test

import (
	"slices"
	"testing"

	"tautline/analysis"
)

// firmly reports whether a group is said to work, and not only that it may.
func firmly(f *analysis.Findings, side, agents string) bool {
	return slices.ContainsFunc(group(f, side, agents), func(g analysis.GroupFinding) bool {
		return g.Role == analysis.Working && firm(g.Grade)
	})
}

func mustWork(f *analysis.Findings, agents string) bool {
	return slices.ContainsFunc(group(f, "", agents), func(g analysis.GroupFinding) bool {
		return g.Role == analysis.Working && g.Grade == analysis.Must
	})
}

// In a full forward bend the back muscles fall silent, since ligaments, fascia
// and resting muscle carry the trunk; half way down they do not; and a load in
// the hands brings them back: Floyd and Silver 1955; Schultz and others 1985,
// J Orthop Res 3:189-197 (abstract), 11 men, in every one of whom they fell
// silent in quiet flexed standing and rose with a load.
func TestTheBackHangsOnItsLigamentsInAFullForwardBend(t *testing.T) {
	full := analyse(t, "standing; bend forward fully")
	if !full.Effort.Held {
		t.Fatalf("a full forward bend cannot be held: %v", full.Effort.Short)
	}
	for _, agents := range []string{"lumbar extensors", "trunk extensors", "thoracic extensors"} {
		if firmly(full, "", agents) {
			t.Errorf("the %s are said to work in a full forward bend", agents)
		}
	}
	if !mustWork(analyse(t, "standing; bend forward halfway"), "trunk extensors") {
		t.Error("half way down the trunk extensors must work")
	}
	if !mustWork(analyse(t, "standing; bend forward halfway"), "lumbar extensors") {
		t.Error("half way down the lumbar extensors must work")
	}
	if !firmly(analyse(t, "standing; bend forward fully; hands carry 20 kg"), "", "lumbar extensors") {
		t.Error("with 20 kg in hanging arms the lumbar extensors work")
	}
}

// The bend is what silences them: a flat back as far forward hangs on nothing.
func TestAFlatBackIsHeldByItsMuscles(t *testing.T) {
	if !mustWork(analyse(t, "standing; hips flexed 90; knees flexed 20"), "trunk extensors") {
		t.Error("with a flat back the trunk extensors must work")
	}
}
