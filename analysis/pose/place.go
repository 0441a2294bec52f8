package pose

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// Contact is one supporting patch as it came to rest.
type Contact struct {
	Patch *body.Patch
	On    string
	At    geom.Vec // middle of the patch, world, m
	Gap   float64  // m from the surface it should rest on: positive in the air, negative below
}

// Placement tells how a posture came to rest on its supports.
type Placement struct {
	Contacts []Contact
	// Adjusted are the coordinates below the pelvis that were moved so that a
	// flat foot stays flat and the body over its support: ankle and subtalar
	// joint of feet whose position nobody stated.
	Adjusted []body.CoordID
	// Outside is the horizontal way from the base of support to the centre of
	// mass, forward and to the right, m; zero when it stands over the base, and
	// when a wall carries part of the weight.
	Outside geom.Vec
}

// Place rests the body on its supports: it sets the root coordinates in q, and
// the ankles and subtalar joints of flat feet that free says may move, so that
// floor contacts lie at height zero, contacts on one seat, bar or wall lie in
// one plane, and the centre of mass is over (or under) the base of support as
// far as the contacts leave that open. A body on its feet alone brings it over
// the middle between heels and balls, where people stand. q is changed in place
// and the Pose is left set to it.
//
// What cannot be met is left as gaps; it is for the caller to report.
func (p *Pose) Place(q []float64, supports []body.Support, free func(body.CoordID) bool) Placement {
	s := &settle{p: p, q: q}
	for _, sup := range supports {
		if patch, ok := p.Model.Patch(sup.Patch); ok {
			s.contacts = append(s.contacts, Contact{Patch: patch, On: sup.On})
		}
	}
	m := p.Model
	root := []string{"pelvis_x", "pelvis_y", "pelvis_z", "pelvis_tilt", "pelvis_list", "pelvis_turn"}
	for _, key := range root {
		q[m.MustCoord(key)] = 0
	}
	if len(s.contacts) == 0 {
		p.Set(q)
		return Placement{}
	}
	s.start()
	s.unknowns = []body.CoordID{m.MustCoord("pelvis_y"), m.MustCoord("pelvis_tilt"), m.MustCoord("pelvis_list")}
	var adjusted []body.CoordID
	for _, side := range []body.Side{body.Right, body.Left} {
		for _, key := range s.follows(side) {
			if c := m.MustCoord(key + side.Suffix()); free(c) {
				adjusted = append(adjusted, c)
			}
		}
	}
	s.unknowns = append(s.unknowns, adjusted...)
	s.solve()
	if s.clamp(adjusted) {
		s.solve() // the rest once more, with what met the end of its range held there
	}
	s.ground()
	outside := s.base().outside(p.CentreOfMass())
	for _, c := range s.contacts {
		if c.On == body.Wall {
			outside = geom.Vec{}
		}
	}
	return Placement{Contacts: s.contacts, Adjusted: adjusted, Outside: outside}
}

// settle is one search for rest.
type settle struct {
	p        *Pose
	q        []float64
	contacts []Contact
	unknowns []body.CoordID
	origin   []float64 // value of each unknown at the start
	points   []geom.Vec
}

// start chooses the whole body's attitude among upright, face up, face down and
// the two sides: the one whose supporting patches look most toward what they
// rest on.
func (s *settle) start() {
	m := s.p.Model
	tilt, list := m.MustCoord("pelvis_tilt"), m.MustCoord("pelvis_list")
	best, bestTilt, bestList := math.Inf(-1), 0.0, 0.0
	for _, a := range [][2]float64{{0, 0}, {-math.Pi / 2, 0}, {math.Pi / 2, 0}, {0, math.Pi / 2}, {0, -math.Pi / 2}} {
		s.q[tilt], s.q[list] = a[0], a[1]
		s.p.Set(s.q)
		score := 0.0
		for _, c := range s.contacts {
			switch c.On {
			case body.Floor, body.Seat:
				score -= s.p.Frames[c.Patch.Segment].Dir(c.Patch.Normal).Y
			case body.Bar:
				score += s.p.Frames[c.Patch.Segment].Point(c.Patch.Points[0]).Y - s.p.CentreOfMass().Y
			}
		}
		if score > best+1e-9 {
			best, bestTilt, bestList = score, a[0], a[1]
		}
	}
	s.q[tilt], s.q[list] = bestTilt, bestList
}

// follows names the joints that a foot on the floor sets by itself: a flat foot
// its ankle and subtalar joint, a foot on its ball the toes.
func (s *settle) follows(side body.Side) []string {
	heel, ball := false, false
	for _, c := range s.contacts {
		if c.Patch.Side == side && c.On == body.Floor {
			heel = heel || body.Bare(c.Patch.Key) == "heel"
			ball = ball || body.Bare(c.Patch.Key) == "ball"
		}
	}
	switch {
	case heel && ball:
		return []string{"ankle_dorsiflexion", "subtalar_inversion"}
	case ball:
		return []string{"toe_extension"}
	}
	return nil
}

// clamp holds adjusted coordinates at the end of their range where they passed
// it, takes those out of the unknowns, and reports whether there were any.
func (s *settle) clamp(adjusted []body.CoordID) bool {
	any := false
	for _, c := range adjusted {
		co := &s.p.Model.Coords[c]
		if v := max(co.Lo, min(co.Hi, s.q[c])); v != s.q[c] {
			s.q[c], any = v, true
			for k, u := range s.unknowns {
				if u == c {
					s.unknowns = append(s.unknowns[:k:k], s.unknowns[k+1:]...)
					break
				}
			}
		}
	}
	return any
}

// ground moves the whole body so that the middle of the contacts is over the
// world's origin, lifts a body that rests on no floor clear of it, and measures
// the gaps.
func (s *settle) ground() {
	m := s.p.Model
	var mid geom.Vec
	n, floor := 0.0, false
	level := map[string]float64{}
	count := map[string]float64{}
	for _, c := range s.contacts {
		for _, pt := range c.Patch.Points {
			w := s.p.Frames[c.Patch.Segment].Point(pt)
			mid, n = mid.Add(w), n+1
			v := w.Y
			if c.On == body.Wall {
				v = w.X
			}
			level[c.On] += v
			count[c.On]++
		}
		floor = floor || c.On == body.Floor
	}
	x, y, z := m.MustCoord("pelvis_x"), m.MustCoord("pelvis_y"), m.MustCoord("pelvis_z")
	s.q[x] -= mid.X / n
	s.q[z] -= mid.Z / n
	lift := 0.0
	if !floor {
		lowest := math.Inf(1)
		for i := range m.Patches {
			for _, pt := range m.Patches[i].Points {
				lowest = min(lowest, s.p.Frames[m.Patches[i].Segment].Point(pt).Y)
			}
		}
		lift = -lowest
		s.q[y] += lift
	}
	s.p.Set(s.q)
	for i := range s.contacts {
		c := &s.contacts[i]
		c.At = s.middle(*c)
		switch c.On {
		case body.Floor:
			c.Gap = c.At.Y
		case body.Wall:
			c.Gap = c.At.X - (level[c.On]/count[c.On] - mid.X/n)
		default:
			c.Gap = c.At.Y - (level[c.On]/count[c.On] + lift)
		}
	}
}
