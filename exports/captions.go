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

// Captions words and paces a report, and tells what there was no room for. Cues
// are in order, do not overlap, and lie within their phase and within the
// recording. The error is that of Pace.Check.
func Captions(r *timeline.Report, o Options) ([]Cue, Silence, error) {
	o = o.withDefaults()
	if err := o.Pace.Check(); err != nil {
		return nil, Silence{}, fmt.Errorf("reading limits: %w", err)
	}
	c := &captioner{r: r, o: o, end: end(r), speaker: newSpeaker(r.Model, o.Voice), said: map[*analysis.Findings][]Statement{}, careIn: -1}
	c.run()
	if !c.cared && len(c.cues) > 0 {
		// No phase had room to spare: the longest makes room, if it can.
		before := *c
		for i := range r.Phases {
			if c.careIn < 0 || c.room(&r.Phases[i]) > c.room(&r.Phases[c.careIn]) {
				c.careIn = i
			}
		}
		if c.run(); !c.cared {
			c = &before
		}
	}
	return c.cues, c.silence(), nil
}

// captioner walks through a report and remembers what was said once for all.
type captioner struct {
	r         *timeline.Report
	o         Options
	end       timeline.Instant
	speaker   *speaker
	said      map[*analysis.Findings][]Statement
	careIn    int // the phase that makes room for the care line, or -1
	cues      []Cue
	silent    []int
	cared     bool            // the care line was said
	cautioned map[string]bool // specific cautions that were said, by key
}

func (c *captioner) run() {
	c.cues, c.silent, c.cared, c.cautioned = nil, nil, false, map[string]bool{}
	c.leadIn()
	for i := range c.r.Phases {
		c.phase(i)
	}
}

// room is how much of a phase is within the recording.
func (c *captioner) room(p *timeline.PhaseReport) timeline.Instant {
	return min(p.To, c.end) - max(0, p.From)
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
func (c *captioner) phase(i int) {
	p := &c.r.Phases[i]
	sayings := c.sayings(p, i == c.careIn)
	if len(sayings) == 0 {
		return
	}
	said := c.o.Pace.Say(max(0, p.From), min(p.To, c.end), sayings)
	if len(said) == 0 {
		c.silent = append(c.silent, p.Number)
	}
	for k, t := range said {
		c.cues = append(c.cues, Cue{fmt.Sprintf("m%d-%d", p.Mark.ID, k+1), t.From, t.To, t.Screen})
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
func (c *captioner) sayings(p *timeline.PhaseReport, caring bool) []Saying {
	room := c.room(p)
	if room < c.o.Pace.Least {
		// Too short for anything: only whether there is something matters.
		if p.Mark.Title == "" && p.Findings == nil {
			return nil
		}
		return []Saying{{Forms: []string{"."}}}
	}
	findings := c.findings(p.Findings)
	if caring {
		return c.caring(findings, room)
	}
	sayings := c.lead(cleanLine(p.Mark.Title), findings, room)
	if len(sayings) == 0 {
		return nil
	}
	if p.Findings != nil {
		for _, caution := range p.Findings.Cautions {
			if !c.cautioned[caution.Key] {
				sayings = append(sayings, Saying{[]string{cautionBrief(caution)}, placeCare})
			}
		}
	}
	if !c.cared {
		sayings = append(sayings, Saying{careSaying.Forms, placeCare})
	}
	movement := inTurns(c.speaker.movement(p.Movement), c.speaker.wayWork(p.Movement))
	if len(movement) > 0 && p.Next != nil {
		first := movement[0]
		sayings = append(sayings, Saying{[]string{movingTo(p.Next.Title, first), movingTo("", first), onTheWay(first)}, placeMovement})
	}
	for i := 1; i < perPhase && i < len(findings); i++ {
		sayings = append(sayings, Saying{findings[i].forms(), placeFinding})
	}
	if len(movement) > 1 {
		next := []string{onTheWay(movement[1])}
		if brief := movement[1].Brief; brief != "" && movement[1].Kind == Work {
			next = append(next, "On the way, "+lowerStart(brief))
		}
		sayings = append(sayings, Saying{next, placeMovement})
	}
	return sayings
}

// caring is what the phase says that makes room for the care line: the fullest
// form of its first finding that leaves the time, then the line in brief. A
// phase without the time for both keeps its finding.
func (c *captioner) caring(findings []Statement, room timeline.Instant) []Saying {
	care := careSaying.Forms[len(careSaying.Forms)-1]
	sayings := []Saying{{[]string{care}, placeCare}}
	if len(findings) == 0 {
		return sayings
	}
	for _, form := range findings[0].forms() {
		if p := c.o.Pace; p.oneScreen(form) && p.needs(form)+p.needs(care)+2*p.Gap <= room {
			return append([]Saying{{[]string{form}, placeFinding}}, sayings...)
		}
	}
	return append([]Saying{{findings[0].forms(), placeFinding}}, sayings...)
}

// findings words a posture once, however many phases share it, and puts the
// kinds of findings in turn: one that is drawn long, one that works, and so on.
func (c *captioner) findings(f *analysis.Findings) []Statement {
	said, ok := c.said[f]
	if !ok {
		said = inTurn(c.speaker.posture(f))
		c.said[f] = said
	}
	return said
}

// inTurn takes the first statement of each kind, then the second of each, and so
// on, so that what is said first is not all of one kind. In each turn, what is
// short and what cannot be told come last.
func inTurn(all []Statement) []Statement {
	last := map[Kind]int{Short: 1, Untold: 2}
	count := map[Kind]int{}
	turn := make([]int, len(all))
	order := make([]int, len(all))
	for i, s := range all {
		turn[i], order[i] = 3*count[s.Kind]+last[s.Kind], i
		count[s.Kind]++
	}
	slices.SortStableFunc(order, func(a, b int) int { return turn[a] - turn[b] })
	sorted := make([]Statement, len(all))
	for i, k := range order {
		sorted[i] = all[k]
	}
	return sorted
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
