package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

const (
	// leansFrom is the lean of the chest from which arms that nobody spoke of
	// are let hang, rad: twice the error of an estimate by eye, so that whoever
	// stands upright keeps the arms at the sides.
	leansFrom = 10 * math.Pi / 180
	// hangRounds is how often arms and balance are settled after each other.
	hangRounds = 3
)

// hang lets arms hang straight down that are said to, and those that nobody
// spoke of when the trunk leans over legs or a seat. Where the arms go, the
// weight goes, so that the body is rested anew from the coordinates it started
// with.
func (a *Analyser) hang(f *Findings, p *pose.Pose, r *body.Resolved, start []float64, placed pose.Placement, supports []body.Support, free func(body.CoordID) bool) pose.Placement {
	m := a.Model
	chest, _ := m.Segment("thorax")
	down := func() geom.Vec { return p.Frames[chest].Rot.ApplyInverse(geom.V(0, -1, 0)) } // seen from the chest
	var sides, assumed []body.Side
	for _, side := range []body.Side{body.Right, body.Left} {
		switch {
		case f.Posture.Hanging.Of(side):
			sides = append(sides, side)
		case down().Y > -math.Cos(leansFrom):
			if a.unspoken(f.Posture, supports, side) {
				sides, assumed = append(sides, side), append(assumed, side)
			}
		}
	}
	if len(sides) == 0 {
		return placed
	}
	for range hangRounds {
		d := down()
		copy(r.Coords, start)
		for _, side := range sides {
			a.drop(r, side, d)
		}
		placed = p.Place(r.Coords, supports, free)
	}
	if len(assumed) > 0 {
		f.Doubts = append(f.Doubts, Doubt{Kind: "assumed", Text: "Nothing is said of the arms; they are taken to hang: " + a.armsAt(r, assumed) + ".",
			Mend: "Say where the arms are, such as: arms along the trunk."})
	}
	return placed
}

// armsAt says where arms point, in the words that postures are read in.
func (a *Analyser) armsAt(r *body.Resolved, sides []body.Side) string {
	say := func(side body.Side, who string) string {
		var parts []string
		for _, key := range []string{"shoulder_flexion", "shoulder_abduction"} {
			id := a.Model.MustMovement(key + side.Suffix())
			how := map[string]string{"shoulder_flexion": "flexed", "shoulder_abduction": "abducted"}[key]
			deg := math.Round(geom.Degrees(r.Movements[id]))
			if deg < 0 {
				deg, how = -deg, "extended"
			}
			if deg > 0 {
				parts = append(parts, fmt.Sprintf("%s %s %.0f°", who, how, deg))
			}
		}
		if len(parts) == 0 {
			return who + " neutral in flexion"
		}
		return strings.Join(parts, "; ")
	}
	one := say(sides[0], "both shoulders")
	if len(sides) == 2 && one == say(sides[1], "both shoulders") {
		return one
	}
	var list []string
	for _, side := range sides {
		list = append(list, say(side, side.String()+" shoulder"))
	}
	return strings.Join(list, "; ")
}

// unspoken reports whether nothing says where an arm is or what it does, and
// nothing but legs and seat carries the body, so that it is free to hang.
func (a *Analyser) unspoken(posture body.Posture, supports []body.Support, side body.Side) bool {
	m := a.Model
	said := func(list []body.Position) bool {
		return slices.ContainsFunc(list, func(pos body.Position) bool { return m.SetsArm(pos.Movement, side) })
	}
	if st, ok := m.Stance(posture.Stance); said(posture.Positions) || ok && said(st.Positions) {
		return false
	}
	onArm := func(patch string) bool {
		pt, ok := m.Patch(patch)
		return ok && pt.Side == side && a.within(pt.Segment, "humerus")
	}
	for _, c := range posture.Cues {
		if onArm(c.Patch) || c.Movement >= 0 && m.SetsArm(c.Movement, side) {
			return false
		}
	}
	for _, l := range posture.Loads {
		if l.Kind != body.Carry && onArm(l.Patch) {
			return false
		}
	}
	for _, s := range supports {
		if pt, ok := m.Patch(s.Patch); ok && body.Bare(pt.Key) != "sit_bone" && !a.within(pt.Segment, "thigh") {
			return false
		}
	}
	return len(supports) > 0
}

// drop points an upper arm straight down, d being that way as seen from the
// chest. It may lie against the ribs and does not pass through them; abduction
// that was stated stays.
func (a *Analyser) drop(r *body.Resolved, side body.Side, d geom.Vec) {
	m := a.Model
	flexion, abduction := m.MustMovement("shoulder_flexion"+side.Suffix()), m.MustMovement("shoulder_abduction"+side.Suffix())
	axis := func(key string) geom.Vec { return m.Coords[m.MustCoord(key+side.Suffix())].Axis }
	swing := geom.V(0, -1, 0).Cross(d)
	if n := swing.Norm(); n > 0 {
		swing = swing.Scale(math.Atan2(n, -d.Y) / n)
	}
	away := math.Max(0, swing.Dot(axis("glenohumeral_abduction")))
	if r.Stated[abduction] {
		away = r.Movements[abduction]
	}
	forward := math.Max(m.Movements[flexion].Lo, math.Min(m.Movements[flexion].Hi, swing.Dot(axis("glenohumeral_flexion"))))
	m.Swing(r, side, forward, away)
}
