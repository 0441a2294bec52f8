package store

import (
	"context"
	"database/sql"

	"tautline/timeline"
)

// AddMark adds a mark and returns it with the ID it was given, one higher than
// any this study ever had; an ID in m is ignored.
func (s *Store) AddMark(ctx context.Context, m timeline.Mark) (timeline.Mark, error) {
	return addOne(ctx, s, &marks, m)
}

// AddMarks adds several marks as one change and one step of undo, all or none,
// and returns them in the same order with their IDs. An empty label is filled
// in. No marks are no change.
func (s *Store) AddMarks(ctx context.Context, label string, list []timeline.Mark) ([]timeline.Mark, error) {
	return add(ctx, s, &marks, label, list)
}

// ChangeMark reads a mark, lets f change it and writes it, with no other change
// in between. An error from f is returned as it is and nothing is changed. The
// ID stays: an f that changes it is a mistake and panics. ErrNoMark when there
// is no such mark. f must be quick and not use the Store.
func (s *Store) ChangeMark(ctx context.Context, id int64, f func(*timeline.Mark) error) (timeline.Mark, error) {
	return alter(ctx, s, &marks, id, f)
}

// RemoveMark removes a mark and returns it as it was. Remarks on its phase stay
// at its moment; angles read for it go with it.
func (s *Store) RemoveMark(ctx context.Context, id int64) (timeline.Mark, error) {
	var gone timeline.Mark
	err := s.change(ctx, func(tx *sql.Tx) (_ string, _ *delta, err error) {
		if gone, err = marks.find(ctx, tx, id); err != nil {
			return "", nil, err
		}
		before := timeline.Study{Marks: []timeline.Mark{gone}}
		if before.Remarks, err = remarks.read(ctx, tx, "WHERE mark = ? ORDER BY id", id); err != nil {
			return "", nil, err
		}
		if before.Angles, err = angles.read(ctx, tx, "WHERE mark = ? ORDER BY id", id); err != nil {
			return "", nil, err
		}
		after := clone(before)
		after.Marks = nil
		after.Unpin(&before)
		d, err := difference(ctx, tx, &before, &after)
		if err != nil {
			return "", nil, err
		}
		return describeMark(d.Marks[0].Before, nil), d, nil
	})
	return gone, err
}
