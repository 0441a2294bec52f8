package exports

import (
	"cmp"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/timeline"
)

// scoreRow is one part of the body over the whole study.
type scoreRow struct {
	Region string // of the body, as the model names it
	Name   string
	Side   side
	Does   []scoreDoing // by phase
	rank   float64      // how much it does, to choose by
	order  int          // among the rows of its region
}

// scoreDoing is what a part of the body does in one posture.
type scoreDoing struct {
	Works  bool
	Firm   bool    // some of it in every near-best way
	Effort float64 // 0 to 1, of its muscles' full activation, by cross-section
	Long   bool    // at least half of it, by cross-section
	Slack  bool
	Place  float64 // in its span, by cross-section
}

// scoreRegions is the order of the rows: from the head down to the feet.
var scoreRegions = []string{"neck", "shoulder girdle", "shoulder", "arm", "forearm", "hand", "trunk", "hip", "thigh", "leg", "foot"}

// mostRows is how many rows a score has at most; what does most is kept.
const mostRows = 40

// scoreRows says what each part of the body does in each phase. Sides that do
// the same all through share a row. Parts that do nothing have none; the number
// left out for want of room is the second result.
func (sp *speaker) scoreRows(r *timeline.Report) ([]scoreRow, int) {
	type part struct {
		name    string
		region  string
		muscles [2][]body.MuscleID // right, left
	}
	var parts []part
	for i := range sp.model.Muscles {
		mu := &sp.model.Muscles[i]
		name := sp.partName(body.MuscleID(i))
		k := slices.IndexFunc(parts, func(p part) bool { return p.name == name })
		if k < 0 {
			k = len(parts)
			parts = append(parts, part{name: name, region: mu.Region})
		}
		which := 0
		if mu.Side == body.Left {
			which = 1
		}
		parts[k].muscles[which] = append(parts[k].muscles[which], body.MuscleID(i))
	}
	known := map[*analysis.Findings][]scoreDoing{}
	of := func(f *analysis.Findings, p, which int) scoreDoing {
		if f == nil {
			return scoreDoing{}
		}
		all, ok := known[f]
		if !ok {
			for i := range parts {
				all = append(all, sp.doing(f, parts[i].muscles[0]), sp.doing(f, parts[i].muscles[1]))
			}
			known[f] = all
		}
		return all[2*p+which]
	}
	var rows []scoreRow
	for i, p := range parts {
		right := scoreRow{Region: p.region, Name: p.name, Side: onRight}
		left := scoreRow{Region: p.region, Name: p.name, Side: onLeft}
		same := true
		for k := range r.Phases {
			a, b := of(r.Phases[k].Findings, i, 0), of(r.Phases[k].Findings, i, 1)
			right.add(a)
			left.add(b)
			same = same && alike(a, b)
		}
		if same {
			right.Side = nowhere
			left.rank = 0
		}
		for _, row := range []scoreRow{right, left} {
			row.order = i
			if row.rank > 0 {
				rows = append(rows, row)
			}
		}
	}
	out := len(rows) - mostRows
	if out > 0 {
		slices.SortStableFunc(rows, func(a, b scoreRow) int { return cmp.Compare(b.rank, a.rank) })
		rows = rows[:mostRows]
	}
	slices.SortStableFunc(rows, func(a, b scoreRow) int {
		return cmp.Or(cmp.Compare(slices.Index(scoreRegions, a.Region), slices.Index(scoreRegions, b.Region)), cmp.Compare(a.order, b.order), cmp.Compare(b.Side, a.Side))
	})
	return rows, max(0, out)
}

// partName is the part of the body that a muscle goes with in a score.
func (sp *speaker) partName(id body.MuscleID) string {
	if sp.voice == Technical {
		return MuscleNoun(sp.model, id, Technical)
	}
	if at := sp.region[id]; at >= 0 {
		return regions[at].noun
	}
	return sp.single[id]
}

func (row *scoreRow) add(d scoreDoing) {
	row.Does = append(row.Does, d)
	switch {
	case d.Works:
		row.rank += d.Effort
	case d.Long:
		row.rank += 0.1
	}
}

// leastSaid is the effort below which the score shows no work.
const leastSaid = 0.02

// alike reports whether two sides look the same in a score.
func alike(a, b scoreDoing) bool {
	return a.Works == b.Works && a.Firm == b.Firm && a.Long == b.Long && a.Slack == b.Slack && abs(a.Effort-b.Effort) < 0.02
}

// doing sums up muscles.
func (sp *speaker) doing(f *analysis.Findings, muscles []body.MuscleID) scoreDoing {
	var d scoreDoing
	whole, long, slack := 0.0, 0.0, 0.0
	for _, id := range muscles {
		mf := findingOf(f, id)
		if mf == nil {
			continue
		}
		w := sp.model.Muscles[id].PCSA
		whole += w
		d.Place += w * mf.Place
		switch mf.Role {
		case analysis.Working:
			d.Effort += w * mf.Best
			d.Works = true
			d.Firm = d.Firm || mf.Grade == analysis.Must || mf.Grade == analysis.Likely
		case analysis.DrawnLong:
			long += w
		case analysis.Slack:
			slack += w
		}
	}
	if whole == 0 {
		return d
	}
	d.Effort, d.Place = d.Effort/whole, d.Place/whole
	d.Works = d.Works && d.Effort >= leastSaid
	d.Long, d.Slack = long >= whole/2, slack >= whole/2
	return d
}
