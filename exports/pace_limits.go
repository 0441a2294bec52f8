package exports

import (
	"fmt"
	"math"

	"tautline/timeline"
)

// PaceLimit is one of the reading limits of captions as a person may set it.
type PaceLimit struct {
	Name   string // "line-length"
	Help   string // one line, without a full stop
	Source string // what published guides say, and whose judgement the default is
	Whole  bool   // counts something
	get    func(Pace) float64
	set    func(*Pace, float64)
}

// The guides that the limits come from: the timed-text guide that a large
// streaming service publishes for English; the captioning guidelines of the
// Described and Captioned Media Program (dcmp.org, numbers 5 and 601); the
// subtitle guidelines of the BBC as others sum them up; the timed-text guide of
// a university library (utk-timed-text-guide.readthedocs.io).
const ours = "our judgement, since anatomical words are long and new to many"

// paceLimits is the one table of reading limits.
var paceLimits = []PaceLimit{
	{"fill", "characters that a line of captions is filled to", ours, true,
		func(p Pace) float64 { return float64(p.Wrap) }, func(p *Pace, x float64) { p.Wrap = int(x) }},
	{"line", "characters that a line of captions never exceeds", "42 streaming and university guide, 32 DCMP", true,
		func(p Pace) float64 { return float64(p.Line) }, func(p *Pace, x float64) { p.Line = int(x) }},
	{"lines", "lines of a caption", "2 streaming guide and BBC", true,
		func(p Pace) float64 { return float64(p.Lines) }, func(p *Pace, x float64) { p.Lines = int(x) }},
	{"speed", "characters a second that captions aim at", "17 for adults and 13 for children, streaming guide; the default is " + ours, false,
		func(p Pace) float64 { return p.Speed }, func(p *Pace, x float64) { p.Speed = x }},
	{"top-speed", "characters a second where a phase would otherwise say nothing", "225 words a minute at most, DCMP: some 19 to 20; the default is ours", false,
		func(p Pace) float64 { return p.MaxSpeed }, func(p *Pace, x float64) { p.MaxSpeed = x }},
	{"least", "seconds that a caption stands at least", "5/6 streaming and university guide, 2 DCMP; the default is ours", false,
		func(p Pace) float64 { return p.Least.Seconds() }, func(p *Pace, x float64) { p.Least = instant(x) }},
	{"most", "seconds that a caption stands at most", "7 streaming and university guide", false,
		func(p Pace) float64 { return p.Most.Seconds() }, func(p *Pace, x float64) { p.Most = instant(x) }},
	{"gap", "seconds between one caption and the next", "two frames, streaming guide: 0.08 at 25 a second", false,
		func(p Pace) float64 { return p.Gap.Seconds() }, func(p *Pace, x float64) { p.Gap = instant(x) }},
}

// PaceLimits lists the reading limits of captions with their sources.
func PaceLimits() []PaceLimit { return append([]PaceLimit(nil), paceLimits...) }

// Default is the value of a limit that nobody chose.
func (l PaceLimit) Default() float64 { return l.get(DefaultPace) }

// Set sets a limit of a pace. It refuses what is not above zero and, of what is
// counted, parts; whether limits agree with each other Pace.Check says.
func (l PaceLimit) Set(p *Pace, value float64) error {
	if !(value > 0) || math.IsInf(value, 0) || value > 1e6 || l.Whole && value != math.Trunc(value) {
		kind := "a number above zero"
		if l.Whole {
			kind = "a whole number above zero"
		}
		return fmt.Errorf("%g %s: %s is needed", value, l.Help, kind)
	}
	l.set(p, value)
	return nil
}

func instant(seconds float64) timeline.Instant {
	return timeline.Instant(max(1, math.Round(seconds*1000)))
}
