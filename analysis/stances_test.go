package analysis_test

import (
	"strings"
	"testing"
)

// Every named stance rests on what it names, lies nowhere below the floor and
// is held by the muscles of the model with no load.
func TestEveryNamedStanceRestsAndIsHeld(t *testing.T) {
	for _, st := range whole.Model.Stances {
		f := analyse(t, st.Name)
		if !f.Effort.Held {
			t.Errorf("%s cannot be held: %v", st.Name, f.Effort.Short)
		}
		for _, d := range f.Doubts {
			if d.Kind == "support" || d.Kind == "range" || d.Kind == "balance" {
				t.Errorf("%s: %s", st.Name, d.Text)
			}
		}
	}
}

// What teachers say of a stance in passing is held too.
func TestCommonChangesOfStancesAreHeld(t *testing.T) {
	for _, words := range []string{
		"plank; elbows flexed 20", "plank; elbows flexed 45", "all fours; elbows flexed 15",
		"sitting; right knee straight", "sitting; left knee flexed 30",
		"half kneeling with the left knee down; arms overhead", "bridge; arms out to the sides",
	} {
		f := analyse(t, words)
		if !f.Effort.Held {
			t.Errorf("%s cannot be held: %v", words, f.Effort.Short)
		}
	}
}

// With the hands flat on the floor, bending the elbows brings the chest down
// over them, and that is said.
func TestShouldersFollowBentElbowsOverFlatHands(t *testing.T) {
	straight, bent := analyse(t, "plank"), analyse(t, "plank; elbows flexed 45")
	if said := assumed(bent); said != "both shoulders flexed 30°" {
		t.Errorf("the shoulders are said to follow as %q", said)
	}
	if down := straight.CentreOfMass.Y - bent.CentreOfMass.Y; down < 0.02 {
		t.Errorf("bending the elbows lowers the body by %.3f m", down)
	}
	if said := assumed(analyse(t, "plank; elbows flexed 45; shoulders flexed 40")); said != "" {
		t.Errorf("stated shoulders are taken as %q", said)
	}
}

// A raised foot leaves the thigh on the seat, unless the thigh is raised as well.
func TestThighOfARaisedFootRestsOnTheSeat(t *testing.T) {
	rests := func(words string) bool {
		for _, c := range analyse(t, words).Contacts {
			if strings.HasPrefix(c.Patch, "back_of_thigh") {
				return true
			}
		}
		return false
	}
	if !rests("sitting; right knee straight") {
		t.Error("the straight leg is held free of the seat")
	}
	if rests("sitting; right hip flexed 110") || rests("sitting") {
		t.Error("a thigh rests on the seat that nobody put there")
	}
}
