package store

import (
	"context"
	"database/sql"
	"fmt"

	"tautline/timeline"
)

// ChangeStudy reads the whole study, lets edit change it and writes what
// differs as one change and one step of undo, with no other change in between.
// Marks that edit adds with ID 0 are given theirs; marks may be changed and
// removed. An empty label is filled in. An error from edit is returned as it is
// and nothing is changed. The study's ID and Revision stay: an edit that
// changes them is a mistake and panics. The study that comes back is as written.
// edit must be quick and not use the Store.
func (s *Store) ChangeStudy(ctx context.Context, label string, edit func(*timeline.Study) error) (timeline.Study, error) {
	var after timeline.Study
	var refused error
	err := s.change(ctx, func(tx *sql.Tx) (string, *delta, error) {
		before, err := readStudy(ctx, tx)
		if err != nil {
			return "", nil, err
		}
		after = clone(before)
		if refused = edit(&after); refused != nil {
			return "", nil, refused
		}
		if after.ID != before.ID || after.Revision != before.Revision {
			panic("store: an edit changed the study's ID or Revision")
		}
		if err := validStudy(&after); err != nil {
			return "", nil, err
		}
		d, err := difference(ctx, tx, &before, &after)
		if err == nil && !d.empty() {
			after.Revision++
		}
		return orLabel(label, d), d, err
	})
	if refused != nil {
		err = refused
	}
	if err != nil {
		return timeline.Study{}, err
	}
	return after, nil
}

// SetRecording says which recording the study is of; nil for none yet.
func (s *Store) SetRecording(ctx context.Context, r *timeline.Recording) error {
	_, err := s.ChangeStudy(ctx, "", func(st *timeline.Study) error {
		st.Recording = r
		return nil
	})
	return err
}

// difference plans the change from one study to another. Marks without an ID in
// after are given one, and after is sorted.
func difference(ctx context.Context, tx *sql.Tx, before, after *timeline.Study) (*delta, error) {
	d := &delta{}
	if a, b := aboutOf(before), aboutOf(after); a != b {
		d.About = &swap[aboutRow]{&a, &b}
	}
	if r := (swap[recordingRow]{recordingOf(before), recordingOf(after)}); !same(r) {
		d.Recording = &r
	}
	old := make(map[int64]timeline.Mark, len(before.Marks))
	for _, m := range before.Marks {
		old[m.ID] = m
	}
	for i := range after.Marks {
		m := &after.Marks[i]
		was, known := old[m.ID]
		switch {
		case m.ID == 0:
			id, err := nextMark(ctx, tx)
			if err != nil {
				return d, err
			}
			m.ID = id
			d.Marks = append(d.Marks, swap[markRow]{After: new(markRow(*m))})
		case !known:
			return d, fmt.Errorf("%w: %d", ErrNoMark, m.ID)
		case was != *m:
			d.Marks = append(d.Marks, swap[markRow]{new(markRow(was)), new(markRow(*m))})
		}
		delete(old, m.ID)
	}
	for _, m := range before.Marks {
		if _, gone := old[m.ID]; gone {
			d.Marks = append(d.Marks, swap[markRow]{Before: new(markRow(m))})
		}
	}
	after.Sort()
	return d, nil
}

// clone copies a study so that an edit cannot reach the original.
func clone(st timeline.Study) timeline.Study {
	st.Marks = append([]timeline.Mark{}, st.Marks...)
	if st.Recording != nil {
		st.Recording = new(*st.Recording)
	}
	return st
}

func recordingOf(st *timeline.Study) *recordingRow {
	if st.Recording == nil {
		return nil
	}
	return new(recordingRow(*st.Recording))
}

// same reports whether a swap changes nothing.
func same[R comparable](s swap[R]) bool {
	if s.Before == nil || s.After == nil {
		return s.Before == s.After
	}
	return *s.Before == *s.After
}
