package store

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"tautline/timeline"
)

// edit changes mark 1 and fails the test when that is refused.
func edit(t testing.TB, s *Store, f func(*timeline.Mark)) timeline.Mark {
	t.Helper()
	m, err := s.ChangeMark(context.Background(), 1, func(m *timeline.Mark) error { f(m); return nil })
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestEveryChangeIsOneRevisionWithALabelOfItsOwn(t *testing.T) {
	s := made(t, orchard()) // mark 1 is the overhead reach, mark 2 the quiet stand
	ctx := t.Context()
	about := func(f func(*timeline.Study)) func() {
		return func() {
			if _, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error { f(st); return nil }); err != nil {
				t.Fatal(err)
			}
		}
	}
	for i, step := range []struct {
		label string
		do    func()
	}{
		{`move mark "overhead reach" to 0:00:13.250`, func() { edit(t, s, func(m *timeline.Mark) { m.At = 13_250 }) }},
		{`retitle mark "overhead reach" as "reach up"`, func() { edit(t, s, func(m *timeline.Mark) { m.Title = "reach up" }) }},
		{`change the posture of mark "reach up"`, func() { edit(t, s, func(m *timeline.Mark) { m.Words = "standing" }) }},
		{`change the note of mark "reach up"`, func() { edit(t, s, func(m *timeline.Mark) { m.Note = "" }) }},
		{`change mark "reach"`, func() { edit(t, s, func(m *timeline.Mark) { m.Title, m.At = "reach", 14_000 }) }},
		{`retitle mark "reach" as ""`, func() { edit(t, s, func(m *timeline.Mark) { m.Title = "" }) }},
		{`move mark 1 to 0:00:00.000`, func() { edit(t, s, func(m *timeline.Mark) { m.At = 0 }) }},
		{`add mark "side reach" at 0:00:20.000`, func() { s.AddMark(ctx, timeline.Mark{At: 20_000, Title: "side reach"}) }},
		{`remove mark "side reach" at 0:00:20.000`, func() { s.RemoveMark(ctx, 3) }},
		{"add 2 marks", func() { s.AddMarks(ctx, "", []timeline.Mark{{At: 1}, {At: 2}}) }},
		{"take the marks drafted from the narration", func() {
			s.AddMarks(ctx, "take the marks drafted from the narration", []timeline.Mark{{At: 1}})
		}},
		{"remove 2 marks", about(func(st *timeline.Study) { st.Marks = st.Marks[2:] })},
		{"change 2 marks", about(func(st *timeline.Study) { st.Marks[0].At++; st.Marks[1].At++ })},
		{"change the study", about(func(st *timeline.Study) { st.Marks[0].At++; st.Title = "Warm-up" })},
		{`retitle the study "Before picking"`, about(func(st *timeline.Study) { st.Title = "Before picking" })},
		{"set the language to pt-BR", about(func(st *timeline.Study) { st.Language = "pt-BR" })},
		{"change the person", about(func(st *timeline.Study) { st.Person.StatureM *= 2 })},
		{"change what the study says of itself", about(func(st *timeline.Study) { st.Language, st.Title = "en", "A" })},
		{"change the recording", about(func(st *timeline.Study) { st.Recording.Path = "moved/warm-up.mp4" })},
		{"remove the recording", func() { s.SetRecording(ctx, nil) }},
		{"set the recording", func() { s.SetRecording(ctx, orchard().Recording) }},
	} {
		step.do()
		undo, redo, err := s.Steps(ctx)
		if err != nil || undo != step.label || redo != "" {
			t.Errorf("the label is %q (redo %q, %v), want %q", undo, redo, err, step.label)
		}
		if got := loaded(t, s).Revision; got != int64(i+2) {
			t.Errorf("after %q the revision is %d, want %d", step.label, got, i+2)
		}
	}
	sound(t, s)
}

func TestALongTitleIsShortenedInALabelOnly(t *testing.T) {
	s := made(t, orchard())
	title := strings.Repeat("伸", 200)
	if m := edit(t, s, func(m *timeline.Mark) { m.Title = title }); m.Title != title {
		t.Error("the title was changed")
	}
	edit(t, s, func(m *timeline.Mark) { m.At = 5 })
	undo, _, err := s.Steps(t.Context())
	if want := `move mark "` + strings.Repeat("伸", 59) + `…" to 0:00:00.005`; err != nil || undo != want {
		t.Errorf("label %q, %v", undo, err)
	}
}

func TestWhatChangesNothingIsNoChange(t *testing.T) {
	s := made(t, orchard())
	before := loaded(t, s)
	edit(t, s, func(*timeline.Mark) {})
	if _, err := s.AddMarks(t.Context(), "none", nil); err != nil {
		t.Error(err)
	}
	same := *before.Recording
	if err := s.SetRecording(t.Context(), &same); err != nil {
		t.Error(err)
	}
	if _, err := s.Undo(t.Context()); !errors.Is(err, ErrNothingToUndo) {
		t.Errorf("Undo: %v", err)
	}
	if after := loaded(t, s); !reflect.DeepEqual(after, before) {
		t.Errorf("the study is now %+v", after)
	}
}

func TestARefusedChangeLeavesNothingBehind(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	before := loaded(t, s)
	mine := errors.New("the teacher thought better of it")
	if _, err := s.ChangeMark(ctx, 1, func(m *timeline.Mark) error { m.Title = "x"; return mine }); err != mine {
		t.Errorf("ChangeMark gave %v", err)
	}
	if _, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error { st.Marks[0].Title = "x"; return mine }); err != mine {
		t.Errorf("ChangeStudy gave %v", err)
	}
	for _, f := range []func(){
		func() { s.ChangeMark(ctx, 1, func(m *timeline.Mark) error { m.ID = 2; return nil }) },
		func() { s.ChangeStudy(ctx, "", func(st *timeline.Study) error { st.ID = ""; return nil }) },
		func() { s.ChangeMark(ctx, 1, func(m *timeline.Mark) error { panic("a slip in the caller") }) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			f()
		}()
	}
	if _, err := s.AddMarks(ctx, "", []timeline.Mark{{At: 1}, {At: -1}}); !errors.Is(err, ErrInvalid) {
		t.Errorf("AddMarks: %v", err)
	}
	for _, id := range []int64{99, 0, -1} {
		if _, err := s.ChangeMark(ctx, id, func(*timeline.Mark) error { return nil }); !errors.Is(err, ErrNoMark) {
			t.Errorf("ChangeMark(%d): %v", id, err)
		}
		if _, err := s.RemoveMark(ctx, id); !errors.Is(err, ErrNoMark) {
			t.Errorf("RemoveMark(%d): %v", id, err)
		}
	}
	for name, wrong := range map[string]struct {
		marks []timeline.Mark
		want  error
	}{"an unknown ID": {[]timeline.Mark{{ID: 9}}, ErrNoMark}, "an ID twice": {[]timeline.Mark{{ID: 1}, {ID: 1}}, ErrInvalid}} {
		if _, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error { st.Marks = wrong.marks; return nil }); !errors.Is(err, wrong.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if after := loaded(t, s); !reflect.DeepEqual(after, before) {
		t.Errorf("the study is now %+v", after)
	}
	if m, err := s.AddMark(ctx, timeline.Mark{At: 5, ID: 77}); err != nil || m.ID != 3 {
		t.Errorf("the next mark is %d, %v", m.ID, err)
	}
}

func TestAnyUnicodeIsKeptExactly(t *testing.T) {
	s := made(t, orchard())
	for _, text := range []string{
		"", " ", "'; DROP TABLE mark; --", `"quotes" \n % ? :a @b $c`, "e\u0301 is not \u00e9", "\u202eright to left\u202c", "体操 🍎👩🏽‍🌾 \U0010ffff",
		"\ufeff\ufffe\uffff\ufffd", "line\u2028separator\u2029", "<b>&amp;</b>", "\u0378 unassigned \ue000 private", strings.Repeat("é", 5_000),
	} {
		m := edit(t, s, func(m *timeline.Mark) { m.Title, m.Words, m.Note = text, text, "a\n\t"+text+"\r\n" })
		got, _ := ptr(loaded(t, s)).Mark(1)
		if got != m || got.Title != text || got.Words != text || got.Note != "a\n\t"+text+"\r\n" {
			t.Errorf("%q came back as %+v", text, got)
		}
		// Through the history too.
		edit(t, s, func(m *timeline.Mark) { m.Title, m.Note = "other", "other" })
		if _, err := s.Undo(t.Context()); err != nil {
			t.Fatal(err)
		}
		if got, _ := ptr(loaded(t, s)).Mark(1); got != m {
			t.Errorf("%q came back from undo as %+v", text, got)
		}
	}
	sound(t, s)
}

func ptr[T any](v T) *T { return &v }

// The limits in Go and the checks in the schema must agree: everything at a
// limit is kept by both, everything beyond is refused before it is written.
func TestValuesAtTheLimitsAreKeptAndBeyondRefused(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	study := func(f func(*timeline.Study)) error {
		_, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error { f(st); return nil })
		return err
	}
	mark := func(m timeline.Mark) error { _, err := s.AddMark(ctx, m); return err }
	recording := func(f func(*timeline.Recording)) error {
		r := orchard().Recording
		f(r)
		return s.SetRecording(ctx, r)
	}
	x := func(n int) string { return strings.Repeat("x", n) }
	for name, c := range map[string]struct {
		kept, refused error
	}{
		"earliest":      {mark(timeline.Mark{At: 0}), mark(timeline.Mark{At: -1})},
		"latest":        {mark(timeline.Mark{At: timeline.MaxInstant}), mark(timeline.Mark{At: timeline.MaxInstant + 1})},
		"title":         {mark(timeline.Mark{Title: x(maxTitle)}), mark(timeline.Mark{Title: x(maxTitle + 1)})},
		"words":         {mark(timeline.Mark{Words: x(maxWords)}), mark(timeline.Mark{Words: x(maxWords + 1)})},
		"note":          {mark(timeline.Mark{Note: x(maxNote)}), mark(timeline.Mark{Note: x(maxNote + 1)})},
		"title line":    {mark(timeline.Mark{Title: "a b"}), mark(timeline.Mark{Title: "a\nb"})},
		"title tab":     {nil, mark(timeline.Mark{Title: "a\tb"})},
		"C1 control":    {nil, mark(timeline.Mark{Title: "a\u0085b"})},
		"NUL":           {nil, mark(timeline.Mark{Note: "a\x00b"})},
		"not UTF-8":     {nil, mark(timeline.Mark{Words: "a\xffb"})},
		"surrogate":     {nil, mark(timeline.Mark{Words: "\xed\xa0\x80"})},
		"study title":   {study(func(st *timeline.Study) { st.Title = x(maxTitle) }), study(func(st *timeline.Study) { st.Title = x(maxTitle + 1) })},
		"language":      {study(func(st *timeline.Study) { st.Language = x(64) }), study(func(st *timeline.Study) { st.Language = x(65) })},
		"no language":   {nil, study(func(st *timeline.Study) { st.Language = "" })},
		"language tag":  {nil, study(func(st *timeline.Study) { st.Language = "en_US" })},
		"stature":       {study(func(st *timeline.Study) { st.Person.StatureM = math.SmallestNonzeroFloat64 }), study(func(st *timeline.Study) { st.Person.StatureM = 0 })},
		"mass":          {study(func(st *timeline.Study) { st.Person.MassKg = math.MaxFloat64 }), study(func(st *timeline.Study) { st.Person.MassKg = math.Inf(1) })},
		"no number":     {nil, study(func(st *timeline.Study) { st.Person.MassKg = math.NaN() })},
		"sex":           {study(func(st *timeline.Study) { st.Person.Sex = "male" }), study(func(st *timeline.Study) { st.Person.Sex = "" })},
		"path":          {recording(func(r *timeline.Recording) { r.Path = "two\nlines.mp4" }), recording(func(r *timeline.Recording) { r.Path = "" })},
		"path bytes":    {recording(func(r *timeline.Recording) { r.Path = x(maxPath) }), recording(func(r *timeline.Recording) { r.Path = "\xe9.mp4" })},
		"length":        {recording(func(r *timeline.Recording) { r.Duration = timeline.MaxInstant }), recording(func(r *timeline.Recording) { r.Duration++; r.Duration += timeline.MaxInstant })},
		"kind":          {recording(func(r *timeline.Recording) { r.Kind = "audio" }), recording(func(r *timeline.Recording) { r.Kind = "" })},
		"frame rate":    {recording(func(r *timeline.Recording) { r.FrameRate = 0 }), recording(func(r *timeline.Recording) { r.FrameRate = math.NaN() })},
		"size":          {recording(func(r *timeline.Recording) { r.Size = math.MaxInt64 }), recording(func(r *timeline.Recording) { r.Size = -1 })},
		"frames":        {recording(func(r *timeline.Recording) { r.Frames = 0 }), recording(func(r *timeline.Recording) { r.Frames = -1 })},
		"picture width": {recording(func(r *timeline.Recording) { r.Width = 0 }), recording(func(r *timeline.Recording) { r.Height = -1 })},
	} {
		if c.kept != nil {
			t.Errorf("%s: at the limit: %v", name, c.kept)
		}
		if !errors.Is(c.refused, ErrInvalid) || errors.Is(c.refused, ErrDamaged) {
			t.Errorf("%s: beyond it: %v", name, c.refused)
		}
	}
	sound(t, s)
	bad := orchard()
	bad.Person.Sex = "?"
	path := filepath.Join(t.TempDir(), "bad.study")
	if _, err := Create(ctx, path, bad); !errors.Is(err, ErrInvalid) {
		t.Errorf("Create: %v", err)
	}
	alone(t, path)
}
