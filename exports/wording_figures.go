package exports

import (
	"fmt"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// figures gives the numbers behind a statement: the muscles meant, and what
// gravity and loads ask of the group or how far along its span it is.
func (sp *speaker) figures(f *analysis.Findings, g merged) string {
	var ids []body.MuscleID
	for _, i := range g.groups {
		ids = append(ids, f.Groups[i].Muscles...)
	}
	var parts []string
	if names := sp.muscleList(ids); names != "" {
		parts = append(parts, names)
	}
	if value := groupValue(sp.model, f, g); value != "" {
		parts = append(parts, value)
	}
	return strings.Join(parts, "; ")
}

// groupValue gives the one number of a group, or one a side where they differ.
func groupValue(m *body.Model, f *analysis.Findings, g merged) string {
	first := &f.Groups[g.groups[0]]
	words := "at %s of the span"
	switch {
	case g.role == analysis.Working && bounded(first):
		words = "with the least effort they give %s"
	case g.role == analysis.Working:
		words = "gravity and loads ask %s"
	}
	var values, sided []string
	for _, i := range g.groups {
		gf := &f.Groups[i]
		if gf.Toward != first.Toward || !sameMovement(m, gf.Movement, first.Movement) {
			continue // the same muscles again, seen from another joint
		}
		value := percent(gf.Place)
		if g.role == analysis.Working {
			value = momentWords(gf)
		}
		if g.role == analysis.Working && gf.Moment == 0 || !finite(gf.Place) || !finite(gf.Moment) {
			continue
		}
		values = appendNew(values, value)
		where := m.Movements[gf.Movement].Side.String()
		if g.role == analysis.Working {
			where = strings.TrimSpace(side(where).phrase())
		}
		sided = append(sided, strings.TrimSpace(where+" "+value))
	}
	switch {
	case len(values) == 0:
		return ""
	case len(values) == 1 && len(sided) > 1:
		words = fmt.Sprintf(words, values[0]) + map[bool]string{true: ", on each side", false: " on each side"}[strings.Contains(values[0], ",")]
	case len(values) == 1:
		words = fmt.Sprintf(words, values[0])
	default:
		words = fmt.Sprintf(words, strings.Join(sided, ", "))
	}
	if least := leastWords(f, g); least != "" {
		words += "; " + least
	}
	return words
}

// momentWords gives a working group's moment and its share of what the group
// could do: "34 N·m, 21% of what they could do here".
func momentWords(g *analysis.GroupFinding) string {
	words := torque(g.Moment)
	switch {
	case !finite(g.Effort) || g.Effort <= 0:
		return words
	case g.Effort > 1:
		return words + ", more than they could do here"
	}
	return words + ", " + percent(g.Effort) + " of what they could do here"
}

// leastWords says what a group does at least: in any way of holding the posture,
// or in near-best ones. Of two sides it is the lesser.
func leastWords(f *analysis.Findings, g merged) string {
	least, lo := 1.0, 1.0
	for _, i := range g.groups {
		if gf := &f.Groups[i]; gf.Role != analysis.Working || !bounded(gf) {
			return ""
		} else {
			least, lo = min(least, gf.Least), min(lo, gf.Lo)
		}
	}
	switch {
	case least >= leastNamed:
		return "at least " + percent(least) + " in any way"
	case lo >= leastNamed:
		return "at least " + percent(lo) + " " + within(f)
	}
	return ""
}

// sameMovement reports whether two movements are one, on whichever side.
func sameMovement(m *body.Model, a, b body.MovementID) bool {
	return body.Bare(m.Movements[a].Key) == body.Bare(m.Movements[b].Key)
}

// percent writes a share of one.
func percent(share float64) string { return fmt.Sprintf("%.0f%%", share*100) }

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
