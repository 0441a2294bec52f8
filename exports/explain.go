package exports

import (
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
	if words := supportWords(m, f); words != "" {
		p.blank()
		p.item(2, labelColumn, "Supports", words)
	}
	p.unheld(f)
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
	if effort := effortWords(f, mf); effort != "" {
		p.item(2, labelColumn, "Effort", effort)
	}
	for _, line := range [][2]string{{"Part", partWords(m, mf, o.Voice)}, {"Pull", pullWords(m, f, id)}} {
		if line[1] != "" {
			p.item(2, labelColumn, line[0], line[1])
		}
	}
	p.item(2, labelColumn, "Length", lengthWords(mf))
	p.reasons(mf.Reasons, func(r analysis.Reason) string { return muscleReason(m, r) })
	for i := range f.Groups {
		if g := &f.Groups[i]; slices.Contains(g.Muscles, id) {
			p.group(m, f, g, used)
		}
	}
	p.unheld(f)
	p.sources(used)
}

// joint writes one movement's explanation.
func (p *page) joint(m *body.Model, f *analysis.Findings, id body.MovementID, o Options, used *sources) {
	mo := &m.Movements[id]
	used.add(mo.Source)
	p.title(upperFirst(movementName(mo)))
	p.item(2, labelColumn, "Here", jointWords(mo, jointValue(f, id)))
	p.item(2, labelColumn, "Range", rangeWords(mo))
	for i := range f.Groups {
		if g := &f.Groups[i]; g.Movement == id {
			p.group(m, f, g, used)
		}
	}
	rows := [][]string{{"Muscle", "acts toward", " of its span", "length"}}
	for i := range m.Muscles {
		mf := findingOf(f, body.MuscleID(i))
		for _, a := range m.Muscles[i].Actions {
			if mf == nil || a.Movement != id {
				continue
			}
			how := direction(mo, a.Toward)
			if !a.Main {
				how += ", weakly"
			}
			rows = append(rows, []string{muscleName(&m.Muscles[i], o.Voice), how, percent(mf.Place), string(mf.State)})
		}
	}
	if len(rows) > 1 {
		p.blank()
		p.table(2, rows)
	}
}

// group writes one group's finding with its reasons.
func (p *page) group(m *body.Model, f *analysis.Findings, g *analysis.GroupFinding, used *sources) {
	used.addReasons(g.Reasons)
	only := &analysis.Findings{Groups: []analysis.GroupFinding{*g}, Effort: f.Effort}
	p.statements("Group", Statements(m, only, Technical), Technical)
	p.reasons(g.Reasons, func(r analysis.Reason) string { return groupReason(m, f, g, r) })
}

// reasons writes the links of an answer.
func (p *page) reasons(reasons []analysis.Reason, words func(analysis.Reason) string) {
	label := "Why"
	for _, r := range reasons {
		if text := words(r); text != "" {
			p.item(2, labelColumn, label, text)
			label = ""
		}
	}
}

// unheld says that no way of holding the posture was found, for then nothing is
// said to have to work.
func (p *page) unheld(f *analysis.Findings) {
	if text, mend := Unheld(f); text != "" {
		p.item(2, labelColumn, "Doubt", doubtWords(analysis.Doubt{Text: text, Mend: mend}))
	}
}

// jointValue finds a movement's value; one that is not listed is at rest.
func jointValue(f *analysis.Findings, id body.MovementID) analysis.JointValue {
	for _, j := range f.Joints {
		if j.Movement == id {
			return j
		}
	}
	return analysis.JointValue{Movement: id}
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
