package analysis

import (
	"slices"

	"tautline/analysis/body"
)

// foldArms lets the shoulder follow a stated elbow where a hand stays flat on
// the floor: a bent arm brings the chest down over the hand, and the forearm
// keeps the way that the wrist gives it. Who states the shoulder too means it.
func (a *Analyser) foldArms(f *Findings, r *body.Resolved) {
	m := a.Model
	st, ok := m.Stance(f.Posture.Stance)
	if !ok {
		return
	}
	var sides []body.Side
	for _, side := range []body.Side{body.Right, body.Left} {
		elbow, shoulder := m.MustMovement("elbow_flexion"+side.Suffix()), m.MustMovement("shoulder_flexion"+side.Suffix())
		palm := body.Support{Patch: "palm" + side.Suffix(), On: body.Floor}
		if !slices.Contains(st.Supports, palm) || !r.Stated[elbow] || r.Movements[elbow] == 0 || f.Posture.Hanging.Of(side) ||
			slices.ContainsFunc(f.Posture.Positions, func(p body.Position) bool { return m.SetsArm(p.Movement, side) }) {
			continue
		}
		given := 0.0
		for _, p := range st.Positions {
			if p.Movement == elbow {
				given = p.Value
			}
		}
		m.Swing(r, side, r.Movements[shoulder]-(r.Movements[elbow]-given), r.Movements[m.MustMovement("shoulder_abduction"+side.Suffix())])
		sides = append(sides, side)
	}
	if len(sides) > 0 {
		f.Doubts = append(f.Doubts, Doubt{Kind: "assumed", Text: "The elbows bend and nothing is said of the shoulders; they are taken to follow, the hands flat: " + a.armsAt(r, sides) + ".",
			Mend: "Say where the upper arms are, such as: shoulders flexed 30."})
	}
}
