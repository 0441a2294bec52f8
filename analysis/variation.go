package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
)

// Variation is what changes from one posture to another, and what differs
// between them that it comes from. Slices are never nil; nothing in it that
// stays the same.
type Variation struct {
	From, To *Findings
	// What differs: joints most first, and the statements of one side that the
	// other lacks.
	Joints        []JointChange
	Rested, Left  []Contact         // rests in To only; in From only
	Loads, Unload []body.Load       // in To only; in From only
	Cues, Uncued  []body.Cue        // in To only, or with another intensity; in From only
	Effort        float64           // Σ a² / 2 of the best way, To less From; 0 unless both are held
	Groups        []GroupVariation  // most telling first
	Muscles       []MuscleVariation // most telling first
}

// Turn is the way in which a group's or muscle's work or state changes.
type Turn string

const (
	Begins Turn = "begins" // said of To only
	Ends   Turn = "ends"   // said of From only
	Rises  Turn = "rises"  // works more, or is drawn longer
	Falls  Turn = "falls"  // works less, or is drawn less
	Firmer Turn = "firmer" // as much, but said more firmly
	Weaker Turn = "weaker" // as much, but said less firmly
)

// GroupVariation is what changes for one functional group in one role.
type GroupVariation struct {
	Movement body.MovementID
	Toward   bool
	Role     Role // Working, DrawnLong or Slack
	Turn     Turn
	From, To *GroupFinding // nil where nothing is said
	// By is the change: of the share of the group's strength in the best way for
	// Working, of the place in the span for lengths.
	By     float64
	Moment float64 // change of the moment asked, N·m, for Working
	// Why lists the joint changes that the group's muscles cross, most first;
	// empty when it comes from loads, supports or cues alone.
	Why []JointChange
}

// Muscles are the members that the finding rests on, of whichever side has one.
func (g GroupVariation) Muscles() []body.MuscleID {
	if g.To != nil {
		return g.To.Muscles
	}
	return g.From.Muscles
}

// MuscleVariation is what changes for one muscle.
type MuscleVariation struct {
	Muscle   body.MuscleID
	Length   float64 // change, m
	Place    float64 // change of the place in its span
	Best     float64 // change of the activation in the best way
	From, To *MuscleFinding
	Why      []JointChange // that it crosses, most first
}

const (
	leastEffortChange = 0.02 // of a group's or muscle's full use, for a change to be named
	leastPlaceVaried  = 0.05 // of the span
)

// Compare says what changes from posture a to posture b, muscle by muscle and
// group by group, and which joints, loads, supports and cues differ. Both come
// from this Analyser.
func (an *Analyser) Compare(a, b *Findings) Variation {
	v := Variation{From: a, To: b, Groups: []GroupVariation{}, Muscles: []MuscleVariation{}}
	v.Joints = an.jointChanges(a, b, geomLeast)
	v.Rested, v.Left = only(b.Contacts, a.Contacts, sameContact), only(a.Contacts, b.Contacts, sameContact)
	v.Loads, v.Unload = only(b.Posture.Loads, a.Posture.Loads, same), only(a.Posture.Loads, b.Posture.Loads, same)
	v.Cues = only(b.Posture.Cues, a.Posture.Cues, same)
	v.Uncued = only(a.Posture.Cues, b.Posture.Cues, func(x, y body.Cue) bool {
		x.Intensity, y.Intensity = 0, 0
		return x == y
	})
	if a.Effort.Held && b.Effort.Held {
		v.Effort = b.Effort.Cost - a.Effort.Cost
	}
	crossed := an.crossing(b)
	an.compareGroups(&v, crossed)
	an.compareMuscles(&v, crossed)
	return v
}

// geomLeast is the least difference of a joint that is named, rad: half a degree
// is the grain of what people type.
const geomLeast = 0.5 * math.Pi / 180

func same[T comparable](x, y T) bool { return x == y }

func sameContact(x, y Contact) bool { return x.Patch == y.Patch && x.On == y.On }

// only lists what is in a and not in b.
func only[T any](a, b []T, same func(x, y T) bool) []T {
	list := []T{}
	for _, x := range a {
		if !slices.ContainsFunc(b, func(y T) bool { return same(x, y) }) {
			list = append(list, x)
		}
	}
	return list
}

// jointChanges lists the movements that differ by at least so much, most first.
func (an *Analyser) jointChanges(a, b *Findings, least float64) []JointChange {
	list := []JointChange{}
	for id := range an.Model.Movements {
		v0, v1 := a.value(body.MovementID(id)), b.value(body.MovementID(id))
		if math.Abs(v1-v0) >= least {
			list = append(list, JointChange{Movement: body.MovementID(id), From: v0, To: v1})
		}
	}
	slices.SortStableFunc(list, func(x, y JointChange) int {
		return more(math.Abs(x.To-x.From), math.Abs(y.To-y.From))
	})
	return list
}

// crossing gives, for every muscle, the coordinates it crosses in a posture.
func (an *Analyser) crossing(f *Findings) [][]body.CoordID {
	p := an.pose()
	defer an.poses.Put(p)
	p.Set(f.Coords)
	p.Measure()
	list := make([][]body.CoordID, len(an.Model.Muscles))
	for i := range list {
		coords, _ := p.Arms(body.MuscleID(i))
		list[i] = slices.Clone(coords)
	}
	return list
}

// why keeps the joint changes that some of the muscles cross.
func (an *Analyser) why(v *Variation, crossed [][]body.CoordID, muscles ...body.MuscleID) []JointChange {
	list := []JointChange{}
	for _, j := range v.Joints {
		crosses := slices.ContainsFunc(an.Model.Movements[j.Movement].Shares, func(s body.Share) bool {
			return slices.ContainsFunc(muscles, func(id body.MuscleID) bool { return slices.Contains(crossed[id], s.Coord) })
		})
		if crosses {
			list = append(list, j)
		}
	}
	return list
}

// firm orders grades from the weakest to the firmest.
var firm = map[Grade]int{NotTold: 0, May: 1, Likely: 2, Must: 3, Geometry: 3}

func (an *Analyser) compareGroups(v *Variation, crossed [][]body.CoordID) {
	type key struct {
		movement body.MovementID
		toward   bool
		role     Role
	}
	of := func(f *Findings) map[key]*GroupFinding {
		found := map[key]*GroupFinding{}
		for i := range f.Groups {
			g := &f.Groups[i]
			k := key{g.Movement, g.Toward, g.Role}
			if found[k] == nil {
				found[k] = g
			}
		}
		return found
	}
	from, to := of(v.From), of(v.To)
	var keys []key
	for _, f := range []*Findings{v.To, v.From} {
		for _, g := range f.Groups {
			if k := (key{g.Movement, g.Toward, g.Role}); !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	for _, k := range keys {
		g := GroupVariation{Movement: k.movement, Toward: k.toward, Role: k.role, From: from[k], To: to[k]}
		if g.vary(v.From.Effort.Held && v.To.Effort.Held) {
			g.Why = an.why(v, crossed, g.Muscles()...)
			v.Groups = append(v.Groups, g)
		}
	}
	slices.SortStableFunc(v.Groups, func(x, y GroupVariation) int { return more(x.weight(), y.weight()) })
}

// vary fills in what changes, and reports whether anything does. Where both
// postures are held, work is what the best way uses; else what gravity and loads
// ask is all that is known of it.
func (g *GroupVariation) vary(held bool) bool {
	least := leastPlaceVaried
	amount := func(f *GroupFinding) float64 {
		switch {
		case f == nil:
			return 0
		case g.Role == Working && held:
			return f.Best
		case g.Role == Working:
			return f.Effort
		case g.Role == Slack:
			return -f.Place
		}
		return f.Place
	}
	g.By = amount(g.To) - amount(g.From)
	if g.Role == Working {
		least = leastEffortChange
		g.Moment = moment(g.To) - moment(g.From)
	}
	switch {
	case g.From == nil:
		g.Turn = Begins
	case g.To == nil:
		g.Turn = Ends
	case g.By >= least:
		g.Turn = Rises
	case g.By <= -least:
		g.Turn = Falls
	case firm[g.To.Grade] > firm[g.From.Grade]:
		g.Turn = Firmer
	case firm[g.To.Grade] < firm[g.From.Grade]:
		g.Turn = Weaker
	default:
		return false
	}
	return true
}

func moment(f *GroupFinding) float64 {
	if f == nil {
		return 0
	}
	return f.Moment
}

// weight is how telling a change is: what is firm on either side counts most.
func (g GroupVariation) weight() float64 {
	firmest := 0.0
	for _, f := range []*GroupFinding{g.From, g.To} {
		if f != nil {
			firmest = math.Max(firmest, float64(1+firm[f.Grade])/4)
		}
	}
	w := math.Abs(g.By) * firmest
	if g.Role == Working {
		return w * size(math.Max(moment(g.From), moment(g.To)), tellingMoment)
	}
	if g.Turn == Begins || g.Turn == Ends {
		return w / 4 // a length that passes the mark is less than it sounds
	}
	return w
}

func (an *Analyser) compareMuscles(v *Variation, crossed [][]body.CoordID) {
	for i := range v.To.Muscles {
		a, b := &v.From.Muscles[i], &v.To.Muscles[i]
		d := MuscleVariation{Muscle: b.Muscle, Length: b.Length - a.Length, Place: b.Place - a.Place, Best: b.Best - a.Best, From: a, To: b}
		if a.Role == b.Role && a.Grade == b.Grade && a.State == b.State &&
			math.Abs(d.Place) < leastPlaceVaried && math.Abs(d.Best) < leastEffortChange {
			continue
		}
		d.Why = an.why(v, crossed, b.Muscle)
		v.Muscles = append(v.Muscles, d)
	}
	slices.SortStableFunc(v.Muscles, func(x, y MuscleVariation) int {
		return more(math.Abs(x.Place)+math.Abs(x.Best), math.Abs(y.Place)+math.Abs(y.Best))
	})
}
