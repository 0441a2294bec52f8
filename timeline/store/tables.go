package store

import (
	"context"
	"database/sql"

	"tautline/timeline"
)

// The tables whose rows have IDs. They are made in init, since what fits one
// table may look into another.
var (
	marks    table[timeline.Mark, markRow]
	remarks  table[timeline.Remark, remarkRow]
	postures table[timeline.NamedPosture, postureRow]
	angles   table[timeline.PictureAngle, angleRow]
)

func init() {
	marks = table[timeline.Mark, markRow]{
		name: "mark", columns: "id, at_ms, title, words, note", missing: ErrNoMark,
		row:    func(m timeline.Mark) markRow { return markRow(m) },
		value:  func(r markRow) timeline.Mark { return timeline.Mark(r) },
		fields: func(r *markRow) []any { return []any{&r.ID, &r.At, &r.Title, &r.Words, &r.Note} },
		id:     func(m *timeline.Mark) *int64 { return &m.ID },
		valid:  validMark,
		steps:  func(d *delta) *[]swap[markRow] { return &d.Marks },
	}
	remarks = table[timeline.Remark, remarkRow]{
		name: "remark", columns: "id, mark, at_ms, by, text, answer, answer_by, settled", missing: ErrNoRemark,
		row:   func(r timeline.Remark) remarkRow { return remarkRow(r) },
		value: func(r remarkRow) timeline.Remark { return timeline.Remark(r) },
		fields: func(r *remarkRow) []any {
			return []any{&r.ID, &r.Mark, &r.At, &r.By, &r.Text, &r.Answer, &r.AnswerBy, &r.Settled}
		},
		id:    func(r *timeline.Remark) *int64 { return &r.ID },
		valid: validRemark,
		fits: func(ctx context.Context, tx *sql.Tx, r *timeline.Remark) (err error) {
			if r.Mark != 0 {
				_, err = marks.find(ctx, tx, r.Mark)
			}
			return err
		},
		steps: func(d *delta) *[]swap[remarkRow] { return &d.Remarks },
	}
	postures = table[timeline.NamedPosture, postureRow]{
		name: "posture", columns: "id, name, words", missing: ErrNoPosture,
		row:    func(p timeline.NamedPosture) postureRow { return postureRow(p) },
		value:  func(r postureRow) timeline.NamedPosture { return timeline.NamedPosture(r) },
		fields: func(r *postureRow) []any { return []any{&r.ID, &r.Name, &r.Words} },
		id:     func(p *timeline.NamedPosture) *int64 { return &p.ID },
		valid:  validPosture,
		fits: func(ctx context.Context, tx *sql.Tx, p *timeline.NamedPosture) error {
			same, err := postures.read(ctx, tx, "WHERE name = ? AND id <> ?", p.Name, p.ID)
			if err == nil && len(same) > 0 {
				err = nameTaken(p.Name)
			}
			return err
		},
		steps: func(d *delta) *[]swap[postureRow] { return &d.Postures },
	}
	angles = table[timeline.PictureAngle, angleRow]{
		name: "angle", columns: "id, mark, at_ms, joint, angle_rad, points, x1, y1, x2, y2, x3, y3, x4, y4", missing: ErrNoAngle,
		row:   func(a timeline.PictureAngle) angleRow { return angleRow(a) },
		value: func(r angleRow) timeline.PictureAngle { return timeline.PictureAngle(r) },
		fields: func(r *angleRow) []any {
			list := []any{&r.ID, &r.Mark, &r.At, &r.Joint, &r.Angle, &r.Count}
			for i := range r.Points {
				list = append(list, &r.Points[i][0], &r.Points[i][1])
			}
			return list
		},
		id:    func(a *timeline.PictureAngle) *int64 { return &a.ID },
		valid: validAngle,
		fits: func(ctx context.Context, tx *sql.Tx, a *timeline.PictureAngle) error {
			_, err := marks.find(ctx, tx, a.Mark)
			return err
		},
		steps: func(d *delta) *[]swap[angleRow] { return &d.Angles },
	}
}

func nameTaken(name string) error {
	return invalid("the name "+quote(name), "another posture is kept by it")
}

// readSaid reads everything that stands in tables of its own.
func readSaid(ctx context.Context, tx *sql.Tx, st *timeline.Study) (err error) {
	if st.Marks, err = marks.read(ctx, tx, "ORDER BY at_ms, id"); err != nil {
		return err
	}
	if st.Remarks, err = remarks.read(ctx, tx, "ORDER BY id"); err != nil {
		return err
	}
	if st.Postures, err = postures.read(ctx, tx, "ORDER BY id"); err != nil {
		return err
	}
	st.Angles, err = angles.read(ctx, tx, "ORDER BY id")
	return err
}

// numberSaid gives everything an ID and returns the highest of each table, in
// the order of lastColumns.
func numberSaid(st *timeline.Study) []any {
	return []any{marks.number(st.Marks), remarks.number(st.Remarks), postures.number(st.Postures), angles.number(st.Angles)}
}

const lastColumns = "last_mark, last_remark, last_posture, last_angle"

// everything plans the tables of a new study.
func everything(st *timeline.Study) *delta {
	d := &delta{}
	for _, m := range st.Marks {
		d.Marks = append(d.Marks, swap[markRow]{After: new(markRow(m))})
	}
	for _, r := range st.Remarks {
		d.Remarks = append(d.Remarks, swap[remarkRow]{After: new(remarkRow(r))})
	}
	for _, p := range st.Postures {
		d.Postures = append(d.Postures, swap[postureRow]{After: new(postureRow(p))})
	}
	for _, a := range st.Angles {
		d.Angles = append(d.Angles, swap[angleRow]{After: new(angleRow(a))})
	}
	if st.Recording != nil {
		d.Recording = &swap[recordingRow]{After: new(recordingRow(*st.Recording))}
	}
	return d
}
