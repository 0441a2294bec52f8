package exports

import (
	"tautline/analysis"
	"tautline/analysis/body"
)

// What the page shows piece by piece, in the words of every export.

// CautionText words one specific caution: why it is said here, and what to mind.
func CautionText(c analysis.Caution) string { return cautionWords(c) }

// GroupWhy words one reason of a finding about a group.
func GroupWhy(m *body.Model, g *analysis.GroupFinding, r analysis.Reason) string {
	return groupReason(m, g, r)
}

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
