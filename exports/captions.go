package exports

import (
	"fmt"
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/timeline"
)

// Cue is one caption, or one entry of a chapter track.
type Cue struct {
	ID       string // unique in its file and the same every time: "m12-1"
	From, To timeline.Instant
	Lines    []string // clean, not escaped, none empty
}

// perPhase is how many findings of one phase captions say at most; a list of
// every muscle belongs into the notes.
const perPhase = 6

// Captions words and paces a report. It also gives the numbers of the phases
// that have something to say and too little time to read it: they have no cue.
// Cues are in order, do not overlap, and lie within their phase and within the
// recording. The error is that of Pace.Check.
func Captions(r *timeline.Report, o Options) ([]Cue, []int, error) {
	o = o.withDefaults()
	if err := o.Pace.Check(); err != nil {
		return nil, nil, fmt.Errorf("reading limits: %w", err)
	}
	c := &captioner{r: r, o: o, end: end(r), speaker: newSpeaker(r.Model, o.Voice), said: map[*analysis.Findings][]Statement{}, cautioned: map[string]bool{}}
	c.leadIn()
	for i := range r.Phases {
		c.phase(&r.Phases[i])
	}
	return c.cues, c.silent, nil
}

// captioner walks through a report and remembers what was said once for all.
type captioner struct {
	r         *timeline.Report
	o         Options
	end       timeline.Instant
	speaker   *speaker
	said      map[*analysis.Findings][]Statement
	cues      []Cue
	silent    []int
	cared     bool            // the care line was said
	cautioned map[string]bool // specific cautions that were said, by key
}

// leadIn says the care line before the first phase, if there is time.
func (c *captioner) leadIn() {
	if len(c.r.Phases) > 0 {
		c.care(c.o.Pace.Say(0, min(c.r.Phases[0].From, c.end), []Saying{careSaying}))
	}
}

func (c *captioner) care(said []Timed) {
	for i, t := range said {
		c.cared = true
		c.cues = append(c.cues, Cue{fmt.Sprintf("care-%d", i+1), t.From, t.To, t.Screen})
	}
}

// phase says what there is to say about one phase and has room.
func (c *captioner) phase(p *timeline.PhaseReport) {
	from, to := max(0, p.From), min(p.To, c.end)
	sayings := c.sayings(p, to-from)
	if len(sayings) == 0 {
		return
	}
	said := c.o.Pace.Say(from, to, sayings)
	if len(said) == 0 {
		c.silent = append(c.silent, p.Number)
	}
	for i, t := range said {
		c.cues = append(c.cues, Cue{fmt.Sprintf("m%d-%d", p.Mark.ID, i+1), t.From, t.To, t.Screen})
		c.remember(p, strings.Join(t.Screen, " "))
	}
}

// remember keeps what need not be said again in a later phase.
func (c *captioner) remember(p *timeline.PhaseReport, text string) {
	c.cared = c.cared || slices.Contains(careSaying.Forms, text)
	if p.Findings == nil {
		return
	}
	for _, caution := range p.Findings.Cautions {
		if text == cautionBrief(caution) {
			c.cautioned[caution.Key] = true
		}
	}
}

// Places of what is said within a phase.
const (
	placeTitle = iota
	placeFinding
	placeCare
	placeMovement
)

// sayings ranks what a phase could say: its first finding with its title,
// specific cautions, the care line until it was said, what the movement changes
// most, then the other findings in turn.
func (c *captioner) sayings(p *timeline.PhaseReport, room timeline.Instant) []Saying {
	if room < c.o.Pace.Least {
		// Too short for anything: only whether there is something matters.
		if p.Mark.Title == "" && p.Findings == nil {
			return nil
		}
		return []Saying{{Forms: []string{"."}}}
	}
	findings := c.findings(p.Findings)
	movement := c.speaker.movement(p.Movement)

	sayings := c.lead(cleanLine(p.Mark.Title), findings, room)
	if p.Findings != nil {
		for _, caution := range p.Findings.Cautions {
			if !c.cautioned[caution.Key] {
				sayings = append(sayings, Saying{[]string{cautionBrief(caution)}, placeCare})
			}
		}
	}
	if !c.cared && len(sayings) > 0 {
		care := careSaying
		care.Place = placeCare
		sayings = append(sayings, care)
	}
	if len(movement) > 0 && p.Next != nil {
		first := movement[0]
		sayings = append(sayings, Saying{[]string{movingTo(p.Next.Title, first), movingTo("", first), onTheWay(first)}, placeMovement})
	}
	for i := 1; i < perPhase && i < len(findings); i++ {
		sayings = append(sayings, Saying{findings[i].forms(), placeFinding})
	}
	if len(movement) > 1 {
		sayings = append(sayings, Saying{[]string{onTheWay(movement[1])}, placeMovement})
	}
	return sayings
}

// findings words a posture once, however many phases share it.
func (c *captioner) findings(f *analysis.Findings) []Statement {
	said, ok := c.said[f]
	if !ok {
		said = c.speaker.posture(f)
		c.said[f] = said
	}
	return said
}

// lead puts the title in front of the first finding where both are read as one
// screen. Where they are not, the finding comes first in rank and the title
// first in order, if there is time for it.
func (c *captioner) lead(title string, findings []Statement, room timeline.Instant) []Saying {
	p := c.o.Pace
	title = strings.TrimRight(cut(title, p.Line), ".:;,")
	switch {
	case len(findings) == 0 && title == "":
		return nil
	case len(findings) == 0:
		return []Saying{{[]string{title}, placeTitle}}
	}
	first := Saying{findings[0].forms(), placeFinding}
	if title == "" {
		return []Saying{first}
	}
	heading := Saying{[]string{title}, placeTitle}
	if full := title + ": " + lowerStart(findings[0].Text); p.Fits(full, room) {
		return []Saying{{[]string{full}, placeTitle}}
	}
	if both := p.Say(0, room, []Saying{first, heading}); len(both) > 1 {
		return []Saying{first, heading}
	}
	if brief := title + ": " + lowerStart(findings[0].Brief); findings[0].Brief != "" && p.Fits(brief, room) {
		return []Saying{{[]string{brief}, placeTitle}}
	}
	return []Saying{first}
}

// end is where the recording ends, beyond which nothing is seen; without a
// recording, where the study does.
func end(r *timeline.Report) timeline.Instant {
	if rec := r.Study.Recording; rec != nil && rec.Duration > 0 {
		return rec.Duration
	}
	return r.Study.End()
}

// silence says which phases have no caption, or "".
func silence(phases []int) string {
	switch n := len(phases); {
	case n == 0:
		return ""
	case n == 1:
		return fmt.Sprintf("phase %d is too short for a caption", phases[0])
	default:
		return fmt.Sprintf("%d phases are too short for a caption: %s", n, numbers(phases))
	}
}

// numbers lists phase numbers, the first few of many.
func numbers(ns []int) string {
	const most = 12
	var b strings.Builder
	for i, n := range ns {
		if i == most {
			fmt.Fprintf(&b, " and %d more", len(ns)-most)
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprint(&b, n)
	}
	return b.String()
}
