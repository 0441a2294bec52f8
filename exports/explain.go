package exports

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// WriteExplainMuscle writes the answer to "why" for one muscle in one posture:
// what it is, how long it is, what follows for its work, link by link, and
// where the figures come from.
func WriteExplainMuscle(w io.Writer, m *body.Model, f *analysis.Findings, id body.MuscleID, o Options) error {
	o = o.withDefaults()
	p := newPage(w, o)
	p.muscle(m, f, id, o)
	p.foot(o, "Made by "+o.tool()+", body model "+m.Version)
	return p.end()
}

// WriteExplainJoint writes the answer to "why" for the movements of a joint in
// one posture: its values and ranges, the groups on both sides of each, and the
// moment arms that were computed there.
func WriteExplainJoint(w io.Writer, m *body.Model, f *analysis.Findings, movements []body.MovementID, o Options) error {
	o = o.withDefaults()
	p := newPage(w, o)
	used := newSources(m)
	for i, id := range movements {
		if i > 0 {
			p.blank()
		}
		p.joint(m, f, id, o, used)
	}
	p.sources(used)
	p.foot(o, "Made by "+o.tool()+", body model "+m.Version)
	return p.end()
}

// muscle writes one muscle's explanation.
func (p *page) muscle(m *body.Model, f *analysis.Findings, id body.MuscleID, o Options) {
	mu := &m.Muscles[id]
	used := newSources(m)
	used.add(mu.Source)
	used.add(mu.PathSource)

	p.title(upperFirst(muscleName(mu, o.Voice)))
	var names []string
	for _, name := range []string{mu.Name, mu.Latin, mu.Plain} {
		if name != "" && name != muscleName(mu, o.Voice) {
			names = appendNew(names, name)
		}
	}
	if len(names) > 0 {
		p.item(2, labelColumn, "Also", strings.Join(names, "; "))
	}
	if mu.Origin != "" || mu.Insertion != "" {
		p.item(2, labelColumn, "From", mu.Origin)
		p.item(2, labelColumn, "To", mu.Insertion)
	}
	if mu.Nerve != "" && o.Voice == Technical {
		p.item(2, labelColumn, "Nerve", mu.Nerve)
	}
	if actions := actionWords(m, mu, o.Voice); actions != "" {
		p.item(2, labelColumn, "Actions", actions)
	}
	if mu.Note != "" {
		p.item(2, labelColumn, "Disputed", mu.Note)
	}
	mf := findingOf(f, id)
	if mf == nil {
		p.item(2, labelColumn, "Here", "Nothing was computed for it.")
		return
	}
	used.addReasons(mf.Reasons)
	p.item(2, labelColumn, "Here", roleWords(mf))
	p.item(2, labelColumn, "Length", lengthWords(mf))
	for i, r := range mf.Reasons {
		p.item(2, labelColumn, onlyFirst(i, "Why"), reasonWords(r))
	}
	p.sources(used)
}

// joint writes one movement's explanation.
func (p *page) joint(m *body.Model, f *analysis.Findings, id body.MovementID, o Options, used *sources) {
	mo := &m.Movements[id]
	used.add(mo.Source)
	p.title(upperFirst(movementName(mo)))
	i := slices.IndexFunc(f.Joints, func(j analysis.JointValue) bool { return j.Movement == id })
	if i >= 0 {
		p.item(2, labelColumn, "Here", jointWords(mo, f.Joints[i]))
	}
	p.item(2, labelColumn, "Range", rangeWords(mo))
	for _, g := range f.Groups {
		if g.Movement != id {
			continue
		}
		used.addReasons(g.Reasons)
		only := &analysis.Findings{Groups: []analysis.GroupFinding{g}}
		p.statements("Group", Statements(m, only, Technical), Options{Voice: Technical})
		for k, r := range g.Reasons {
			p.item(2, labelColumn, onlyFirst(k, "Why"), reasonWords(r))
		}
	}
	rows := [][]string{{"Muscle", " moment arm", " of its span", "state"}}
	for k := range f.Muscles {
		mf := &f.Muscles[k]
		for _, r := range mf.Reasons {
			if r.Kind == "arm" && r.Movement == id {
				rows = append(rows, []string{
					muscleName(&m.Muscles[mf.Muscle], o.Voice), fmt.Sprintf("%+.1f mm", r.Value*1000),
					percent(mf.Place), string(mf.State),
				})
				used.add(r.Source)
				break
			}
		}
	}
	if len(rows) > 1 {
		p.blank()
		p.table(2, rows)
		p.text(2, "A moment arm is positive toward "+mo.Toward+".")
	}
}

// findingOf finds one muscle's finding: at its own place, or wherever it is.
func findingOf(f *analysis.Findings, id body.MuscleID) *analysis.MuscleFinding {
	if int(id) < len(f.Muscles) && f.Muscles[id].Muscle == id {
		return &f.Muscles[id]
	}
	for i := range f.Muscles {
		if f.Muscles[i].Muscle == id {
			return &f.Muscles[i]
		}
	}
	return nil
}

// sources lists what a page refers to, with how firm each source is.
func (p *page) sources(used *sources) {
	list := used.used()
	if len(list) == 0 {
		return
	}
	p.section("Sources")
	for _, s := range list {
		p.text(2, s.Key+": "+strings.TrimSuffix(s.Text, ".")+" ("+s.Grade+").")
	}
}

// finite reports whether a figure can be printed.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
