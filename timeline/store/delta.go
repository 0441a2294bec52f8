package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
)

// delta is one change, both ways: what each row was and what it becomes. Doing,
// undoing and redoing all write by apply, so that they cannot disagree.
type delta struct {
	About     *swap[aboutRow]     `json:"about,omitempty"`
	Recording *swap[recordingRow] `json:"recording,omitempty"`
	Marks     []swap[markRow]     `json:"marks,omitempty"`
	Remarks   []swap[remarkRow]   `json:"remarks,omitempty"`
	Postures  []swap[postureRow]  `json:"postures,omitempty"`
	Angles    []swap[angleRow]    `json:"angles,omitempty"`
}

// swap is one row before and after; nil where there is none.
type swap[R any] struct {
	Before *R `json:"before"`
	After  *R `json:"after"`
}

func (d *delta) empty() bool {
	return d.About == nil && d.Recording == nil && len(d.Marks)+len(d.Remarks)+len(d.Postures)+len(d.Angles) == 0
}

// back is the change that takes d back.
func (d *delta) back() *delta {
	b := &delta{Marks: turned(d.Marks), Remarks: turned(d.Remarks), Postures: turned(d.Postures), Angles: turned(d.Angles)}
	if d.About != nil {
		b.About = &swap[aboutRow]{d.About.After, d.About.Before}
	}
	if d.Recording != nil {
		b.Recording = &swap[recordingRow]{d.Recording.After, d.Recording.Before}
	}
	return b
}

func turned[R any](swaps []swap[R]) []swap[R] {
	back := make([]swap[R], len(swaps))
	for i, s := range swaps {
		back[i] = swap[R]{s.After, s.Before}
	}
	return back
}

// apply writes every After in place of its Before.
func (d *delta) apply(ctx context.Context, tx *sql.Tx) error {
	if d.About != nil {
		a := d.About.After
		if a == nil {
			return fmt.Errorf("%w: a step of the history says nothing about the study", ErrDamaged)
		}
		err := one(tx.ExecContext(ctx, "UPDATE study SET title = ?, language = ?, stature_m = ?, mass_kg = ?, sex = ?",
			a.Title, a.Language, a.Person.StatureM, a.Person.MassKg, a.Person.Sex))
		if err != nil {
			return err
		}
	}
	if d.Recording != nil {
		if d.Recording.Before != nil {
			if err := one(tx.ExecContext(ctx, "DELETE FROM recording")); err != nil {
				return err
			}
		}
		if r := d.Recording.After; r != nil {
			err := one(tx.ExecContext(ctx, "INSERT INTO recording (one, path, fingerprint, size, duration_ms, kind, frame_rate, variable, frames, width, height) VALUES (1, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
				r.Path, r.Fingerprint, r.Size, r.Duration, r.Kind, r.FrameRate, r.Variable, r.Frames, r.Width, r.Height))
			if err != nil {
				return err
			}
		}
	}
	if err := marks.apply(ctx, tx, d.Marks); err != nil {
		return err
	}
	if err := remarks.apply(ctx, tx, d.Remarks); err != nil {
		return err
	}
	if err := postures.apply(ctx, tx, d.Postures); err != nil {
		return err
	}
	return angles.apply(ctx, tx, d.Angles)
}

// one makes sure that a statement touched exactly one row: anything else means
// that the history and the tables have come apart.
func one(result sql.Result, err error) error {
	if err != nil {
		return err
	}
	n, err := result.RowsAffected()
	if err == nil && n != 1 {
		err = fmt.Errorf("%w: its history does not fit its tables", ErrDamaged)
	}
	return err
}

func (d *delta) encode() (string, error) {
	text, err := json.Marshal(d)
	return string(text), err
}

func decodeDelta(text string) (*delta, error) {
	var d delta
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		return nil, fmt.Errorf("%w: a step of its history cannot be read: %v", ErrDamaged, err)
	}
	return &d, nil
}
