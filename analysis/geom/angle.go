package geom

import "math"

// Deg converts degrees, as people say them, to radians.
func Deg(degrees float64) float64 { return degrees * math.Pi / 180 }

// Degrees converts radians to degrees.
func Degrees(radians float64) float64 { return radians * 180 / math.Pi }

// Acos is math.Acos with its argument clamped to [-1, 1], so that a rounding
// error of a dot product of unit vectors does not become NaN.
func Acos(x float64) float64 { return math.Acos(max(-1, min(1, x))) }

// Asin is math.Asin with its argument clamped to [-1, 1].
func Asin(x float64) float64 { return math.Asin(max(-1, min(1, x))) }

// Near reports whether a and b differ by at most abs, or by at most rel of the
// larger magnitude.
func Near(a, b, abs, rel float64) bool {
	return math.Abs(a-b) <= max(abs, rel*max(math.Abs(a), math.Abs(b)))
}
