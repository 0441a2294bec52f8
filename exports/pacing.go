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

// DefaultPace is the limits used unless a person chooses others.
//
// 42 characters, two lines and seven seconds are the common figures of
// published timed-text style guides; those guides ask for 17 characters a
// second for adults and 13 for children, and for two frames between texts,
// which is 80 ms at 25 frames per second. Anatomical words are long and new to
// many readers, so 15 is aimed at, lines are filled to 37 and nothing goes
// faster than it stands for 1.2 s: these three are our own judgement.
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
	Forms []string // clean lines, the fullest first: the first that fits is said
	Place int      // order among what is said; ties keep their rank
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

// Say chooses from sayings, the most important first, as many as can be read
// between from and to, and gives each its time. The first that fits at all is
// never given up for a later one; a later one that does not fit makes room for
// the next. Time left over makes every screen stand longer, up to Most.
//
// What it returns lies within from and to less one Gap, in order, at least a
// Gap apart; nothing when nothing fits.
func (p Pace) Say(from, to timeline.Instant, sayings []Saying) []Timed {
	room := to - from - p.Gap
	if room < p.Least {
		return nil
	}
	type chosen struct {
		screens []Screen
		place   int
		speed   float64
	}
	var said []chosen
	left := room
	for _, s := range sayings {
		screens, speed, took := p.fit(s, left, len(said) == 0)
		if screens != nil {
			said = append(said, chosen{screens, s.Place, speed})
			left -= took + p.Gap
		}
	}
	slices.SortStableFunc(said, func(a, b chosen) int { return cmp.Compare(a.place, b.place) })

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

// fit finds the fullest form of a saying that can be read in the room left: one
// that stands whole on a screen if there is one, for a sentence that goes on
// over two is hard to follow. Only the lead may be read at the greater speed.
func (p Pace) fit(s Saying, room timeline.Instant, lead bool) ([]Screen, float64, timeline.Instant) {
	speeds := []float64{p.Speed, p.MaxSpeed}
	if !lead {
		speeds = speeds[:1]
	}
	for _, whole := range []bool{true, false} {
		for _, text := range s.Forms {
			if text == "" || p.floor(text) > room || p.oneScreen(text) != whole {
				continue
			}
			screens := p.Screens(text)
			for _, speed := range speeds {
				if took := p.total(screens, speed); took <= room {
					return screens, speed, took
				}
			}
		}
	}
	return nil, 0, 0
}

// oneScreen reports whether a text stands whole on one screen.
func (p Pace) oneScreen(text string) bool {
	return (len(text) < p.Line || width(text) <= p.Lines*(p.Line+1)-1) && len(p.Screens(text)) == 1
}

// needs is the time that a text takes on one screen, aimed at Speed.
func (p Pace) needs(text string) timeline.Instant { return p.reading(width(text), p.Speed) }

// Fits reports whether a text can be read within a stretch of time, on one
// screen and at the greater speed.
func (p Pace) Fits(text string, stretch timeline.Instant) bool {
	room := stretch - p.Gap
	return p.floor(text) <= room && p.oneScreen(text) && p.total(p.Screens(text), p.MaxSpeed) <= room
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
