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

// MovementStatements says what lengthens, what shortens and what may work over a
// movement, most first. Sentences about the way itself are made of them by
// movingTo and onTheWay.
func MovementStatements(m *body.Model, mv *analysis.Movement, v Voice) []Statement {
	sp := newSpeaker(m, v)
	return append(sp.movement(mv), sp.wayWork(mv)...)
}

func (sp *speaker) movement(mv *analysis.Movement) []Statement {
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
		if g.Change == 0 || !finite(g.Change) {
			continue
		}
		s := sp.subject(g.Movement, g.Toward, g.Muscles)
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
	heard := heard{}
	for _, c := range changes {
		if c.subject = heard.news(fmt.Sprint(c.longer), c.subject); len(c.nouns) == 0 {
			continue
		}
		st := Statement{Kind: Shortens, Grade: analysis.Geometry, Groups: c.groups}
		verb := c.pick("shortens", "shorten")
		if c.longer {
			st.Kind, verb = Lengthens, c.pick("lengthens", "lengthen")
		}
		st.Text = sentence(c.the() + " " + verb + c.side.phrase())
		st.Brief = sentence(list(c.nouns) + " " + verb + c.side.brief())
		if sp.voice == Technical {
			st.Figures = "by " + percent(abs(mv.Groups[c.groups[0]].Change)) + " of the span"
		}
		statements = append(statements, st)
	}
	return statements
}

// movingTo puts a statement about a movement behind where it goes: "Moving to
// the side reach: the back of the shoulder lengthens."
func movingTo(title string, st Statement) string {
	return upperFirst(toward(title)) + ": " + lowerStart(st.Text)
}

// onTheWay says a change of the movement in full and in brief.
func onTheWay(st Statement) []string {
	said := []string{"On the way, " + lowerStart(st.Text)}
	if st.Brief != "" {
		said = append(said, "On the way: "+lowerStart(st.Brief))
	}
	return said
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

// lowerStart lets one of our own sentences go on after a colon or a comma.
func lowerStart(sentence string) string {
	r, n := utf8.DecodeRuneInString(sentence)
	return string(unicode.ToLower(r)) + sentence[n:]
}

// jointChange is one joint's way in words: "bending the knee on both sides:
// 10° to 60° of flexion".
type jointChange struct{ Does, Figures string }

// joints says what moves, most first, left and right together where they
// go the same way.
func (sp *speaker) joints(mv *analysis.Movement) []jointChange {
	type change struct {
		does    string
		side    side
		figures []string
	}
	var all []change
	for _, j := range mv.Joints {
		mo := &sp.model.Movements[j.Movement]
		does := mo.Plain
		if j.To < j.From {
			does = mo.PlainAway
		}
		if sp.voice == Technical {
			does = mo.Joint + " " + direction(mo, j.To >= j.From)
		}
		from := degrees(mo, j.From)
		if j.From*j.To > 0 {
			from, _, _ = strings.Cut(from, " ") // one direction is said once
		}
		figures := from + " to " + degrees(mo, j.To)
		s := side(mo.Side.String())
		i := slices.IndexFunc(all, func(c change) bool { return c.does == does && c.side != s && c.side != onBoth })
		if i < 0 {
			all = append(all, change{does, s, []string{figures}})
			continue
		}
		if all[i].figures[0] != figures {
			all[i].figures = []string{string(all[i].side) + " " + all[i].figures[0], string(s) + " " + figures}
		}
		all[i].side = onBoth
	}
	out := make([]jointChange, len(all))
	for i, c := range all {
		out[i] = jointChange{upperFirst(c.does + c.side.phrase()), strings.Join(c.figures, ", ")}
	}
	return out
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
