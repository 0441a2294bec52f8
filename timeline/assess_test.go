package timeline

import (
	"context"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
)

// Slow ways between the same postures are worked out once, whatever they take;
// quick ones by the time they take; a way that takes no time is neither.
func TestWaysAreWorkedOutOnceUnlessQuick(t *testing.T) {
	s := Study{}
	at := Instant(0)
	for i, step := range []Instant{6000, 6000, 9000, 9000, 300, 9000, 300, 9000, 0, 0} {
		words := "standing"
		if i%2 == 1 {
			words = "standing; shoulders flexed 90"
		}
		s.Marks = append(s.Marks, Mark{ID: int64(i + 1), At: at, Title: "reach", Words: words})
		at += step
	}
	r, err := Assess(context.Background(), analysis.New(body.Adult()), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	way := func(i int) *analysis.Movement {
		if r.Phases[i].Movement == nil {
			t.Fatalf("phase %d has no movement", i)
		}
		return r.Phases[i].Movement
	}
	if way(0) != way(2) || way(1) != way(3) || way(0) == way(1) {
		t.Error("slow ways of 6 and 9 s are not one")
	}
	if way(4) == way(0) || !way(4).Quick || way(4) != way(6) || way(0).Quick {
		t.Error("the way in 0.3 s is not its own, or not once")
	}
	if way(8) == way(0) || way(8) == way(4) || way(8).Quick || len(way(8).Doubts) == 0 {
		t.Error("the way that takes no time is taken for another, or says nothing")
	}
}
