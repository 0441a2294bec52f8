package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// Part is the part that a muscle plays among the others in holding a posture.
type Part string

const (
	Agonist     Part = "agonist"
	Synergist   Part = "synergist"
	Antagonist  Part = "antagonist"
	Stabiliser  Part = "stabiliser"
	Neutraliser Part = "neutraliser"
)

// PartIn is what a muscle does about one joint.
type PartIn struct {
	Movement body.MovementID // -1 when the vocabulary has no word for it
	Toward   bool            // the way the muscle itself pulls
	Part     Part
	// Share is its part of what all muscles that pull this way give, 0 to 1; 0
	// for an antagonist that does not work.
	Share float64
}

// Manner is how long a working muscle is while it works.
type Manner string

const (
	Shortened  Manner = "shortened"
	Lengthened Manner = "lengthened"
	Holding    Manner = "holding"
)

// roles gives every muscle its part, from the best way of holding the posture.
//
// With m_ij the moment of muscle j about coordinate i in the best way, and y_i
// the price of that coordinate (what a little more moment there would cost), the
// least effort has
//
//	a_j = Σ_i y_i r_ij F_j
//
// for every muscle between rest and its full strength: each term is what the
// muscle works for, and they are what decides. With P_i the sum of the moments
// about i that pull the muscle's way and O_i of those that pull the other way:
//
//   - It serves coordinate i when its term there is its largest, or a quarter or
//     more of all that speak for it, and less than half of P_i is undone by O_i.
//     Agonist: m_ij is at least half of the largest such moment; synergist: less.
//   - Neutraliser at i: the same term, but half or more of P_i is undone: it cancels
//     what others do there besides, and without it that joint would be left out
//     of balance.
//   - Antagonist at i: r_ij pulls against the net moment of the muscles, which is
//     at least a twentieth of what they could give that way. A muscle at rest
//     must have a twentieth of what its side could do; a working one must undo a
//     twentieth of the net.
//   - Stabiliser: it serves, and its length is the one it had in the posture before
//     (or in the anatomical position, when there is none) within leastTravel
//     fibre lengths: it holds a part that does not move.
//
// The muscle's Part is that of its largest term; a stabiliser is called that
// whatever it serves. A muscle that works for nothing by these is given none.
func (a *Analyser) roles(f *Findings, p *pose.Pose, e *effort) {
	if !e.out.Held {
		return
	}
	t := newTally(f, p, e)
	for j := range f.Muscles {
		mf := &f.Muscles[j]
		if a.Model.Muscles[j].Passive {
			continue
		}
		if mf.Role == Working && mf.Best >= leastActive {
			mf.Parts = t.working(j)
		} else {
			mf.Parts = t.atRest(j)
		}
	}
	a.stabilisers(f, func(mf *MuscleFinding) float64 { return mf.FromAnatomical })
}

// stabilisers renames the agonists and synergists that hardly change their
// length: the change is from the posture before or, where there is none, from
// the anatomical position.
func (a *Analyser) stabilisers(f *Findings, change func(*MuscleFinding) float64) {
	for j := range f.Muscles {
		mf := &f.Muscles[j]
		if len(mf.Parts) == 0 {
			continue
		}
		mf.Part = mf.Parts[0].Part
		if (mf.Part == Agonist || mf.Part == Synergist) && math.Abs(change(mf)) < leastTravel*a.Model.Muscles[j].Fibre {
			mf.Part = Stabiliser
		}
	}
}

// manner says how long each working muscle is while it works.
func manner(f *Findings) {
	for i := range f.Muscles {
		if mf := &f.Muscles[i]; mf.Role == Working {
			mf.Manner = map[LengthState]Manner{Short: Shortened, Mid: Holding, Long: Lengthened}[mf.State]
		}
	}
}

const (
	// speaksFor is the share of what speaks for a muscle's work from which a
	// joint is named.
	speaksFor = 0.25
	// mainShare is the share of the largest moment from which a muscle is an agonist.
	mainShare = 0.5
	// undone is the share of one side's moments that the other side takes back
	// from which they are there for each other.
	undone = 0.5
	// mostParts is how many joints are named for one muscle.
	mostParts = 3
)

// tally is who gives what about every row of the balance: coordinates, then cues.
type tally struct {
	p     *pose.Pose
	e     *effort
	sides []sides // by row
	named []name  // by row
}

// sides are the moments about one row by the way they pull: [0] up, [1] down.
type sides struct {
	sum, largest, can [2]float64 // N·m: given, by one muscle at most, possible
}

// name is a row in the vocabulary: its movement, and whether raising the row is
// toward the movement's first name.
type name struct {
	movement body.MovementID
	toward   bool
	known    bool // looked for already
}

func side(v float64) int {
	if v < 0 {
		return 1
	}
	return 0
}

func newTally(f *Findings, p *pose.Pose, e *effort) *tally {
	n := len(e.b.prog.B)
	t := &tally{p, e, make([]sides, n), make([]name, n)}
	for j := range f.Muscles {
		rows, values := e.b.prog.A.Column(j)
		for k, i := range rows {
			s, d := &t.sides[i], side(values[k])
			m := math.Abs(values[k]) * e.best.X[j]
			s.sum[d] += m
			s.largest[d] = math.Max(s.largest[d], m)
			if e.b.prog.Hi[j] > 0 {
				s.can[d] += math.Abs(values[k])
			}
		}
	}
	return t
}

// net is the way that the muscles together pull about a row, and whether it is
// enough to speak of.
func (t *tally) net(i int) (d int, moment float64, asks bool) {
	s := &t.sides[i]
	moment = s.sum[0] - s.sum[1]
	d = side(moment)
	return d, math.Abs(moment), math.Abs(moment) >= leastShare*s.can[d] && moment != 0
}

// working lists what a muscle works for, most first, then what it works against.
func (t *tally) working(j int) []PartIn {
	rows, values := t.e.b.prog.A.Column(j)
	type term struct {
		row    int
		value  float64
		speaks float64
	}
	var list []term
	all := 0.0
	for k, i := range rows {
		speaks := t.e.best.Y[i] * values[k]
		all += math.Max(0, speaks)
		list = append(list, term{i, values[k], speaks})
	}
	slices.SortStableFunc(list, func(x, y term) int { return more(x.speaks, y.speaks) })
	parts := []PartIn{}
	for n, l := range list {
		serves := l.speaks > 0 && (n == 0 || l.speaks >= speaksFor*all)
		s, d := &t.sides[l.row], side(l.value)
		m := math.Abs(l.value) * t.e.best.X[j]
		in := PartIn{Share: m / s.sum[d]}
		in.Movement, in.Toward = t.name(l.row, l.value > 0)
		net, moment, asks := t.net(l.row)
		switch {
		case serves && s.sum[1-d] >= undone*s.sum[d]:
			in.Part = Neutraliser
		case serves && m >= mainShare*s.largest[d]:
			in.Part = Agonist
		case serves:
			in.Part = Synergist
		case asks && net != d && m >= leastShare*moment && len(parts) > 0:
			in.Part = Antagonist
		default:
			continue
		}
		if in.Movement >= 0 && slices.ContainsFunc(parts, func(o PartIn) bool { return o.Movement == in.Movement }) {
			continue // said already of the same movement
		}
		if parts = append(parts, in); len(parts) == mostParts {
			break
		}
	}
	return parts
}

// atRest lists the joint at which a muscle most opposes what the others hold.
func (t *tally) atRest(j int) []PartIn {
	rows, values := t.e.b.prog.A.Column(j)
	best, most := -1, 0.0
	for k, i := range rows {
		if i >= len(t.e.b.rows) {
			continue // a cue
		}
		d, moment, asks := t.net(i)
		s := &t.sides[i]
		if own := math.Abs(values[k]); asks && side(values[k]) != d && own >= leastShare*s.can[1-d] {
			if v := own / s.can[1-d] * moment / s.can[d]; v > most {
				best, most = k, v
			}
		}
	}
	if best < 0 {
		return []PartIn{}
	}
	in := PartIn{Part: Antagonist}
	in.Movement, in.Toward = t.name(rows[best], values[best] > 0)
	return []PartIn{in}
}

// name finds the word for pulling a row up or down.
func (t *tally) name(i int, up bool) (body.MovementID, bool) {
	n := &t.named[i]
	if !n.known {
		if rows := t.e.b.rows; i < len(rows) {
			t.nameJoint(t.p.Model.Coords[rows[i]].Joint)
		} else {
			g := t.e.b.cues[i-len(rows)].group
			*n = name{g.movement, g.toward, true}
		}
	}
	return n.movement, n.toward == up
}

// nameJoint finds words for the coordinates of a joint: for each the movement
// whose axis is nearest, the nearest pair first and every movement once while
// they last; movements of one coordinate before those of several.
func (t *tally) nameJoint(j body.JointID) {
	m := t.p.Model
	jt := &m.Joints[j]
	type match struct {
		row      int
		movement body.MovementID
		along    float64
		near     float64
	}
	var list []match
	for c := jt.First; c < jt.First+jt.Count; c++ {
		row := t.e.b.row[c]
		if row < 0 {
			continue
		}
		t.named[row] = name{-1, false, true}
		for k, mv := range m.Movements {
			along := t.p.Along(body.MovementID(k), func(o body.CoordID) float64 {
				if o == c {
					return 1
				}
				return 0
			})
			near := math.Abs(along)
			if len(mv.Shares) > 1 {
				near /= 10
			}
			if near > leastNear {
				list = append(list, match{row, body.MovementID(k), along, near})
			}
		}
	}
	slices.SortStableFunc(list, func(x, y match) int { return more(x.near, y.near) })
	taken := map[body.MovementID]bool{}
	for _, again := range []bool{false, true} {
		for _, o := range list {
			if t.named[o.row].movement < 0 && (again || !taken[o.movement]) {
				t.named[o.row] = name{o.movement, o.along > 0, true}
				taken[o.movement] = true
			}
		}
	}
}

// leastNear is how much of a coordinate's axis must lie along a movement's for
// the movement to lend it its name.
const leastNear = 0.01
