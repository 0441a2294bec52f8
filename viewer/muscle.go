package viewer

import (
	"net/http"
	"strconv"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/exports"
)

// getMuscle answers with everything about one muscle in one phase.
func (s *Server) getMuscle(w http.ResponseWriter, r *http.Request) {
	snap, i, err := s.phase(r)
	if err != nil {
		fail(w, err)
		return
	}
	f := snap.report.Phases[i].Findings
	id, ok := muscleID(r, f)
	if !ok {
		fail(w, errNoMuscle)
		return
	}
	v := voice(r)
	sendTagged(w, r, digest(snap.details[i], strconv.Itoa(id), string(v), s.opt.ToolVersion), func() any { return muscle(snap.model, f, id, v) })
}

// muscleID reads which muscle of some findings the request's path names.
func muscleID(r *http.Request, f *analysis.Findings) (int, bool) {
	id, err := strconv.Atoi(r.PathValue("muscle"))
	return id, err == nil && f != nil && id >= 0 && id < len(f.Muscles)
}

func muscle(m *body.Model, f *analysis.Findings, id int, v exports.Voice) apiMuscle {
	mu, mf := &m.Muscles[id], &f.Muscles[id]
	used := map[string]bool{mu.Source: true, mu.PathSource: true}
	a := apiMuscle{
		Name: mu.Name, Latin: mu.Latin, Plain: mu.Plain, From: mu.Origin, To: mu.Insertion, Note: mu.Note,
		Role: string(mf.Role), Grade: string(mf.Grade),
		Place: float64(perMille(mf.Place)) / 1000,
		State: exports.MuscleState(mf), Length: exports.MuscleLength(mf),
		Part: exports.MusclePart(m, mf, v), Pull: exports.MusclePull(m, f, mf.Muscle),
		Effort: exports.MuscleEffort(f, mf), Span: []apiSpan{},
		Actions: exports.MuscleActions(m, mf.Muscle, v),
		Reasons: reasons(mf.Reasons, used, func(r analysis.Reason) string { return exports.MuscleWhy(m, r) }),
	}
	if mf.Role == analysis.Working && mf.Hi > mf.Best {
		a.Span = spans(m, []analysis.Span{{Muscle: mf.Muscle, Bounds: mf.Bounds}}, v)
	}
	a.Sources = sources(m, used)
	return a
}
