package media

import (
	"math"
	"slices"
	"strconv"
	"time"
)

// Rate is a frame rate, Num frames in Den seconds, in lowest terms. The zero
// Rate means that none is known.
type Rate struct{ Num, Den int64 }

// PerSecond gives frames per second; 0 when the rate is not known.
func (r Rate) PerSecond() float64 {
	if r.Den == 0 {
		return 0
	}
	return float64(r.Num) / float64(r.Den)
}

// Period gives the time from one frame to the next; 0 when not known.
func (r Rate) Period() time.Duration {
	if r.Num <= 0 || r.Den <= 0 {
		return 0
	}
	return ticks(r.Den, r.Num)
}

// String gives the rate as people write it: "25", "29.97"; "" when not known.
func (r Rate) String() string {
	if r.Den == 0 {
		return ""
	}
	return strconv.FormatFloat(math.Round(r.PerSecond()*1000)/1000, 'f', -1, 64)
}

// common are the rates that cameras and editors use.
var common = []Rate{
	{24000, 1001}, {24, 1}, {25, 1}, {30000, 1001}, {30, 1}, {48, 1}, {50, 1},
	{60000, 1001}, {60, 1}, {10, 1}, {12, 1}, {15, 1}, {20, 1}, {100, 1},
	{120000, 1001}, {120, 1}, {240000, 1001}, {240, 1},
}

func makeRate(num, den int64) Rate {
	if num <= 0 || den <= 0 {
		return Rate{}
	}
	g := gcd(num, den)
	r := Rate{num / g, den / g}
	for _, c := range common {
		// A period kept in whole nanoseconds misses its rate by about 1e-8;
		// neighbouring common rates differ by 1e-3.
		if math.Abs(r.PerSecond()/c.PerSecond()-1) < 1e-6 {
			return c
		}
	}
	return r
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// pace finds the nominal rate of frame times, and whether it varies. The times
// ascend and were rounded to a clock of the given tick; stated is the rate the
// container gives, if any.
//
// A rate is constant when some even spacing explains every time to within one
// tick: rounding alone can spread the differences by that much and no more.
func pace(times []time.Duration, tick time.Duration, stated Rate) (rate Rate, variable bool) {
	n := len(times)
	if n < 2 {
		return stated, false
	}
	// Two further nanoseconds, because the times were rounded to those as well.
	limit := float64(tick + 2)
	median := medianSpacing(times)
	spaced := makeRate(int64(time.Second), int64(median))
	for _, r := range []Rate{stated, spaced} {
		if r != (Rate{}) && spread(times, r, limit) <= limit {
			return r, false
		}
	}
	best, least := Rate{}, limit
	for _, r := range common {
		if d := spread(times, r, least); d <= least && (best == Rate{} || d < least) {
			best, least = r, d
		}
	}
	if best != (Rate{}) {
		return best, false
	}
	mean := makeRate(int64(n-1)*int64(time.Second), int64(times[n-1]-times[0]))
	if spread(times, mean, limit) <= limit {
		return mean, false
	}
	return nearCommon(median, tick, spaced), true
}

// spread is how far apart, in nanoseconds, the times' differences from an even
// rate lie; it stops looking once that is past enough. float64 holds ten hours
// in nanoseconds to well under one.
func spread(times []time.Duration, r Rate, enough float64) float64 {
	period := 1e9 * float64(r.Den) / float64(r.Num)
	low, high := 0.0, 0.0
	for i, t := range times {
		d := float64(t-times[0]) - float64(i)*period
		low, high = min(low, d), max(high, d)
		if high-low > enough {
			break
		}
	}
	return high - low
}

func medianSpacing(times []time.Duration) time.Duration {
	gaps := make([]time.Duration, len(times)-1)
	for i := range gaps {
		gaps[i] = times[i+1] - times[i]
	}
	slices.Sort(gaps)
	return gaps[len(gaps)/2]
}

// nearCommon gives the common rate that a spacing on a coarse clock stands
// for, or other when none is within half a tick.
func nearCommon(gap, tick time.Duration, other Rate) Rate {
	best, least := other, tick/2
	for _, r := range common {
		if d := (r.Period() - gap).Abs(); d < least {
			best, least = r, d
		}
	}
	return best
}
