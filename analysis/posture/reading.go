// Package posture reads and writes posture states in ordinary clinical words.
package posture

import "tautline/analysis/body"

// Reading is what was understood of a posture in words.
type Reading struct {
	Posture   body.Posture
	Canonical string    // the whole state in canonical words; reads back to the same Posture
	Parts     []Part    // the text in order, cut into statements
	Unknown   []Unknown // what was not understood, in order; empty when everything was
}

// Part is one statement of the text and how it was understood.
type Part struct {
	From, To  int    // byte offsets in the text
	Canonical string // in canonical words; empty when not understood
}

// Unknown is a stretch of the text that was not understood.
type Unknown struct {
	From, To int      // byte offsets in the text
	Text     string   // the stretch itself
	Why      string   // one sentence without a full stop
	Near     []string // near matches, best first; never nil
}
