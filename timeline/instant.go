package timeline

import (
	"fmt"
	"math"
	"strings"
)

// Instant is a moment of the recording or a length of time: whole milliseconds
// from the recording's time zero.
type Instant int64

// MaxInstant is the latest moment a study can hold: just under 1,000 hours.
const MaxInstant Instant = 999*3600_000 + 3599_999

// String prints 0:01:23.400, always with hours and milliseconds, so that it
// sorts and reads back as it is.
func (t Instant) String() string {
	sign, ms := t.magnitude()
	return fmt.Sprintf("%s%d:%02d:%02d.%03d", sign, ms/3600_000, ms/60_000%60, ms/1000%60, ms%1000)
}

// Short prints the time as people write it: 1:23.4, 0:05, 1:02:03.
func (t Instant) Short() string {
	sign, ms := t.magnitude()
	s := fmt.Sprintf("%d:%02d", ms/60_000, ms/1000%60)
	if ms >= 3600_000 {
		s = fmt.Sprintf("%d:%02d:%02d", ms/3600_000, ms/60_000%60, ms/1000%60)
	}
	if part := ms % 1000; part != 0 {
		s += "." + strings.TrimRight(fmt.Sprintf("%03d", part), "0")
	}
	return sign + s
}

// magnitude parts the sign from the milliseconds; the lowest Instant has one too.
func (t Instant) magnitude() (sign string, ms uint64) {
	if t < 0 {
		return "-", -uint64(t)
	}
	return "", uint64(t)
}

// Seconds gives the moment in seconds.
func (t Instant) Seconds() float64 { return float64(t) / 1000 }

// TimeError says what is wrong with a written time.
type TimeError struct {
	Text, Why string
}

// Error names the text and the reason.
func (e *TimeError) Error() string { return fmt.Sprintf("%q is not a time: %s", e.Text, e.Why) }

// FrameTimes gives the presentation time of a frame; a recording's table does.
type FrameTimes interface {
	// FrameTime returns the time of frame n, counted from 0, and false when
	// the recording has no such frame.
	FrameTime(n int) (Instant, bool)
}

// ParseInstant reads a time as people write it: seconds (83.4), minutes and
// seconds (1:23.4), hours too (0:01:23.400), or a frame (#2085, counted from 0)
// for which frames must not be nil. Digits past the millisecond are rounded,
// halves up. Every error is a *TimeError.
func ParseInstant(text string, frames FrameTimes) (Instant, error) {
	s := strings.TrimSpace(text)
	fail := func(why string) (Instant, error) { return 0, &TimeError{text, why} }
	if s == "" {
		return fail("it is empty")
	}
	if number, ok := strings.CutPrefix(s, "#"); ok {
		return parseFrame(text, number, frames)
	}
	parts := strings.Split(s, ":")
	if len(parts) > 3 {
		return fail("more than hours, minutes and seconds")
	}
	whole, fraction, dotted := strings.Cut(parts[len(parts)-1], ".")
	if dotted && fraction == "" {
		return fail("digits are missing after the point")
	}
	parts[len(parts)-1] = whole
	var seconds Instant
	for i, p := range parts {
		v, ok := digits(p)
		if !ok {
			return fail("write it as 83.4, 1:23.4, 0:01:23.400 or #2085")
		}
		if i > 0 && (v > 59 || len(p) != 2) {
			return fail("after a colon stand two digits, 00 to 59")
		}
		seconds = seconds*60 + v
	}
	if _, ok := digits(fraction); dotted && !ok {
		return fail("write it as 83.4, 1:23.4, 0:01:23.400 or #2085")
	}
	padded := fraction + "0000"
	ms, _ := digits(padded[:3])
	if padded[3] >= '5' {
		ms++
	}
	ms += seconds * 1000
	if ms > MaxInstant {
		return fail("later than " + MaxInstant.String())
	}
	return ms, nil
}

// parseFrame looks up the time of a frame.
func parseFrame(text, number string, frames FrameTimes) (Instant, error) {
	n, ok := digits(number)
	why := ""
	switch {
	case !ok:
		why = "a frame is # and a whole number"
	case frames == nil:
		why = "frames can be counted only in a recording with pictures"
	default:
		if t, ok := frames.FrameTime(int(min(n, math.MaxInt32))); ok {
			return t, nil
		}
		why = "the recording has no such frame"
	}
	return 0, &TimeError{text, why}
}

// digits reads an unsigned number and nothing else. A number too large for any
// recording is read as one that is just that.
func digits(s string) (Instant, bool) {
	v := Instant(0)
	for _, c := range s {
		if c < '0' || c > '9' {
			return 0, false
		}
		v = min(v*10+Instant(c-'0'), MaxInstant+1)
	}
	return v, s != ""
}
