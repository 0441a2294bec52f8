package store

import (
	"context"
	"database/sql"
	"fmt"

	"tautline/timeline"
)

// AddMark adds a mark and returns it with the ID it was given, one higher than
// any this study ever had; an ID in m is ignored.
func (s *Store) AddMark(ctx context.Context, m timeline.Mark) (timeline.Mark, error) {
	added, err := s.AddMarks(ctx, "", []timeline.Mark{m})
	if err != nil {
		return timeline.Mark{}, err
	}
	return added[0], nil
}

// AddMarks adds several marks as one change and one step of undo, all or none,
// and returns them in the same order with their IDs. An empty label is filled
// in. No marks are no change.
func (s *Store) AddMarks(ctx context.Context, label string, marks []timeline.Mark) ([]timeline.Mark, error) {
	added := make([]timeline.Mark, len(marks))
	err := s.change(ctx, func(tx *sql.Tx) (string, *delta, error) {
		d := &delta{}
		for i, m := range marks {
			if err := validMark(&m); err != nil {
				return "", nil, err
			}
			id, err := nextMark(ctx, tx)
			if err != nil {
				return "", nil, err
			}
			m.ID = id
			added[i] = m
			d.Marks = append(d.Marks, swap[markRow]{After: new(markRow(m))})
		}
		return orLabel(label, d), d, nil
	})
	if err != nil {
		return nil, err
	}
	return added, nil
}

// ChangeMark reads a mark, lets edit change it and writes it, with no other
// change in between. An error from edit is returned as it is and nothing is
// changed. The ID stays: an edit that changes it is a mistake and panics.
// ErrNoMark when there is no such mark. edit must be quick and not use the
// Store.
func (s *Store) ChangeMark(ctx context.Context, id int64, edit func(*timeline.Mark) error) (timeline.Mark, error) {
	var after timeline.Mark
	var refused error
	err := s.change(ctx, func(tx *sql.Tx) (string, *delta, error) {
		before, err := readMark(ctx, tx, id)
		if err != nil {
			return "", nil, err
		}
		after = before
		if refused = edit(&after); refused != nil {
			return "", nil, refused
		}
		if after.ID != id {
			panic(fmt.Sprintf("store: an edit made mark %d into mark %d", id, after.ID))
		}
		if err := validMark(&after); err != nil {
			return "", nil, err
		}
		d := &delta{}
		if after != before {
			d.Marks = []swap[markRow]{{new(markRow(before)), new(markRow(after))}}
		}
		return describe(d), d, nil
	})
	if refused != nil {
		err = refused
	}
	if err != nil {
		return timeline.Mark{}, err
	}
	return after, nil
}

// RemoveMark removes a mark and returns it as it was.
func (s *Store) RemoveMark(ctx context.Context, id int64) (timeline.Mark, error) {
	var before timeline.Mark
	err := s.change(ctx, func(tx *sql.Tx) (_ string, _ *delta, err error) {
		if before, err = readMark(ctx, tx, id); err != nil {
			return "", nil, err
		}
		d := &delta{Marks: []swap[markRow]{{Before: new(markRow(before))}}}
		return describe(d), d, nil
	})
	return before, err
}

// nextMark takes the next free ID. It is not given back by undo, so that an ID
// someone has noted down never comes to mean another mark.
func nextMark(ctx context.Context, tx *sql.Tx) (id int64, err error) {
	err = tx.QueryRowContext(ctx, "UPDATE study SET last_mark = last_mark + 1 RETURNING last_mark").Scan(&id)
	return id, err
}
