package exports

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
)

// mostExtreme is how many muscles a table of the longest or shortest holds.
const mostExtreme = 6

// extremes writes the muscles that are nearest to the ends of their spans.
func (p *page) extremes(m *body.Model, f *analysis.Findings, v Voice) {
	for _, end := range []struct {
		state analysis.LengthState
		title string
		sign  float64
	}{
		{analysis.Long, "Longest", -1},
		{analysis.Short, "Shortest", 1},
	} {
		var found []*analysis.MuscleFinding
		for i := range f.Muscles {
			if mf := &f.Muscles[i]; mf.State == end.state && !math.IsNaN(mf.Place) {
				found = append(found, mf)
			}
		}
		if len(found) == 0 {
			continue
		}
		slices.SortStableFunc(found, func(a, b *analysis.MuscleFinding) int {
			return cmp.Compare(end.sign*a.Place, end.sign*b.Place)
		})
		rows := [][]string{{end.title, " of its span", " fibre", " from anatomical"}}
		for _, mf := range found[:min(mostExtreme, len(found))] {
			rows = append(rows, []string{
				muscleName(&m.Muscles[mf.Muscle], v), percent(mf.Place),
				fmt.Sprintf("%.2f", mf.Fibre), fmt.Sprintf("%+.0f mm", mf.FromAnatomical*1000),
			})
		}
		p.blank()
		p.table(2, rows)
	}
}

// muscleName is a muscle's name with its side, in the voice asked for.
func muscleName(mu *body.Muscle, v Voice) string {
	if v == Plain && mu.Plain != "" {
		return mu.Plain
	}
	return mu.Name
}
