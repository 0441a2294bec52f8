package exports

import (
	"cmp"
	"fmt"
	"slices"

	"tautline/analysis"
)

// worthSaying is the least change of a muscle, as a share of its optimal fibre
// length, that notes and screens mention. Smaller ones are in the JSON.
const worthSaying = 0.05

// changes says which muscles are longer and which are shorter than in
// the posture before: at most three names a sentence, the greatest change for
// the muscle's own size first.
func (sp *speaker) changes(f *analysis.Findings) []Statement {
	statements := []Statement{}
	if f == nil {
		return statements
	}
	for _, longer := range []bool{true, false} {
		kind, words := Shortens, "shorter than in the phase before"
		if longer {
			kind, words = Lengthens, "longer than in the phase before"
		}
		names, largest := sp.changed(f, longer)
		if len(names) == 0 {
			continue
		}
		s := subject{nouns: names, plural: len(names) > 1 || plural(names[0])}
		st := Statement{Kind: kind, Grade: analysis.Geometry, Text: sentence(s.the() + " " + s.pick("is", "are") + " " + words)}
		if sp.voice == Technical {
			st.Figures = fmt.Sprintf("the first by %.0f mm", largest*1000)
		}
		statements = append(statements, st)
	}
	return statements
}

// changed names up to three muscles that changed most in one direction, with
// their sides, and the greatest change of the first in m.
func (sp *speaker) changed(f *analysis.Findings, longer bool) ([]string, float64) {
	type change struct {
		noun  string
		side  side
		share float64 // of optimal fibre length
		by    float64 // m
	}
	var all []change
	var found []*analysis.MuscleFinding
	held := map[sided]float64{}
	for i := range f.Muscles {
		mf := &f.Muscles[i]
		mu := &sp.model.Muscles[mf.Muscle]
		share := abs(mf.FromPrevious) / mu.Fibre
		if mf.FromPrevious > 0 == longer && share >= worthSaying && finite(share) {
			found = append(found, mf)
			held[sp.at(mf.Muscle)] += mu.PCSA
		}
	}
	for _, mf := range found {
		mu := &sp.model.Muscles[mf.Muscle]
		by := mf.FromPrevious
		share := abs(by) / mu.Fibre
		noun := sp.noun(mf.Muscle, held)
		if sp.voice == Technical {
			noun = sp.trade(mu)
		}
		s := side(mu.Side.String())
		i := slices.IndexFunc(all, func(c change) bool { return c.noun == noun })
		switch {
		case i < 0:
			all = append(all, change{noun, s, share, abs(by)})
		default:
			if all[i].side != s {
				all[i].side = together(all[i].side, s)
			}
			if share > all[i].share {
				all[i].share, all[i].by = share, abs(by)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b change) int { return cmp.Compare(b.share, a.share) })
	if len(all) == 0 {
		return nil, 0
	}
	names := []string{}
	for _, c := range all[:min(named, len(all))] {
		names = append(names, c.noun+c.side.phrase())
	}
	return names, all[0].by
}
