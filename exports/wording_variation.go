package exports

import (
	"fmt"
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// VariationStatements says what changes from one posture to another, the most
// telling first, left and right together where they agree, and what it comes
// from.
func VariationStatements(m *body.Model, v analysis.Variation, voice Voice) []Statement {
	return newSpeaker(m, voice).variation(v)
}

// varied is one change, or the same change on both sides.
type varied struct {
	subject
	group   analysis.GroupVariation
	why     string
	groups  []int
	figures []string
}

func (sp *speaker) variation(v analysis.Variation) []Statement {
	var all []varied
	at := map[string]int{}
	for i, g := range v.Groups {
		if !spoken[g.Role] {
			continue
		}
		s := sp.subject(g.Movement, g.Toward, g.Muscles())
		why := sp.why(v, g)
		key := strings.Join([]string{string(g.Role), string(g.Turn), string(gradeOf(g)), strings.Join(s.nouns, "|"), why}, "/")
		j, said := at[key]
		if !said {
			at[key] = len(all)
			all = append(all, varied{s, g, why, []int{i}, []string{variedFigures(g)}})
			continue
		}
		all[j].groups = append(all[j].groups, i)
		if !slices.Contains(all[j].figures, variedFigures(g)) {
			all[j].figures = append(all[j].figures, variedFigures(g))
		}
		if all[j].side != s.side {
			all[j].side = together(all[j].side, s.side)
		}
	}
	statements, heard := []Statement{}, heard{}
	for _, c := range all {
		// Of one part of the body the most telling change of each role is said.
		if c.subject = heard.news(string(c.group.Role), c.subject); len(c.nouns) == 0 {
			continue
		}
		statements = append(statements, variedStatement(c, sp.voice))
	}
	return statements
}

// gradeOf is the grade that a change is said with: of what is said in the end,
// or of what was said before when nothing is left of it.
func gradeOf(g analysis.GroupVariation) analysis.Grade {
	if g.To != nil {
		return g.To.Grade
	}
	return g.From.Grade
}

// variedStatement words one change.
func variedStatement(c varied, voice Voice) Statement {
	g := c.group
	st := Statement{Kind: Work, Grade: gradeOf(g), Groups: c.groups}
	be := c.pick("is", "are")
	its := c.pick("its", "their")
	clause := ""
	switch g.Role {
	case analysis.DrawnLong:
		st.Kind = Long
		clause = map[analysis.Turn]string{
			analysis.Begins: be + " now drawn long", analysis.Ends: be + " no longer drawn long",
			analysis.Rises: be + " drawn longer", analysis.Falls: be + " drawn less long",
		}[g.Turn]
	case analysis.Slack:
		st.Kind = Short
		clause = map[analysis.Turn]string{
			analysis.Begins: be + " now near " + its + " shortest", analysis.Ends: be + " no longer near " + its + " shortest",
			analysis.Rises: be + " shorter still", analysis.Falls: be + " less short",
		}[g.Turn]
	default:
		clause = workTurns(g, be, c.pick("has", "have"))
	}
	if clause == "" { // a change of firmness in a length
		clause = be + " said with another firmness to be " + string(g.Role)
	}
	text := c.the() + " " + clause + c.side.phrase()
	st.Brief = sentence(text)
	if c.why != "" {
		text += ", " + c.why
	} else {
		st.Brief = ""
	}
	st.Text = sentence(text)
	if voice == Technical {
		st.Figures = strings.Join(c.figures, "; ")
	}
	return st
}

// workTurns words a change of work, as firmly as it stands.
func workTurns(g analysis.GroupVariation, be, have string) string {
	hedge := map[analysis.Grade]string{analysis.Must: be + " ", analysis.Likely: be + " likely "}
	with := func(must, rest string) string {
		if before, ok := hedge[gradeOf(g)]; ok {
			return before + must
		}
		return "may be " + rest
	}
	switch g.Turn {
	case analysis.Begins:
		if gradeOf(g) == analysis.Must {
			return "now " + have + " to be working"
		}
		return with("now working", "working now")
	case analysis.Ends:
		return have + " no work left that shows"
	case analysis.Rises:
		return with("working harder", "working harder")
	case analysis.Falls:
		return with("working less hard", "working less hard")
	case analysis.Firmer:
		return be + " more surely working"
	}
	return be + " less surely working"
}

// why says what a change comes from: the joint that turned most among those that
// the muscles cross, or what differs besides joints.
func (sp *speaker) why(v analysis.Variation, g analysis.GroupVariation) string {
	if len(g.Why) > 0 {
		j := g.Why[0]
		mo := &sp.model.Movements[j.Movement]
		does := mo.Plain
		if j.To < j.From {
			does = mo.PlainAway
		}
		if sp.voice == Technical || does == "" {
			does = mo.Joint + " " + direction(mo, j.To >= j.From)
		}
		return "by " + does
	}
	switch {
	case len(v.Loads)+len(v.Unload) > 0:
		return "by the load"
	case len(v.Cues)+len(v.Uncued) > 0:
		return "by the cue"
	case len(v.Rested)+len(v.Left) > 0:
		return "by what the body rests on"
	}
	return ""
}

// variedFigures gives a change in numbers.
func variedFigures(g analysis.GroupVariation) string {
	if g.Role == analysis.Working {
		text := fmt.Sprintf("%s to %s of their strength", percent(effortOf(g.From, g.By, g.To)), percent(effortOf(g.To, -g.By, g.From)))
		if abs(g.Moment) >= 0.5 {
			text += fmt.Sprintf(", %+.0f N·m", g.Moment)
		}
		return text
	}
	if g.From == nil || g.To == nil {
		return ""
	}
	return fmt.Sprintf("%s to %s of the span", percent(g.From.Place), percent(g.To.Place))
}

// effortOf is the share of its strength that a group uses; nothing said is none.
func effortOf(f *analysis.GroupFinding, by float64, other *analysis.GroupFinding) float64 {
	if f == nil {
		return 0
	}
	if f.Best > 0 || other != nil && other.Best > 0 {
		return f.Best
	}
	return f.Effort
}

// differs says, in a few short lines, what differs between two postures.
func (sp *speaker) differs(v analysis.Variation) []string {
	lines := []string{}
	for i, j := range sp.joints(&analysis.Movement{Joints: v.Joints}) {
		if i == mostSaid {
			lines = append(lines, moreDiffer(len(v.Joints)-i))
			break
		}
		lines = append(lines, sentence(j.Does+": "+j.Figures))
	}
	lines = append(lines, sp.contactLines("Now rests on the ", v.Rested)...)
	lines = append(lines, sp.contactLines("No longer rests on the ", v.Left)...)
	for _, l := range v.Loads {
		lines = append(lines, sentence("now "+sp.loadWords(l)))
	}
	for _, l := range v.Unload {
		lines = append(lines, sentence("no longer "+sp.loadWords(l)))
	}
	for _, c := range v.Cues {
		lines = append(lines, sentence(fmt.Sprintf("now asked: %s, %s", sp.cueWords(c), percent(c.Intensity))))
	}
	for _, c := range v.Uncued {
		lines = append(lines, sentence("no longer asked: "+sp.cueWords(c)))
	}
	if len(lines) == 0 {
		lines = append(lines, "Nothing: both are the same posture.")
	}
	return lines
}

// moreDiffer ends a list of joints that was cut.
func moreDiffer(n int) string {
	if n == 1 {
		return "And one more joint."
	}
	return fmt.Sprintf("And %d more joints.", n)
}

// contactLines lists patches, left and right together, by what they rest on.
func (sp *speaker) contactLines(begin string, contacts []analysis.Contact) []string {
	lines := []string{}
	bySurface := map[string][]string{}
	var surfaces []string
	for _, c := range contacts {
		patch, ok := sp.model.Patch(c.Patch)
		if !ok {
			continue
		}
		if bySurface[c.On] == nil {
			surfaces = append(surfaces, c.On)
		}
		bySurface[c.On] = appendNew(bySurface[c.On], patch.Word)
	}
	for _, on := range surfaces {
		lines = append(lines, begin+list(bySurface[on])+", on the "+on+".")
	}
	return lines
}

// loadWords says a load.
func (sp *speaker) loadWords(l body.Load) string {
	where := l.Patch
	if patch, ok := sp.model.Patch(l.Patch); ok {
		where = patch.Name
	}
	if l.Kind == body.Carry {
		return fmt.Sprintf("%.3g kg at the %s", l.Mass, where)
	}
	return fmt.Sprintf("a %s of %.3g N %s at the %s", l.Kind, l.Force, l.Direction, where)
}

// cueWords says a cue without its intensity.
func (sp *speaker) cueWords(c body.Cue) string {
	if patch, ok := sp.model.Patch(c.Patch); ok {
		return string(c.Kind) + " at the " + patch.Name
	}
	mo := &sp.model.Movements[c.Movement]
	if c.Kind == body.Brace {
		return "brace the " + jointName(mo)
	}
	return "pull the " + jointName(mo) + " into " + direction(mo, c.Toward)
}

// effortChange says how the effort of the whole changes.
func effortChange(v analysis.Variation) string {
	from, to := v.From.Effort, v.To.Effort
	switch {
	case !from.Held && !to.Held:
		return "Neither posture can be held by the model's muscles, so that nothing firm is said of work."
	case !from.Held:
		return "The first posture cannot be held by the model's muscles; the second can."
	case !to.Held:
		return "The first posture can be held by the model's muscles; the second cannot."
	case from.Cost > 0 && to.Cost > 0 && (to.Cost >= 2*from.Cost || from.Cost >= 2*to.Cost):
		if to.Cost > from.Cost {
			return "It asks clearly more effort of the whole body."
		}
		return "It asks clearly less effort of the whole body."
	case v.Effort > 0:
		return "It asks somewhat more effort of the whole body."
	case v.Effort < 0:
		return "It asks somewhat less effort of the whole body."
	}
	return "It asks the same effort of the whole body."
}
