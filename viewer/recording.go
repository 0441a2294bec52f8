package viewer

import (
	"fmt"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"tautline/timeline"
	"tautline/timeline/media"
)

// apiFind asks for a recording by its content.
type apiFind struct {
	// Fingerprint and Bytes are those of a file that was dropped on the page;
	// empty for the recording that the study has.
	Fingerprint string `json:"fingerprint"`
	Bytes       int64  `json:"bytes"`
	// Folder is where to look, with its whole path; empty for the study's own
	// folder and then the user's.
	Folder string `json:"folder"`
}

// findRecording looks for a file of some content and makes it the study's
// recording: the page knows what a dropped file holds, but not where it is.
func (s *Server) findRecording(w http.ResponseWriter, r *http.Request) {
	var ask apiFind
	if err := decode(r, &ask); err != nil {
		fail(w, err)
		return
	}
	st, err := s.opt.Store.Load(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	if ask.Fingerprint == "" {
		if st.Recording == nil {
			fail(w, fmt.Errorf("%w: the study has no recording to look for", errRequest))
			return
		}
		ask.Fingerprint, ask.Bytes = st.Recording.Fingerprint, st.Recording.Size
	}
	dirs, err := s.folders(ask.Folder)
	if err != nil {
		fail(w, err)
		return
	}
	path, err := media.Find(ask.Fingerprint, ask.Bytes, dirs...)
	if err != nil {
		fail(w, err)
		return
	}
	found, err := Describe(s.opt.Store.Path(), path)
	if err == nil {
		err = s.opt.Store.SetRecording(r.Context(), found)
	}
	s.changed(w, http.StatusOK, apiChanged{Label: filepath.Base(path)}, err)
}

// folders are those to look in.
func (s *Server) folders(named string) ([]string, error) {
	home, err := os.UserHomeDir()
	if named == "" {
		dirs := []string{filepath.Dir(s.opt.Store.Path())}
		if err == nil {
			dirs = append(dirs, home)
		}
		return dirs, nil
	}
	if rest, ok := strings.CutPrefix(named, "~"); ok && err == nil && (rest == "" || os.IsPathSeparator(rest[0])) {
		named = home + rest
	}
	if info, err := os.Stat(named); !filepath.IsAbs(named) || err != nil || !info.IsDir() {
		return nil, fmt.Errorf("%w: %q is not the whole path of a folder", errRequest, named)
	}
	return []string{named}, nil
}

// Describe reads a recording and says what a study in the file studyPath
// remembers of it. Its path is kept relative to the study where it lies below
// the study's folder.
func Describe(studyPath, path string) (*timeline.Recording, error) {
	rec, err := media.Open(path)
	if err != nil {
		return nil, err
	}
	fp, size, err := media.Fingerprint(path)
	if err != nil {
		return nil, err
	}
	r := &timeline.Recording{
		Path: path, Fingerprint: fp, Size: size, Duration: Instant(rec.End()), Kind: string(rec.Kind),
		FrameRate: rec.Rate.PerSecond(), Variable: rec.Variable, Frames: len(rec.Frames), Width: rec.Width, Height: rec.Height,
	}
	if full, err := filepath.Abs(path); err == nil {
		r.Path = full
		if dir, err := filepath.Abs(filepath.Dir(studyPath)); err == nil {
			if rel, err := filepath.Rel(dir, full); err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
				r.Path = filepath.ToSlash(rel)
			}
		}
	}
	return r, nil
}

// Instant rounds a moment of a recording to whole milliseconds.
func Instant(d time.Duration) timeline.Instant {
	return timeline.Instant(math.Round(float64(d) / float64(time.Millisecond)))
}
