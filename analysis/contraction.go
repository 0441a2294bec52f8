package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
)

// Contraction is what the length of something that works does meanwhile.
type Contraction string

const (
	Concentric Contraction = "concentric" // works while it shortens
	Eccentric  Contraction = "eccentric"  // works while it lengthens
	Isometric  Contraction = "isometric"  // works and hardly changes its length
	Mixed      Contraction = "mixed"      // works while it shortens and while it lengthens
)

const (
	// leastTravel is the change of length, in optimal fibre lengths, under which
	// a working muscle is called isometric: within what its tendon gives.
	leastTravel = 0.02
	// bothWays is the share of the larger travel from which the smaller one
	// counts.
	bothWays = 0.25
)

// during is one course of effort over the way: its peak, its mean over time (by
// trapezes, over stretches with both ends held) and what the length does while
// it works. effort gives the effort at sample k, step the change of length from
// sample k to the next, in optimal fibre lengths. Each step counts by the effort
// over it as a share of the greatest, so that what moves at rest does not count.
func (w *way) during(effort, step func(k int) float64) (peak, mean float64, c Contraction) {
	for k, s := range w.samples {
		if s.active != nil {
			peak = math.Max(peak, effort(k))
		}
	}
	stretches := 0.0
	short, long := 0.0, 0.0
	for k := range len(w.samples) - 1 {
		if w.samples[k].active == nil || w.samples[k+1].active == nil {
			continue
		}
		e := (effort(k) + effort(k+1)) / 2
		mean += e
		stretches++
		if peak > 0 {
			d := step(k) * e / peak
			short, long = short+math.Max(0, -d), long+math.Max(0, d)
		}
	}
	if stretches > 0 {
		mean /= stretches
	}
	if peak < leastActive || stretches == 0 {
		return peak, mean, ""
	}
	less, more := math.Min(short, long), math.Max(short, long)
	switch {
	case more < leastTravel:
		c = Isometric
	case less >= leastTravel && less >= bothWays*more:
		c = Mixed
	case short > long:
		c = Concentric
	default:
		c = Eccentric
	}
	return peak, mean, c
}

// work fills in what works on the way, and how.
func (w *way) work(mv *Movement) {
	m := w.a.Model
	for i := range mv.Muscles {
		f := &mv.Muscles[i]
		f.Peak, f.Mean, f.Contraction = w.during(
			func(k int) float64 { return w.samples[k].active[i] },
			func(k int) float64 { return (w.samples[k+1].length[i] - w.samples[k].length[i]) / m.Muscles[i].Fibre })
	}
	for g, gr := range w.a.groups {
		sum := func(k int) (all float64) {
			for _, v := range w.samples[k].groups[g] {
				all += v
			}
			return all
		}
		gw := GroupWork{Movement: gr.movement, Toward: gr.toward}
		gw.Peak, gw.Mean, gw.Contraction = w.during(sum, func(k int) float64 {
			weight, step := 0.0, 0.0
			for i, id := range gr.members {
				v := w.samples[k].groups[g][i] + w.samples[k+1].groups[g][i]
				weight += v
				step += v * (w.samples[k+1].length[id] - w.samples[k].length[id]) / m.Muscles[id].Fibre
			}
			if weight == 0 {
				return 0
			}
			return step / weight
		})
		if gw.Contraction == "" {
			continue
		}
		gw.Muscles = w.most(g, gr)
		mv.Work = append(mv.Work, gw)
	}
	slices.SortStableFunc(mv.Work, func(x, y GroupWork) int { return more(x.Mean, y.Mean) })
}

// most lists the members that do a group's work on the way, most first.
func (w *way) most(g int, gr group) []body.MuscleID {
	part := map[body.MuscleID]float64{}
	all := 0.0
	for _, s := range w.samples {
		if s.active == nil {
			continue
		}
		for i, id := range gr.members {
			part[id] += s.groups[g][i]
			all += s.groups[g][i]
		}
	}
	ids := []body.MuscleID{}
	for _, id := range gr.members {
		if part[id] >= leastActive*all {
			ids = append(ids, id)
		}
	}
	slices.SortStableFunc(ids, func(x, y body.MuscleID) int { return more(part[x], part[y]) })
	return ids
}
