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
	c := &captioner{r: r, o: o, end: end(r), speaker: o.speaker(r.Model), said: map[*analysis.Findings][]Statement{}, cautioned: map[string]bool{}}
	c.leadIn()
	for i := range c.r.Phases {
		c.phase(i)
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
	cues      []Cue
	silent    []int
	cared     bool            // the care line was said
	cautioned map[string]bool // specific cautions that were said, by key
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
	sayings := c.sayings(p)
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
	placeTitle    = iota
	placeLead     // the first finding
	placeCare     // early: who holds the posture already needs it
	placeFinding  // the others
	placeMovement // on the way to the next posture
)

// sayings ranks what a phase could say. Kept, in few words if need be: its first
// finding, the specific cautions that were not said yet, the care line until it
// was said, and what the movement changes most. As they fit: its title and the
// other findings in turn.
func (c *captioner) sayings(p *timeline.PhaseReport) []Saying {
	if c.room(p) < c.o.Pace.Least {
		// Too short for anything: only whether there is something matters.
		if p.Mark.Title == "" && p.Findings == nil {
			return nil
		}
		return []Saying{{Forms: []string{"."}}}
	}
	findings := c.findings(p.Findings)
	title := strings.TrimRight(cut(cleanLine(p.Mark.Title), c.o.Pace.Line), ".:;,")
	sayings := []Saying{}
	heading := Saying{Forms: []string{title}, Place: placeTitle}
	switch {
	case len(findings) > 0:
		lead := Saying{Forms: findings[0].forms(), Place: placeLead}
		if full := title + ": " + lowerStart(findings[0].Text); title != "" && c.o.Pace.oneScreen(full) {
			lead.Forms = append([]string{full}, lead.Forms...)
			heading = Saying{}
		}
		sayings = append(sayings, lead)
	case title == "":
		return nil
	default:
		sayings, heading = append(sayings, heading), Saying{}
	}
	if p.Findings != nil {
		for _, caution := range p.Findings.Cautions {
			if !c.cautioned[caution.Key] {
				sayings = append(sayings, Saying{[]string{cautionBrief(caution)}, placeCare, true})
			}
		}
	}
	if !c.cared {
		sayings = append(sayings, Saying{careSaying.Forms, placeCare, true})
	}
	movement := inTurns(c.speaker.movement(p.Movement), c.speaker.wayWork(p.Movement))
	if len(movement) > 0 && p.Next != nil {
		first := movement[0]
		sayings = append(sayings, Saying{append([]string{movingTo(p.Next.Title, first), movingTo("", first)}, onTheWay(first)...), placeMovement, true})
	}
	sayings = append(sayings, heading)
	for i := 1; i < perPhase && i < len(findings); i++ {
		sayings = append(sayings, Saying{c.whole(findings[i].forms()), placeFinding, false})
	}
	if len(movement) > 1 {
		sayings = append(sayings, Saying{c.whole(onTheWay(movement[1])), placeMovement, false})
	}
	return sayings
}

// whole keeps the forms that stand on one screen: what is said besides the lead
// is left to the notes where it would not.
func (c *captioner) whole(forms []string) []string {
	kept := []string{}
	for _, form := range forms {
		if c.o.Pace.oneScreen(form) {
			kept = append(kept, form)
		}
	}
	return kept
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

// end is where the recording ends, beyond which nothing is seen; without a
// recording, where the study does.
func end(r *timeline.Report) timeline.Instant {
	if rec := r.Study.Recording; rec != nil && rec.Duration > 0 {
		return rec.Duration
	}
	return r.Study.End()
}
