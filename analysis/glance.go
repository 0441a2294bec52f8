package analysis

import "tautline/analysis/body"

// Glance says what one posture means as far as can be said while a hand still
// moves a dial: lengths, what the supports bear, and the way of holding it that
// costs least effort. It asks for no bounds and tries no small errors, so that
// nothing is said more firmly than May; Analyse finds the same lengths and the
// same best way.
func (a *Analyser) Glance(posture body.Posture) *Findings { return a.analyse(posture, true) }
