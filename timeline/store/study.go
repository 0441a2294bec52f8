package store

import (
	"context"
	"database/sql"

	"tautline/timeline"
)

// ChangeStudy reads the whole study, lets edit change it and writes what
// differs as one change and one step of undo, with no other change in between.
// Marks, remarks, postures and angles that edit adds with ID 0 are given theirs;
// they may be changed and removed, and what is pinned to a mark that goes is
// unpinned as RemoveMark does. An empty label is filled in. An error from edit is returned as it is
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
		after.Unpin(&before)
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

// difference plans the change from one study to another. What has no ID in after
// is given one, and its marks are sorted.
func difference(ctx context.Context, tx *sql.Tx, before, after *timeline.Study) (*delta, error) {
	d := &delta{}
	if a, b := aboutOf(before), aboutOf(after); a != b {
		d.About = &swap[aboutRow]{&a, &b}
	}
	if r := (swap[recordingRow]{recordingOf(before), recordingOf(after)}); !same(r) {
		d.Recording = &r
	}
	if err := marks.difference(ctx, tx, d, before.Marks, after.Marks); err != nil {
		return d, err
	}
	if err := remarks.difference(ctx, tx, d, before.Remarks, after.Remarks); err != nil {
		return d, err
	}
	if err := postures.difference(ctx, tx, d, before.Postures, after.Postures); err != nil {
		return d, err
	}
	if err := angles.difference(ctx, tx, d, before.Angles, after.Angles); err != nil {
		return d, err
	}
	after.Sort()
	return d, nil
}

// clone copies a study so that an edit cannot reach the original.
func clone(st timeline.Study) timeline.Study {
	st.Marks = append([]timeline.Mark{}, st.Marks...)
	st.Remarks = append([]timeline.Remark{}, st.Remarks...)
	st.Postures = append([]timeline.NamedPosture{}, st.Postures...)
	st.Angles = append([]timeline.PictureAngle{}, st.Angles...)
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
