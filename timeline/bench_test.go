package timeline

import (
	"context"
	"fmt"
	"testing"
	"time"

	"tautline/analysis"
	"tautline/analysis/body"
)

// drawnStudy is a study of n phases, four seconds each, no two with the same
// posture: arms and trunk go on from mark to mark in steps that do not come back.
func drawnStudy(n int) Study {
	var s Study
	stances := []string{"standing", "standing on toes", "squat", "half kneeling with the left knee down"}
	for i := range n {
		words := fmt.Sprintf("%s; right shoulder flexed %.2f; left shoulder abducted %.2f; right elbow flexed %.2f; trunk bent right %.2f",
			stances[i%len(stances)],
			20+140*part(i, 0.6180339887), 10+110*part(i, 0.7548776662), 5+100*part(i, 0.5698402910), 12*part(i, 0.8191725134))
		s.Marks = append(s.Marks, Mark{ID: int64(i + 1), At: Instant(4000 * i), Title: "reach", Words: words})
	}
	return s
}

// part spreads whole numbers evenly over 0 to 1.
func part(i int, step float64) float64 {
	v := float64(i+1) * step
	return v - float64(int(v))
}

// BenchmarkAssess times whole studies of different postures, nothing kept from
// run to run, on all processors: time for each phase must not grow with how many
// there are.
func BenchmarkAssess(b *testing.B) {
	a := analysis.New(body.Adult())
	for _, n := range []int{10, 100, 500, 5000} {
		b.Run(fmt.Sprintf("%d_phases", n), func(b *testing.B) {
			s := drawnStudy(n)
			for b.Loop() {
				start := time.Now()
				r, err := NewAssessor(a).Assess(context.Background(), s, nil)
				if err != nil {
					b.Fatal(err)
				}
				for _, p := range r.Phases {
					if len(p.Reading.Unknown) > 0 {
						b.Fatalf("not understood: %q", p.Reading.Unknown[0].Text)
					}
				}
				b.ReportMetric(time.Since(start).Seconds()*1000/float64(n), "ms/phase")
			}
		})
	}
}
