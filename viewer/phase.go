package viewer

import (
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
	"tautline/exports"
)

// phase finds the phase that the request's path names.
func (s *Server) phase(r *http.Request) (*snapshot, int, error) {
	snap, err := s.current(r.Context())
	if err != nil {
		return nil, 0, err
	}
	n, err := strconv.Atoi(r.PathValue("number"))
	if err != nil || n < 1 || n > len(snap.report.Phases) {
		return nil, 0, errNoPhase
	}
	return snap, n - 1, nil
}

// voice reads ?voice=, plain unless said.
func voice(r *http.Request) exports.Voice {
	if v, err := exports.ParseVoice(r.URL.Query().Get("voice")); err == nil {
		return v
	}
	return exports.Plain
}

// getPhase answers with what is told about one phase.
func (s *Server) getPhase(w http.ResponseWriter, r *http.Request) {
	snap, i, err := s.phase(r)
	if err != nil {
		fail(w, err)
		return
	}
	v := voice(r)
	sendTagged(w, r, digest(snap.details[i], string(v), s.opt.ToolVersion), func() any { return findings(snap, i, v) })
}

// findings tells of one phase: the posture at its mark, and the way to the next.
func findings(snap *snapshot, i int, v exports.Voice) apiFindings {
	m, p := snap.model, &snap.report.Phases[i]
	answer := sayPosture(m, &p.Reading, p.Words, p.Findings, v)
	answer.Number = p.Number
	mv := p.Movement
	if mv != nil {
		for _, st := range exports.MovementStatements(m, mv, v) {
			a := statement(st)
			for _, g := range st.Groups {
				if st.Kind == exports.Work {
					a.Muscles = append(a.Muscles, indices(mv.Work[g].Muscles)...)
				} else {
					a.Muscles = append(a.Muscles, indices(mv.Groups[g].Muscles)...)
				}
			}
			answer.Movement = append(answer.Movement, distinct(a))
		}
		answer.WayNote = exports.WayNote(mv)
		used := map[string]bool{}
		for _, d := range mv.Doubts {
			answer.Doubts = append(answer.Doubts, apiDoubt{d.Kind, d.Text, d.Mend})
			used[d.Source] = true
		}
		answer.Sources = merged(answer.Sources, sources(m, used))
	}
	if i+1 < len(snap.report.Phases) && p.Findings != nil {
		answer.Muscles = muscles(p.Findings, snap.report.Phases[i+1].Findings)
	}
	return answer
}

// sayPosture tells of one posture. f is nil where there is none.
func sayPosture(m *body.Model, reading *posture.Reading, words string, f *analysis.Findings, v exports.Voice) apiFindings {
	answer := apiFindings{
		Canonical: reading.Canonical, Unknown: unknown(words, reading.Unknown),
		Statements: []apiStatement{}, Movement: []apiStatement{}, Doubts: []apiDoubt{}, Cautions: []string{},
		Joints: []apiJoint{}, Sources: []apiSource{}, Muscles: apiMuscles{Places: []int{}, Efforts: []int{}, NextEfforts: []int{}},
	}
	if f == nil {
		return answer
	}
	used := map[string]bool{}
	for _, st := range exports.Statements(m, f, v) {
		a := statement(st)
		for _, g := range st.Groups {
			group := &f.Groups[g]
			if adds(m, &f.Groups[st.Groups[0]], group) {
				a.Reasons = append(a.Reasons, reasons(group.Reasons, used, func(r analysis.Reason) string {
					return exports.GroupWhy(m, f, group, r)
				})...)
			}
			a.Muscles = append(a.Muscles, indices(group.Muscles)...)
			if st.Kind == exports.Untold && len(a.Spans) == 0 {
				a.Spans = spans(m, group.Split, v)
			}
		}
		answer.Statements = append(answer.Statements, distinct(a))
	}
	answer.Held = held(m, f)
	for _, d := range exports.Doubts(f) {
		answer.Doubts = append(answer.Doubts, apiDoubt{d.Kind, d.Text, d.Mend})
		used[d.Source] = true
	}
	for _, c := range f.Cautions {
		answer.Cautions = append(answer.Cautions, exports.CautionText(c))
	}
	for _, j := range f.Joints {
		if j.Stated {
			answer.Joints = append(answer.Joints, joint(m, j))
		}
	}
	answer.Muscles = muscles(f, nil)
	answer.Sources = sources(m, used)
	return answer
}

// merged joins two lists of sources, by key.
func merged(a, b []apiSource) []apiSource {
	all := append(a, b...)
	slices.SortFunc(all, func(a, b apiSource) int { return strings.Compare(a.Key, b.Key) })
	return slices.Compact(all)
}

// adds reports whether the reasons of a further group of one statement say more
// than those of the first: the other side does when it differs, the same muscles
// seen from another joint do not.
func adds(m *body.Model, first, g *analysis.GroupFinding) bool {
	if g == first {
		return true
	}
	same := body.Bare(m.Movements[g.Movement].Key) == body.Bare(m.Movements[first.Movement].Key)
	near := func(a, b float64) bool { return math.Abs(a-b) <= 0.005*math.Max(1, math.Abs(a)) }
	return same && !(near(g.Moment, first.Moment) && near(g.Place, first.Place) && near(g.Lo, first.Lo) && near(g.Least, first.Least))
}

func statement(st exports.Statement) apiStatement {
	return apiStatement{Kind: string(st.Kind), Grade: string(st.Grade), Text: st.Text, Figures: st.Figures,
		Reasons: []apiReason{}, Muscles: []int{}, Spans: []apiSpan{}}
}

func held(m *body.Model, f *analysis.Findings) apiHeld {
	h := apiHeld{Held: f.Effort.Held, Supports: exports.Supports(m, f), NearBest: exports.NearBest(f)}
	h.Text, h.Mend = exports.Unheld(f)
	return h
}

// spans gives the members of a group that the position does not tell apart, of
// the two sides the first.
func spans(m *body.Model, split []analysis.Span, v exports.Voice) []apiSpan {
	list := []apiSpan{}
	for _, s := range split {
		name := exports.MuscleNoun(m, s.Muscle, v)
		if s.Hi >= s.Best && !slices.ContainsFunc(list, func(o apiSpan) bool { return o.Name == name }) {
			list = append(list, apiSpan{int(s.Muscle), name, exports.SpanText(s.Bounds), ratio(s.Best), ratio(s.Lo), ratio(s.Hi)})
		}
	}
	return list
}

// ratio rounds a share to what a page can show.
func ratio(share float64) float64 { return float64(perMille(share)) / 1000 }

// distinct drops what the left and the right side, or two joints, say twice.
func distinct(a apiStatement) apiStatement {
	seen := map[apiReason]bool{}
	a.Reasons = slices.DeleteFunc(a.Reasons, func(r apiReason) bool {
		again := seen[r]
		seen[r] = true
		return again
	})
	slices.Sort(a.Muscles)
	a.Muscles = slices.Compact(a.Muscles)
	return a
}

// reasons words reasons and notes their sources.
func reasons(list []analysis.Reason, used map[string]bool, words func(analysis.Reason) string) []apiReason {
	out := make([]apiReason, len(list))
	for i, r := range list {
		out[i] = apiReason{r.Kind, words(r), r.Source}
		used[r.Source] = true
	}
	return out
}

func indices(list []body.MuscleID) []int {
	out := make([]int, len(list))
	for i, id := range list {
		out[i] = int(id)
	}
	return out
}

func joint(m *body.Model, j analysis.JointValue) apiJoint {
	mv := &m.Movements[j.Movement]
	a := apiJoint{strings.TrimSpace(mv.Side.String() + " " + mv.Joint), mv.Toward, geom.Degrees(j.Value), geom.Degrees(j.Past)}
	if j.Value < 0 {
		a.Toward, a.ValueDeg = mv.Away, -a.ValueDeg
	}
	return a
}

// sources lists the sources that were used, by key.
func sources(m *body.Model, used map[string]bool) []apiSource {
	list := []apiSource{}
	for key := range used {
		if src, ok := m.Sources[key]; ok {
			list = append(list, apiSource{src.Key, src.Text, src.Grade})
		}
	}
	slices.SortFunc(list, func(a, b apiSource) int { return strings.Compare(a.Key, b.Key) })
	return list
}

// unknown gives places in the words as a page counts them.
func unknown(words string, list []posture.Unknown) []apiUnknown {
	out := make([]apiUnknown, len(list))
	for i, u := range list {
		near := append([]string{}, u.Near...)
		out[i] = apiUnknown{units(words, u.From), units(words, u.To), u.Text, u.Why, near}
	}
	return out
}

// units counts the UTF-16 units of the first n bytes of s.
func units(s string, n int) int {
	count := 0
	for _, c := range s[:min(max(n, 0), len(s))] {
		count += max(1, utf16.RuneLen(c))
	}
	return count
}
