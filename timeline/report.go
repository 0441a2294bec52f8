package timeline

import (
	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// Report is the finished analysis of a study. Every face reads it and computes
// nothing. It is never changed after Assess has made it. Slices are never nil.
type Report struct {
	Study    Study
	Model    *body.Model
	Phases   []PhaseReport
	Problems []Problem // what is wrong or doubtful in the study, in order of time
}

// PhaseReport is one phase with its findings.
type PhaseReport struct {
	Phase
	Reading  posture.Reading    // what was understood of the words
	Findings *analysis.Findings // of the posture at the phase's start
	// Movement is the way to the next mark's posture; nil for a hold.
	Movement *analysis.Movement
}

// Problem is one thing that check reports.
type Problem struct {
	Kind  string  // "words", "range", "time", "recording", "support", "order"
	Mark  int64   // ID, or 0 for the study as a whole
	At    Instant // of the mark
	Text  string  // what is wrong and where, one line
	Doubt bool    // doubtful rather than wrong
}
