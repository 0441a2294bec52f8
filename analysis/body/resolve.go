package body

import (
	"math"

	"tautline/analysis/geom"
)

// Resolved is a posture made into numbers: every coordinate of the skeleton
// below the pelvis, and every movement's value with whether it was stated.
type Resolved struct {
	Coords    []float64 // by CoordID, rad; the root's are zero, supports place them
	Movements []float64 // by MovementID, rad
	Stated    []bool    // by MovementID: said in the posture itself
	Supports  []Support // of the stance, then those stated
}

// Resolve makes a posture into coordinates. The stance gives what is not
// stated. A stated movement that shares its angle over several coordinates adds
// to what the stance gave them; one that states a single coordinate replaces
// whatever else would have moved it. The shoulder girdle follows the arm by the
// rhythm except where it is stated.
func (m *Model) Resolve(p Posture) Resolved {
	r := Resolved{
		Coords:    make([]float64, len(m.Coords)),
		Movements: make([]float64, len(m.Movements)),
		Stated:    make([]bool, len(m.Movements)),
	}
	for _, pos := range p.Positions {
		r.Movements[pos.Movement], r.Stated[pos.Movement] = pos.Value, true
	}
	given := append([]bool(nil), r.Stated...)
	if st, ok := m.Stance(p.Stance); ok {
		for _, pos := range st.Positions {
			if !r.Stated[pos.Movement] {
				r.Movements[pos.Movement], given[pos.Movement] = pos.Value, true
			}
		}
		r.Supports = append(r.Supports, st.Supports...)
	}
	r.Supports = append(r.Supports, p.Supports...)
	m.spread(&r, func(id int) bool { return given[id] && !r.Stated[id] })
	m.spread(&r, func(id int) bool { return r.Stated[id] })
	for _, side := range []Side{Right, Left} {
		m.resolveShoulder(side, &r, given)
	}
	m.readBack(&r, given)
	return r
}

// spread gives the chosen movements to their coordinates: first those that
// share, which add up, then those that state one coordinate alone.
func (m *Model) spread(r *Resolved, chosen func(id int) bool) {
	for id, mv := range m.Movements {
		if chosen(id) && !mv.Girdle && len(mv.Shares) > 1 {
			for _, s := range mv.Shares {
				r.Coords[s.Coord] += s.Factor * r.Movements[id]
			}
		}
	}
	for id, mv := range m.Movements {
		if chosen(id) && !mv.Girdle && len(mv.Shares) == 1 {
			r.Coords[mv.Shares[0].Coord] = mv.Shares[0].Factor * r.Movements[id]
		}
	}
}

// girdleKeys are the movements that the rhythm and the whole arm are made of,
// and the coordinates they end in; the loader makes sure that they exist.
var girdleKeys = struct{ movements, coords []string }{
	[]string{"shoulder_flexion", "shoulder_abduction", "shoulder_rotation",
		"shoulder_blade_elevation", "shoulder_blade_protraction", "shoulder_blade_upward_rotation", "shoulder_blade_tilt"},
	[]string{"clavicle_protraction", "clavicle_elevation", "clavicle_rotation",
		"scapula_internal_rotation", "scapula_upward_rotation", "scapula_tilt",
		"glenohumeral_flexion", "glenohumeral_abduction", "glenohumeral_rotation"},
}

// SetsArm tells whether a movement says where the upper arm of a side points, so
// that it no longer hangs.
func (m *Model) SetsArm(id MovementID, s Side) bool {
	return s != Middle && (id == m.MustMovement("shoulder_flexion"+s.Suffix()) || id == m.MustMovement("shoulder_abduction"+s.Suffix()))
}

// Swing points the upper arm of a side anew, in a posture that is resolved: the
// shoulder blade follows where it was not stated.
func (m *Model) Swing(r *Resolved, s Side, flexion, abduction float64) {
	r.Movements[m.MustMovement("shoulder_flexion"+s.Suffix())] = flexion
	r.Movements[m.MustMovement("shoulder_abduction"+s.Suffix())] = abduction
	m.resolveShoulder(s, r, r.Stated)
}

// resolveShoulder turns the whole arm's position against the trunk, and what is
// stated or follows for the shoulder blade, into the girdle's coordinates.
func (m *Model) resolveShoulder(side Side, r *Resolved, given []bool) {
	mv := func(key string) MovementID { return m.MustMovement(key + side.Suffix()) }
	co := func(key string) CoordID { return m.MustCoord(key + side.Suffix()) }
	flexion, abduction := r.Movements[mv("shoulder_flexion")], r.Movements[mv("shoulder_abduction")]
	flexAxis, abdAxis := m.Coords[co("glenohumeral_flexion")].Axis, m.Coords[co("glenohumeral_abduction")].Axis
	long := m.Coords[co("glenohumeral_rotation")].Axis
	swing := flexAxis.Scale(flexion).Add(abdAxis.Scale(abduction))
	arm := geom.FromVector(swing).Mul(geom.Turn(long, r.Movements[mv("shoulder_rotation")]))

	// Elevation counts forward, sideways and anything between; the rhythm was
	// measured for raising the arm, so what draws the arm back or across leaves
	// the girdle at rest.
	rest := m.Girdle.At(math.Hypot(max(0, flexion), max(0, abduction)))
	if id := mv("shoulder_blade_upward_rotation"); given[id] {
		// Turned up by word, the blade glides along the same way on the ribs, and
		// takes the collar bone with it, as when the arm takes it along.
		rest = m.Girdle.Turned(r.Movements[id])
	}
	follow := func(key string, value float64) float64 {
		id := mv(key)
		if !given[id] {
			r.Movements[id] = value
		}
		return r.Movements[id]
	}
	elevation := follow("shoulder_blade_elevation", rest.ClavicleElevation)
	protraction := follow("shoulder_blade_protraction", -rest.ClavicleRetraction)
	upward := follow("shoulder_blade_upward_rotation", rest.UpwardRotation)
	tilt := follow("shoulder_blade_tilt", rest.PosteriorTilt)
	internal := rest.InternalRotation
	if given[mv("shoulder_blade_protraction")] {
		internal = protraction // the blade stays flat on the ribs as it slides around them
	}

	// The collar bone first, then the blade against it, then the arm against the blade.
	turn := func(key string, angle float64) geom.Rot { return geom.Turn(m.Coords[co(key)].Axis, angle) }
	r.Coords[co("clavicle_protraction")] = protraction
	r.Coords[co("clavicle_elevation")] = elevation
	r.Coords[co("clavicle_rotation")] = rest.ClavicleRotation
	clavicle := turn("clavicle_protraction", protraction).Mul(turn("clavicle_elevation", elevation)).Mul(turn("clavicle_rotation", rest.ClavicleRotation))
	blade := turn("scapula_internal_rotation", internal).Mul(turn("scapula_upward_rotation", upward)).Mul(turn("scapula_tilt", tilt))
	a, b, c := hingeAngles(clavicle.Inverse().Mul(blade),
		m.Coords[co("scapula_internal_rotation")].Axis, m.Coords[co("scapula_upward_rotation")].Axis, m.Coords[co("scapula_tilt")].Axis)
	r.Coords[co("scapula_internal_rotation")] = a
	r.Coords[co("scapula_upward_rotation")] = b
	r.Coords[co("scapula_tilt")] = c
	w := blade.Inverse().Mul(arm).Vector()
	r.Coords[co("glenohumeral_flexion")] = w.Dot(flexAxis)
	r.Coords[co("glenohumeral_abduction")] = w.Dot(abdAxis)
	r.Coords[co("glenohumeral_rotation")] = w.Dot(long)
}

// hingeAngles returns the angles about three mutually perpendicular axes, in
// order, whose turns compose to r. The axes may be left- or right-handed. The
// middle angle is within ±π/2.
func hingeAngles(r geom.Rot, e1, e2, e3 geom.Vec) (a, b, c float64) {
	// In the frame whose axes are e1, e2 and h·e3 (h = ±1 for handedness), the
	// composition's entries give the angles directly.
	h := e1.Cross(e2).Dot(e3)
	at := func(u, v geom.Vec) float64 { return u.Dot(r.Apply(v)) }
	sign := 1.0
	if h < 0 {
		sign = -1
	}
	b = sign * geom.Asin(at(e1, e3))
	a = sign * math.Atan2(-at(e2, e3), at(e3, e3))
	c = sign * math.Atan2(-at(e1, e2), at(e1, e1))
	return a, b, c
}

// readBack gives movements that were not stated the value that the coordinates
// have, so that dials and range checks see one truth. A movement that plays
// joints against each other, as a tilt of the pelvis does, is only what was
// stated: the same coordinates may have come about without it.
func (m *Model) readBack(r *Resolved, given []bool) {
	for id, mv := range m.Movements {
		if given[id] || mv.Girdle || len(mv.Shares) == 0 {
			continue
		}
		sum, weight := 0.0, 0.0
		for _, s := range mv.Shares {
			if s.Factor < 0 && len(mv.Shares) > 1 {
				sum = 0
				break
			}
			sum += s.Factor * r.Coords[s.Coord]
			weight += s.Factor * s.Factor
		}
		r.Movements[id] = sum / weight
	}
}
