package analysis

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// Span is how much of its full activation one muscle may take in near-best ways
// of holding a posture, beside the best way and the least of any way.
type Span struct {
	Muscle body.MuscleID
	Bounds
}

// work finds which groups and muscles hold the posture, how firmly each can be
// said to, and which cannot be told apart. It fills the muscles' bounds and
// returns the groups with how telling each is. In a posture that is its own
// mirror image the right side is worked out and the left copied.
func (a *Analyser) work(f *Findings, p *pose.Pose, e *effort, trials []trial) []ranked {
	both := a.symmetric(f)
	for i := range f.Muscles {
		f.Muscles[i].Best = e.best.X[i]
	}
	for i := range f.Muscles {
		if id := body.MuscleID(i); !both || a.Model.Muscles[i].Side == body.Right {
			a.muscleWork(f, e, id, trials)
		}
	}
	if both {
		for i := range f.Muscles {
			if mu := &a.Model.Muscles[i]; mu.Side == body.Left {
				right := &f.Muscles[mu.Mirror]
				f.Muscles[i].Bounds, f.Muscles[i].Role, f.Muscles[i].Grade = right.Bounds, right.Role, right.Grade
			}
		}
	}
	var all []ranked
	found := map[body.MovementID]map[bool]GroupFinding{}
	for _, g := range a.groups {
		use := g.use(a, p)
		part := used(use, e.best.X)
		if part < groupActive || part < leastActive && !a.prevails(g, p, e) {
			continue
		}
		var gf GroupFinding
		if right, ok := a.mirrored(g, found, both); ok {
			gf = right
		} else {
			around := a.around(g)
			b := e.bounds(a.alike(use, both), a.bothSides(around, both), true)
			grade, ok := b.grade(groupUsed)
			if grade, ok = grade.tried(trials, groupActive, func(t trial) float64 { return t.share(g) }); !ok {
				continue
			}
			gf = GroupFinding{Movement: g.movement, Toward: g.toward, Role: Working, Grade: grade, Bounds: b, Effort: part,
				Moment: part * g.capacity(a, p), Muscles: a.workers(use, e, part)}
			gf.Reasons = a.workReasons(g, p, gf, e.b.cues)
			if grade == Must || grade == Likely {
				gf.Split = a.split(f, e, use, around)
			}
			if found[g.movement] == nil {
				found[g.movement] = map[bool]GroupFinding{}
			}
			found[g.movement][g.toward] = gf
		}
		all = append(all, ranked{gf, math.Min(1, part) * size(gf.Moment, tellingMoment) * firmness[gf.Grade]})
	}
	a.serves(f, all)
	return all
}

// prevails reports whether a group does at least twice the moment of its
// opposers: what little it does is then asked of it, and is not the by-work of
// muscles that work for something else.
func (a *Analyser) prevails(g group, p *pose.Pose, e *effort) bool {
	does := func(g group) float64 { return used(g.use(a, p), e.best.X) * g.capacity(a, p) }
	for _, o := range a.groups {
		if o.movement == g.movement && o.toward != g.toward {
			return does(g) >= 2*does(o)
		}
	}
	return true
}

// around lists the coordinates that a group's movement is made of; of a ball
// joint all three.
func (a *Analyser) around(g group) []body.CoordID {
	var list []body.CoordID
	for _, s := range a.Model.Movements[g.movement].Shares {
		j := &a.Model.Joints[a.Model.Coords[s.Coord].Joint]
		if !j.Ball {
			list = append(list, s.Coord)
			continue
		}
		for c := j.First; c < j.First+j.Count; c++ {
			list = append(list, c)
		}
	}
	return list
}

// symmetric reports whether a posture is its own mirror image.
func (a *Analyser) symmetric(f *Findings) bool {
	m := a.Model
	for c := range m.Coords {
		co := &m.Coords[c]
		switch {
		case co.Side == body.Right:
			if other, ok := m.Coord(body.Bare(co.Key) + "_l"); ok && math.Abs(f.Coords[c]-f.Coords[other]) > mirrorSlip {
				return false
			}
		case co.Side == body.Middle && !co.Slide && co.Axis.Z == 0 && math.Abs(f.Coords[c]) > mirrorSlip:
			return false
		}
	}
	for _, l := range f.Posture.Loads {
		other := l
		other.Patch = otherSide(l.Patch)
		if l.Direction == "left" || l.Direction == "right" || !slices.Contains(f.Posture.Loads, other) {
			return false
		}
	}
	for _, c := range f.Contacts {
		if !f.rests(otherSide(c.Patch)) {
			return false
		}
	}
	for _, c := range f.Posture.Cues {
		if mv := c.Movement; mv >= 0 && m.Movements[mv].Side != body.Middle {
			other := c
			other.Movement = m.MustMovement(otherSide(m.Movements[mv].Key))
			if !slices.Contains(f.Posture.Cues, other) {
				return false
			}
		}
	}
	return true
}

// mirrorSlip is the difference between sides that is still called none, rad:
// what the search for rest leaves.
const mirrorSlip = 1e-6

// otherSide turns a key's side around; a key without one stays.
func otherSide(key string) string {
	switch {
	case strings.HasSuffix(key, "_r"):
		return body.Bare(key) + "_l"
	case strings.HasSuffix(key, "_l"):
		return body.Bare(key) + "_r"
	}
	return key
}

// mirrored copies the right side's finding for a group of the left, and for a
// bend or turn to one side that of the other.
func (a *Analyser) mirrored(g group, found map[body.MovementID]map[bool]GroupFinding, both bool) (GroupFinding, bool) {
	mv := &a.Model.Movements[g.movement]
	var right GroupFinding
	ok := false
	switch {
	case !both:
	case mv.Lateral:
		right, ok = found[g.movement][!g.toward]
	case mv.Side == body.Left:
		right, ok = found[a.Model.MustMovement(otherSide(mv.Key))][g.toward]
	}
	if !ok {
		return GroupFinding{}, false
	}
	gf := right
	gf.Movement, gf.Toward = g.movement, g.toward
	gf.Muscles = make([]body.MuscleID, len(right.Muscles))
	for i, id := range right.Muscles {
		gf.Muscles[i] = a.Model.Muscles[id].Mirror
	}
	gf.Split = slices.Clone(right.Split)
	for i := range gf.Split {
		gf.Split[i].Muscle = a.Model.Muscles[gf.Split[i].Muscle].Mirror
	}
	gf.Reasons = slices.Clone(right.Reasons)
	for i := range gf.Reasons {
		if gf.Reasons[i].Movement == right.Movement {
			gf.Reasons[i].Movement = g.movement
		}
	}
	return gf, true
}

// workers lists the members that the best way uses, the most useful first.
func (a *Analyser) workers(use []share, e *effort, part float64) []body.MuscleID {
	list := slices.Clone(use)
	slices.SortStableFunc(list, func(x, y share) int {
		return more(x.part*e.best.X[x.muscle], y.part*e.best.X[y.muscle])
	})
	ids := []body.MuscleID{}
	for _, u := range list {
		if u.part*e.best.X[u.muscle] >= leastActive*part {
			ids = append(ids, u.muscle)
		}
	}
	return ids
}

// firmness weighs findings by grade when they are ranked.
var firmness = map[Grade]float64{Must: 1, Likely: 0.8, May: 0.4, NotTold: 0.2}

// muscleWork grades one muscle that the best way uses.
func (a *Analyser) muscleWork(f *Findings, e *effort, id body.MuscleID, trials []trial) {
	mf := &f.Muscles[id]
	if mf.Best < leastActive {
		return
	}
	coords, _ := e.b.p.Arms(id)
	mf.Bounds = e.bounds([]share{{id, 1}}, coords, false)
	grade, ok := mf.Bounds.grade(leastActive)
	if grade, ok = grade.tried(trials, leastActive, func(t trial) float64 { return t.x[id] }); !ok {
		return
	}
	mf.Role, mf.Grade = Working, grade
}

// split gives the spans of those members of a group that do most of its work in
// the best way, when none of them has to: what the position leaves open between
// them.
func (a *Analyser) split(f *Findings, e *effort, use []share, around []body.CoordID) []Span {
	members := slices.Clone(use)
	does := func(u share) float64 { return u.part * f.Muscles[u.muscle].Best }
	slices.SortStableFunc(members, func(x, y share) int { return cmp.Or(more(does(x), does(y)), more(x.part, y.part)) })
	if len(members) < 2 {
		return nil
	}
	members = members[:min(len(members), splitMembers)]
	// No near-best way leads farther from the best one than its cost allows.
	reach, able := e.reach(around), 0
	for _, u := range members {
		if mf := &f.Muscles[u.muscle]; mf.Least < leastActive && mf.Best+reach >= leastActive {
			able++
		}
	}
	if able < 2 {
		return nil
	}
	var spans []Span
	open := 0
	for _, u := range members {
		mf := &f.Muscles[u.muscle]
		if mf.Hi <= mf.Best { // not asked yet
			mf.Hi = e.most([]share{{u.muscle, 1}}, around)
		}
		spans = append(spans, Span{u.muscle, mf.Bounds})
		if mf.Least < leastActive && mf.Hi >= leastActive {
			open++
		}
	}
	if open < 2 {
		return nil
	}
	return spans
}

// splitMembers is how many members of a group are held against each other.
const splitMembers = 3

// serves names, for every working muscle, the group that it works in most.
func (a *Analyser) serves(f *Findings, groups []ranked) {
	for _, g := range groups {
		for _, id := range g.Muscles {
			if mf := &f.Muscles[id]; mf.Role == Working && mf.For < 0 {
				mf.For, mf.Toward = g.Movement, g.Toward
			}
		}
	}
}

// workReasons gives the links from load to claim.
func (a *Analyser) workReasons(g group, p *pose.Pose, gf GroupFinding, cues []cueRow) []Reason {
	rs := []Reason{{Kind: "load", Movement: g.movement, Value: gf.Moment}}
	for _, c := range cues {
		if c.group.movement == g.movement && c.group.toward == g.toward && c.patches == nil {
			rs = append(rs, Reason{Kind: "cue", Movement: g.movement, Value: c.cue.Intensity})
		}
	}
	if len(gf.Muscles) > 0 {
		id := gf.Muscles[0]
		rs = append(rs, Reason{Kind: "arm", Movement: g.movement, Value: p.MovementArm(id, g.movement), Source: a.Model.Muscles[id].PathSource})
	}
	return append(rs, Reason{Kind: "bound", Movement: -1, Value: gf.Least, Length: gf.Lo}, Reason{Kind: "model", Movement: -1})
}
