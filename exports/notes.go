package exports

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"tautline/analysis"
	"tautline/timeline"
)

// WriteNotes writes the class notes as Markdown: the caution first, then phase
// by phase what was said, what may work, what is drawn long, what changed, what
// is doubtful and what moves next, and at the end the sources used.
func WriteNotes(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	b := bufio.NewWriter(w)
	n := &notes{b, r, o, o.speaker(r.Model), newSources(r.Model)}

	title := cleanLine(r.Study.Title)
	if title == "" {
		title = "Notes"
	}
	n.line("# " + markdownInline(title))
	n.line("")
	for i, care := range careText {
		if i > 0 {
			n.line(">")
		}
		n.line("> " + markdownText(care))
	}
	for i := range r.Phases {
		n.phase(&r.Phases[i])
	}
	if len(r.Phases) == 0 {
		n.line("")
		n.line("This study has no marks yet.")
	}
	n.problems()
	if used := n.sources.used(); len(used) > 0 {
		n.heading(2, "Sources")
		for _, s := range used {
			n.bullet(strings.TrimSuffix(s.Text, "."), s.Grade+"; "+s.Key)
		}
	}
	n.line("")
	n.line("---")
	n.line("")
	n.line(markdownText(o.maker(r) + "."))
	return b.Flush()
}

// notes writes one Markdown document; its writer remembers the first error.
type notes struct {
	*bufio.Writer
	r       *timeline.Report
	o       Options
	speaker *speaker
	sources *sources
}

func (n *notes) line(s string) {
	n.WriteString(s)
	n.WriteByte('\n')
}

func (n *notes) heading(level int, text string) {
	n.line("")
	n.line(strings.Repeat("#", level) + " " + markdownInline(text))
	n.line("")
}

// bullet writes a list item, with an aside in brackets when there is one.
func (n *notes) bullet(text, aside string) {
	item := "- " + markdownText(text)
	if aside != "" {
		item += " (" + markdownInline(aside) + ")"
	}
	n.line(item)
}

// phase writes the section of one phase.
func (n *notes) phase(p *timeline.PhaseReport) {
	n.heading(2, fmt.Sprintf("%d. %s", p.Number, phaseTitle(p)))
	kind := "movement"
	if p.Movement == nil {
		kind = "hold"
	}
	n.line(fmt.Sprintf("%s to %s, a %s.", p.From.Short(), p.To.Short(), kind))
	if note := cleanLine(p.Mark.Note); note != "" {
		n.line("")
		n.line(markdownText(note))
	}
	n.posture(p)
	if p.Findings != nil {
		n.findings(p.Findings)
	}
	n.movement(p)
}

// posture writes what was said and how it was understood.
func (n *notes) posture(p *timeline.PhaseReport) {
	n.line("")
	canonical := cleanLine(p.Reading.Canonical)
	if canonical == "" {
		canonical = "nothing said yet"
	}
	n.line("**Posture:** " + markdownInline(canonical))
	if len(p.Reading.Unknown) == 0 {
		return
	}
	n.line("")
	n.line("**Not understood:**")
	n.line("")
	for _, u := range p.Reading.Unknown {
		n.bullet(unknownWords(u.Text, u.Why, u.Near), "")
	}
}

// findings writes the lists of one posture, cautions first.
func (n *notes) findings(f *analysis.Findings) {
	n.sources.addFindings(f)
	if len(f.Cautions) > 0 {
		n.list("Take care")
		for _, c := range f.Cautions {
			n.bullet(cautionWords(c), "")
		}
	}
	said := n.speaker.posture(f)
	for _, section := range sections {
		n.statements(section.title, only(said, section.kind))
	}
	n.statements("Changed from the phase before", n.speaker.changes(f))
	if words := supportWords(n.r.Model, f); words != "" && n.o.Voice == Technical {
		n.list("Supports")
		n.bullet(words, "")
	}
	if all := doubts(f); len(all) > 0 {
		n.list("Doubts")
		for _, d := range all {
			n.bullet(doubtWords(d), "")
		}
	}
}

// movement writes what moves on the way to the next mark.
func (n *notes) movement(p *timeline.PhaseReport) {
	if p.Movement == nil || p.Next == nil {
		return
	}
	moves := n.speaker.joints(p.Movement)
	changes, works := n.speaker.movement(p.Movement), n.speaker.wayWork(p.Movement)
	if len(moves)+len(changes)+len(works)+len(p.Movement.Doubts) == 0 {
		return
	}
	n.list(upperFirst(toward(p.Next.Title)))
	for i, j := range moves {
		if i == mostSaid {
			n.bullet(moreJoints(len(moves)-mostSaid), "")
			break
		}
		n.bullet(j.Does, j.Figures)
	}
	n.most(changes)
	n.most(works)
	if words := quickWords(p.Movement); words != "" {
		n.bullet(words, "")
	}
	for _, d := range p.Movement.Doubts {
		n.bullet(doubtWords(d), "")
	}
}

// problems writes what check would report of the study.
func (n *notes) problems() {
	if len(n.r.Problems) == 0 {
		return
	}
	n.heading(2, "To check")
	for _, p := range n.r.Problems {
		text := p.Text
		if p.Mark != 0 {
			text = p.At.Short() + " " + text
		}
		n.bullet(text, "")
	}
}

func (n *notes) list(title string) {
	n.line("")
	n.line("**" + markdownInline(title) + "**")
	n.line("")
}

// statements writes a titled list; the technical voice adds the figures.
func (n *notes) statements(title string, all []Statement) {
	if len(all) == 0 {
		return
	}
	n.list(title)
	n.most(all)
}

// most writes the first statements of a list, and how many more there are.
func (n *notes) most(all []Statement) {
	for i, s := range all {
		if i == mostSaid {
			n.bullet(andMore(len(all)-mostSaid), "")
			return
		}
		n.bullet(s.Text, figures(s, n.o.Voice))
	}
}

// figures gives a statement's figures to the voice that speaks them.
func figures(s Statement, v Voice) string {
	if v != Technical {
		return ""
	}
	return s.Figures
}

// phaseTitle is the title of a phase, or a stand-in.
func phaseTitle(p *timeline.PhaseReport) string {
	if title := cleanLine(p.Mark.Title); title != "" {
		return title
	}
	return fmt.Sprintf("Phase %d", p.Number)
}
