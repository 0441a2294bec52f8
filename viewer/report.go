package viewer

import (
	"fmt"
	"net/http"

	"tautline/analysis"
	"tautline/exports"
)

// getReport answers with the study at a glance.
func (s *Server) getReport(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	recording := s.recording(&snap.report.Study)
	tag := digest(fmt.Sprint(snap.report.Study.Revision), fmt.Sprintf("%+v", recording))
	sendTagged(w, r, tag, func() any { return s.report(snap, recording) })
}

func (s *Server) report(snap *snapshot, recording *apiRecording) apiReport {
	st := &snap.report.Study
	answer := apiReport{
		Revision:  st.Revision,
		Tool:      s.opt.ToolVersion,
		Study:     apiStudy{st.ID, st.Title, st.Language, st.Person.StatureM * 1000, st.Person.MassKg},
		Recording: recording,
		EndMS:     int64(st.End()),
		Phases:    make([]apiPhase, len(snap.report.Phases)),
		Problems:  []apiProblem{},
		Remarks:   remarksOf(st),
		Postures:  posturesOf(st),
		Angles:    anglesOf(st),
		Care:      exports.CareText(),
		Undo:      snap.undo,
		Redo:      snap.redo,
		FiguresOf: fmt.Sprintf("a generic adult of %.2f m and %.0f kg", snap.model.Person.Stature, snap.model.Person.Mass),
	}
	for i := range snap.report.Phases {
		p := &snap.report.Phases[i]
		a := apiPhase{
			Number: p.Number, FromMS: int64(p.From), ToMS: int64(p.To), Hold: p.Hold(),
			Mark: p.Mark.ID, Title: p.Mark.Title, Words: p.Mark.Words, InForce: p.Words, Note: p.Mark.Note,
			Doubts: len(p.Reading.Unknown), Detail: snap.details[i], Scene: snap.scenes[i],
		}
		if f := p.Findings; f != nil {
			a.Doubts += len(f.Doubts)
			for _, g := range f.Groups {
				switch {
				case g.Role == analysis.DrawnLong:
					a.Lengths++
				case g.Role == analysis.Working && g.Grade != analysis.NotTold:
					a.Works++
				}
			}
		}
		answer.Phases[i] = a
	}
	for _, p := range snap.report.Problems {
		answer.Problems = append(answer.Problems, apiProblem{p.Kind, p.Mark, int64(p.At), p.Text, p.Doubt})
	}
	return answer
}
