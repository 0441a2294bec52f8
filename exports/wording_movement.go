package exports

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"tautline/analysis"
	"tautline/analysis/body"
)

// MovementStatements says what lengthens and what shortens on the way to the
// posture of the next mark, most first. title is the next mark's title.
func MovementStatements(m *body.Model, mv *analysis.Movement, title string, v Voice) []Statement {
	statements := []Statement{}
	if mv == nil {
		return statements
	}
	type change struct {
		subject
		longer bool
		groups []int
	}
	var changes []change
	for i, g := range mv.Groups {
		if g.Change == 0 || math.IsNaN(g.Change) {
			continue
		}
		s := subjectOf(m, g.Movement, g.Toward, g.Muscles, v)
		j := slices.IndexFunc(changes, func(c change) bool {
			return c.longer == (g.Change > 0) && slices.Equal(c.nouns, s.nouns)
		})
		if j < 0 {
			changes = append(changes, change{s, g.Change > 0, []int{i}})
			continue
		}
		changes[j].groups = append(changes[j].groups, i)
		if changes[j].side != s.side {
			changes[j].side = together(changes[j].side, s.side)
		}
	}
	lead := toward(title)
	for _, c := range changes {
		st := Statement{Kind: Shortens, Grade: analysis.Geometry, Groups: c.groups}
		verb := c.pick("shortens", "shorten")
		if c.longer {
			st.Kind, verb = Lengthens, c.pick("lengthens", "lengthen")
		}
		clause := c.the() + " " + verb + c.side.phrase()
		st.Text = sentence(lead + ": " + clause)
		st.Brief = sentence("moving on: " + clause)
		st.Figures = "by " + percent(abs(mv.Groups[c.groups[0]].Change)) + " of the span"
		statements = append(statements, st)
	}
	return statements
}

// toward begins a sentence about the way to a mark.
func toward(title string) string {
	if title = cut(cleanLine(title), 60); title == "" {
		return "moving on"
	}
	return "moving to " + lowerFirst(strings.TrimRight(title, ".:;,"))
}

// lowerFirst lets a title stand inside a sentence: its first letter becomes
// small when it is the only capital of the title, so that names keep theirs.
func lowerFirst(title string) string {
	r, n := utf8.DecodeRuneInString(title)
	if !unicode.IsUpper(r) || strings.IndexFunc(title[n:], unicode.IsUpper) >= 0 {
		return title
	}
	return string(unicode.ToLower(r)) + title[n:]
}

// jointChange is one joint's way in words: "bending the knee on both sides:
// 10° to 60° of flexion".
type jointChange struct{ Does, Figures string }

// jointChanges says what moves, most first, left and right together where they
// go the same way.
func jointChanges(m *body.Model, mv *analysis.Movement, v Voice) []jointChange {
	type change struct {
		does    string
		side    side
		figures []string
	}
	var all []change
	for _, j := range mv.Joints {
		mo := &m.Movements[j.Movement]
		does := mo.Plain
		if j.To < j.From {
			does = mo.PlainAway
		}
		if v == Technical {
			does = mo.Joint + " " + mo.Toward
			if j.To < j.From {
				does = mo.Joint + " " + mo.Away
			}
		}
		figures := fmt.Sprintf("%s to %s", degrees(mo, j.From), degrees(mo, j.To))
		s := side(mo.Side.String())
		i := slices.IndexFunc(all, func(c change) bool { return c.does == does && c.side != s && c.side != onBoth })
		if i < 0 {
			all = append(all, change{does, s, []string{figures}})
			continue
		}
		all[i].side = onBoth
		if all[i].figures[0] != figures {
			all[i].figures[0] += " (" + string(otherSide(s)) + ")"
			all[i].figures = append(all[i].figures, figures+" ("+string(s)+")")
		}
	}
	out := make([]jointChange, len(all))
	for i, c := range all {
		out[i] = jointChange{upperFirst(c.does + c.side.phrase()), list(c.figures)}
	}
	return out
}

func otherSide(s side) side {
	if s == onLeft {
		return onRight
	}
	return onLeft
}

// degrees writes a value as a goniometer is read: "60° of flexion". Zero is
// the anatomical position and has no direction.
func degrees(mo *body.Movement, rad float64) string {
	deg := math.Round(rad * 180 / math.Pi)
	switch {
	case deg == 0:
		return "0°"
	case deg < 0:
		return fmt.Sprintf("%.0f° of %s", -deg, mo.Away)
	}
	return fmt.Sprintf("%.0f° of %s", deg, mo.Toward)
}
