package timeline

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestMarksSortByTimeThenByTheirMaking(t *testing.T) {
	s := Study{Marks: []Mark{{ID: 4, At: 500}, {ID: 3, At: MaxInstant}, {ID: 2, At: 500}, {ID: 1, At: 900}, {ID: 5, At: 0}}}
	s.Sort()
	var ids []int64
	for _, m := range s.Marks {
		ids = append(ids, m.ID)
	}
	if want := []int64{5, 2, 4, 1, 3}; !slices.Equal(ids, want) {
		t.Errorf("sorted as %v, want %v", ids, want)
	}
}

func TestThePostureSoFarIsFilledIn(t *testing.T) {
	s := Study{
		Recording: &Recording{Duration: 40_000},
		Marks: []Mark{
			{ID: 1, At: 1_000},
			{ID: 2, At: 2_000, Words: "standing"},
			{ID: 3, At: 3_000, Title: "look at the wrist"},
			{ID: 4, At: 4_000, Words: "standing; arms overhead"},
		},
	}
	type row struct {
		from, to    Instant
		words, next string
		hold        bool
	}
	var got []row
	for i, p := range s.Phases() {
		if p.Number != i+1 || p.Mark.ID != int64(i+1) || (p.Next == nil) != (i == 3) {
			t.Errorf("phase %d is numbered %d, of mark %d, next %v", i+1, p.Number, p.Mark.ID, p.Next)
		}
		got = append(got, row{p.From, p.To, p.Words, p.NextWords, p.Hold()})
	}
	want := []row{
		{1_000, 2_000, "", "standing", false},
		{2_000, 3_000, "standing", "standing", true},
		{3_000, 4_000, "standing", "standing; arms overhead", false},
		{4_000, 40_000, "standing; arms overhead", "standing; arms overhead", true},
	}
	if !slices.Equal(got, want) {
		t.Errorf("phases are\n%v\nwant\n%v", got, want)
	}
}

func TestTheEndIsTheRecordingsOrAllowsForTheLastPhase(t *testing.T) {
	marks := []Mark{{ID: 1, At: 30_000}, {ID: 2, At: 5_000}} // not in order
	for _, c := range []struct {
		name string
		s    Study
		want Instant
	}{
		{"nothing at all", Study{}, 0},
		{"marks only", Study{Marks: marks}, 40_000},
		{"recording only", Study{Recording: &Recording{Duration: 7_000}}, 7_000},
		{"recording goes on", Study{Recording: &Recording{Duration: 50_000}, Marks: marks}, 50_000},
		{"mark past the end", Study{Recording: &Recording{Duration: 20_000}, Marks: marks}, 30_000},
	} {
		if got := c.s.End(); got != c.want {
			t.Errorf("%s: ends at %v, want %v", c.name, got, c.want)
		}
	}
}

// Any marks in any order, with or without a recording: there is one phase for
// each mark, none runs backwards, they follow on one another to the end, and
// the study is left as it was.
func TestPhasesAreTotal(t *testing.T) {
	const seed = 20
	r := rand.New(rand.NewPCG(seed, seed))
	for range 2_000 {
		s := Study{Marks: make([]Mark, r.IntN(8))}
		for i := range s.Marks {
			s.Marks[i] = Mark{ID: int64(i + 1), At: Instant(r.IntN(5)) * 1_000, Words: []string{"", "standing", "kneeling"}[r.IntN(3)]}
		}
		r.Shuffle(len(s.Marks), func(i, j int) { s.Marks[i], s.Marks[j] = s.Marks[j], s.Marks[i] })
		if r.IntN(2) == 0 {
			s.Recording = &Recording{Duration: Instant(r.IntN(6)) * 1_000}
		}
		before := slices.Clone(s.Marks)
		phases := s.Phases()
		if phases == nil || len(phases) != len(s.Marks) || !slices.Equal(before, s.Marks) {
			t.Fatalf("seed %d: %d phases of marks %v (before %v)", seed, len(phases), s.Marks, before)
		}
		for i, p := range phases {
			if p.From > p.To || p.From != p.Mark.At {
				t.Fatalf("seed %d: phase %+v of %v", seed, p, s.Marks)
			}
			if i+1 < len(phases) {
				next := phases[i+1]
				if p.To != next.From || p.NextWords != next.Words || p.Next == nil || *p.Next != next.Mark {
					t.Fatalf("seed %d: phase %+v is followed by %+v", seed, p, next)
				}
			} else if p.To != s.End() || p.Next != nil || !p.Hold() {
				t.Fatalf("seed %d: last phase %+v, end %v", seed, p, s.End())
			}
			if at := PhaseAt(phases, p.From); at < i || phases[at].From != p.From {
				t.Fatalf("seed %d: phase %d starts at %v, where PhaseAt says %d", seed, i, p.From, at)
			}
		}
		if len(phases) > 0 && PhaseAt(phases, phases[0].From-1) != -1 {
			t.Fatalf("seed %d: a phase before the first", seed)
		}
	}
}

func TestMarkIsFoundByItsID(t *testing.T) {
	s := Study{Marks: []Mark{{ID: 7, Title: "reach"}}}
	if m, ok := s.Mark(7); !ok || m.Title != "reach" {
		t.Errorf("Mark(7) = %v, %v", m, ok)
	}
	if m, ok := s.Mark(8); ok {
		t.Errorf("Mark(8) = %v", m)
	}
}

func TestRemarksStandAtTheirMomentOrWhereTheirPhaseBegins(t *testing.T) {
	s := Study{Marks: []Mark{{ID: 3, At: 700}}}
	for _, c := range []struct {
		r    Remark
		want Instant
	}{{Remark{At: 40}, 40}, {Remark{Mark: 3}, 700}, {Remark{Mark: 9}, 0}} {
		if got := s.When(c.r); got != c.want {
			t.Errorf("%+v stands at %v, want %v", c.r, got, c.want)
		}
	}
}

func TestWhatIsPinnedToAMarkThatGoesIsUnpinned(t *testing.T) {
	before := Study{Marks: []Mark{{ID: 1, At: 100}, {ID: 2, At: 200}}}
	after := Study{
		Marks:   []Mark{{ID: 2, At: 250}},
		Remarks: []Remark{{ID: 1, Mark: 1}, {ID: 2, Mark: 2}, {ID: 3, At: 5}},
		Angles:  []PictureAngle{{ID: 1, Mark: 1}, {ID: 2, Mark: 2}},
	}
	shared := after.Angles
	after.Unpin(&before)
	if want := []Remark{{ID: 1, At: 100}, {ID: 2, Mark: 2}, {ID: 3, At: 5}}; !slices.Equal(after.Remarks, want) {
		t.Errorf("remarks %+v", after.Remarks)
	}
	if len(after.Angles) != 1 || after.Angles[0].ID != 2 || shared[0].ID != 1 {
		t.Errorf("angles %+v, of %+v", after.Angles, shared)
	}
}
