// Package demo is the bundled study: an orchard picker's warm-up in six marks,
// performed by the model's own figure. The program in render makes the
// recording anew from these same postures.
package demo

import (
	_ "embed"
	"slices"

	"tautline/timeline"
)

// Name is what the demo's files are called.
const Name = "orchard-warm-up"

//go:embed orchard-warm-up.mp4
var recording []byte

// Recording returns the bytes of the recording, an MP4 file.
func Recording() []byte { return slices.Clone(recording) }

// Length is how long the recording lasts.
const Length timeline.Instant = 40_000

// Study returns the study without its recording.
func Study() timeline.Study {
	return timeline.Study{
		ID:       "6f7263686172642d7761726d2d757031",
		Title:    "Orchard warm-up",
		Language: "en",
		Marks: []timeline.Mark{
			{ID: 1, At: 0, Title: "Quiet stand", Words: "standing; shoulders abducted 10; elbows flexed 10; forearms pronated 45"},
			{ID: 2, At: 6_000, Title: "Forearm and wrist preparation",
				Words: "standing; shoulders flexed 75; elbows straight; palms down; wrists extended 65; fingers straight"},
			{ID: 3, At: 13_000, Title: "Overhead reach on toes",
				Words: "standing on toes; shoulders flexed 170; elbows straight; forearms pronated fully; wrists extended 70; fingers straight; trunk extended slightly; knees pulled straight firmly"},
			{ID: 4, At: 20_000, Title: "One-arm side reach",
				Words: "standing; right shoulder abducted 165; right elbow straight; left shoulder abducted 15; trunk bent left 25"},
			{ID: 5, At: 27_000, Title: "Loaded crate hinge",
				Words: "standing; hips flexed 105; knees flexed 50; shoulders flexed 80; elbows flexed 5; hands carry 12 kg"},
			{ID: 6, At: 34_000, Title: "Half-kneeling rest",
				Words: "half kneeling with the left knee down; right shoulder flexed 40; right shoulder adducted 4; right elbow flexed 18; right palm down; left shoulder abducted 12; left elbow flexed 20"},
		},
	}
}
