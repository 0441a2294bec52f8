package exports

import (
	"fmt"
	"io"
	"strings"

	"tautline/analysis"
	"tautline/exports/draw"
	"tautline/exports/figure"
	"tautline/timeline"
)

// Size of a figure in the notes, in its own units.
const (
	noteFigureWide = 430
	noteFigureHigh = 520
	noteKeysWide   = 900
)

// writeNotesHTML writes the class notes as one page that needs nothing else:
// phase by phase the picture, the posture in words, what works, what is drawn
// long, what cannot be told, which way the main muscles pull, what changed and
// what to mind; at the end the sources.
func writeNotesHTML(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	h := newHTML(w, sheetTitle(r)+": notes", o.maker(r), pageFile("base.css")+pageFile("notes.css"), "")
	n := notesPage{h, r, o, newSpeaker(r.Model, o.Voice), newSources(r.Model),
		picturesOf(r, o, figure.Plate{W: noteFigureWide, H: noteFigureHigh, Bare: true}), map[*analysis.Findings]int{}}
	h.put("<main>\n")
	h.element("h1", "", sheetTitle(r))
	h.caution()
	if len(r.Phases) == 0 {
		h.element("p", "", noMarksYet)
	} else {
		h.put("<ol class=\"contents\">\n")
		for i := range r.Phases {
			p := &r.Phases[i]
			h.put(fmt.Sprintf("<li><a href=\"#phase-%d\">%s</a></li>\n", p.Number, draw.Escape(phaseTitle(p))))
		}
		h.put("</ol>\n<figure>\n" + legendPicture(noteKeysWide).Inline("keys-") + "\n</figure>\n")
	}
	for i := range r.Phases {
		n.phase(&r.Phases[i])
	}
	if used := n.sources.used(); len(used) > 0 {
		h.put("<section>\n")
		h.element("h2", "", "Sources")
		h.put("<ul>\n")
		for _, s := range used {
			h.element("li", "", strings.TrimSuffix(s.Text, ".")+" ("+s.Grade+"; "+s.Key+")")
		}
		h.put("</ul>\n</section>\n")
	}
	h.element("p", "class=\"quiet\"", o.maker(r)+".")
	h.put("</main>\n")
	return h.end()
}

type notesPage struct {
	html
	r        *timeline.Report
	o        Options
	speaker  *speaker
	sources  *sources
	pictures map[*analysis.Findings]*draw.Picture
	shown    map[*analysis.Findings]int // the phase that shows a posture's picture
}

func (n *notesPage) phase(p *timeline.PhaseReport) {
	n.put(fmt.Sprintf("<section class=\"phase\" id=\"phase-%d\">\n<header>\n", p.Number))
	n.element("h2", "", pictureTitle(p))
	n.element("p", "class=\"quiet\"", phaseSpan(p)+".")
	if note := cleanLine(p.Mark.Note); note != "" {
		n.element("p", "", note)
	}
	n.put("</header>\n")
	n.picture(p)
	n.put("<div>\n")
	posture := cleanLine(p.Reading.Canonical)
	if posture == "" {
		posture = "nothing said yet"
	}
	n.element("p", "", "Posture: "+strings.TrimRight(posture, ".")+".")
	var unknown []string
	for _, u := range p.Reading.Unknown {
		unknown = append(unknown, unknownWords(u.Text, u.Why, u.Near))
	}
	n.list("Not understood", "care", unknown)
	if p.Findings != nil {
		n.findings(p.Findings)
	}
	if p.Movement != nil && p.Next != nil {
		said := n.said(n.speaker.movement(p.Movement))
		said = append(said, n.said(n.speaker.wayWork(p.Movement))...)
		if words := quickWords(p.Movement); words != "" {
			said = append(said, words)
		}
		n.list(upperFirst(toward(p.Next.Title)), "", said)
	}
	n.put("</div>\n</section>\n")
}

// picture writes a posture's figure where it first occurs, and refers to it after.
func (n *notesPage) picture(p *timeline.PhaseReport) {
	pic := n.pictures[p.Findings]
	switch before := n.shown[p.Findings]; {
	case pic == nil:
		n.put("<figure>\n")
		n.element("figcaption", "", nothingToDraw(p))
		n.put("</figure>\n")
	case before > 0:
		n.put(fmt.Sprintf("<figure>\n<figcaption>The picture is that of <a href=\"#phase-%d\">phase %[1]d</a>.</figcaption>\n</figure>\n", before))
	default:
		n.shown[p.Findings] = p.Number
		n.put("<figure>\n" + pic.Inline(fmt.Sprintf("p%d-", p.Number)) + "\n</figure>\n")
	}
}

func (n *notesPage) findings(f *analysis.Findings) {
	n.sources.addFindings(f)
	var care []string
	for _, c := range f.Cautions {
		care = append(care, cautionWords(c))
	}
	n.list("Take care", "care", care)
	all := n.speaker.posture(f)
	class := map[Kind]string{Work: "work", Long: "long"}
	for _, s := range sections {
		n.list(s.title, class[s.kind], n.said(only(all, s.kind)))
	}
	n.list(pullsTitle, "", n.speaker.pulls(f))
	n.list("Changed from the phase before", "", n.said(n.speaker.changes(f)))
	var doubt []string
	for _, d := range doubts(f) {
		doubt = append(doubt, doubtWords(d))
	}
	n.list("Doubts", "", doubt)
}

// said gives the first statements of a list, and how many more there are.
func (n *notesPage) said(all []Statement) []string {
	var out []string
	for i, s := range all {
		if i == mostSaid {
			return append(out, andMore(len(all)-mostSaid))
		}
		text := s.Text
		if f := figures(s, n.o.Voice); f != "" {
			text += " (" + f + ")"
		}
		out = append(out, text)
	}
	return out
}
