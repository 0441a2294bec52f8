package exports

import (
	"cmp"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
)

// What the page shows piece by piece, in the words of every export.

// CautionText words one specific caution: why it is said here, and what to mind.
func CautionText(c analysis.Caution) string { return cautionWords(c) }

// GroupWhy words one reason of a finding about a group.
func GroupWhy(m *body.Model, f *analysis.Findings, g *analysis.GroupFinding, r analysis.Reason) string {
	return groupReason(m, f, g, r)
}

// Doubts lists what the reader should know about a posture.
func Doubts(f *analysis.Findings) []analysis.Doubt { return doubts(f) }

// Unheld says that no way of holding a posture was found, and what is missing;
// mend says what would help. Both are empty when the posture can be held.
func Unheld(f *analysis.Findings) (text, mend string) {
	if f.Effort.Held || len(f.Muscles) == 0 {
		return "", ""
	}
	all := doubts(f)
	i := slices.IndexFunc(all, tellsUnheld)
	return all[i].Text, all[i].Mend
}

// Supports says what each support bears; empty when that was not computed.
func Supports(m *body.Model, f *analysis.Findings) string { return supportWords(m, f) }

// MuscleNoun is what one muscle is called in a sentence, without its side.
func MuscleNoun(m *body.Model, id body.MuscleID, v Voice) string {
	mu := &m.Muscles[id]
	if v == Technical {
		return spokenName(bareName(mu.Name, mu.Side))
	}
	return cmp.Or(alone[body.Bare(mu.Key)], plainNoun(mu))
}

// WayNote says what is to be known of a movement as a whole, or "".
func WayNote(mv *analysis.Movement) string { return quickWords(mv) }

// MusclePart says what part a muscle plays among the others, or "".
func MusclePart(m *body.Model, mf *analysis.MuscleFinding, v Voice) string {
	return partWords(m, mf, v)
}

// MusclePull says which way a muscle pulls and which end is held, or "".
func MusclePull(m *body.Model, f *analysis.Findings, id body.MuscleID) string {
	return pullWords(m, f, id)
}

// SpanText writes a near-best span.
func SpanText(b analysis.Bounds) string { return spanWords(b) }

// MuscleEffort gives a working muscle's activation in figures, or "".
func MuscleEffort(f *analysis.Findings, mf *analysis.MuscleFinding) string { return effortWords(f, mf) }

// NearBest says which ways of holding a posture a span of efforts is over.
func NearBest(f *analysis.Findings) string { return nearBest(f) }

// MuscleWhy words one reason of a finding about a muscle.
func MuscleWhy(m *body.Model, r analysis.Reason) string { return muscleReason(m, r) }

// MuscleState says a muscle's own state in two sentences.
func MuscleState(f *analysis.MuscleFinding) string { return roleWords(f) }

// MuscleLength gives a muscle's length in figures.
func MuscleLength(f *analysis.MuscleFinding) string { return lengthWords(f) }

// MuscleActions lists what a muscle is known to do.
func MuscleActions(m *body.Model, id body.MuscleID, v Voice) string {
	return actionWords(m, &m.Muscles[id], v)
}

// Differs says in a few short lines what differs between the two postures of a
// variation.
func Differs(m *body.Model, v analysis.Variation, voice Voice) []string {
	return newSpeaker(m, voice).differs(v)
}

// EffortChange says how the effort of the whole changes over a variation.
func EffortChange(v analysis.Variation) string { return effortChange(v) }
