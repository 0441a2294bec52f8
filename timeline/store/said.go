package store

import (
	"context"

	"tautline/timeline"
)

// Remarks, named postures and picture angles are added, changed and removed as
// marks are: each call is one change and one step of undo. Added values come
// back with their ID; an ID given is ignored.

// AddRemark pins a remark to a moment or a phase. ErrNoMark when it is about
// the phase of a mark that is not there.
func (s *Store) AddRemark(ctx context.Context, r timeline.Remark) (timeline.Remark, error) {
	return addOne(ctx, s, &remarks, r)
}

// ChangeRemark changes, answers or settles a remark. ErrNoRemark when there is
// no such remark; otherwise as ChangeMark.
func (s *Store) ChangeRemark(ctx context.Context, id int64, f func(*timeline.Remark) error) (timeline.Remark, error) {
	return alter(ctx, s, &remarks, id, f)
}

// RemoveRemark removes a remark and returns it as it was.
func (s *Store) RemoveRemark(ctx context.Context, id int64) (timeline.Remark, error) {
	return remove(ctx, s, &remarks, id)
}

// AddPosture keeps a posture by a name that no other in the study has.
func (s *Store) AddPosture(ctx context.Context, p timeline.NamedPosture) (timeline.NamedPosture, error) {
	return addOne(ctx, s, &postures, p)
}

// ChangePosture changes the name or the words of a kept posture. ErrNoPosture
// when there is none; otherwise as ChangeMark.
func (s *Store) ChangePosture(ctx context.Context, id int64, f func(*timeline.NamedPosture) error) (timeline.NamedPosture, error) {
	return alter(ctx, s, &postures, id, f)
}

// RemovePosture removes a kept posture and returns it as it was. Marks that
// were given its words keep them.
func (s *Store) RemovePosture(ctx context.Context, id int64) (timeline.NamedPosture, error) {
	return remove(ctx, s, &postures, id)
}

// AddAngle keeps an angle read off the picture with its mark; ErrNoMark when
// that is not there.
func (s *Store) AddAngle(ctx context.Context, a timeline.PictureAngle) (timeline.PictureAngle, error) {
	return addOne(ctx, s, &angles, a)
}

// ChangeAngle changes an angle read off the picture. ErrNoAngle when there is
// none; otherwise as ChangeMark.
func (s *Store) ChangeAngle(ctx context.Context, id int64, f func(*timeline.PictureAngle) error) (timeline.PictureAngle, error) {
	return alter(ctx, s, &angles, id, f)
}

// RemoveAngle removes an angle read off the picture and returns it as it was.
func (s *Store) RemoveAngle(ctx context.Context, id int64) (timeline.PictureAngle, error) {
	return remove(ctx, s, &angles, id)
}
