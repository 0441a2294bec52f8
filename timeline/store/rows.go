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

type remarkRow struct {
	ID       int64            `json:"id"`
	Mark     int64            `json:"mark"`
	At       timeline.Instant `json:"at_ms"`
	By       string           `json:"by"`
	Text     string           `json:"text"`
	Answer   string           `json:"answer"`
	AnswerBy string           `json:"answer_by"`
	Settled  bool             `json:"settled"`
}

type postureRow struct {
	ID    int64  `json:"id"`
	Name  string `json:"name"`
	Words string `json:"words"`
}

type angleRow struct {
	ID     int64            `json:"id"`
	Mark   int64            `json:"mark"`
	At     timeline.Instant `json:"at_ms"`
	Joint  string           `json:"joint"`
	Angle  float64          `json:"angle_rad"`
	Points [4][2]float64    `json:"points"`
	Count  int              `json:"count"`
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
	if err = readSaid(ctx, tx, &st); err != nil {
		return st, err
	}
	if err := validStudy(&st); err != nil {
		return st, fmt.Errorf("%w: %v", ErrDamaged, err)
	}
	return st, nil
}

// insertStudy fills the tables of a new file.
func insertStudy(ctx context.Context, tx *sql.Tx, st timeline.Study) error {
	last := numberSaid(&st)
	a := aboutOf(&st)
	_, err := tx.ExecContext(ctx, "INSERT INTO study (one, id, title, language, stature_m, mass_kg, sex, revision, last_change, "+lastColumns+") VALUES (1, ?, ?, ?, ?, ?, ?, 1, 0, ?, ?, ?, ?)",
		append([]any{st.ID, a.Title, a.Language, a.Person.StatureM, a.Person.MassKg, a.Person.Sex}, last...)...)
	if err != nil {
		return err
	}
	return everything(&st).apply(ctx, tx)
}
