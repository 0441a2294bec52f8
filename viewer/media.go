package viewer

import (
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"time"

	"tautline/timeline"
	"tautline/timeline/media"
)

// film remembers the recording that was last looked at, so that its file is
// read once and not with every report.
type film struct {
	mu     sync.Mutex
	of     timeline.Recording // what the study said
	own    string             // stamp of the file where the study says
	path   string
	stamp  string // of the file that was found
	looked time.Time
	id     string // what its address ends in; says nothing about the file
	read   *media.Recording
	err    error
	doubt  string
}

// lookAgain is how long a recording that was not found is not searched for
// again while nothing changes where it should be.
const lookAgain = 5 * time.Second

// holds reports whether what is remembered still holds.
func (f *film) holds(r timeline.Recording, own string) bool {
	if f.of != r || f.own != own {
		return false
	}
	if f.err != nil || f.doubt != "" {
		return time.Since(f.looked) < lookAgain
	}
	return f.stamp == stamp(f.path)
}

// stamp tells one state of a file from another; empty when there is none.
func stamp(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%s %d %d", path, info.Size(), info.ModTime().UnixNano())
}

// recording says what the page can play, nil when the study has no recording.
func (s *Server) recording(st *timeline.Study) *apiRecording {
	if st.Recording == nil {
		return nil
	}
	r := *st.Recording
	f := s.look(st)
	defer s.film.mu.Unlock()
	a := &apiRecording{
		Name: filepath.Base(filepath.ToSlash(r.Path)), Kind: r.Kind, DurationMS: int64(r.Duration),
		FrameRate: r.FrameRate, Variable: r.Variable, Frames: r.Frames, Width: r.Width, Height: r.Height,
		Fingerprint: r.Fingerprint, Bytes: r.Size,
	}
	if f.err != nil {
		a.Problem = f.err.Error()
		return a
	}
	a.URL, a.Type, a.Problem = "/media/"+f.id, mediaType(f.read), f.doubt
	return a
}

// look finds the study's recording and reads what it says of itself. It returns
// with film locked.
func (s *Server) look(st *timeline.Study) *film {
	s.film.mu.Lock()
	f := &s.film
	own := stamp(s.place(st.Recording))
	if f.holds(*st.Recording, own) {
		return f
	}
	path, doubt, err := s.find(st.Recording)
	f.of, f.own, f.path, f.stamp, f.looked = *st.Recording, own, path, stamp(path), time.Now()
	f.doubt, f.err, f.read = doubt, err, nil
	f.id = digest(s.token, f.stamp, st.Recording.Fingerprint)
	if err == nil {
		f.read, f.err = media.Open(path)
	}
	return f
}

// place is where the study says that its recording is.
func (s *Server) place(r *timeline.Recording) string {
	if filepath.IsAbs(r.Path) {
		return r.Path
	}
	return filepath.Join(filepath.Dir(s.opt.Store.Path()), r.Path)
}

// find gives the path of the recording: where the study says, else a file of
// the same content in the study's folder.
func (s *Server) find(r *timeline.Recording) (path, doubt string, err error) {
	if s.opt.Find != nil {
		path, err = s.opt.Find(r, s.opt.Store.Path())
		return path, "", err
	}
	path = s.place(r)
	info, err := os.Stat(path)
	if err == nil && info.Size() == r.Size {
		return path, "", nil
	}
	moved, missing := media.Find(r.Fingerprint, r.Size, filepath.Dir(s.opt.Store.Path()))
	switch {
	case missing == nil:
		return moved, "", nil
	case err == nil:
		return path, "this file is not the one that the study was made with", nil
	}
	return "", "", errors.New("the recording is not where it was, nor in the study's folder")
}

// mediaTypes are the types of the containers that are read.
var mediaTypes = map[media.Container]string{
	media.MP4: "video/mp4", media.MOV: "video/quicktime", media.M4A: "audio/mp4",
	media.WebM: "video/webm", media.Matroska: "video/x-matroska",
	media.MP3: "audio/mpeg", media.WAV: "audio/wav",
}

// mediaType is a recording's type by what is in it, never by its name.
func mediaType(r *media.Recording) string {
	switch {
	case r.Kind == media.Audio && r.Container == media.WebM:
		return "audio/webm"
	case r.Kind == media.Audio && r.Container == media.MP4:
		return "audio/mp4"
	case r.Kind == media.Audio && r.Container == media.Matroska:
		return "audio/x-matroska"
	}
	return mediaTypes[r.Container]
}

// media sends the recording, or the range of it that is asked for. Only the
// study's own recording can be reached, by a name that says nothing about
// where it is.
func (s *Server) media(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	if snap.report.Study.Recording == nil {
		http.NotFound(w, r)
		return
	}
	f := s.look(&snap.report.Study)
	path, id, kind, bad := f.path, f.id, "", f.err
	if bad == nil {
		kind = mediaType(f.read)
	}
	s.film.mu.Unlock()
	if bad != nil || r.PathValue("id") != id {
		http.NotFound(w, r)
		return
	}
	file, err := os.Open(path)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil || !info.Mode().IsRegular() {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("ETag", `"`+id+`"`)
	http.ServeContent(w, r, "", info.ModTime(), file)
}

// getFrames answers with the times of the recording's frames.
func (s *Server) getFrames(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	if snap.report.Study.Recording == nil {
		send(w, http.StatusOK, apiFrames{TimesUS: []int64{}})
		return
	}
	f := s.look(&snap.report.Study)
	read, id := f.read, f.id
	s.film.mu.Unlock()
	if read == nil {
		send(w, http.StatusOK, apiFrames{TimesUS: []int64{}})
		return
	}
	sendTagged(w, r, "frames-"+id, func() any { return frames(read) })
}

func frames(r *media.Recording) apiFrames {
	us := func(d time.Duration) float64 { return float64(d) / float64(time.Microsecond) }
	a := apiFrames{Count: len(r.Frames), EndUS: us(r.FramesEnd), TimesUS: []int64{}}
	if len(r.Frames) == 0 {
		return a
	}
	a.FirstUS = us(r.Frames[0])
	if last := r.Frames[len(r.Frames)-1]; len(r.Frames) > 1 {
		a.PeriodUS = us(last-r.Frames[0]) / float64(len(r.Frames)-1)
	}
	if !r.Variable {
		return a
	}
	for _, t := range r.Frames {
		a.TimesUS = append(a.TimesUS, t.Microseconds())
	}
	return a
}
