package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// Analyse says what one posture means. before is the analysis of the posture
// before it, or nil. The result is finished: nothing changes it afterwards.
//
// A posture that says nothing about what it rests on is taken as standing, and
// that is said in a doubt.
func (a *Analyser) Analyse(posture body.Posture, before *Findings) *Findings {
	f := a.analyse(posture, false)
	if before != nil {
		return a.After(f, before)
	}
	return f
}

// After returns findings as they stand after another posture: the change of
// every muscle's length is filled in, with what follows from it; the rest is
// shared.
func (a *Analyser) After(f, before *Findings) *Findings {
	g := *f
	g.Muscles = slices.Clone(f.Muscles)
	for i := range g.Muscles {
		g.Muscles[i].FromPrevious = g.Muscles[i].Length - before.Muscles[i].Length
	}
	if g.Effort.Held {
		a.stabilisers(&g, func(mf *MuscleFinding) float64 { return mf.FromPrevious })
	}
	return &g
}

func (a *Analyser) analyse(posture body.Posture, glance bool) *Findings {
	m := a.Model
	f := &Findings{Posture: posture, Doubts: []Doubt{}, Cautions: []Caution{}, Contacts: []Contact{}}
	if posture.Stance == "" && len(posture.Supports) == 0 {
		posture.Stance = "standing"
		f.Doubts = append(f.Doubts, Doubt{Kind: "support", Text: "Nothing is said about what the body rests on; standing is assumed.",
			Mend: "Begin with a stance, such as: standing."})
	}
	r := m.Resolve(posture)
	stated := map[body.CoordID]bool{}
	for id, mv := range m.Movements {
		if r.Stated[id] {
			for _, s := range mv.Shares {
				stated[s.Coord] = true
			}
		}
	}
	p := a.pose()
	defer a.poses.Put(p)
	free := func(c body.CoordID) bool { return !stated[c] }
	a.foldArms(f, &r)
	start := slices.Clone(r.Coords)
	placed, supports := a.settle(f, p, r, posture, free)
	placed = a.hang(f, p, &r, start, placed, supports, free)
	p.Measure()
	f.Coords = slices.Clone(p.Coords)
	f.Frames = slices.Clone(p.Frames)
	f.CentreOfMass = p.CentreOfMass()
	for _, c := range placed.Contacts {
		f.Contacts = append(f.Contacts, Contact{Patch: c.Patch.Key, On: c.On, At: c.At, Gap: c.Gap})
	}
	f.Joints = a.joints(r, f.Coords, placed.Adjusted)

	forces, complete := a.outside(p, supports, posture.Loads)
	a.muscles(f, p)
	e := newEffort(a, p, f, supports, posture)
	e.glance = glance
	f.Effort = e.out
	a.groupFindings(f, p, e, supports, asked(p, forces), free)
	a.roles(f, p, e)
	manner(f)
	f.Pulls = a.pulls(f, p, e)
	a.doubts(f, placed, complete)
	a.effortDoubts(f)
	a.cautions(f)
	return f
}

// settle rests the body on its supports. A foot or knee that a stance would rest
// on, but that what was stated lifts clear of the floor, carries nothing: it is
// left out, and that is said. Supports that were stated are never left out.
func (a *Analyser) settle(f *Findings, p *pose.Pose, r body.Resolved, posture body.Posture, free func(body.CoordID) bool) (pose.Placement, []body.Support) {
	start := slices.Clone(r.Coords)
	try := func(supports []body.Support) pose.Placement {
		copy(r.Coords, start)
		return p.Place(r.Coords, supports, free)
	}
	placed := try(r.Supports)
	if a.misfit(p, placed) <= liftedFrom {
		return placed, r.Supports
	}
	var kept []body.Support
	lifted, best := "", a.misfit(p, placed)/2 // leaving out must mend more than half
	one, other, both := []body.Side{body.Right}, []body.Side{body.Left}, []body.Side{body.Right, body.Left}
	for _, l := range []struct {
		said   string
		seated string // when the thigh still lies on the seat
		root   string // the segment that the limb begins with
		sides  []body.Side
	}{
		{"The right leg is lifted off the floor in this posture and carries nothing.", "The right foot is lifted off the floor in this posture; the thigh rests on the seat.", "thigh", one},
		{"The left leg is lifted off the floor in this posture and carries nothing.", "The left foot is lifted off the floor in this posture; the thigh rests on the seat.", "thigh", other},
		{"Both legs are lifted off the floor in this posture and carry nothing.", "Both feet are lifted off the floor in this posture; the thighs rest on the seat.", "thigh", both},
		{"The right arm is away from the floor in this posture and carries nothing.", "", "humerus", one},
		{"The left arm is away from the floor in this posture and carries nothing.", "", "humerus", other},
		{"Both arms are away from the floor in this posture and carry nothing.", "", "humerus", both},
	} {
		if len(l.sides) == 2 && kept != nil {
			break // one leg or arm explains it
		}
		rest := slices.DeleteFunc(slices.Clone(r.Supports), func(s body.Support) bool {
			patch, ok := a.Model.Patch(s.Patch)
			return ok && s.On == body.Floor && a.within(patch.Segment, l.root) && slices.Contains(l.sides, patch.Side) && !slices.Contains(posture.Supports, s)
		})
		if len(rest) == 0 || len(rest) == len(r.Supports) {
			continue
		}
		if l.root != "thigh" && !a.lies(rest) {
			continue // the body leans on its hands
		}
		pl := try(rest)
		if a.misfit(p, pl) >= best || !hangs(p, a.Model, r.Supports, rest) {
			continue // no better, or through the floor
		}
		kept, lifted, best = rest, l.said, a.misfit(p, pl)
		if l.root != "thigh" {
			continue
		}
		if seated := a.thighs(rest, l.sides); len(seated) > len(rest) && a.misfit(p, try(seated)) <= liftedFrom {
			kept, lifted = seated, l.seated
		}
	}
	if lifted == "" {
		return try(r.Supports), r.Supports
	}
	f.Doubts = append(f.Doubts, Doubt{Kind: "support", Text: lifted,
		Mend: "Name what it rests on, if it rests on something."})
	return try(kept), kept
}

// thighs adds the backs of the thighs of those who sit to their supports, on some
// sides.
func (a *Analyser) thighs(supports []body.Support, sides []body.Side) []body.Support {
	all := slices.Clone(supports)
	for _, side := range sides {
		thigh := body.Support{Patch: "back_of_thigh" + side.Suffix(), On: body.Seat}
		if slices.Contains(supports, body.Support{Patch: "sit_bone" + side.Suffix(), On: body.Seat}) && !slices.Contains(supports, thigh) {
			all = append(all, thigh)
		}
	}
	return all
}

// lies reports whether the trunk or the head rests on something.
func (a *Analyser) lies(supports []body.Support) bool {
	return slices.ContainsFunc(supports, func(s body.Support) bool {
		patch, ok := a.Model.Patch(s.Patch)
		return ok && patch.Side == body.Middle
	})
}

// within reports whether a segment is the one named or farther out.
func (a *Analyser) within(s body.SegmentID, root string) bool {
	for ; s != body.Ground; s = a.Model.Segments[s].Parent {
		if body.Bare(a.Model.Segments[s].Key) == root {
			return true
		}
	}
	return false
}

// misfit is how badly a body rests, m: the largest gap, or how far a joint had
// to leave its published range to close it, at a leg's length.
func (a *Analyser) misfit(p *pose.Pose, pl pose.Placement) float64 {
	most := 0.0
	for _, c := range pl.Contacts {
		most = math.Max(most, math.Abs(c.Gap))
	}
	for _, mv := range a.Model.Movements {
		if len(mv.Shares) == 1 && slices.Contains(pl.Adjusted, mv.Shares[0].Coord) {
			v := p.Coords[mv.Shares[0].Coord] / mv.Shares[0].Factor
			most = math.Max(most, (math.Max(v-mv.Hi, mv.Lo-v))*a.Model.Person.Stature/2)
		}
	}
	return most
}

// hangs reports whether the patches that were left out hang above the floor.
func hangs(p *pose.Pose, m *body.Model, all, kept []body.Support) bool {
	for _, s := range all {
		if patch, ok := m.Patch(s.Patch); ok && !slices.Contains(kept, s) && middle(p, patch).Y < 0 {
			return false
		}
	}
	return true
}

// liftedFrom is the misfit from which a foot is taken to be lifted rather than
// misjudged, m: twice what a gap is reported from.
const liftedFrom = 2 * leastGap

// joints lists the movements that are away from the anatomical position or were
// stated, with what the supports moved read back.
func (a *Analyser) joints(r body.Resolved, coords []float64, adjusted []body.CoordID) []JointValue {
	list := []JointValue{}
	for id := range a.Model.Movements {
		mv := &a.Model.Movements[id]
		value := r.Movements[id]
		if len(mv.Shares) == 1 && !mv.Girdle && slices.Contains(adjusted, mv.Shares[0].Coord) {
			value = coords[mv.Shares[0].Coord] / mv.Shares[0].Factor
		}
		if math.Abs(value) < geom.Deg(0.5) && !r.Stated[id] {
			continue
		}
		past := math.Max(0, math.Max(value-mv.Hi, mv.Lo-value))
		list = append(list, JointValue{body.MovementID(id), value, r.Stated[id], past})
	}
	return list
}

// value gives a movement's value in the posture, rad; 0 where it is not listed.
func (f *Findings) value(id body.MovementID) float64 {
	for _, j := range f.Joints {
		if j.Movement == id {
			return j.Value
		}
	}
	return 0
}

// key tells groups apart.
func (g GroupFinding) key() [2]int {
	if g.Toward {
		return [2]int{int(g.Movement), 1}
	}
	return [2]int{int(g.Movement), 0}
}

// ranked is a group finding with how telling it is, for the order.
type ranked struct {
	GroupFinding
	score float64
}

// groupFindings fills in what is said of groups, the most telling first, and
// gives working muscles their role. Where no equilibrium was found, what gravity
// asks of a joint is all that is known of work, and no claim is firmer than May.
func (a *Analyser) groupFindings(f *Findings, p *pose.Pose, e *effort, supports []body.Support, need []float64, free func(body.CoordID) bool) {
	var all []ranked
	if e.out.Held {
		var list []trial
		if !e.glance {
			list = a.tryAround(f, free, supports, f.Posture, e.b.cues, &e.best)
		}
		all = a.work(f, p, e, list)
		a.release(list)
	}
	working := map[[2]int]bool{}
	for _, r := range all {
		working[r.key()] = true
	}
	for _, g := range a.groups {
		// What gravity asks of a group may be done by it, even where the best
		// way leaves it to ligaments, passive tension or others.
		gf, score, ok := a.workingGroup(g, f, p, need)
		if !ok && !e.out.Held {
			gf, score, ok = a.cuedGroup(g, f)
		}
		if ok && !working[gf.key()] {
			if e.out.Held {
				score *= firmness[May]
			}
			all = append(all, ranked{gf, score})
			if !e.out.Held {
				for _, id := range gf.Muscles {
					if mf := &f.Muscles[id]; mf.Role != Working {
						mf.Role, mf.Grade, mf.For, mf.Toward = Working, May, g.movement, g.toward
					}
				}
			}
		}
		if gf, score, ok := a.longGroup(g, f); ok {
			all = append(all, ranked{gf, score})
		}
	}
	slices.SortStableFunc(all, func(x, y ranked) int { return more(x.score, y.score) })
	f.Groups = make([]GroupFinding, len(all))
	for i, r := range all {
		f.Groups[i] = r.GroupFinding
	}
}
