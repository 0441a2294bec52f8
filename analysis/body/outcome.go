package body

// WrapOutcome tells how a path got over its wrapping surfaces. The worst one of
// a path is kept with its length.
type WrapOutcome int8

const (
	Straight WrapOutcome = iota // no surface was touched
	Wrapped                     // at least one surface was touched
	Inside                      // a path point lies inside its surface; the straight line was taken
	Failed                      // no path over the surface was found; the straight line was taken
)

// String gives the outcome in a word.
func (o WrapOutcome) String() string {
	switch o {
	case Straight:
		return "straight"
	case Wrapped:
		return "wrapped"
	case Inside:
		return "inside"
	}
	return "failed"
}
