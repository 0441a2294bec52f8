package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"tautline/timeline"
)

// model is a study with undo as it should be, kept in memory.
type model struct {
	states   []timeline.Study // Revision is left at 0
	labels   []string         // labels[i] led to states[i]
	at, low  int
	revision int64
	keep     int
}

func (m *model) now() timeline.Study { return m.states[m.at] }

func (m *model) do(label string, st timeline.Study) {
	st.Sort()
	m.states = append(m.states[:m.at+1], st)
	m.labels = append(m.labels[:m.at+1], label)
	m.at++
	m.low = max(m.low, m.at-m.keep)
	m.revision++
}

// ids are the highest ID ever given of what is said beside the marks.
type ids struct{ remark, posture, angle int64 }

// give gives IDs as the store promises: one higher than any the study had.
func (last *ids) give(st *timeline.Study) {
	for i := range st.Remarks {
		if r := &st.Remarks[i]; r.ID == 0 {
			last.remark++
			r.ID = last.remark
		}
	}
	for i := range st.Postures {
		if p := &st.Postures[i]; p.ID == 0 {
			last.posture++
			p.ID = last.posture
		}
	}
	for i := range st.Angles {
		if a := &st.Angles[i]; a.ID == 0 {
			last.angle++
			a.ID = last.angle
		}
	}
}

// shuffleSaid adds, changes and removes what is said beside the marks, in a way
// that the step decides.
func shuffleSaid(st *timeline.Study, step int) {
	label := fmt.Sprint("step ", step)
	if len(st.Remarks) > 3 {
		st.Remarks = st.Remarks[1:]
	}
	if len(st.Postures) > 3 {
		st.Postures = st.Postures[2:]
	}
	for i := range st.Remarks {
		if (st.Remarks[i].ID+int64(step))%3 == 0 {
			st.Remarks[i].Answer, st.Remarks[i].Settled = label, step%2 == 0
		}
	}
	st.Remarks = append(st.Remarks, timeline.Remark{At: timeline.Instant(step), By: "Ana", Text: label})
	st.Postures = append(st.Postures, timeline.NamedPosture{Name: label, Words: "standing"})
	if len(st.Marks) > 0 {
		m := st.Marks[step%len(st.Marks)]
		st.Remarks = append(st.Remarks, timeline.Remark{Mark: m.ID, Text: label})
		st.Angles = append(st.Angles, timeline.PictureAngle{Mark: m.ID, Angle: 1, Count: 3, Points: [4][2]float64{{float64(step), 2}, {3, 4}, {5, 6.5}}})
	}
}

// Whatever is done, undone and redone, in whatever order, by whichever of two
// programs, before and after reopening: the file says what the model says.
func TestUndoAndRedoFollowTheModel(t *testing.T) {
	const seed, steps, keep = 3, 500, 4
	r := rand.New(rand.NewPCG(seed, seed))
	start := made(t, orchard())
	path := start.Path()
	first := loaded(t, start)
	first.Revision = 0
	if err := start.Close(); err != nil {
		t.Fatal(err)
	}
	m := &model{states: []timeline.Study{first}, labels: []string{""}, revision: 1, keep: keep}
	var stores [2]*Store
	reopen := func(i int) {
		if stores[i] != nil {
			if err := stores[i].Close(); err != nil {
				t.Fatal(err)
			}
		}
		s, err := Open(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		s.keep = keep
		stores[i] = s
	}
	reopen(0)
	reopen(1)
	defer func() { stores[0].Close(); stores[1].Close() }()
	lastID := int64(len(first.Marks))
	did := map[string]int{}
	var lastSaid ids
	for step := range steps {
		s := stores[r.IntN(2)]
		st := clone(m.now())
		label := fmt.Sprint("step ", step)
		var op string
		var err error
		switch n := r.IntN(20); {
		case n < 8:
			op = "undo"
			var got string
			got, err = s.Undo(t.Context())
			if m.at > m.low {
				if want := m.labels[m.at]; got != want || err != nil {
					t.Fatalf("seed %d, step %d: undid %q, %v; want %q", seed, step, got, err, want)
				}
				m.at--
				m.revision++
			} else if !errors.Is(err, ErrNothingToUndo) {
				t.Fatalf("seed %d, step %d: undid %q, %v; want nothing", seed, step, got, err)
			} else {
				op, err = "nothing to undo", nil
			}
		case n < 10:
			op = "redo"
			var got string
			got, err = s.Redo(t.Context())
			if m.at+1 < len(m.states) {
				if want := m.labels[m.at+1]; got != want || err != nil {
					t.Fatalf("seed %d, step %d: redid %q, %v; want %q", seed, step, got, err, want)
				}
				m.at++
				m.revision++
			} else if !errors.Is(err, ErrNothingToRedo) {
				t.Fatalf("seed %d, step %d: redid %q, %v; want nothing", seed, step, got, err)
			} else {
				op, err = "nothing to redo", nil
			}
		case n < 13:
			op = "add"
			marks := make([]timeline.Mark, 1+r.IntN(3))
			for i := range marks {
				marks[i] = timeline.Mark{At: timeline.Instant(r.IntN(9)), Title: fmt.Sprint("reach ", step)}
			}
			marks, err = s.AddMarks(t.Context(), label, marks)
			for _, added := range marks {
				if lastID++; added.ID != lastID {
					t.Fatalf("seed %d, step %d: added mark %d, want %d", seed, step, added.ID, lastID)
				}
			}
			st.Marks = append(st.Marks, marks...)
			m.do(label, st)
		case n < 15 && len(st.Marks) > 0:
			op = "remove"
			i := r.IntN(len(st.Marks))
			gone := st.Marks[i]
			var was timeline.Mark
			if was, err = s.RemoveMark(t.Context(), gone.ID); was != gone {
				t.Fatalf("seed %d, step %d: removed %v, want %v", seed, step, was, gone)
			}
			st.Marks = append(st.Marks[:i], st.Marks[i+1:]...)
			st.Unpin(&timeline.Study{Marks: []timeline.Mark{gone}})
			m.do(fmt.Sprintf("remove mark %q at %v", gone.Title, gone.At), st)
		case n < 18:
			op = "change"
			change := func(st *timeline.Study) error {
				shuffleSaid(st, step)
				st.Title = label
				if step%3 == 0 {
					st.Recording = nil
				} else if step%3 == 1 {
					st.Recording = &timeline.Recording{Path: label, Kind: "audio"}
				}
				for i := range st.Marks {
					if (st.Marks[i].ID+int64(step))%3 == 0 {
						st.Marks[i].Words, st.Marks[i].At = label, timeline.Instant(step)
					}
				}
				if len(st.Marks) > 4 {
					st.Marks = st.Marks[2:]
				}
				return nil
			}
			before := clone(st)
			change(&st)
			st.Unpin(&before)
			if _, err = s.ChangeStudy(t.Context(), label, change); err == nil {
				lastSaid.give(&st)
			}
			m.do(label, st)
		default:
			op = "reopen"
			reopen(r.IntN(2))
		}
		if err != nil {
			t.Fatalf("seed %d, step %d: %s: %v", seed, step, op, err)
		}
		did[op]++
		want := clone(m.now())
		want.Revision = m.revision
		if got := loaded(t, stores[r.IntN(2)]); !reflect.DeepEqual(got, want) {
			t.Fatalf("seed %d, step %d: after %s the file says\n%+v\nwant\n%+v", seed, step, op, got, want)
		}
	}
	for _, op := range []string{"undo", "nothing to undo", "redo", "nothing to redo", "add", "remove", "change", "reopen"} {
		if did[op] < 5 {
			t.Errorf("seed %d: %q happened %d times only", seed, op, did[op])
		}
	}
	sound(t, stores[0])
}

func TestUndoGoesBackToTheFirstAfterReopening(t *testing.T) {
	s := made(t, orchard())
	want := loaded(t, s)
	for i := range 5 {
		edit(t, s, func(m *timeline.Mark) { m.At = timeline.Instant(i) })
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := Open(t.Context(), s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	for i := 4; i >= 0; i-- {
		if label, err := again.Undo(t.Context()); err != nil || label != fmt.Sprintf(`move mark "overhead reach" to 0:00:00.00%d`, i) {
			t.Errorf("undid %q, %v", label, err)
		}
	}
	if _, err := again.Undo(t.Context()); !errors.Is(err, ErrNothingToUndo) {
		t.Errorf("one more: %v", err)
	}
	want.Revision = 11
	if got := loaded(t, again); !reflect.DeepEqual(got, want) {
		t.Errorf("the study is\n%+v\nwant\n%+v", got, want)
	}
}

func TestTheHistoryIsBounded(t *testing.T) {
	s := made(t, orchard())
	if s.keep != 1_000 {
		t.Errorf("%d changes are kept, Undo promises 1,000", s.keep)
	}
	s.keep = 10
	const changes = 25
	for i := range changes {
		edit(t, s, func(m *timeline.Mark) { m.At = timeline.Instant(i + 1) })
	}
	undone := 0
	for ; ; undone++ {
		if _, err := s.Undo(t.Context()); errors.Is(err, ErrNothingToUndo) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if m, _ := ptr(loaded(t, s)).Mark(1); undone != 10 || m.At != changes-10 {
		t.Errorf("%d undone, back to %v", undone, m.At)
	}
	sound(t, s)
}
