package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"tautline/timeline"
)

// The rows of the tables, and at the same time what the history writes as JSON.
// They mirror timeline's types by conversion, so that a field added there does
// not compile here until it has a column.

type markRow struct {
	ID    int64            `json:"id"`
	At    timeline.Instant `json:"at_ms"`
	Title string           `json:"title"`
	Words string           `json:"words"`
	Note  string           `json:"note"`
}

type recordingRow struct {
	Path        string           `json:"path"`
	Fingerprint string           `json:"fingerprint"`
	Size        int64            `json:"size"`
	Duration    timeline.Instant `json:"duration_ms"`
	Kind        string           `json:"kind"`
	FrameRate   float64          `json:"frame_rate"`
	Variable    bool             `json:"variable"`
	Frames      int              `json:"frames"`
	Width       int              `json:"width"`
	Height      int              `json:"height"`
}

type personRow struct {
	StatureM float64 `json:"stature_m"`
	MassKg   float64 `json:"mass_kg"`
	Sex      string  `json:"sex"`
}

// aboutRow is what the study says of itself apart from its marks.
type aboutRow struct {
	Title    string    `json:"title"`
	Language string    `json:"language"`
	Person   personRow `json:"person"`
}

func aboutOf(st *timeline.Study) aboutRow {
	return aboutRow{st.Title, st.Language, personRow(st.Person)}
}

// readStudy reads everything that the teacher said.
func readStudy(ctx context.Context, tx *sql.Tx) (st timeline.Study, err error) {
	err = tx.QueryRowContext(ctx, "SELECT id, title, language, stature_m, mass_kg, sex, revision FROM study").
		Scan(&st.ID, &st.Title, &st.Language, &st.Person.StatureM, &st.Person.MassKg, &st.Person.Sex, &st.Revision)
	if err != nil {
		return st, err
	}
	var r timeline.Recording
	err = tx.QueryRowContext(ctx, "SELECT path, fingerprint, size, duration_ms, kind, frame_rate, variable, frames, width, height FROM recording").
		Scan(&r.Path, &r.Fingerprint, &r.Size, &r.Duration, &r.Kind, &r.FrameRate, &r.Variable, &r.Frames, &r.Width, &r.Height)
	if err == nil {
		st.Recording = &r
	} else if !errors.Is(err, sql.ErrNoRows) {
		return st, err
	}
	if st.Marks, err = readMarks(ctx, tx); err != nil {
		return st, err
	}
	if err := validStudy(&st); err != nil {
		return st, fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return st, nil
}

// readMarks reads all marks in the order of time; never nil.
func readMarks(ctx context.Context, tx *sql.Tx) ([]timeline.Mark, error) {
	rows, err := tx.QueryContext(ctx, "SELECT id, at_ms, title, words, note FROM mark ORDER BY at_ms, id")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	marks := []timeline.Mark{}
	for rows.Next() {
		var m timeline.Mark
		if err := rows.Scan(&m.ID, &m.At, &m.Title, &m.Words, &m.Note); err != nil {
			return nil, err
		}
		marks = append(marks, m)
	}
	return marks, rows.Err()
}

func readMark(ctx context.Context, tx *sql.Tx, id int64) (m timeline.Mark, err error) {
	err = tx.QueryRowContext(ctx, "SELECT id, at_ms, title, words, note FROM mark WHERE id = ?", id).
		Scan(&m.ID, &m.At, &m.Title, &m.Words, &m.Note)
	if errors.Is(err, sql.ErrNoRows) {
		err = fmt.Errorf("%w: %d", ErrNoMark, id)
	}
	return m, err
}

// insertStudy fills the tables of a new file.
func insertStudy(ctx context.Context, tx *sql.Tx, st timeline.Study) error {
	var last int64
	for _, m := range st.Marks {
		last = max(last, m.ID)
	}
	d := delta{About: &swap[aboutRow]{}}
	for _, m := range st.Marks {
		if m.ID == 0 {
			last++
			m.ID = last
		}
		d.Marks = append(d.Marks, swap[markRow]{After: new(markRow(m))})
	}
	if st.Recording != nil {
		d.Recording = &swap[recordingRow]{After: new(recordingRow(*st.Recording))}
	}
	a := aboutOf(&st)
	_, err := tx.ExecContext(ctx, "INSERT INTO study (one, id, title, language, stature_m, mass_kg, sex, revision, last_mark, last_change) VALUES (1, ?, ?, ?, ?, ?, ?, 1, ?, 0)",
		st.ID, a.Title, a.Language, a.Person.StatureM, a.Person.MassKg, a.Person.Sex, last)
	if err != nil {
		return err
	}
	d.About = nil
	return d.apply(ctx, tx)
}
