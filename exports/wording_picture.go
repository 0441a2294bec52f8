package exports

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/exports/figure"
	"tautline/timeline"
)

// pictureKeys says what the forms of a figure mean.
var pictureKeys = []figure.Key{
	{Form: figure.MustWork, Text: "has to work"},
	{Form: figure.LikelyWork, Text: "likely works"},
	{Form: figure.MayWork, Text: "may work: this one or a neighbour"},
	{Form: figure.HeldEnd, Text: "pulls toward the end that is held"},
	{Form: figure.LongForm, Text: "drawn long"},
	{Form: figure.SlackForm, Text: "near its shortest"},
	{Form: figure.SupportPut, Text: "support"},
	{Form: figure.LoadPut, Text: "load"},
}

// viewWords say where the eye stands, by the name of the view.
var viewWords = map[string]string{
	"front": "seen from the front", "back": "seen from behind", "left": "seen from the person's left",
	"right": "seen from the person's right", "above": "seen from above", "front and left": "seen from the front and left",
}

// pictureUnder is the line below a figure's title.
func pictureUnder(p *timeline.PhaseReport, view, closeUp string) string {
	words := viewWords[view]
	if closeUp != "" {
		words = "the " + closeUp + ", " + words
	}
	words = upperFirst(words) + "."
	if posture := cleanLine(p.Reading.Canonical); posture != "" {
		words += " " + upperFirst(strings.TrimRight(posture, ".")) + "."
	}
	return words
}

// pictureTitle is the title of a phase's figure.
func pictureTitle(p *timeline.PhaseReport) string {
	return fmt.Sprintf("%d. %s", p.Number, phaseTitle(p))
}

// labelNote says in two or three words what a label's group does; "" is not said.
func labelNote(g *analysis.GroupFinding) string {
	switch {
	case g.Role == analysis.DrawnLong:
		return "drawn long"
	case g.Role != analysis.Working:
		return ""
	}
	return map[analysis.Grade]string{analysis.Must: "has to work", analysis.Likely: "likely works", analysis.May: "may work"}[g.Grade]
}

// pictureLabels names the muscles of a posture, most important first: each part
// of the body once in a role, with the firmest that is said of it.
func (sp *speaker) pictureLabels(f *analysis.Findings) []figure.Label {
	var out []figure.Label
	for i := range f.Groups {
		g := &f.Groups[i]
		note := labelNote(g)
		if note == "" {
			continue
		}
		for _, part := range sp.pictureParts(g.Muscles) {
			at := slices.IndexFunc(out, func(l figure.Label) bool { return l.Text == part.Text && l.Role == g.Role })
			if at < 0 {
				part.Note, part.Role = note, g.Role
				out = append(out, part)
				continue
			}
			if noteRank[note] > noteRank[out[at].Note] {
				out[at].Note = note
			}
			out[at].Muscles = append(out[at].Muscles, part.Muscles...)
		}
	}
	return gathered(out)
}

// gathered takes what is named by itself into the label of the whole that it is
// a part of, where that has one in the same role.
func gathered(all []figure.Label) []figure.Label {
	var out []figure.Label
	for _, l := range all {
		i := slices.IndexFunc(all, func(o figure.Label) bool {
			return o.Role == l.Role && o.Text != l.Text && slices.ContainsFunc(regions, func(r region) bool { return r.noun == o.Text }) && o.Text == l.Within
		})
		if i < 0 {
			out = append(out, l)
		}
	}
	return out
}

var noteRank = map[string]int{"has to work": 3, "likely works": 2, "may work": 1}

// mostParts is how many parts of one group are labelled.
const mostParts = 3

// pictureParts cuts a group's muscles into the parts that carry one name.
func (sp *speaker) pictureParts(muscles []body.MuscleID) []figure.Label {
	held := map[sided]float64{}
	for _, id := range muscles {
		held[sp.at(id)] += sp.model.Muscles[id].PCSA
	}
	var out []figure.Label
	for _, id := range muscles {
		name := sp.noun(id, held)
		if sp.voice == Technical {
			name = MuscleNoun(sp.model, id, Technical)
		}
		if i := slices.IndexFunc(out, func(l figure.Label) bool { return l.Text == name }); i >= 0 {
			out[i].Muscles = append(out[i].Muscles, id)
		} else if len(out) < mostParts {
			l := figure.Label{Text: name, Muscles: []body.MuscleID{id}}
			if r := sp.region[id]; r >= 0 {
				l.Within = regions[r].noun
			}
			out = append(out, l)
		}
	}
	return out
}

// loadMark writes a load beside its arrow.
func loadMark(l body.Load) string {
	if l.Mass > 0 {
		return fmt.Sprintf("%.3g kg", l.Mass)
	}
	return fmt.Sprintf("%.0f N", l.Force)
}

// pictureDesc says for who cannot see a figure what it shows.
func pictureDesc(m *body.Model, p *timeline.PhaseReport, view, closeUp string, v Voice) string {
	said := []string{pictureUnder(p, view, closeUp)}
	if p.Findings != nil {
		for i, s := range Statements(m, p.Findings, v) {
			if i == mostSaid {
				break
			}
			said = append(said, s.Text)
		}
	}
	return strings.Join(said, " ")
}

// nothingToDraw stands in a figure's place.
func nothingToDraw(p *timeline.PhaseReport) string {
	return cmp.Or(map[bool]string{true: "No posture was computed here."}[p.Findings == nil], "No body was placed here.")
}

// noMarksYet stands in an empty study's place.
const noMarksYet = "This study has no marks yet."

func sheetTitle(r *timeline.Report) string {
	return cmp.Or(cleanLine(r.Study.Title), "All phases")
}

// phaseSpan says when a phase is and whether it moves.
func phaseSpan(p *timeline.PhaseReport) string {
	kind := "hold"
	if p.Movement != nil {
		kind = "movement"
	}
	return fmt.Sprintf("%s to %s, %s", p.From.Short(), p.To.Short(), kind)
}

// pageWords number a page.
func pageWords(n, of int) string { return fmt.Sprintf("Page %d of %d.", n, of) }

// legendTitle names the legend for who cannot see it.
const legendTitle = "What the forms in the pictures mean"
