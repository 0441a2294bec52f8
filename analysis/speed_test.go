package analysis_test

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// warmUp are six postures of a warm-up for orchard pickers.
var warmUp = []string{
	"standing; shoulders abducted 10; elbows flexed 10; forearms pronated 45",
	"standing; shoulders flexed 75; elbows straight; palms down; wrists extended 65; fingers straight",
	"standing on toes; shoulders flexed 170; elbows straight; forearms pronated fully; wrists extended 70; fingers straight; trunk extended slightly; knees pulled straight firmly",
	"standing; right shoulder abducted 165; right elbow straight; left shoulder abducted 15; trunk bent left 25",
	"standing; hips flexed 105; knees flexed 50; shoulders flexed 80; elbows flexed 5; hands carry 12 kg",
	"half kneeling with the left knee down; right shoulder flexed 40; right shoulder adducted 4; right elbow flexed 18; right palm down; left shoulder abducted 12; left elbow flexed 20",
}

// drawnStances are those that random joint positions leave standing or resting.
var drawnStances = []string{"standing", "standing", "standing_on_toes", "standing_on_left_leg", "squat", "sitting", "kneeling", "all_fours", "supine"}

// drawnMoves are movements that a teacher states, with both sides in step or one
// side alone.
var drawnMoves = []string{"shoulder_flexion", "shoulder_abduction", "shoulder_rotation", "elbow_flexion", "forearm_pronation",
	"wrist_flexion", "hip_flexion", "knee_flexion", "hip_rotation", "lumbar_flexion", "thoracic_flexion", "neck_flexion", "fingers_flexion"}

// drawPosture makes up a posture: a stance and a few joints somewhere in the
// inner part of their ranges, most often the same on both sides, sometimes with
// a load in the hands.
func drawPosture(m *body.Model, rng *rand.Rand) body.Posture {
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

// heldPostures gives n drawn postures that can be held.
func heldPostures(a *analysis.Analyser, n int, seed uint64) []body.Posture {
	rng := rand.New(rand.NewPCG(seed, 17))
	var list []body.Posture
	for range 20 * n {
		if p := drawPosture(a.Model, rng); a.Analyse(p, nil).Effort.Held {
			if list = append(list, p); len(list) == n {
				break
			}
		}
	}
	return list
}

// BenchmarkEverything times everything about one posture, over the warm-up and
// fifty drawn postures: the median is what a slider feels.
func BenchmarkEverything(b *testing.B) {
	list := heldPostures(whole, 50, 1)
	for _, words := range warmUp {
		list = append(list, posture.Read(whole.Model, words).Posture)
	}
	var took []float64
	for b.Loop() {
		for _, p := range list {
			start := time.Now()
			whole.Analyse(p, nil)
			took = append(took, time.Since(start).Seconds()*1000)
		}
	}
	sum := 0.0
	for _, ms := range took {
		sum += ms
	}
	b.ReportMetric(sum/float64(len(took)), "ms-mean")
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "ms-median")
	b.ReportMetric(took[len(took)*9/10], "ms-p90")
	b.ReportMetric(0, "ns/op")
}
