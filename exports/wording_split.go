package exports

import (
	"fmt"
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// split is what the position leaves open between the members of a group, or of
// the same group on both sides.
type split struct {
	nouns   []string // of the members, in this voice, the strongest first
	spans   []string // of each: "8 to 31%"
	region  string   // plain voice: the one region that all are parts of, or ""
	shared  bool     // some member is in every near-best way
	side    side
	groups  []int
	members []body.MuscleID
}

// splits says which members of working groups the position does not tell
// apart, in the order of the groups.
func (sp *speaker) splits(f *analysis.Findings) []Statement {
	var all []split
	for i := range f.Groups {
		s, ok := sp.splitOf(&f.Groups[i])
		if !ok || sp.voice == Plain && isLittle(f, []int{i}) {
			continue
		}
		s.groups = []int{i}
		j := slices.IndexFunc(all, func(o split) bool {
			return o.side != s.side && slices.Equal(o.nouns, s.nouns) && slices.Equal(o.spans, s.spans)
		})
		if j < 0 {
			all = append(all, s)
			continue
		}
		all[j].groups = append(all[j].groups, i)
		all[j].side = together(all[j].side, s.side)
	}
	// Once it is open how much a muscle does, it is not said again for another
	// joint that it crosses.
	heard := heard{}
	out := []Statement{}
	for _, s := range all {
		if fresh := heard.news("split", subject{nouns: s.nouns, side: s.side}); len(fresh.nouns) == 0 || fresh.nouns[0] != s.nouns[0] {
			continue
		}
		out = append(out, sp.splitStatement(f, s))
	}
	return out
}

// splitOf gathers the members of one group whose shares are open; false when
// there are not two names to tell apart.
func (sp *speaker) splitOf(g *analysis.GroupFinding) (split, bool) {
	mv := &sp.model.Movements[g.Movement]
	s := split{}
	region, one := -2, true // of all members so far
	for _, span := range g.Split {
		if span.Hi < leastNamed || !finite(span.Hi) || !finite(span.Lo) {
			continue
		}
		mu := &sp.model.Muscles[span.Muscle]
		noun := sp.single[span.Muscle]
		if sp.voice == Technical {
			noun = sp.trade(mu)
		}
		s.members = append(s.members, span.Muscle)
		s.shared = s.shared || span.Lo >= leastNamed
		if r := sp.region[span.Muscle]; region == -2 {
			region = r
		} else if r != region {
			one = false
		}
		if !slices.Contains(s.nouns, noun) {
			s.nouns, s.spans = append(s.nouns, noun), append(s.spans, spanWords(span.Bounds))
		}
	}
	if len(s.nouns) < 2 {
		return s, false
	}
	s.side = sp.side(mv, s.members)
	if sp.voice == Plain && one && region >= 0 {
		s.region = regions[region].noun
	}
	return s, true
}

// splitStatement words one open share.
func (sp *speaker) splitStatement(f *analysis.Findings, s split) Statement {
	st := Statement{Kind: Untold, Grade: analysis.NotTold, Groups: s.groups}
	the := subject{nouns: s.nouns}.the()
	var open string // "which part of the calf works"
	switch {
	case s.region != "" && s.shared:
		open = "how the parts of the " + s.region + " share the work"
	case s.region != "":
		open = "which part of the " + s.region + " works"
	case s.shared:
		open = "how " + the + " share the work"
	default:
		open = "which of " + the + " does the work"
	}
	if sp.voice == Technical {
		st.Text = sentence(open + s.side.phrase() + " is not settled by the position")
		parts := make([]string, len(s.nouns))
		for i, noun := range s.nouns {
			parts[i] = noun + " " + s.spans[i]
		}
		st.Figures = fmt.Sprintf("%s %s", strings.Join(parts, ", "), within(f))
	} else {
		st.Text = sentence("position alone cannot tell " + open + s.side.phrase())
	}
	st.Brief = sentence(open + s.side.phrase() + " cannot be told")
	return st
}
