package analysis

import (
	"math/rand/v2"
	"slices"

	"tautline/analysis/body"
)

// drawnStances are those that drawn joint positions leave standing or resting.
var drawnStances = []string{"standing", "standing", "standing_on_toes", "standing_on_left_leg", "squat", "sitting", "kneeling", "all_fours", "supine"}

// drawnMoves are movements that a teacher states, with both sides in step or one
// side alone.
var drawnMoves = []string{"shoulder_flexion", "shoulder_abduction", "shoulder_rotation", "elbow_flexion", "forearm_pronation",
	"wrist_flexion", "hip_flexion", "knee_flexion", "hip_rotation", "lumbar_flexion", "thoracic_flexion", "neck_flexion", "fingers_flexion"}

// DrawPosture makes up a posture: a stance and a few joints somewhere in the
// inner part of their ranges, most often the same on both sides, sometimes with
// a load in the hands.
func DrawPosture(m *body.Model, rng *rand.Rand) body.Posture {
	p := body.Posture{Stance: drawnStances[rng.IntN(len(drawnStances))]}
	both := rng.Float64() < 0.7
	set := func(key string, v float64) {
		id, ok := m.Movement(key)
		if !ok || slices.ContainsFunc(p.Positions, func(x body.Position) bool { return x.Movement == id }) {
			return
		}
		mv := &m.Movements[id]
		p.Positions = append(p.Positions, body.Position{Movement: id, Value: mv.Lo + (mv.Hi-mv.Lo)*(0.1+0.8*v)})
	}
	for range 1 + rng.IntN(5) {
		key, v := drawnMoves[rng.IntN(len(drawnMoves))], rng.Float64()
		if p.Stance != "supine" && p.Stance != "sitting" && (key == "hip_flexion" || key == "knee_flexion" || key == "lumbar_flexion") {
			continue // they would lay the standing down
		}
		set(key, v)
		set(key+"_r", v)
		if both {
			set(key+"_l", v)
		}
	}
	if rng.Float64() < 0.3 {
		kg := 1 + 5*rng.Float64()
		p.Loads = []body.Load{{Kind: body.Carry, Patch: "palm_r", Mass: kg}, {Kind: body.Carry, Patch: "palm_l", Mass: kg}}
	}
	return p
}

// HeldPostures gives n drawn postures that can be held.
func HeldPostures(a *Analyser, n int, seed uint64) []body.Posture {
	rng := rand.New(rand.NewPCG(seed, 17))
	var list []body.Posture
	for range 20 * n {
		p := DrawPosture(a.Model, rng)
		if a.balanced(p).out.Held {
			if list = append(list, p); len(list) == n {
				break
			}
		}
	}
	return list
}

// balanced solves a posture's equilibrium alone.
func (a *Analyser) balanced(posture body.Posture) *effort {
	e, _ := a.solved(posture)
	return e
}

// solved is balanced with the findings so far. The pose stays with the effort.
func (a *Analyser) solved(posture body.Posture) (*effort, *Findings) {
	m := a.Model
	f := &Findings{Posture: posture}
	r := m.Resolve(posture)
	p := a.pose()
	stated := map[body.CoordID]bool{}
	for id, mv := range m.Movements {
		for _, s := range mv.Shares {
			if r.Stated[id] {
				stated[s.Coord] = true
			}
		}
	}
	free := func(c body.CoordID) bool { return !stated[c] }
	start := slices.Clone(r.Coords)
	placed, supports := a.settle(f, p, r, posture, free)
	placed = a.hang(f, p, &r, start, placed, supports, free)
	p.Measure()
	f.Coords, f.Joints = slices.Clone(p.Coords), a.joints(r, p.Coords, placed.Adjusted)
	return newEffort(a, p, f, supports, posture), f
}
