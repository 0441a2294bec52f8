package analysis

import "math"

// alikeWithin is the difference below which two values are ranked as equals. The
// linear algebra's last bits depend on where its memory lies; without this the
// left hip would come before the right in one run and after it in the next.
const alikeWithin = 1e-7

// more orders the larger first; equals keep the order they had.
func more(x, y float64) int {
	switch x, y = math.Round(x/alikeWithin), math.Round(y/alikeWithin); {
	case x > y:
		return -1
	case x < y:
		return 1
	}
	return 0
}
