package geom

import "math"

// Rot is a rotation, kept as the rows of an orthonormal matrix. Its zero value
// is not a rotation: build one with Identity, Turn or FromVector.
type Rot struct{ x, y, z Vec }

// Identity returns the rotation that moves nothing.
func Identity() Rot { return Rot{V(1, 0, 0), V(0, 1, 0), V(0, 0, 1)} }

// Turn returns the right-handed rotation by angle [rad] about axis. The axis
// must have unit length; the tables' axes are normalised once, on loading.
func Turn(axis Vec, angle float64) Rot {
	s, c := math.Sincos(angle)
	k := 1 - c
	a := axis
	return Rot{
		V(c+a.X*a.X*k, a.X*a.Y*k-a.Z*s, a.X*a.Z*k+a.Y*s),
		V(a.Y*a.X*k+a.Z*s, c+a.Y*a.Y*k, a.Y*a.Z*k-a.X*s),
		V(a.Z*a.X*k-a.Y*s, a.Z*a.Y*k+a.X*s, c+a.Z*a.Z*k),
	}
}

// FromVector returns the rotation about w/|w| by |w| radians, and the identity
// for a zero vector. It is smooth for |w| < 2π, which is why the shoulder is
// described by it: it has no singular posture at the side or overhead.
func FromVector(w Vec) Rot {
	n := w.Norm()
	if n < 1e-300 {
		return Identity()
	}
	return Turn(w.Scale(1/n), n)
}

// Vector is the inverse of FromVector, with |w| in [0, π].
func (r Rot) Vector() Vec {
	// The axis from the antisymmetric part is exact away from π; close to π
	// the symmetric part is used, because the other vanishes there.
	v := V(r.z.Y-r.y.Z, r.x.Z-r.z.X, r.y.X-r.x.Y) // 2 sin(angle) axis
	c := (r.x.X + r.y.Y + r.z.Z - 1) / 2
	s := v.Norm() / 2
	angle := math.Atan2(s, c)
	if s > 1e-6 {
		return v.Scale(angle / (2 * s))
	}
	if c > 0 {
		return v.Scale(0.5)
	}
	d := V(math.Sqrt(max(0, (r.x.X+1)/2)), math.Sqrt(max(0, (r.y.Y+1)/2)), math.Sqrt(max(0, (r.z.Z+1)/2)))
	switch {
	case d.X >= d.Y && d.X >= d.Z:
		d = V(d.X, math.Copysign(d.Y, r.x.Y), math.Copysign(d.Z, r.x.Z))
	case d.Y >= d.Z:
		d = V(math.Copysign(d.X, r.x.Y), d.Y, math.Copysign(d.Z, r.y.Z))
	default:
		d = V(math.Copysign(d.X, r.x.Z), math.Copysign(d.Y, r.y.Z), d.Z)
	}
	return d.Unit().Scale(angle)
}

// Apply returns the rotated vector.
func (r Rot) Apply(v Vec) Vec { return Vec{r.x.Dot(v), r.y.Dot(v), r.z.Dot(v)} }

// ApplyInverse returns the vector turned back.
func (r Rot) ApplyInverse(v Vec) Vec {
	return Vec{
		r.x.X*v.X + r.y.X*v.Y + r.z.X*v.Z,
		r.x.Y*v.X + r.y.Y*v.Y + r.z.Y*v.Z,
		r.x.Z*v.X + r.y.Z*v.Y + r.z.Z*v.Z,
	}
}

// Mul returns the rotation that applies b first and then r.
func (r Rot) Mul(b Rot) Rot {
	return Rot{b.ApplyInverse(r.x), b.ApplyInverse(r.y), b.ApplyInverse(r.z)}
}

// Inverse returns the rotation that undoes r.
func (r Rot) Inverse() Rot {
	return Rot{V(r.x.X, r.y.X, r.z.X), V(r.x.Y, r.y.Y, r.z.Y), V(r.x.Z, r.y.Z, r.z.Z)}
}

// Column returns the image of the i-th axis (0 X, 1 Y, 2 Z): where that axis of
// the turned frame points.
func (r Rot) Column(i int) Vec {
	switch i {
	case 0:
		return V(r.x.X, r.y.X, r.z.X)
	case 1:
		return V(r.x.Y, r.y.Y, r.z.Y)
	case 2:
		return V(r.x.Z, r.y.Z, r.z.Z)
	}
	panic("geom: a rotation has columns 0 to 2")
}

// Columns returns the rotation whose turned axes are x, y, z. They must be
// orthonormal and right-handed.
func Columns(x, y, z Vec) Rot {
	return Rot{V(x.X, y.X, z.X), V(x.Y, y.Y, z.Y), V(x.Z, y.Z, z.Z)}
}

// Frame is a segment's place in the world: a point p of the segment is at
// At + Rot·p.
type Frame struct {
	At  Vec
	Rot Rot
}

// Point returns where a point given in the frame is in the world.
func (f Frame) Point(p Vec) Vec { return f.At.Add(f.Rot.Apply(p)) }

// Local returns where a point of the world is in the frame.
func (f Frame) Local(p Vec) Vec { return f.Rot.ApplyInverse(p.Sub(f.At)) }

// Dir returns where a direction given in the frame points in the world.
func (f Frame) Dir(d Vec) Vec { return f.Rot.Apply(d) }

// Mul returns the frame g, given inside f, as seen from the world.
func (f Frame) Mul(g Frame) Frame { return Frame{f.Point(g.At), f.Rot.Mul(g.Rot)} }

// Inverse returns the frame that undoes f.
func (f Frame) Inverse() Frame {
	r := f.Rot.Inverse()
	return Frame{r.Apply(f.At).Scale(-1), r}
}
