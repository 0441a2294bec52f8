package store

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"tautline/timeline"
)

// elbow is an angle that is read at the overhead reach, mark 1.
func elbow() timeline.PictureAngle {
	return timeline.PictureAngle{Mark: 1, At: 12_040, Joint: "elbow_flexion_r", Angle: 0.35, Count: 3,
		Points: [4][2]float64{{310, 96.5}, {322.25, 140}, {318, 190}}}
}

// talked is the orchard study with something said beside the marks.
func talked() timeline.Study {
	st := orchard()
	st.Remarks = []timeline.Remark{
		{Mark: 1, By: "Ana", Text: "Are the ribs\ndown here?"},
		{At: 4_000, By: "Ben", Text: "Look at the heels.", Answer: "They stay down.", AnswerBy: "Ana", Settled: true},
	}
	st.Postures = []timeline.NamedPosture{{Name: "orchard reach", Words: "standing on toes; arms overhead"}}
	st.Angles = []timeline.PictureAngle{elbow()}
	return st
}

func TestWhatIsSaidBesideTheMarksComesBackAsItWasGiven(t *testing.T) {
	want := talked()
	s := made(t, want)
	got := loaded(t, s)
	want.ID, want.Revision = got.ID, 1
	numberSaid(&want)
	want.Sort()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("loaded\n%+v\nwant\n%+v", got, want)
	}
	sound(t, s)
}

// said runs a change and fails the test unless it is one revision with this
// label, which undo and redo take back and make again exactly.
func said(t *testing.T, s *Store, label string, do func() error) {
	t.Helper()
	before := loaded(t, s)
	if err := do(); err != nil {
		t.Fatalf("%s: %v", label, err)
	}
	after := loaded(t, s)
	if undo, _, err := s.Steps(t.Context()); err != nil || undo != label || after.Revision != before.Revision+1 {
		t.Errorf("the label is %q, %v, revision %d; want %q, %d", undo, err, after.Revision, label, before.Revision+1)
	}
	if _, err := s.Undo(t.Context()); err != nil {
		t.Fatal(err)
	}
	back := loaded(t, s)
	back.Revision = before.Revision
	if !reflect.DeepEqual(back, before) {
		t.Errorf("%s: taken back it is\n%+v\nwas\n%+v", label, back, before)
	}
	if _, err := s.Redo(t.Context()); err != nil {
		t.Fatal(err)
	}
	again := loaded(t, s)
	again.Revision = after.Revision
	if !reflect.DeepEqual(again, after) {
		t.Errorf("%s: made again it is\n%+v\nwas\n%+v", label, again, after)
	}
}

func TestEverySayingIsOneStepWithALabelOfItsOwn(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	remark := func(f func(*timeline.Remark)) func() error {
		return func() error {
			_, err := s.ChangeRemark(ctx, 1, func(r *timeline.Remark) error { f(r); return nil })
			return err
		}
	}
	posture := func(f func(*timeline.NamedPosture)) func() error {
		return func() error {
			_, err := s.ChangePosture(ctx, 1, func(p *timeline.NamedPosture) error { f(p); return nil })
			return err
		}
	}
	for _, step := range []struct {
		label string
		do    func() error
	}{
		{`add remark "ribs?"`, func() error {
			r, err := s.AddRemark(ctx, timeline.Remark{ID: 40, Mark: 1, By: "Ana", Text: "ribs?"})
			if r.ID != 1 {
				t.Errorf("the first remark is %d", r.ID)
			}
			return err
		}},
		{`answer remark "ribs?"`, remark(func(r *timeline.Remark) { r.Answer, r.AnswerBy = "down", "Ben" })},
		{`answer remark "ribs?"`, remark(func(r *timeline.Remark) { r.Answer, r.Settled = "quite down", true })},
		{`open remark "ribs?" again`, remark(func(r *timeline.Remark) { r.Settled = false })},
		{`settle remark "ribs?"`, remark(func(r *timeline.Remark) { r.Settled = true })},
		{`change remark "heels?"`, remark(func(r *timeline.Remark) { r.Text = "heels?" })},
		{`change remark "heels?"`, remark(func(r *timeline.Remark) { r.Mark, r.At = 0, 900 })},
		{`remove remark "heels?"`, func() error { _, err := s.RemoveRemark(ctx, 1); return err }},
		{`keep posture "reach"`, func() error {
			_, err := s.AddPosture(ctx, timeline.NamedPosture{Name: "reach", Words: "arms overhead"})
			return err
		}},
		{`rename posture "reach" to "high reach"`, posture(func(p *timeline.NamedPosture) { p.Name = "high reach" })},
		{`change posture "high reach"`, posture(func(p *timeline.NamedPosture) { p.Words = "standing; arms overhead" })},
		{`forget posture "high reach"`, func() error { _, err := s.RemovePosture(ctx, 1); return err }},
		{`keep the picture angle at 0:00:12.040`, func() error { _, err := s.AddAngle(ctx, elbow()); return err }},
		{`change the picture angle at 0:00:12.040`, func() error {
			_, err := s.ChangeAngle(ctx, 1, func(a *timeline.PictureAngle) error { a.Count, a.Points[3] = 4, [2]float64{1, 1}; return nil })
			return err
		}},
		{`remove the picture angle at 0:00:12.040`, func() error { _, err := s.RemoveAngle(ctx, 1); return err }},
		{"add 2 remarks", func() error {
			_, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error {
				st.Remarks = append(st.Remarks, timeline.Remark{Text: "a"}, timeline.Remark{Text: "b"})
				return nil
			})
			return err
		}},
		{"change the study", func() error {
			_, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error {
				st.Remarks, st.Postures = nil, []timeline.NamedPosture{{Name: "n", Words: "w"}}
				return nil
			})
			return err
		}},
	} {
		said(t, s, step.label, step.do)
	}
	sound(t, s)
}

func TestAMarkThatGoesLeavesRemarksAndTakesItsAngles(t *testing.T) {
	for name, remove := range map[string]func(s *Store) error{
		"alone": func(s *Store) error { _, err := s.RemoveMark(t.Context(), 1); return err },
		"with the study": func(s *Store) error {
			_, err := s.ChangeStudy(t.Context(), `remove mark "overhead reach" at 0:00:12.000`, func(st *timeline.Study) error { st.Marks = st.Marks[:1]; return nil })
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := made(t, talked())
			said(t, s, `remove mark "overhead reach" at 0:00:12.000`, func() error { return remove(s) })
			got := loaded(t, s)
			if r := got.Remarks[0]; len(got.Remarks) != 2 || r.Mark != 0 || r.At != 12_000 || r.Text != talked().Remarks[0].Text {
				t.Errorf("the remark is %+v", r)
			}
			if len(got.Angles) != 0 || len(got.Postures) != 1 {
				t.Errorf("left are %+v", got)
			}
			sound(t, s)
		})
	}
}

func TestSayingsAtTheLimitsAreKeptAndBeyondRefused(t *testing.T) {
	s := made(t, talked())
	ctx := t.Context()
	x := func(n int) string { return strings.Repeat("x", n) }
	remark := func(r timeline.Remark) error { _, err := s.AddRemark(ctx, r); return err }
	posture := func(n, w string) error {
		_, err := s.AddPosture(ctx, timeline.NamedPosture{Name: n, Words: w})
		return err
	}
	angle := func(f func(*timeline.PictureAngle)) error {
		a := elbow()
		f(&a)
		_, err := s.AddAngle(ctx, a)
		return err
	}
	point := func(v float64) func(*timeline.PictureAngle) {
		return func(a *timeline.PictureAngle) { a.Points[1][0] = v }
	}
	turn := func(v float64) func(*timeline.PictureAngle) { return func(a *timeline.PictureAngle) { a.Angle = v } }
	for name, c := range map[string]struct{ kept, refused error }{
		"text":        {remark(timeline.Remark{Text: x(maxSaid)}), remark(timeline.Remark{Text: x(maxSaid + 1)})},
		"no text":     {remark(timeline.Remark{Text: "?"}), remark(timeline.Remark{By: "Ana"})},
		"answer":      {remark(timeline.Remark{Text: "?", Answer: x(maxSaid)}), remark(timeline.Remark{Text: "?", Answer: x(maxSaid + 1)})},
		"by":          {remark(timeline.Remark{Text: "?", By: x(maxName)}), remark(timeline.Remark{Text: "?", By: "a\nb"})},
		"answered by": {remark(timeline.Remark{Text: "?", AnswerBy: x(maxName)}), remark(timeline.Remark{Text: "?", AnswerBy: x(maxName + 1)})},
		"moment":      {remark(timeline.Remark{Text: "?", At: timeline.MaxInstant}), remark(timeline.Remark{Text: "?", At: timeline.MaxInstant + 1})},
		"both":        {remark(timeline.Remark{Text: "?", Mark: 2}), remark(timeline.Remark{Text: "?", Mark: 2, At: 1})},
		"name":        {posture(x(maxName), "standing"), posture(x(maxName+1), "standing")},
		"name again":  {posture("low reach", "standing"), posture("orchard reach", "standing")},
		"words":       {posture("w", x(maxWords)), posture("v", x(maxWords+1))},
		"no words":    {nil, posture("u", "")},
		"no name":     {nil, posture("", "standing")},
		"joint":       {angle(func(a *timeline.PictureAngle) { a.Joint = x(maxName) }), angle(func(a *timeline.PictureAngle) { a.Joint = x(maxName + 1) })},
		"turn":        {angle(turn(-maxTurn)), angle(turn(math.Nextafter(maxTurn, 7)))},
		"no angle":    {nil, angle(turn(math.NaN()))},
		"pixel":       {angle(point(-maxPixel)), angle(point(maxPixel + 1))},
		"no pixel":    {nil, angle(point(math.NaN()))},
		"points":      {nil, angle(func(a *timeline.PictureAngle) { a.Count = 2 })},
		"one unused":  {nil, angle(func(a *timeline.PictureAngle) { a.Points[3][1] = 5 })},
	} {
		if c.kept != nil {
			t.Errorf("%s: at the limit: %v", name, c.kept)
		}
		if !errors.Is(c.refused, ErrInvalid) || errors.Is(c.refused, ErrDamaged) {
			t.Errorf("%s: beyond it: %v", name, c.refused)
		}
	}
	for name, err := range map[string]error{
		"a remark on no mark": remark(timeline.Remark{Text: "?", Mark: 99}),
		"an angle of no mark": angle(func(a *timeline.PictureAngle) { a.Mark = 99 }),
		"an angle of mark 0":  angle(func(a *timeline.PictureAngle) { a.Mark = 0 }),
	} {
		if !errors.Is(err, ErrNoMark) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, remarkErr := s.RemoveRemark(ctx, 99)
	_, postureErr := s.RemovePosture(ctx, 99)
	_, angleErr := s.RemoveAngle(ctx, 99)
	if !errors.Is(remarkErr, ErrNoRemark) || !errors.Is(postureErr, ErrNoPosture) || !errors.Is(angleErr, ErrNoAngle) {
		t.Errorf("what is not there: %v, %v, %v", remarkErr, postureErr, angleErr)
	}
	sound(t, s)
}

func TestAFileOfSchema2OpensForever(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("testdata", "schema2.study"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "old.study")
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	sound(t, s)
	want := talked()
	numberSaid(&want)
	want.Remarks[0].Answer, want.Remarks[0].AnswerBy = "Down since 體操.", "Ben"
	want.ID, want.Revision = "0123456789abcdef0123456789abcdef", 4
	want.Sort()
	if got := loaded(t, s); !reflect.DeepEqual(got, want) {
		t.Errorf("the file of schema 2 says\n%+v\nwant\n%+v", got, want)
	}
	if label, err := s.Redo(t.Context()); err != nil || label != `remove mark "overhead reach" at 0:00:12.000` {
		t.Errorf("redid %q, %v", label, err)
	}
	if got := loaded(t, s); got.Remarks[0].At != 12_000 || len(got.Angles) != 0 {
		t.Errorf("made again, it says %+v", got)
	}
}
