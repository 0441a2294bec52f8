package timeline

import (
	"fmt"
	"math"
	"strconv"
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
	sign := ""
	if t < 0 {
		sign, t = "-", -t
	}
	return fmt.Sprintf("%s%d:%02d:%02d.%03d", sign, t/3600_000, t/60_000%60, t/1000%60, t%1000)
}

// Short prints the time as people write it: 1:23.4, 0:05, 1:02:03.
func (t Instant) Short() string {
	sign := ""
	if t < 0 {
		sign, t = "-", -t
	}
	s := fmt.Sprintf("%d:%02d", t/60_000, t/1000%60)
	if t >= 3600_000 {
		s = fmt.Sprintf("%d:%02d:%02d", t/3600_000, t/60_000%60, t/1000%60)
	}
	if ms := t % 1000; ms != 0 {
		s += "." + strings.TrimRight(fmt.Sprintf("%03d", ms), "0")
	}
	return sign + s
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
// for which frames must not be nil. Digits past the millisecond are rounded.
func ParseInstant(text string, frames FrameTimes) (Instant, error) {
	s := strings.TrimSpace(text)
	fail := func(why string) (Instant, error) { return 0, &TimeError{text, why} }
	if s == "" {
		return fail("it is empty")
	}
	if number, ok := strings.CutPrefix(s, "#"); ok {
		n, err := strconv.Atoi(number)
		if err != nil || n < 0 || number[0] == '+' {
			return fail("a frame is # and a whole number")
		}
		if frames == nil {
			return fail("frames can be counted only in a recording with pictures")
		}
		t, ok := frames.FrameTime(n)
		if !ok {
			return fail("the recording has no such frame")
		}
		return t, nil
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
	total := 0.0
	for i, p := range parts {
		v, ok := digits(p)
		if !ok {
			return fail("write it as 83.4, 1:23.4, 0:01:23.400 or #2085")
		}
		if i > 0 && (v > 59 || len(p) != 2) {
			return fail("after a colon stand two digits, 00 to 59")
		}
		total = total*60 + v
	}
	if fraction != "" {
		f, ok := digits(fraction)
		if !ok {
			return fail("write it as 83.4, 1:23.4, 0:01:23.400 or #2085")
		}
		total += f / math.Pow(10, float64(len(fraction)))
	}
	ms := math.Floor(total*1000 + 0.5)
	if ms > float64(MaxInstant) {
		return fail("later than " + MaxInstant.String())
	}
	return Instant(ms), nil
}

// digits reads an unsigned number of at most 15 digits and nothing else.
func digits(s string) (float64, bool) {
	if s == "" || len(s) > 15 {
		return 0, false
	}
	v := 0.0
	for _, c := range s {
		if c < '0' || c > '9' {
			return 0, false
		}
		v = v*10 + float64(c-'0')
	}
	return v, true
}
