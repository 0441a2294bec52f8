package viewer

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"slices"

	"tautline/analysis/geom"
	"tautline/timeline"
)

func remarksOf(st *timeline.Study) []apiRemark {
	list := make([]apiRemark, len(st.Remarks))
	for i, r := range st.RemarksByTime() {
		list[i] = apiRemark{r.ID, r.Mark, int64(st.When(r)), r.By, r.Text, r.Answer, r.AnswerBy, r.Settled}
	}
	return list
}

func posturesOf(st *timeline.Study) []apiPosture {
	list := make([]apiPosture, len(st.Postures))
	for i, p := range st.Postures {
		list[i] = apiPosture(p)
	}
	slices.SortStableFunc(list, func(a, b apiPosture) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

func anglesOf(st *timeline.Study) []apiAngle {
	list := make([]apiAngle, len(st.Angles))
	for i, a := range st.Angles {
		list[i] = apiAngle{a.ID, a.Mark, int64(a.At), a.Joint, geom.Degrees(a.Angle), slices.Clone(a.Points[:a.Count])}
	}
	return list
}

// give writes what a request gives, and leaves what it does not name.
func give[T any](into *T, from *T) {
	if from != nil {
		*into = *from
	}
}

func (e apiRemarkEdit) apply(r *timeline.Remark) error {
	if e.Mark != nil && e.AtMS != nil {
		return fmt.Errorf("%w: a remark has mark or at_ms, not both", errRequest)
	}
	if e.Mark != nil {
		r.Mark, r.At = *e.Mark, 0
	}
	if e.AtMS != nil {
		r.Mark, r.At = 0, timeline.Instant(*e.AtMS)
	}
	give(&r.By, e.By)
	give(&r.Text, e.Text)
	give(&r.Answer, e.Answer)
	give(&r.AnswerBy, e.AnswerBy)
	give(&r.Settled, e.Settled)
	return nil
}

func (e apiPostureEdit) apply(p *timeline.NamedPosture) error {
	give(&p.Name, e.Name)
	give(&p.Words, e.Words)
	return nil
}

func (e apiAngleEdit) apply(a *timeline.PictureAngle) error {
	if e.AtMS != nil {
		a.At = timeline.Instant(*e.AtMS)
	}
	give(&a.Joint, e.Joint)
	if e.AngleDeg != nil {
		a.Angle = geom.Deg(*e.AngleDeg)
	}
	if e.Points != nil {
		if len(*e.Points) > len(a.Points) {
			return fmt.Errorf("%w: there are at most %d points", errRequest, len(a.Points))
		}
		a.Points = [4][2]float64{}
		a.Count = copy(a.Points[:], *e.Points)
	}
	return nil
}

// edits is a request's body that changes a T.
type edits[T any] interface{ apply(*T) error }

// adding answers a request that adds a T: begin makes it from the request's
// path, the body fills it, keep keeps it and says its ID.
func adding[E edits[T], T any](s *Server, begin func(*http.Request, *T) error, keep func(context.Context, T) (int64, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var e E
		var value T
		var id int64
		err := decode(r, &e)
		if err == nil && begin != nil {
			err = begin(r, &value)
		}
		if err == nil {
			err = e.apply(&value)
		}
		if err == nil {
			id, err = keep(r.Context(), value)
		}
		s.changed(w, http.StatusCreated, apiChanged{ID: id}, err)
	}
}

// altering answers a request that changes the T that the path names.
func altering[E edits[T], T any](s *Server, change func(context.Context, int64, func(*T) error) (T, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var e E
		id, err := pathID(r)
		if err == nil {
			err = decode(r, &e)
		}
		if err == nil {
			_, err = change(r.Context(), id, e.apply)
		}
		s.changed(w, http.StatusOK, apiChanged{ID: id}, err)
	}
}

// removing answers a request that removes the T that the path names.
func removing[T any](s *Server, remove func(context.Context, int64) (T, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		id, err := pathID(r)
		if err == nil {
			_, err = remove(r.Context(), id)
		}
		s.changed(w, http.StatusOK, apiChanged{ID: id}, err)
	}
}

func (s *Server) keepRemark(ctx context.Context, r timeline.Remark) (int64, error) {
	kept, err := s.opt.Store.AddRemark(ctx, r)
	return kept.ID, err
}

func (s *Server) keepPosture(ctx context.Context, p timeline.NamedPosture) (int64, error) {
	kept, err := s.opt.Store.AddPosture(ctx, p)
	return kept.ID, err
}

func (s *Server) keepAngle(ctx context.Context, a timeline.PictureAngle) (int64, error) {
	kept, err := s.opt.Store.AddAngle(ctx, a)
	return kept.ID, err
}

// ofMark gives a new angle the mark that the path names.
func ofMark(r *http.Request, a *timeline.PictureAngle) (err error) {
	a.Mark, err = pathID(r)
	return err
}
