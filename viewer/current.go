package viewer

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"sync"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/timeline"
)

// What a page may ask for that is not there.
var (
	errNoPhase  = errors.New("there is no such phase")
	errNoMuscle = errors.New("there is no such muscle")
	errNoScene  = errors.New("there is no such scene")
)

// snapshot is the study as assessed at one revision. It is never changed.
type snapshot struct {
	report     *timeline.Report
	model      *body.Model
	analyser   *analysis.Analyser
	undo, redo string
	details    []string       // by phase: changes when what is told about it does
	scenes     []string       // by phase: the key of its scene
	sceneOf    map[string]int // a phase with this scene
}

// memo keeps the last snapshot, and what is prepared for the body it is of.
type memo struct {
	mu       sync.Mutex
	last     *snapshot
	person   timeline.Person
	analyser *analysis.Analyser
	assessor *timeline.Assessor
}

// prepared gives the assessor of a study's body. A new one takes some tenths of
// a second, so it is kept until the study's person changes; it remembers what
// the last revision was made of.
func (o *memo) prepared(st timeline.Study) (*timeline.Assessor, error) {
	if o.assessor == nil || o.person != st.Person {
		model, err := timeline.ModelFor(st)
		if err != nil {
			return nil, err
		}
		o.analyser, o.person = analysis.New(model), st.Person
		o.assessor = timeline.NewAssessor(o.analyser)
	}
	return o.assessor, nil
}

// current gives the study as it is now. Several requests after one change wait
// for one assessment.
func (s *Server) current(ctx context.Context) (*snapshot, error) {
	s.memo.mu.Lock()
	defer s.memo.mu.Unlock()
	revision, err := s.opt.Store.Revision(ctx)
	if err != nil {
		return nil, err
	}
	if last := s.memo.last; last != nil && last.report.Study.Revision == revision {
		return last, nil
	}
	study, err := s.opt.Store.Load(ctx)
	if err != nil {
		return nil, err
	}
	assessor, err := s.memo.prepared(study)
	if err != nil {
		return nil, err
	}
	report, err := assessor.Assess(ctx, study, nil)
	if err != nil {
		return nil, err
	}
	snap := take(report)
	snap.analyser = s.memo.analyser
	if snap.undo, snap.redo, err = s.opt.Store.Steps(ctx); err != nil {
		return nil, err
	}
	s.memo.last = snap
	return snap, nil
}

// take makes a snapshot of a report.
func take(report *timeline.Report) *snapshot {
	model := report.Model
	snap := &snapshot{report: report, model: model, sceneOf: map[string]int{}}
	of := modelTag(model)
	before := ""
	for i, p := range report.Phases {
		next := ""
		if p.Next != nil {
			next = p.Next.Title
		}
		scene := digest(of, p.Words, p.NextWords)
		snap.scenes = append(snap.scenes, scene)
		snap.details = append(snap.details, digest(of, before, p.Words, p.NextWords, next, fmt.Sprint(p.Number)))
		if _, known := snap.sceneOf[scene]; !known {
			snap.sceneOf[scene] = i
		}
		before = p.Words
	}
	return snap
}

// digest names a content by 16 hex digits.
func digest(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d %s\n", len(p), p)
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}
