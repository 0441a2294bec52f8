package exports

import (
	"slices"

	"tautline/analysis"
)

// What plain words count instead of naming: work that is small beside the
// hardest in the same posture and small for the group that does it. Nobody who
// teaches standing at ease lists the muscles that turn the leg out.
const (
	littleBeside = 1.0 / 3 // of the largest effort of any working group
	littleItself = 0.1     // of what the group could do here
)

// isLittle reports whether all of some groups work, and only a little. What the
// best way leaves to ligaments altogether is a little, whatever gravity asks of
// the joint; what a cue asks for never is, and neither is what has to work.
func isLittle(f *analysis.Findings, groups []int) bool {
	effort := func(g *analysis.GroupFinding) float64 {
		if f.Effort.Held {
			return g.Best
		}
		return g.Effort // of a posture that is not held, what is asked is all that is known
	}
	most := 0.0
	for i := range f.Groups {
		if g := &f.Groups[i]; g.Role == analysis.Working {
			most = max(most, effort(g))
		}
	}
	return !slices.ContainsFunc(groups, func(i int) bool {
		g := &f.Groups[i]
		asked := slices.ContainsFunc(g.Reasons, func(r analysis.Reason) bool { return r.Kind == "cue" })
		return g.Role != analysis.Working || g.Grade == analysis.Must || asked || effort(g) >= littleItself || effort(g) >= littleBeside*most
	})
}

// littleStatement counts the groups that work a little: those that likely do
// apart from those that may. After others were named it says "other".
func littleStatement(little []merged, after bool) Statement {
	st := Statement{Kind: Work, Grade: analysis.May}
	likely := 0
	for _, g := range little {
		st.Groups = append(st.Groups, g.groups...)
		if g.grade == analysis.Must || g.grade == analysis.Likely {
			likely++
		}
	}
	other := ""
	if after {
		other = "other "
	}
	groups := func(n int) string { return count(n, other+"muscle group", other+"muscle groups") }
	switch may := len(little) - likely; {
	case likely == 0:
		st.Text = sentence(groups(may) + " may work a little")
	case may == 0:
		st.Grade = analysis.Likely
		st.Text = sentence(groups(likely) + " likely " + map[bool]string{true: "works", false: "work"}[likely == 1] + " a little")
	default:
		st.Text = sentence(groups(likely) + " likely " + map[bool]string{true: "works", false: "work"}[likely == 1] + " a little, and " + count(may, "more may", "more may"))
	}
	st.Brief = st.Text
	return st
}
