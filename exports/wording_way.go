package exports

import (
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
)

// wayWork says what works on the way from one posture to the next, and whether
// it shortens or lengthens meanwhile. It is what the least effort would take, no
// more: others may share the work, so it "may" be so.
func (sp *speaker) wayWork(mv *analysis.Movement) []Statement {
	statements := []Statement{}
	if mv == nil {
		return statements
	}
	type work struct {
		subject
		does  analysis.Contraction
		works []int
	}
	var all []work
	for k, g := range mv.Work {
		s := sp.subject(g.Movement, g.Toward, g.Muscles)
		i := slices.IndexFunc(all, func(w work) bool { return w.does == g.Contraction && slices.Equal(w.nouns, s.nouns) })
		if i < 0 {
			all = append(all, work{s, g.Contraction, []int{k}})
			continue
		}
		all[i].works = append(all[i].works, k)
		if all[i].side != s.side {
			all[i].side = together(all[i].side, s.side)
		}
	}
	heard := heard{}
	for _, w := range all {
		if w.subject = heard.news("work", w.subject); len(w.nouns) == 0 {
			continue
		}
		while, brief := w.while(sp.voice, w.does)
		st := Statement{Kind: Work, Grade: analysis.May, Groups: w.works}
		st.Text = sentence(w.the() + " may be working" + while + w.side.phrase())
		st.Brief = sentence(list(w.nouns) + " may be working" + brief + w.side.brief())
		if sp.voice == Technical {
			st.Figures = sp.wayFigures(mv.Work[w.works[0]])
		}
		statements = append(statements, st)
	}
	return statements
}

// while says what a length does during the work, in full and in brief.
func (s subject) while(v Voice, c analysis.Contraction) (full, brief string) {
	if v == Technical {
		switch c {
		case analysis.Concentric:
			return " concentrically", ", concentric"
		case analysis.Eccentric:
			return " eccentrically", ", eccentric"
		case analysis.Isometric:
			return " isometrically", ", isometric"
		case analysis.Mixed:
			return " concentrically and eccentrically in turn", ", both ways in turn"
		}
		return "", ""
	}
	switch c {
	case analysis.Concentric:
		return s.pick(" while it shortens", " while they shorten"), ", shortening"
	case analysis.Eccentric:
		return s.pick(" while it lengthens", " while they lengthen"), ", lengthening"
	case analysis.Isometric:
		return s.pick(" while it keeps its length", " while they keep their length"), ", holding"
	case analysis.Mixed:
		return s.pick(" while it first changes one way, then the other", " while they first change one way, then the other"), ", both ways"
	}
	return "", ""
}

// wayFigures gives the muscles meant and how much they do.
func (sp *speaker) wayFigures(g analysis.GroupWork) string {
	words := sp.muscleList(g.Muscles)
	if words != "" {
		words += "; "
	}
	return words + "with the least effort " + percent(g.Peak) + " of what they could do at most, " + percent(g.Mean) + " on average"
}

// muscleList names the first muscles of a list without their sides, and how
// many more there are.
func (sp *speaker) muscleList(ids []body.MuscleID) string {
	var names []string
	for _, id := range ids {
		mu := &sp.model.Muscles[id]
		names = appendNew(names, sp.trade(mu))
	}
	if more := len(names) - named; more > 0 {
		return list(append(names[:named:named], count(more, "more", "more")))
	}
	return list(names)
}

// quickWords says that a movement is quick enough for inertia to count; empty
// when it is not.
func quickWords(mv *analysis.Movement) string {
	if mv == nil || !mv.Quick {
		return ""
	}
	return "This is quick enough for the weight of moving parts to add to the work; that is counted."
}

// inTurns takes from two lists in turn, so that neither comes late.
func inTurns(a, b []Statement) []Statement {
	out := make([]Statement, 0, len(a)+len(b))
	for i := range max(len(a), len(b)) {
		if i < len(a) {
			out = append(out, a[i])
		}
		if i < len(b) {
			out = append(out, b[i])
		}
	}
	return out
}
