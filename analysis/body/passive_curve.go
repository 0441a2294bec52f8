package body

import (
	"sort"

	"tautline/analysis/geom"
)

// PassiveCurve is a passive moment about one coordinate that depends on that
// coordinate alone: ligaments, capsules, discs, fascia and resting muscle
// together, as measured with the muscles silent. Between the points it is
// straight; beyond them it keeps the value of the last one.
type PassiveCurve struct {
	Movement MovementID
	At       []float64 // rad, rising
	Moment   []float64 // N·m, positive toward the movement's first name
	Source   string
}

// Value gives the moment at a value of the movement, N·m.
func (c *PassiveCurve) Value(at float64) float64 {
	i := sort.SearchFloat64s(c.At, at)
	switch {
	case i == 0:
		return c.Moment[0]
	case i == len(c.At):
		return c.Moment[i-1]
	}
	t := (at - c.At[i-1]) / (c.At[i] - c.At[i-1])
	return c.Moment[i-1] + t*(c.Moment[i]-c.Moment[i-1])
}

// Stray gives how far the moment may be off when the value is off by err, N·m:
// the larger of the two changes, since past its last point a curve is not known
// to be flat.
func (c *PassiveCurve) Stray(at, err float64) float64 {
	known := c.Value(at)
	return max(abs(c.Value(at+err)-known), abs(c.Value(at-err)-known))
}

func abs(v float64) float64 { return max(v, -v) }

// passiveCurves reads the measured curves. A coordinate that has one has no
// estimate of its soft tissue beside it, so that nothing is counted twice.
func (l *loader) passiveCurves() {
	t := l.table("passive_curves.csv", "movement", "at_deg", "moment_nm", "source")
	of := map[MovementID]int{} // where the movement's curve stands
	for _, r := range t.rows {
		at, moment, source := geom.Deg(r.number("at_deg", -180, 180)), r.number("moment_nm", -300, 300), l.source(r)
		found := false
		for _, suffix := range []string{"", Right.Suffix(), Left.Suffix()} {
			id, ok := l.m.index.movements[r.word("movement")+suffix]
			if !ok {
				continue
			}
			found = true
			shares := l.m.Movements[id].Shares
			switch {
			case len(shares) != 1:
				r.bad("movement", "%q is not of one coordinate", r.word("movement"))
				return
			case l.m.Soft[shares[0].Coord] != 0:
				r.bad("movement", "%q has a row in soft.csv too", r.word("movement"))
			}
			i, begun := of[id]
			if !begun {
				i = len(l.m.PassiveCurves)
				of[id] = i
				l.m.PassiveCurves = append(l.m.PassiveCurves, PassiveCurve{Movement: id, Source: source})
			}
			c := &l.m.PassiveCurves[i]
			if n := len(c.At); n > 0 && at <= c.At[n-1] {
				r.bad("at_deg", "does not rise from row to row")
				return
			}
			c.At, c.Moment = append(c.At, at), append(c.Moment, moment)
		}
		if !found {
			r.bad("movement", "there is no movement %q", r.word("movement"))
		}
	}
}
