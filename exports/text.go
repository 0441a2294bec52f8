package exports

import (
	"fmt"
	"io"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
	"tautline/timeline"
)

// WriteText writes a whole report as plain text for a terminal, phase by phase.
func WriteText(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	p := newPage(w, o)
	title := cleanLine(r.Study.Title)
	if title == "" {
		title = "Study without a title"
	}
	p.title(title)
	sp := o.speaker(r.Model)
	p.text(0, fmt.Sprintf("%s, %s long.", count(len(r.Phases), "phase", "phases"), end(r).Short()))
	for i := range r.Phases {
		p.blank()
		p.phase(sp, &r.Phases[i], false)
	}
	if len(r.Problems) > 0 {
		p.section("To check")
		for _, problem := range r.Problems {
			label := ""
			if problem.Mark != 0 {
				label = problem.At.Short()
			}
			p.item(2, labelColumn, label, problem.Text)
		}
	}
	p.foot(o, o.maker(r))
	return p.end()
}

// WritePhase writes one phase of a report in full, with its doubts, cautions
// and the muscles at the ends of their spans. index counts from 0.
func WritePhase(w io.Writer, r *timeline.Report, index int, o Options) error {
	o = o.withDefaults()
	p := newPage(w, o)
	p.phase(o.speaker(r.Model), &r.Phases[index], true)
	p.foot(o, o.maker(r))
	return p.end()
}

// WriteAnalysis writes the analysis of a posture that belongs to no study.
func WriteAnalysis(w io.Writer, m *body.Model, reading *posture.Reading, f *analysis.Findings, o Options) error {
	o = o.withDefaults()
	p := newPage(w, o)
	p.posture(reading)
	p.findings(o.speaker(m), f, true)
	p.foot(o, "Made by "+o.tool()+", body model "+m.Version)
	return p.end()
}

// labelColumn is where text begins behind labels.
const labelColumn = 17

// phase writes one phase; full adds what a long list would drown in.
func (p *page) phase(sp *speaker, ph *timeline.PhaseReport, full bool) {
	p.title(fmt.Sprintf("%d. %s", ph.Number, phaseTitle(ph)))
	kind := "a movement"
	if ph.Movement == nil {
		kind = "a hold"
	}
	p.item(2, labelColumn, "Time", fmt.Sprintf("%s to %s, %s", ph.From.Short(), ph.To.Short(), kind))
	if note := cleanLine(ph.Mark.Note); note != "" {
		p.item(2, labelColumn, "Note", note)
	}
	p.posture(&ph.Reading)
	if ph.Findings != nil {
		p.findings(sp, ph.Findings, full)
	}
	if ph.Movement == nil || ph.Next == nil {
		return
	}
	if full {
		for i, j := range sp.joints(ph.Movement) {
			p.item(2, labelColumn, onlyFirst(i, "Moves"), j.Does+": "+j.Figures)
		}
	}
	p.statements("On the way", most(sp.movement(ph.Movement), full), sp.voice)
	p.statements("Meanwhile", most(sp.wayWork(ph.Movement), full), sp.voice)
	if words := quickWords(ph.Movement); words != "" {
		p.item(2, labelColumn, "", words)
	}
	for i, d := range ph.Movement.Doubts {
		p.item(2, labelColumn, onlyFirst(i, "Doubt"), doubtWords(d))
	}
}

// posture writes what was understood of the words and what was not.
func (p *page) posture(reading *posture.Reading) {
	canonical := cleanLine(reading.Canonical)
	if canonical == "" {
		canonical = "nothing said"
	}
	p.item(2, labelColumn, "Posture", canonical)
	for i, u := range reading.Unknown {
		p.item(2, labelColumn, onlyFirst(i, "Not clear"), unknownWords(u.Text, u.Why, u.Near))
	}
}

// findings writes the statements of one posture.
func (p *page) findings(sp *speaker, f *analysis.Findings, full bool) {
	for i, c := range f.Cautions {
		p.item(2, labelColumn, onlyFirst(i, "Take care"), cautionWords(c))
	}
	all := sp.posture(f)
	for _, section := range sections {
		p.statements(section.label, most(only(all, section.kind), full), sp.voice)
	}
	p.statements("Changed", sp.changes(f), sp.voice)
	if words := supportWords(sp.model, f); words != "" && sp.voice == Technical {
		p.item(2, labelColumn, "Supports", words)
	}
	for i, d := range doubts(f) {
		p.item(2, labelColumn, onlyFirst(i, "Doubt"), doubtWords(d))
	}
	if full {
		p.extremes(sp.model, f, sp.voice)
	}
}

// most keeps the first statements of a list unless it is wanted in full, and
// says how many more there are.
func most(all []Statement, full bool) []Statement {
	if full || len(all) <= mostSaid {
		return all
	}
	return append(all[:mostSaid:mostSaid], Statement{Text: andMore(len(all) - mostSaid)})
}

// statements writes labelled sentences; the technical voice adds the figures.
func (p *page) statements(label string, all []Statement, v Voice) {
	for i, s := range all {
		text := s.Text
		if aside := figures(s, v); aside != "" {
			text = strings.TrimSuffix(text, ".") + " (" + aside + ")."
		}
		p.item(2, labelColumn, onlyFirst(i, label), text)
	}
}

// foot writes the caution that every analysis carries, and who made it.
func (p *page) foot(o Options, maker string) {
	p.blank()
	p.text(0, strings.Join(careText, " "))
	p.text(0, maker+".")
}

// onlyFirst labels the first of several items.
func onlyFirst(i int, label string) string {
	if i > 0 {
		return ""
	}
	return label
}

// count says how many there are of something.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
