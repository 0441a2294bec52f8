package viewer

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strconv"

	"tautline/analysis/posture"
	"tautline/timeline"
)

// errRequest marks a request that no page of ours makes.
var errRequest = errors.New("the request is not understood")

// decode reads a JSON body strictly: nothing unknown, nothing after it.
func decode(r *http.Request, into any) error {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "application/json" {
		return fmt.Errorf("%w: it must be application/json", errRequest)
	}
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("%w: %w", errRequest, err)
	}
	if _, err := d.Token(); err != io.EOF {
		return fmt.Errorf("%w: something follows the JSON value", errRequest)
	}
	return nil
}

// apply writes what the edit names into a mark.
func (e apiMarkEdit) apply(m *timeline.Mark) error {
	if e.AtMS != nil {
		m.At = timeline.Instant(*e.AtMS)
	}
	give(&m.Title, e.Title)
	give(&m.Words, e.Words)
	give(&m.Note, e.Note)
	return nil
}

// addMark adds a mark; its time must be said.
func (s *Server) addMark(w http.ResponseWriter, r *http.Request) {
	var edit apiMarkEdit
	if err := decode(r, &edit); err != nil {
		fail(w, err)
		return
	}
	if edit.AtMS == nil {
		fail(w, fmt.Errorf("%w: at_ms is missing", errRequest))
		return
	}
	var m timeline.Mark
	edit.apply(&m)
	m, err := s.opt.Store.AddMark(r.Context(), m)
	s.changed(w, http.StatusCreated, apiChanged{Mark: m.ID}, err)
}

// changeMark changes what the body names and leaves the rest.
func (s *Server) changeMark(w http.ResponseWriter, r *http.Request) {
	var edit apiMarkEdit
	id, err := pathID(r)
	if err == nil {
		err = decode(r, &edit)
	}
	if err == nil {
		_, err = s.opt.Store.ChangeMark(r.Context(), id, edit.apply)
	}
	s.changed(w, http.StatusOK, apiChanged{Mark: id}, err)
}

func (s *Server) removeMark(w http.ResponseWriter, r *http.Request) {
	id, err := pathID(r)
	if err == nil {
		_, err = s.opt.Store.RemoveMark(r.Context(), id)
	}
	s.changed(w, http.StatusOK, apiChanged{Mark: id}, err)
}

func (s *Server) undo(w http.ResponseWriter, r *http.Request) {
	label, err := s.opt.Store.Undo(r.Context())
	s.changed(w, http.StatusOK, apiChanged{Label: label}, err)
}

func (s *Server) redo(w http.ResponseWriter, r *http.Request) {
	label, err := s.opt.Store.Redo(r.Context())
	s.changed(w, http.StatusOK, apiChanged{Label: label}, err)
}

// pathID reads the ID in a request's path.
func pathID(r *http.Request) (int64, error) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil || id <= 0 {
		return 0, fmt.Errorf("%w: %q is not an ID", errRequest, r.PathValue("id"))
	}
	return id, nil
}

// changed answers a change. Pages hear of it through the store like of any
// other, so that there is one way for all.
func (s *Server) changed(w http.ResponseWriter, status int, answer apiChanged, err error) {
	if err != nil {
		fail(w, err)
		return
	}
	send(w, status, answer)
}

// readWords answers how a posture in words is understood; nothing is changed.
func (s *Server) readWords(w http.ResponseWriter, r *http.Request) {
	var ask apiWords
	if err := decode(r, &ask); err != nil {
		fail(w, err)
		return
	}
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	reading := posture.Read(snap.model, ask.Words)
	answer := apiReading{Canonical: reading.Canonical, Parts: parts(ask.Words, reading.Parts), Unknown: unknown(ask.Words, reading.Unknown)}
	send(w, http.StatusOK, answer)
}

// parts gives the statements of the words as a page counts places.
func parts(words string, list []posture.Part) []apiPart {
	out := make([]apiPart, len(list))
	for i, p := range list {
		out[i] = apiPart{units(words, p.From), units(words, p.To), p.Canonical}
	}
	return out
}
