package viewer

import (
	"encoding/json"
	"errors"
	"net/http"
	"strconv"

	"tautline/timeline/media"
	"tautline/timeline/store"
)

// route is one row of the table of everything that is answered.
type route struct {
	method, pattern string
	serve           http.HandlerFunc
	writes          bool // it may change the study
	stream          bool // it sets its own time limits
}

// table lists every route. No GET writes; a test holds it to that.
func (s *Server) table() []route {
	return []route{
		{method: "GET", pattern: "/{$}", serve: s.web.page},
		{method: "GET", pattern: "/web/{file...}", serve: s.web.file},
		{method: "GET", pattern: "/ws", serve: s.socket, stream: true},
		{method: "GET", pattern: "/media/{id}", serve: s.media, stream: true},
		{method: "GET", pattern: "/api/report", serve: s.getReport},
		{method: "GET", pattern: "/api/score", serve: s.getScore},
		{method: "GET", pattern: "/api/model", serve: s.getModel},
		{method: "GET", pattern: "/api/phases/{number}", serve: s.getPhase},
		{method: "GET", pattern: "/api/phases/{number}/muscles/{muscle}", serve: s.getMuscle},
		{method: "GET", pattern: "/api/scenes/{key}", serve: s.getScene},
		{method: "GET", pattern: "/api/frames", serve: s.getFrames},
		{method: "GET", pattern: "/api/vocabulary", serve: s.getVocabulary},
		{method: "GET", pattern: "/api/tried/{key}/muscles/{muscle}", serve: s.getTriedMuscle},
		{method: "POST", pattern: "/api/read", serve: s.readWords},
		{method: "POST", pattern: "/api/try", serve: s.try},
		{method: "POST", pattern: "/api/marks", serve: s.addMark, writes: true},
		{method: "PATCH", pattern: "/api/marks/{id}", serve: s.changeMark, writes: true},
		{method: "DELETE", pattern: "/api/marks/{id}", serve: s.removeMark, writes: true},
		{method: "POST", pattern: "/api/remarks", serve: adding[apiRemarkEdit](s, nil, s.keepRemark), writes: true},
		{method: "PATCH", pattern: "/api/remarks/{id}", serve: altering[apiRemarkEdit](s, s.opt.Store.ChangeRemark), writes: true},
		{method: "DELETE", pattern: "/api/remarks/{id}", serve: removing(s, s.opt.Store.RemoveRemark), writes: true},
		{method: "POST", pattern: "/api/postures", serve: adding[apiPostureEdit](s, nil, s.keepPosture), writes: true},
		{method: "PATCH", pattern: "/api/postures/{id}", serve: altering[apiPostureEdit](s, s.opt.Store.ChangePosture), writes: true},
		{method: "DELETE", pattern: "/api/postures/{id}", serve: removing(s, s.opt.Store.RemovePosture), writes: true},
		{method: "POST", pattern: "/api/marks/{id}/angles", serve: adding[apiAngleEdit](s, ofMark, s.keepAngle), writes: true},
		{method: "PATCH", pattern: "/api/angles/{id}", serve: altering[apiAngleEdit](s, s.opt.Store.ChangeAngle), writes: true},
		{method: "DELETE", pattern: "/api/angles/{id}", serve: removing(s, s.opt.Store.RemoveAngle), writes: true},
		{method: "POST", pattern: "/api/recording", serve: s.findRecording, writes: true},
		{method: "GET", pattern: "/api/exports", serve: s.listExports},
		{method: "GET", pattern: "/api/exports/{format}", serve: s.getExport},
		{method: "POST", pattern: "/api/undo", serve: s.undo, writes: true},
		{method: "POST", pattern: "/api/redo", serve: s.redo, writes: true},
	}
}

// fault is what an error means to a page: the answer's status, and a hint.
type fault struct {
	is     error
	status int
	hint   string
}

// faults is the one table from error to answer.
var faults = []fault{
	{store.ErrNoMark, http.StatusNotFound, "It was removed meanwhile, perhaps in another window."},
	{store.ErrNoRemark, http.StatusNotFound, "It was removed meanwhile, perhaps in another window."},
	{store.ErrNoPosture, http.StatusNotFound, "It was removed meanwhile, perhaps in another window."},
	{store.ErrNoAngle, http.StatusNotFound, "It was removed meanwhile, perhaps in another window."},
	{store.ErrInvalid, http.StatusUnprocessableEntity, ""},
	{store.ErrNothingToUndo, http.StatusConflict, ""},
	{store.ErrNothingToRedo, http.StatusConflict, ""},
	{store.ErrBusy, http.StatusServiceUnavailable, "Try again in a moment."},
	{store.ErrReadOnly, http.StatusForbidden, "The study or its folder may not be written."},
	{store.ErrMoved, http.StatusServiceUnavailable, "Start the viewer again on the study where it is now."},
	{store.ErrDamaged, http.StatusServiceUnavailable, "Take a copy of the file before anything else."},
	{errNoPhase, http.StatusNotFound, "The marks have changed meanwhile."},
	{errNoMuscle, http.StatusNotFound, ""},
	{errNoScene, http.StatusNotFound, "The marks have changed meanwhile."},
	{errForgotten, http.StatusNotFound, "Change the posture again."},
	{media.ErrNotFound, http.StatusNotFound, "Name the folder that it is in."},
	{errUnwritten, http.StatusUnprocessableEntity, ""},
	{errNoFormat, http.StatusNotFound, ""},
	{errRequest, http.StatusBadRequest, ""},
}

// fail answers with an error.
func fail(w http.ResponseWriter, err error) {
	answer := apiError{Error: err.Error()}
	status := http.StatusInternalServerError
	for _, f := range faults {
		if errors.Is(err, f.is) {
			status, answer.Hint = f.status, f.hint
			break
		}
	}
	if tooLong := new(http.MaxBytesError); errors.As(err, &tooLong) {
		status, answer.Error = http.StatusRequestEntityTooLarge, "that is more than this server takes in at once"
	}
	send(w, status, answer)
}

// send answers with JSON.
func send(w http.ResponseWriter, status int, value any) {
	body, err := json.Marshal(value)
	if err != nil {
		panic("viewer: " + err.Error()) // our own types
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(status)
	w.Write(body)
}

// sendTagged answers with JSON that a page may keep for as long as its tag
// stays the same: asked again with the tag, the answer is 304 and empty.
func sendTagged(w http.ResponseWriter, r *http.Request, tag string, value func() any) {
	tag = `"` + tag + `"`
	w.Header().Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	send(w, http.StatusOK, value())
}
