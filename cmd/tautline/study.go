package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"tautline/analysis"
	"tautline/timeline"
	"tautline/timeline/media"
	"tautline/timeline/store"
	"tautline/viewer"
)

// openStudy opens a study to read and write.
func openStudy(ctx context.Context, path string) (*store.Store, error) {
	s, err := store.Open(ctx, path)
	if err != nil {
		return nil, missing(err, path)
	}
	return s, nil
}

// missing gives a study that is not there, or is something else, the hint that
// opens or makes one.
func missing(err error, path string) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return withHint(fmt.Errorf("there is no study %s", path), "%s", instead(path))
	case errors.Is(err, store.ErrNotStudy):
		return withHint(err, "%s", instead(path))
	}
	return err
}

// readStudy reads a whole study without changing it.
func readStudy(ctx context.Context, path string) (timeline.Study, error) {
	s, err := store.OpenReadOnly(ctx, path)
	if err != nil {
		return timeline.Study{}, missing(err, path)
	}
	defer s.Close()
	return s.Load(ctx)
}

// assess reads a study and analyses it, with progress on a terminal.
func assess(c *cobra.Command, path string) (*timeline.Report, error) {
	st, err := readStudy(c.Context(), path)
	if err != nil {
		return nil, err
	}
	return assessStudy(c, st)
}

// assessNear is assess with a near-best share of its own.
func assessNear(c *cobra.Command, path string, near float64) (*timeline.Report, error) {
	st, err := readStudy(c.Context(), path)
	if err != nil {
		return nil, err
	}
	m, err := timeline.ModelFor(st)
	if err != nil {
		return nil, err
	}
	return assessWith(c, st, analyser(m, near))
}

func assessStudy(c *cobra.Command, st timeline.Study) (*timeline.Report, error) {
	m, err := timeline.ModelFor(st)
	if err != nil {
		return nil, err
	}
	return assessWith(c, st, analysis.New(m))
}

func assessWith(c *cobra.Command, st timeline.Study, an *analysis.Analyser) (*timeline.Report, error) {
	bar := newProgress(c.ErrOrStderr(), "assessing")
	defer bar.done()
	return timeline.Assess(c.Context(), an, st, bar.step)
}

// frames gives the frame times of a study's recording, or nil when it has no
// pictures or cannot be read: a written frame number then says so.
func frames(st timeline.Study, studyPath string) timeline.FrameTimes {
	if st.Recording == nil || st.Recording.Frames == 0 {
		return nil
	}
	rec, err := media.Open(recordingPath(studyPath, st.Recording.Path))
	if err != nil {
		return nil
	}
	return frameTable{rec}
}

// frameTable gives a recording's frame times in milliseconds.
type frameTable struct{ rec *media.Recording }

// FrameTime returns when frame n appears, rounded to the millisecond.
func (f frameTable) FrameTime(n int) (timeline.Instant, bool) {
	t, ok := f.rec.FrameAt(n)
	return viewer.Instant(t), ok
}

// recordingPath is where a study's recording should be: paths are kept relative
// to the study file.
func recordingPath(studyPath, path string) string {
	if path == "" || filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(filepath.Dir(studyPath), filepath.FromSlash(path))
}

// line says a recording in a few words.
func line(r *timeline.Recording) string {
	if r == nil {
		return "no recording yet"
	}
	s := fmt.Sprintf("%s, %s, %s", r.Path, r.Kind, r.Duration.Short())
	if r.Frames > 0 {
		rate := fmt.Sprintf("%.3g", r.FrameRate)
		if r.Variable {
			rate = "about " + rate
		}
		s += fmt.Sprintf(", %d frames, %s a second, %d x %d", r.Frames, rate, r.Width, r.Height)
	}
	return s
}
