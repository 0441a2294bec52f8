package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// group is a functional group: the muscles whose main standard action is one
// movement in one direction. Which muscles those are is in the tables of
// actions; how much each can do in a posture is in its moment arm.
type group struct {
	movement body.MovementID
	toward   bool
	members  []body.MuscleID
	helpers  []body.MuscleID // whose standard action it is too, but not the main one
}

// sign is +1 for the group that moves toward the movement's first name.
func (g group) sign() float64 {
	if g.toward {
		return 1
	}
	return -1
}

// groupsOf collects the groups that have members. A movement of one region that
// is part of a larger one ("lumbar flexion" of "trunk flexion") counts the larger
// one's muscles too: whoever bends the trunk bends the lumbar spine, where its
// moment arm says so.
func groupsOf(m *body.Model) []group {
	var groups []group
	for id := range m.Movements {
		for _, toward := range []bool{true, false} {
			g := group{movement: body.MovementID(id), toward: toward}
			for i, mu := range m.Muscles {
				if mu.Passive {
					continue
				}
				main, helps := false, false
				for _, a := range mu.Actions {
					if a.Toward == toward && (a.Movement == g.movement || partOf(m, g.movement, a.Movement)) {
						main, helps = main || a.Main, true
					}
				}
				if main {
					g.members = append(g.members, body.MuscleID(i))
				} else if helps {
					g.helpers = append(g.helpers, body.MuscleID(i))
				}
			}
			if len(g.members) > 0 {
				groups = append(groups, g)
			}
		}
	}
	return groups
}

// partOf reports whether a movement of one coordinate is a share of a larger
// movement in the same sense.
func partOf(m *body.Model, part, whole body.MovementID) bool {
	p, w := &m.Movements[part], &m.Movements[whole]
	if p.Girdle || len(p.Shares) != 1 || len(w.Shares) < 2 {
		return false
	}
	for _, s := range w.Shares {
		if s.Coord == p.Shares[0].Coord {
			return s.Factor*p.Shares[0].Factor > 0
		}
	}
	return false
}

// capacity is what a group can do at most in this pose, N·m: every muscle whose
// standard action it is, at full activation and optimal length with its present
// arm, those whose arm has turned the other way left out.
func (g group) capacity(a *Analyser, p *pose.Pose) float64 {
	sum := 0.0
	for _, list := range [][]body.MuscleID{g.members, g.helpers} {
		for _, id := range list {
			sum += math.Max(0, g.sign()*p.MovementArm(id, g.movement)) * a.strength(id)
		}
	}
	return sum
}

// share is one member's part in what its group can do.
type share struct {
	muscle body.MuscleID
	part   float64 // of the group's capacity, at full activation
}

// use weighs activations by what each muscle of a group can do here, so that
// their sum is the share of the group's capacity in use: members first.
func (g group) use(a *Analyser, p *pose.Pose) []share {
	capacity := g.capacity(a, p)
	if capacity <= 0 {
		return nil
	}
	var use []share
	for _, list := range [][]body.MuscleID{g.members, g.helpers} {
		for _, id := range list {
			if can := g.sign() * p.MovementArm(id, g.movement) * a.strength(id); can > 0 {
				use = append(use, share{id, can / capacity})
			}
		}
	}
	return use
}

// used is the share of a group's capacity that activations x use.
func used(use []share, x []float64) float64 {
	sum := 0.0
	for _, u := range use {
		sum += u.part * x[u.muscle]
	}
	return sum
}

// strength is a muscle's greatest isometric force along its line, N.
func (a *Analyser) strength(id body.MuscleID) float64 {
	mu := &a.Model.Muscles[id]
	return a.Model.SpecificTension * mu.PCSA * math.Cos(mu.Pennation)
}

// longGroup says whether a group is drawn long in this posture: at least half
// of it, by cross-section, is. The finding rests on those members.
func (a *Analyser) longGroup(g group, f *Findings) (GroupFinding, float64, bool) {
	total, long, place, stretch := 0.0, 0.0, 0.0, 0.0
	var members []body.MuscleID
	for _, id := range g.members {
		mf, w := &f.Muscles[id], a.Model.Muscles[id].PCSA
		total += w
		if mf.State == Long {
			long += w
			place += w * mf.Place
			stretch += w * mf.FromAnatomical / a.Model.Muscles[id].Fibre
			members = append(members, id)
		}
	}
	if long < total/2 || long == 0 {
		return GroupFinding{}, 0, false
	}
	slices.SortStableFunc(members, func(x, y body.MuscleID) int {
		return more(f.Muscles[x].Place, f.Muscles[y].Place)
	})
	gf := GroupFinding{Movement: g.movement, Toward: g.toward, Role: DrawnLong, Grade: Geometry,
		Muscles: members, Place: place / long}
	for _, r := range f.Muscles[members[0]].Reasons {
		if r.Kind == "position" || r.Kind == "length" {
			gf.Reasons = append(gf.Reasons, r)
		}
	}
	// How telling it is: the lengthening in fibre lengths, at most about one,
	// for the share of the group that is long; small groups count for less.
	return gf, math.Min(1, stretch/long) * (place / long) * (0.5 + long/total/2) * size(long, tellingArea), true
}

// workingGroup says whether gravity and loads ask a group for a moment that no
// stop of the joint can give. Whether it is this group's muscles that give it,
// and which of them, is not decided here: the grade is May.
func (a *Analyser) workingGroup(g group, f *Findings, p *pose.Pose, need []float64) (GroupFinding, float64, bool) {
	mv := &a.Model.Movements[g.movement]
	moment := g.sign() * p.Along(g.movement, func(c body.CoordID) float64 { return need[c] })
	capacity := g.capacity(a, p)
	if moment <= 0 || capacity <= 0 || moment < leastShare*capacity {
		return GroupFinding{}, 0, false
	}
	// The group pulls toward its own direction; a joint that stands at the end
	// of its range on the other side hangs on its stop.
	value := f.value(g.movement)
	if g.toward && value <= mv.Lo+atStop || !g.toward && value >= mv.Hi-atStop {
		return GroupFinding{}, 0, false
	}
	gf := GroupFinding{Movement: g.movement, Toward: g.toward, Role: Working, Grade: May, Moment: moment, Effort: moment / capacity, Muscles: []body.MuscleID{}}
	for _, id := range g.members {
		if g.sign()*p.MovementArm(id, g.movement)*a.strength(id) > leastShare*capacity {
			gf.Muscles = append(gf.Muscles, id)
		}
	}
	if len(gf.Muscles) == 0 {
		return GroupFinding{}, 0, false
	}
	slices.SortStableFunc(gf.Muscles, func(x, y body.MuscleID) int {
		can := func(id body.MuscleID) float64 { return g.sign() * p.MovementArm(id, g.movement) * a.strength(id) }
		return more(can(x), can(y))
	})
	gf.Reasons = []Reason{
		{Kind: "load", Movement: g.movement, Value: moment},
		{Kind: "arm", Movement: g.movement, Value: p.MovementArm(gf.Muscles[0], g.movement), Source: a.Model.Muscles[gf.Muscles[0]].PathSource},
		{Kind: "model", Movement: -1},
	}
	return gf, math.Min(1, moment/capacity) * size(moment, tellingMoment), true
}

// size weighs a finding by how large it is, 1 from enough on.
func size(v, enough float64) float64 { return math.Min(1, math.Sqrt(v/enough)) }

// cuedGroup is the group that a cue asks to work: what position alone does not
// show, the teacher says. It pulls against what resists it, a stop or the other
// side, and so is possible whatever gravity asks; it is not more than possible.
func (a *Analyser) cuedGroup(g group, f *Findings) (GroupFinding, float64, bool) {
	for _, c := range f.Posture.Cues {
		asked := c.Kind == body.PullIn && c.Toward == g.toward || c.Kind == body.Brace
		if !asked || c.Movement != g.movement {
			continue
		}
		gf := GroupFinding{Movement: g.movement, Toward: g.toward, Role: Working, Grade: May, Effort: c.Intensity,
			Muscles: slices.Clone(g.members), Reasons: []Reason{{Kind: "cue", Movement: g.movement, Value: c.Intensity}, {Kind: "model", Movement: -1}}}
		slices.SortStableFunc(gf.Muscles, func(x, y body.MuscleID) int { return more(a.strength(x), a.strength(y)) })
		return gf, c.Intensity, true
	}
	return GroupFinding{}, 0, false
}

const (
	// leastShare is the share of a group's capacity below which a moment is
	// called nothing: a twentieth is within what a degree of lean or a
	// centimetre of landmark error makes.
	leastShare = 0.05
	// What counts as a large finding when findings are ranked: a group of ten
	// square centimetres, a moment of ten newton metres.
	tellingArea   = 10e-4
	tellingMoment = 10
	// atStop is how near the end of the published range a joint counts as
	// standing on its stop, rad: two degrees, less than goniometers can tell.
	atStop = 2 * math.Pi / 180
)
