package store

import (
	"fmt"
	"math"

	"tautline/timeline"
)

// The farthest a picture point may lie from the picture's corner, in pixels,
// and the largest angle, a full turn: beyond them something was miscalculated.
const (
	maxPixel = 1_000_000
	maxTurn  = 2 * math.Pi
)

// validSaid says why what stands in tables of its own cannot be kept, or nil.
func validSaid(st *timeline.Study) error {
	seen, err := validRows(&marks, st.Marks)
	if err != nil {
		return err
	}
	if _, err := validRows(&remarks, st.Remarks); err != nil {
		return err
	}
	for _, r := range st.Remarks {
		if r.Mark != 0 && !seen[r.Mark] {
			return fmt.Errorf("remark %d is about the phase of mark %d: %w", r.ID, r.Mark, ErrNoMark)
		}
	}
	if _, err := validRows(&postures, st.Postures); err != nil {
		return err
	}
	named := map[string]bool{}
	for _, p := range st.Postures {
		if named[p.Name] {
			return nameTaken(p.Name)
		}
		named[p.Name] = true
	}
	if _, err := validRows(&angles, st.Angles); err != nil {
		return err
	}
	for _, a := range st.Angles {
		if !seen[a.Mark] {
			return fmt.Errorf("picture angle %d belongs to mark %d: %w", a.ID, a.Mark, ErrNoMark)
		}
	}
	return nil
}

// validRows looks at every value alone and sees that no ID stands twice.
func validRows[T comparable, R any](t *table[T, R], values []T) (seen map[int64]bool, err error) {
	seen = make(map[int64]bool, len(values))
	for i := range values {
		if err := t.valid(&values[i]); err != nil {
			return nil, err
		}
		id := *t.id(&values[i])
		if id < 0 || id != 0 && seen[id] {
			return nil, invalid(fmt.Sprintf("%s %d", t.name, id), "an ID is a number above zero that only one has")
		}
		seen[id] = true
	}
	return seen, nil
}

func validMoment(what string, at timeline.Instant) error {
	if at < 0 || at > timeline.MaxInstant {
		return invalid("the time "+at.String(), what+" stands between 0 and "+timeline.MaxInstant.String())
	}
	return nil
}

func validRemark(r *timeline.Remark) error {
	if err := validMoment("a remark", r.At); err != nil {
		return err
	}
	if r.Mark < 0 || r.Mark > 0 && r.At != 0 {
		return invalid("the remark", "it is about a phase or about a moment, not both")
	}
	if r.Text == "" {
		return invalid("the remark", "it says nothing")
	}
	if err := validText("the remark", r.Text, maxSaid, "\t\n\r"); err != nil {
		return err
	}
	if err := validText("the answer", r.Answer, maxSaid, "\t\n\r"); err != nil {
		return err
	}
	if err := validText("the name of who wrote the remark", r.By, maxName, ""); err != nil {
		return err
	}
	return validText("the name of who answered", r.AnswerBy, maxName, "")
}

func validPosture(p *timeline.NamedPosture) error {
	if p.Name == "" || p.Words == "" {
		return invalid("the posture", "it needs a name and words")
	}
	if err := validText("the posture's name", p.Name, maxName, ""); err != nil {
		return err
	}
	return validText("the posture", p.Words, maxWords, "\t\n\r")
}

func validAngle(a *timeline.PictureAngle) error {
	if a.Mark < 0 {
		return invalid("the picture angle", "it belongs to a mark")
	}
	if err := validMoment("a picture angle", a.At); err != nil {
		return err
	}
	if err := validText("the joint", a.Joint, maxName, ""); err != nil {
		return err
	}
	if !(math.Abs(a.Angle) <= maxTurn) {
		return invalid("the picture angle", "it is at most a full turn")
	}
	if a.Count != 3 && a.Count != 4 {
		return invalid("the picture angle", "it is read from three or four points")
	}
	for i, p := range a.Points {
		if !(math.Abs(p[0]) <= maxPixel && math.Abs(p[1]) <= maxPixel) || i >= a.Count && p != [2]float64{} {
			return invalid("the picture angle", fmt.Sprintf("its points are pixels within %d of the picture's corner", maxPixel))
		}
	}
	return nil
}
