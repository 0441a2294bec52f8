package exports

import (
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// Statements says the findings of one posture: what is firm before what may be
// and what cannot be told, as the analysis ranks them; of what works, what must
// before what is likely. Left and right are said together where they agree, and
// nothing is said twice. Last comes what the position does not tell apart.
func Statements(m *body.Model, f *analysis.Findings, v Voice) []Statement {
	return newSpeaker(m, v).posture(f)
}

func (sp *speaker) posture(f *analysis.Findings) []Statement {
	statements := []Statement{}
	if f == nil {
		return statements
	}
	groups := sp.merge(f.Groups)
	rank(groups)
	heard := heard{}
	var little []merged
	for i, g := range groups {
		if sp.voice == Technical && sp.repeats(f, groups[:i], g) || sp.voice == Plain && told(f, groups[:i], g) {
			continue
		}
		if g.subject = heard.news(string(g.role), g.subject); len(g.nouns) == 0 {
			continue
		}
		if sp.voice == Plain && isLittle(f, g.groups) {
			little = append(little, g)
			continue
		}
		st := groupStatement(g)
		if sp.voice == Technical {
			st.Figures = sp.figures(f, g)
		}
		statements = append(statements, st)
	}
	if len(little) > 0 {
		statements = append(statements, littleStatement(little, len(statements) > 0))
	}
	return append(statements, sp.splits(f)...)
}

// repeats reports whether a group rests on the very muscles of one before it:
// of lengths that is the same fact seen from another joint, and of work when the
// one movement is part of the other.
func (sp *speaker) repeats(f *analysis.Findings, before []merged, g merged) bool {
	this := &f.Groups[g.groups[0]]
	return slices.ContainsFunc(before, func(b merged) bool {
		that := &f.Groups[b.groups[0]]
		if b.role != g.role || len(b.groups) < len(g.groups) || !sameMuscles(this.Muscles, that.Muscles) {
			return false
		}
		return g.role != analysis.Working || sp.overlap(this.Movement, that.Movement)
	})
}

// told reports whether all the muscles of working groups were said to work
// before, as firmly: plain words name muscles, and no muscle twice.
func told(f *analysis.Findings, before []merged, g merged) bool {
	if g.role != analysis.Working {
		return false
	}
	said := map[body.MuscleID]bool{}
	for _, b := range before {
		for _, i := range b.groups {
			for _, id := range f.Groups[i].Muscles {
				said[id] = said[id] || b.role == analysis.Working
			}
		}
	}
	return !slices.ContainsFunc(g.groups, func(i int) bool {
		return len(f.Groups[i].Muscles) == 0 || slices.ContainsFunc(f.Groups[i].Muscles, func(id body.MuscleID) bool { return !said[id] })
	})
}

// sameMuscles compares two lists whatever their order.
func sameMuscles(a, b []body.MuscleID) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(id body.MuscleID) bool { return !slices.Contains(b, id) })
}

// overlap reports whether two movements turn a coordinate in common.
func (sp *speaker) overlap(a, b body.MovementID) bool {
	return slices.ContainsFunc(sp.model.Movements[a].Shares, func(s body.Share) bool {
		return slices.ContainsFunc(sp.model.Movements[b].Shares, func(o body.Share) bool { return o.Coord == s.Coord })
	})
}

// rank puts firm findings first, as the analysis ranks them whatever they are
// about, and what must work before what is likely to in the places of either.
func rank(groups []merged) {
	slices.SortStableFunc(groups, func(a, b merged) int { return softness[a.grade] - softness[b.grade] })
	var places []int
	var works []merged
	for i, g := range groups {
		if g.role == analysis.Working {
			places, works = append(places, i), append(works, g)
		}
	}
	slices.SortStableFunc(works, func(a, b merged) int { return firmness[a.grade] - firmness[b.grade] })
	for k, i := range places {
		groups[i] = works[k]
	}
}

// softness tells what is firm from what may be and what cannot be told.
var softness = map[analysis.Grade]int{analysis.May: 1, analysis.NotTold: 2}

// firmness orders the grades of work. Geometry alone never shows work.
var firmness = map[analysis.Grade]int{analysis.Must: 0, analysis.Likely: 1, analysis.May: 2, analysis.Geometry: 2, analysis.NotTold: 3}

// heard remembers what was said, and of which sides.
type heard map[string]map[side]bool

// news takes from a subject what was heard of it already under the same
// heading: the same noun, or the region that it is a part of, on the same side.
func (h heard) news(heading string, s subject) subject {
	fresh := subject{side: s.side}
	for i, noun := range s.nouns {
		parent := ""
		if i < len(s.parents) {
			parent = s.parents[i]
		}
		if h.knows(heading+noun, s.side) || parent != "" && h.knows(heading+parent, s.side) {
			continue
		}
		fresh.nouns = append(fresh.nouns, noun)
	}
	for _, noun := range fresh.nouns {
		if h[heading+noun] == nil {
			h[heading+noun] = map[side]bool{}
		}
		h[heading+noun][s.side] = true
	}
	fresh.plural = s.plural
	if len(fresh.nouns) == 1 && len(s.nouns) > 1 {
		fresh.plural = plural(fresh.nouns[0])
	}
	return fresh
}

// knows reports whether something was heard of a side: of that one, of both, or
// without telling sides apart.
func (h heard) knows(what string, s side) bool {
	sides := h[what]
	return sides[s] || sides[onBoth] || sides[nowhere] || s == onBoth && sides[onLeft] && sides[onRight]
}

// merged is one group, or the same group on both sides.
type merged struct {
	subject
	role   analysis.Role
	grade  analysis.Grade
	groups []int
}

// merge puts left and right together and drops what was said already.
// Groups that are quiet, or whose role has no words here, are not spoken of.
func (sp *speaker) merge(groups []analysis.GroupFinding) []merged {
	var all []merged
	at := map[string]int{} // by what would be said, side apart
	for i, g := range groups {
		if !spoken[g.Role] {
			continue
		}
		s := sp.subject(g.Movement, g.Toward, g.Muscles)
		key := string(g.Role) + "|" + string(g.Grade) + "|" + strings.Join(s.nouns, "|")
		j, said := at[key]
		if !said {
			at[key] = len(all)
			all = append(all, merged{s, g.Role, g.Grade, []int{i}})
			continue
		}
		before := &all[j]
		before.groups = append(before.groups, i)
		if before.side != s.side {
			before.side = together(before.side, s.side)
		}
	}
	return all
}

// spoken are the roles that a sentence exists for.
var spoken = map[analysis.Role]bool{analysis.Working: true, analysis.DrawnLong: true, analysis.Slack: true}

// together joins two different sides. One without a side takes in both.
func together(a, b side) side {
	if a == nowhere || b == nowhere {
		return nowhere
	}
	return onBoth
}

// groupStatement words one finding.
func groupStatement(g merged) Statement {
	st := Statement{Grade: g.grade, Groups: g.groups}
	var state, bare string // "is drawn long" and "drawn long"
	switch g.role {
	case analysis.DrawnLong:
		st.Kind, state, bare = Long, g.pick("is", "are")+" drawn long", "drawn long"
	case analysis.Slack:
		st.Kind, state, bare = Short, g.pick("is near its", "are near their")+" shortest", "near "+g.pick("its", "their")+" shortest"
	default:
		st.Kind, state, bare = Work, g.pick("is", "are")+" working", "working"
	}
	noun := list(g.nouns)
	where, brief := g.side.phrase(), g.side.brief()
	switch {
	case g.grade == analysis.NotTold:
		st.Kind = Untold
		st.Text = sentence("position alone cannot tell whether " + g.the() + " " + state + where)
		st.Brief = sentence("whether " + g.the() + " " + state + where + " cannot be told")
	case g.grade == analysis.May || st.Kind == Work && g.grade == analysis.Geometry:
		// Geometry alone never shows that a muscle works.
		st.Text = sentence(g.the() + " may be " + bare + where)
		st.Brief = sentence(noun + " may be " + bare + brief)
	case g.grade == analysis.Likely:
		st.Text = sentence(g.the() + " " + g.pick("is", "are") + " likely " + bare + where)
		st.Brief = sentence(noun + " likely " + bare + brief)
	case st.Kind == Work:
		st.Text = sentence(g.the() + " " + g.pick("has", "have") + " to be working" + where)
		st.Brief = sentence(noun + " working" + brief)
	default:
		st.Text = sentence(g.the() + " " + state + where)
		st.Brief = sentence(noun + " " + bare + brief)
	}
	return st
}
