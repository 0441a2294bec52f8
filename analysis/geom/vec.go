// Package geom holds the small vector arithmetic that the body model stands on.
//
// It is pure arithmetic: no tables, no I/O, nothing about anatomy. Lengths are
// in metres and angles in radians everywhere; degrees appear only through Deg
// and Degrees, at the edge.
package geom

import "math"

// Vec is a point or a direction in three dimensions. The frames in this
// project follow the ISB: X forward, Y up, Z to the subject's right.
type Vec struct{ X, Y, Z float64 }

// V is short for Vec{x, y, z}.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Scale returns s·a.
func (a Vec) Scale(s float64) Vec { return Vec{s * a.X, s * a.Y, s * a.Z} }

// Dot returns the scalar product.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross returns the vector product a × b.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Norm returns the Euclidean length.
func (a Vec) Norm() float64 { return math.Sqrt(a.Dot(a)) }

// Unit returns a scaled to length one. A zero or non-finite vector has no
// direction: that is a bug in the caller's data, so Unit panics.
func (a Vec) Unit() Vec {
	n := a.Norm()
	if !(n > 0) || math.IsInf(n, 0) {
		panic("geom: Unit of a vector without a direction")
	}
	return a.Scale(1 / n)
}

// Mirror returns the reflection of a point or direction in the sagittal plane.
func (a Vec) Mirror() Vec { return Vec{a.X, a.Y, -a.Z} }

// MirrorAxis returns the reflection of a rotation axis in the sagittal plane:
// turning by θ about a on the right looks, in the mirror, like turning by the
// same θ about MirrorAxis(a) on the left.
func (a Vec) MirrorAxis() Vec { return Vec{-a.X, -a.Y, a.Z} }

// Lerp returns the point at fraction t of the way from a to b.
func (a Vec) Lerp(b Vec, t float64) Vec { return a.Add(b.Sub(a).Scale(t)) }

// Finite reports whether all three numbers are finite.
func (a Vec) Finite() bool {
	s := a.X + a.Y + a.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
