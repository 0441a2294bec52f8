package pose

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// wrapped is the way of a path around one surface: it leaves the straight line
// at T0, follows the surface for Arc, and leaves it at T1.
type wrapped struct {
	T0, T1  geom.Vec // world, m; set only when Outcome is Wrapped
	Arc     float64  // m along the surface
	Outcome body.WrapOutcome
}

// around finds the shortest way from a to b (world, m) that passes surface s on
// the side of the point side (world). centre and axis are the surface's in the
// world.
func around(s *body.Surface, centre, axis, a, b, side geom.Vec) wrapped {
	if s.Shape == body.Sphere {
		return aroundSphere(centre, s.Radius, a, b, side)
	}
	return aroundCylinder(centre, axis, s.Radius, a, b, side)
}

// aroundSphere works in the plane of the two points and the centre: the
// shortest way over a sphere lies in it.
func aroundSphere(centre geom.Vec, radius float64, a, b, side geom.Vec) wrapped {
	da, db, ds := a.Sub(centre), b.Sub(centre), side.Sub(centre)
	la := da.Norm()
	if la <= radius || db.Norm() <= radius {
		return wrapped{Outcome: body.Inside}
	}
	e1 := da.Scale(1 / la)
	e2 := db.Sub(e1.Scale(db.Dot(e1)))
	if e2.Norm() < 1e-9*la {
		// Points and centre in one line: every plane is as short; take the side's.
		if e2 = ds.Sub(e1.Scale(ds.Dot(e1))); e2.Norm() < 1e-12 {
			return wrapped{Outcome: body.Failed}
		}
	}
	e2 = e2.Unit()
	flat := func(v geom.Vec) (x, y float64) { return v.Dot(e1), v.Dot(e2) }
	x1, y1 := flat(db)
	sx, sy := flat(ds)
	t := aroundCircle(la, 0, x1, y1, sx, sy, radius)
	if t.outcome != body.Wrapped {
		return wrapped{Outcome: t.outcome}
	}
	lift := func(x, y float64) geom.Vec { return centre.Add(e1.Scale(x)).Add(e2.Scale(y)) }
	return wrapped{lift(t.x0, t.y0), lift(t.x1, t.y1), radius * t.angle, body.Wrapped}
}

// aroundCylinder works in the plane across the axis; along the axis the path
// climbs evenly, which is the shortest way on the unrolled surface.
func aroundCylinder(centre, axis geom.Vec, radius float64, a, b, side geom.Vec) wrapped {
	da, db, ds := a.Sub(centre), b.Sub(centre), side.Sub(centre)
	e1 := ds.Sub(axis.Scale(ds.Dot(axis))).Unit()
	e2 := axis.Cross(e1)
	flat := func(v geom.Vec) (x, y float64) { return v.Dot(e1), v.Dot(e2) }
	x0, y0 := flat(da)
	x1, y1 := flat(db)
	t := aroundCircle(x0, y0, x1, y1, 1, 0, radius)
	if t.outcome != body.Wrapped {
		return wrapped{Outcome: t.outcome}
	}
	arc := radius * t.angle
	l0, l1 := math.Hypot(t.x0-x0, t.y0-y0), math.Hypot(t.x1-x1, t.y1-y1)
	h0, h1 := da.Dot(axis), db.Dot(axis)
	slope := (h1 - h0) / (l0 + arc + l1)
	z0, z1 := h0+slope*l0, h0+slope*(l0+arc)
	lift := func(x, y, z float64) geom.Vec {
		return centre.Add(e1.Scale(x)).Add(e2.Scale(y)).Add(axis.Scale(z))
	}
	return wrapped{lift(t.x0, t.y0, z0), lift(t.x1, t.y1, z1), math.Hypot(arc, slope*arc), body.Wrapped}
}

// touch is the way around a circle about the origin.
type touch struct {
	x0, y0, x1, y1 float64 // where it touches and leaves
	angle          float64 // rad turned on the circle
	outcome        body.WrapOutcome
}

// aroundCircle finds the shortest way in the plane from (x0, y0) to (x1, y1)
// around the circle of radius r about the origin, on the side of (sx, sy).
//
// There are two ways round, clockwise and counter-clockwise; the middles of
// their arcs point in opposite directions, and the one toward the side is
// taken. Going that way the direction turns by phi from the first point to the
// second; the straight parts take acos(r/l) at each end, and what is left is the
// arc. Nothing left means that the straight line clears the circle: the length
// is continuous there.
func aroundCircle(x0, y0, x1, y1, sx, sy, r float64) touch {
	l0, l1 := math.Hypot(x0, y0), math.Hypot(x1, y1)
	if l0 <= r || l1 <= r {
		return touch{outcome: body.Inside}
	}
	// phi is the counter-clockwise turn from the first to the second, [0, 2π).
	phi := math.Atan2(x0*y1-y0*x1, x0*x1+y0*y1)
	if phi < 0 {
		phi += 2 * math.Pi
	}
	sin, cos := math.Sincos(phi / 2)
	turn := 1.0
	if (x0*cos-y0*sin)*sx+(x0*sin+y0*cos)*sy < 0 {
		phi, turn = 2*math.Pi-phi, -1
	}
	a0, a1 := math.Acos(r/l0), math.Acos(r/l1)
	angle := phi - a0 - a1
	if angle <= 0 {
		return touch{outcome: body.Straight}
	}
	s0, c0 := math.Sincos(turn * a0)
	s1, c1 := math.Sincos(-turn * a1)
	k0, k1 := r/l0, r/l1
	return touch{
		k0 * (x0*c0 - y0*s0), k0 * (x0*s0 + y0*c0),
		k1 * (x1*c1 - y1*s1), k1 * (x1*s1 + y1*c1),
		angle, body.Wrapped,
	}
}
