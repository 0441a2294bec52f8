package exports

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tautline/timeline"
)

// Pace is the set of reading limits for text that comes and goes. Characters
// are counted as a reader counts them, spaces included.
type Pace struct {
	Wrap  int // characters a line is filled to where that works
	Line  int // characters a line never exceeds, except for one that cannot be split
	Lines int // lines at a time
	// Speed is the reading speed aimed at, in characters per second; MaxSpeed
	// is used only where a phase would otherwise say nothing.
	Speed, MaxSpeed float64
	Least, Most     timeline.Instant // shortest and longest time on screen
	Gap             timeline.Instant // dark time between one text and the next
}

// DefaultPace is the limits used unless a person chooses others. Where each comes
// from stands beside it in the table of limits.
var DefaultPace = Pace{
	Wrap: 37, Line: 42, Lines: 2,
	Speed: 15, MaxSpeed: 20,
	Least: 1200, Most: 7000, Gap: 80,
}

func (p Pace) withDefaults() Pace {
	p.Wrap = cmp.Or(p.Wrap, DefaultPace.Wrap)
	p.Line = cmp.Or(p.Line, max(DefaultPace.Line, p.Wrap))
	p.Lines = cmp.Or(p.Lines, DefaultPace.Lines)
	p.Speed = cmp.Or(p.Speed, DefaultPace.Speed)
	p.MaxSpeed = cmp.Or(p.MaxSpeed, max(DefaultPace.MaxSpeed, p.Speed))
	p.Least = cmp.Or(p.Least, DefaultPace.Least)
	p.Most = cmp.Or(p.Most, max(DefaultPace.Most, p.Least))
	p.Gap = cmp.Or(p.Gap, DefaultPace.Gap)
	return p
}

// Check reports limits that contradict each other or that no text could meet.
func (p Pace) Check() error {
	switch {
	case p.Wrap < 8 || p.Line < p.Wrap:
		return fmt.Errorf("lines of %d to %d characters: at least 8, and the second no less than the first", p.Wrap, p.Line)
	case p.Lines < 1:
		return fmt.Errorf("%d lines: at least one", p.Lines)
	case !(p.Speed > 0) || !(p.MaxSpeed >= p.Speed) || math.IsInf(p.MaxSpeed, 0):
		return fmt.Errorf("%g to %g characters a second: both above zero, and the second no less than the first", p.Speed, p.MaxSpeed)
	case p.Least < 1 || p.Most < p.Least || p.Gap < 0:
		return fmt.Errorf("texts of %v to %v with %v between: above zero and in that order", p.Least, p.Most, p.Gap)
	case p.reading(p.Lines*(p.Line+1)-1, p.MaxSpeed) > p.Most:
		return fmt.Errorf("%d lines of %d characters cannot be read in %v at %g characters a second", p.Lines, p.Line, p.Most, p.MaxSpeed)
	}
	return nil
}

// Saying is one thing that could be said in a stretch of time.
type Saying struct {
	Forms []string // clean lines, the fullest first
	Place int      // order among what is said; ties keep their rank
	// Keep says this in few words rather than not at all: what is more important
	// gives up words for it, though never its place.
	Keep bool
}

// Screen is what stands on the screen at one time: lines of text.
type Screen []string

// width counts the characters to read; a line break reads like a space.
func (s Screen) width() int {
	n := len(s) - 1
	for _, line := range s {
		n += width(line)
	}
	return n
}

// Timed is a screen with its time.
type Timed struct {
	From, To timeline.Instant
	Screen   Screen
}

// chosen is a saying that will be said, in one of its forms.
type chosen struct {
	Saying
	screens []Screen
	speed   float64
	took    timeline.Instant // without the gap after it
}

// Say chooses from sayings, the most important first, as many as can be read
// between from and to, and gives each its time. First the most important and all
// that are to be kept are chosen in their fewest words; then each, in order, takes
// the fullest form that the others leave time for; then the rest follow as they
// fit. Time left over makes every screen stand longer, up to Most.
//
// What it returns lies within from and to less one Gap, in order, at least a
// Gap apart; nothing when nothing fits.
func (p Pace) Say(from, to timeline.Instant, sayings []Saying) []Timed {
	room := to - from - p.Gap
	if room < p.Least {
		return nil
	}
	said := p.choose(sayings, room)
	slices.SortStableFunc(said, func(a, b chosen) int { return cmp.Compare(a.Place, b.Place) })

	var times []Timed
	var reading timeline.Instant
	for _, c := range said {
		for _, screen := range c.screens {
			need := p.reading(screen.width(), c.speed)
			reading += need
			times = append(times, Timed{To: need, Screen: screen})
		}
	}
	if reading == 0 {
		return nil
	}
	gaps := p.Gap * timeline.Instant(len(times)-1)
	stretch := float64(room-gaps) / float64(reading)
	at := from
	for i, t := range times {
		stand := min(p.Most, max(t.To, timeline.Instant(float64(t.To)*stretch)))
		times[i].From, times[i].To = at, at+stand
		at += stand + p.Gap
	}
	return times
}

// choose finds what is said in a room, in order of rank.
func (p Pace) choose(sayings []Saying, room timeline.Instant) []chosen {
	left, cut := room, map[string][]Screen{}
	take := func(s Saying, fewest bool) *chosen {
		c := p.fit(s, left, fewest, p.Speed, cut)
		if c != nil {
			left -= c.took + p.Gap
		}
		return c
	}
	all := make([]*chosen, len(sayings))
	said := func() bool { return slices.ContainsFunc(all, func(c *chosen) bool { return c != nil }) }
	for i, s := range sayings {
		if s.Keep || !said() {
			if all[i] = take(s, true); all[i] == nil && !said() {
				// Faster than aimed at rather than nothing.
				if all[i] = p.fit(s, left, true, p.MaxSpeed, cut); all[i] != nil {
					left -= all[i].took + p.Gap
				}
			}
		}
	}
	for i, c := range all {
		if c != nil && c.speed == p.Speed {
			left += c.took + p.Gap
			all[i] = take(c.Saying, false) // its own form fits again
		}
	}
	for i, s := range sayings {
		if all[i] == nil {
			all[i] = take(s, false)
		}
	}
	kept := []chosen{}
	for _, c := range all {
		if c != nil {
			kept = append(kept, *c)
		}
	}
	return kept
}

// fit finds the form of a saying to be read in the room left: the fullest, or the
// one in fewest words. One that stands whole on a screen comes before any that
// does not, for a sentence that goes on over two is hard to follow. Forms that
// were cut into screens once are kept in cut.
func (p Pace) fit(s Saying, room timeline.Instant, fewest bool, speed float64, cut map[string][]Screen) *chosen {
	var whole, torn *chosen
	for _, text := range s.Forms {
		if text == "" || p.floor(text) > room {
			continue
		}
		screens, known := cut[text]
		if !known {
			screens = p.Screens(text)
			cut[text] = screens
		}
		found := &whole
		if len(screens) > 1 {
			found = &torn
		}
		took := p.total(screens, speed)
		if took <= room && (*found == nil || fewest && took < (*found).took) {
			*found = &chosen{s, screens, speed, took}
		}
	}
	return cmp.Or(whole, torn)
}

// oneScreen reports whether a text stands whole on one screen.
func (p Pace) oneScreen(text string) bool {
	return (len(text) < p.Line || width(text) <= p.Lines*(p.Line+1)-1) && len(p.Screens(text)) == 1
}

// floor is a time that a text needs at the very least, found without looking
// at more of it than can matter: a cheap way to give up on an endless text.
func (p Pace) floor(text string) timeline.Instant {
	most := float64(p.Most) / 1000 * p.MaxSpeed
	if len(text) <= int(most) {
		return p.Least
	}
	return p.reading(width(text), p.MaxSpeed)
}

// total is the time that screens need one after the other, gaps between.
func (p Pace) total(screens []Screen, speed float64) timeline.Instant {
	sum := p.Gap * timeline.Instant(len(screens)-1)
	for _, s := range screens {
		sum += p.reading(s.width(), speed)
	}
	return sum
}

// reading is the time that one screen of n characters needs: never below
// Least, and not past Most as long as MaxSpeed allows it.
func (p Pace) reading(n int, speed float64) timeline.Instant {
	slow := timeline.Instant(math.Ceil(float64(n) * 1000 / speed))
	fast := timeline.Instant(math.Ceil(float64(n) * 1000 / p.MaxSpeed))
	return max(p.Least, fast, min(slow, p.Most))
}
