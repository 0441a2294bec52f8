package analysis_test

import (
	"slices"
	"testing"
	"time"

	"tautline/analysis"
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

// BenchmarkEverything times everything about one posture, over the warm-up and
// fifty drawn postures: the median is what a slider feels.
func BenchmarkEverything(b *testing.B) {
	list := analysis.HeldPostures(whole, 50, 1)
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
