package viewer

import (
	"math"
	"strings"

	"tautline/analysis"
)

// muscles tells of every muscle in columns; next is the posture at the next
// mark, or nil.
func muscles(f, next *analysis.Findings) apiMuscles {
	a := apiMuscles{Places: make([]int, len(f.Muscles)), Efforts: efforts(f)}
	for i := range f.Muscles {
		a.Places[i] = perMille(f.Muscles[i].Place)
	}
	a.Roles, a.Grades = codes(f)
	a.Pulls = pulls(f)
	a.NextRoles, a.NextGrades, a.NextEfforts, a.NextPulls = a.Roles, a.Grades, a.Efforts, a.Pulls
	if next != nil {
		a.NextRoles, a.NextGrades = codes(next)
		a.NextEfforts, a.NextPulls = efforts(next), pulls(next)
	}
	return a
}

func pulls(f *analysis.Findings) string {
	var list strings.Builder
	for i := range f.Pulls {
		p := &f.Pulls[i]
		switch {
		case p.By != analysis.Nearer && p.By != analysis.Carries:
			list.WriteByte('-')
		case p.Reverse:
			list.WriteByte('i')
		default:
			list.WriteByte('o')
		}
	}
	return list.String()
}

func efforts(f *analysis.Findings) []int {
	list := make([]int, len(f.Muscles))
	for i := range f.Muscles {
		list[i] = perMille(f.Muscles[i].Best)
	}
	return list
}

func codes(f *analysis.Findings) (roles, grades string) {
	var r, g strings.Builder
	for i := range f.Muscles {
		r.WriteByte(roleCode(f.Muscles[i].Role))
		g.WriteByte(gradeCode(f.Muscles[i].Grade))
	}
	return r.String(), g.String()
}

func roleCode(r analysis.Role) byte {
	switch r {
	case analysis.Working:
		return 'w'
	case analysis.DrawnLong:
		return 'l'
	case analysis.Slack:
		return 's'
	}
	return 'q'
}

func gradeCode(g analysis.Grade) byte {
	switch g {
	case analysis.Must:
		return 'm'
	case analysis.Likely:
		return 'l'
	case analysis.May:
		return 'y'
	case analysis.NotTold:
		return 'n'
	}
	return 'g'
}

// perMille rounds a share of one; what cannot be told stands in the middle.
func perMille(share float64) int {
	if math.IsNaN(share) {
		share = 0.5
	}
	return int(math.Round(1000 * max(-1, min(2, share))))
}
