package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// Where a muscle counts as long or short. The span's ends are places that the
// published ranges allow, not limits of the muscle; a muscle that hardly
// changes its length over its whole span is never called either.
const (
	longPlace  = 0.70 // of the span
	shortPlace = 0.30
	// leastChange is the change from the anatomical position, in optimal fibre
	// lengths, below which no muscle is called long or short.
	leastChange = 0.08
	// longFibre is the fibre length, in optimal lengths, at which a lengthened
	// muscle is called long wherever it stands in its span: passive tension is
	// felt from about here.
	longFibre = 1.25
)

// muscles fills in the length findings of every muscle.
func (a *Analyser) muscles(f *Findings, p *pose.Pose) {
	m := a.Model
	f.Muscles = make([]MuscleFinding, len(m.Muscles))
	for i := range m.Muscles {
		id := body.MuscleID(i)
		length := p.Length(id)
		mf := MuscleFinding{
			Muscle: id, Length: length, Place: a.place(id, length), Fibre: a.fibre(id, length),
			FromAnatomical: length - a.anatomical[id], State: Mid, Role: Quiet, Grade: Geometry,
			For: -1, Parts: []PartIn{}, Wrap: p.Outcome(id),
		}
		change := mf.FromAnatomical / m.Muscles[i].Fibre
		switch {
		case change >= leastChange && (mf.Place >= longPlace || mf.Fibre >= longFibre):
			mf.State, mf.Role = Long, DrawnLong
		case change <= -leastChange && mf.Place <= shortPlace:
			mf.State, mf.Role = Short, Slack
		}
		f.Muscles[i] = mf
	}
	a.contributions(f, p)
	for i := range f.Muscles {
		mf := &f.Muscles[i]
		mf.Reasons = append(mf.Reasons,
			Reason{Kind: "length", Movement: -1, Value: mf.FromAnatomical, Source: m.Muscles[i].PathSource},
			Reason{Kind: "source", Movement: -1, Value: mf.Fibre, Source: m.Muscles[i].Source})
	}
}

// contributions finds, for every muscle that is long or short, which joints made
// it so: what its length would change by if one joint alone went back to the
// anatomical position.
func (a *Analyser) contributions(f *Findings, p *pose.Pose) {
	m := a.Model
	q := slices.Clone(f.Coords)
	for j := range m.Joints {
		jt := &m.Joints[j]
		if jt.Parent == body.Ground || !displaced(f.Coords[jt.First:jt.First+jt.Count]) {
			continue
		}
		clear(q[jt.First : jt.First+jt.Count])
		p.Set(q)
		for i := range f.Muscles {
			mf := &f.Muscles[i]
			if mf.State == Mid || !crosses(p, mf.Muscle, jt) {
				continue
			}
			p.MeasureOne(mf.Muscle)
			share := mf.Length - p.Length(mf.Muscle)
			if math.Abs(share) < leastContribution {
				continue
			}
			if mv, value, ok := a.telling(f, jt); ok {
				mf.Reasons = append(mf.Reasons, Reason{Kind: "position", Movement: mv, Value: value, Length: share})
			}
		}
		copy(q[jt.First:jt.First+jt.Count], f.Coords[jt.First:jt.First+jt.Count])
	}
	p.Set(f.Coords)
	p.Measure()
	for i := range f.Muscles {
		rs := f.Muscles[i].Reasons
		slices.SortStableFunc(rs, func(x, y Reason) int { return more(math.Abs(x.Length), math.Abs(y.Length)) })
	}
}

// leastContribution is the share of a length that is worth naming, m.
const leastContribution = 0.002

func displaced(q []float64) bool {
	for _, v := range q {
		if math.Abs(v) > 1e-3 {
			return true
		}
	}
	return false
}

func crosses(p *pose.Pose, id body.MuscleID, j *body.Joint) bool {
	coords, _ := p.Arms(id)
	for _, c := range coords {
		if c >= j.First && c < j.First+j.Count {
			return true
		}
	}
	return false
}

// telling names the movement that says most about where a joint is: the one
// farthest from the anatomical position among those that it is part of.
func (a *Analyser) telling(f *Findings, j *body.Joint) (body.MovementID, float64, bool) {
	best, value := body.MovementID(-1), 0.0
	for _, jv := range f.Joints {
		for _, s := range a.Model.Movements[jv.Movement].Shares {
			if s.Coord >= j.First && s.Coord < j.First+j.Count && math.Abs(jv.Value) > math.Abs(value) {
				best, value = jv.Movement, jv.Value
			}
		}
	}
	return best, value, best >= 0
}
