package pose

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// plan is what of one muscle's path does not change with the pose.
type plan struct {
	coords []body.CoordID // every coordinate the path crosses
	first  int            // index of the first one's arm in Pose.arms
	legs   []leg
}

// leg is the stretch between two neighbouring points, perhaps over a surface.
type leg struct {
	a, b    body.Node
	surface *body.Surface // nil for a plain stretch
	side    geom.Vec      // in the surface's segment
	direct  []crossing    // joints between the two points
	enter   []crossing    // joints between the first point and the surface
	leave   []crossing    // joints between the surface and the second point
}

// crossing is one coordinate between two segments.
type crossing struct {
	coord body.CoordID
	index int     // among the plan's coords
	sign  float64 // +1 when it moves the second segment against the first, -1 for the reverse
}

// plans prepares every muscle of a model and returns the number of arms in all.
func plans(m *body.Model) ([]plan, int) {
	all := make([]plan, len(m.Muscles))
	total := 0
	for i := range m.Muscles {
		pl := &all[i]
		pl.first = total
		path := m.Muscles[i].Path
		for k := 0; k+1 < len(path); k++ {
			if path[k].Wrap {
				continue
			}
			lg := leg{a: path[k], b: path[k+1]}
			if path[k+1].Wrap {
				lg.surface, lg.side, lg.b = &m.Surfaces[path[k+1].Surface], path[k+1].At, path[k+2]
				lg.enter = pl.between(m, lg.a.Segment, lg.surface.Segment)
				lg.leave = pl.between(m, lg.surface.Segment, lg.b.Segment)
			}
			lg.direct = pl.between(m, lg.a.Segment, lg.b.Segment)
			pl.legs = append(pl.legs, lg)
		}
		total += len(pl.coords)
	}
	return all, total
}

// between lists the coordinates on the way from segment a to segment b.
func (pl *plan) between(m *body.Model, a, b body.SegmentID) []crossing {
	var list []crossing
	climb := func(s body.SegmentID, sign float64) body.SegmentID {
		j := &m.Joints[m.Segments[s].Joint]
		for c := j.First; c < j.First+j.Count; c++ {
			list = append(list, crossing{c, pl.column(c), sign})
		}
		return m.Segments[s].Parent
	}
	for a != b { // a parent has a lower number than its child
		if a > b {
			a = climb(a, -1)
		} else {
			b = climb(b, +1)
		}
	}
	return list
}

func (pl *plan) column(c body.CoordID) int {
	for i, have := range pl.coords {
		if have == c {
			return i
		}
	}
	pl.coords = append(pl.coords, c)
	return len(pl.coords) - 1
}

// Measure follows every path at the present pose.
func (p *Pose) Measure() {
	for i := range p.plans {
		p.MeasureOne(body.MuscleID(i))
	}
}

// MeasureOne follows the path of one muscle at the present pose.
//
//	L = Σ straight parts + Σ arcs      [m]
//	r = -∂L/∂q                         [m/rad]
//
// Only the straight parts between segments that move against each other change
// with a joint: where the path lies on a surface its length is stationary in
// the touching points, so each straight part from A to B with direction u gives
// ∂L/∂q = ± axis · ((B - centre) × u).
func (p *Pose) MeasureOne(id body.MuscleID) {
	pl := &p.plans[id]
	arms := p.arms[pl.first : pl.first+len(pl.coords)]
	clear(arms)
	length, worst := 0.0, body.Straight
	for i := range pl.legs {
		lg := &pl.legs[i]
		a := p.Frames[lg.a.Segment].Point(lg.a.At)
		b := p.Frames[lg.b.Segment].Point(lg.b.At)
		if lg.surface != nil {
			f := p.Frames[lg.surface.Segment]
			w := around(lg.surface, f.Point(lg.surface.Centre), f.Dir(lg.surface.Axis), a, b, f.Point(lg.side))
			worst = max(worst, w.Outcome)
			if w.Outcome == body.Wrapped {
				length += p.straight(a, w.T0, lg.enter, arms) + w.Arc + p.straight(w.T1, b, lg.leave, arms)
				continue
			}
		}
		length += p.straight(a, b, lg.direct, arms)
	}
	p.lengths[id], p.outcomes[id] = length, worst
}

// straight adds one straight part's share to the moment arms and returns its length.
func (p *Pose) straight(a, b geom.Vec, crossed []crossing, arms []float64) float64 {
	d := b.Sub(a)
	l := d.Norm()
	if l < 1e-9 {
		return l
	}
	u := d.Scale(1 / l)
	for _, c := range crossed {
		m := b.Sub(p.centre[p.Model.Coords[c.coord].Joint]).Cross(u)
		arms[c.index] -= c.sign * p.axes[c.coord].Dot(m)
	}
	return l
}

// Length returns a muscle's length from origin to insertion as last measured, m.
func (p *Pose) Length(id body.MuscleID) float64 { return p.lengths[id] }

// Outcome returns the worst wrap outcome along a muscle's path as last measured.
func (p *Pose) Outcome(id body.MuscleID) body.WrapOutcome { return p.outcomes[id] }

// Arms returns the coordinates that a muscle crosses and its moment arm about
// each, m/rad, as last measured. A positive arm: pulling raises the coordinate.
// The slices belong to the Pose.
func (p *Pose) Arms(id body.MuscleID) ([]body.CoordID, []float64) {
	pl := &p.plans[id]
	return pl.coords, p.arms[pl.first : pl.first+len(pl.coords)]
}

// MomentArm returns one moment arm, m/rad, and 0 for a joint that the muscle
// does not cross.
func (p *Pose) MomentArm(id body.MuscleID, c body.CoordID) float64 {
	coords, arms := p.Arms(id)
	for i, have := range coords {
		if have == c {
			return arms[i]
		}
	}
	return 0
}

// MovementArm returns a muscle's moment arm about a movement, m/rad: how much
// the path shortens per radian of the movement (see Along).
func (p *Pose) MovementArm(id body.MuscleID, mv body.MovementID) float64 {
	return p.Along(mv, func(c body.CoordID) float64 { return p.MomentArm(id, c) })
}

// Along gives the part of a quantity per coordinate, such as moment arms or
// moments, that belongs to a movement: with its angle shared over the
// coordinates as the movement says.
//
// Movements of the whole arm are taken at the glenohumeral joint, about the
// axes that they are named for: flexion and abduction about the trunk's, however
// the shoulder blade has turned, and rotation about the upper arm's own.
func (p *Pose) Along(mv body.MovementID, of func(body.CoordID) float64) float64 {
	m := p.Model
	sum := 0.0
	for _, s := range m.Movements[mv].Shares {
		j := &m.Joints[m.Coords[s.Coord].Joint]
		if !j.Ball {
			sum += s.Factor * of(s.Coord)
			continue
		}
		frame := p.trunk
		if s.Coord == j.First+2 { // about the child's own long axis
			frame = j.Child
		}
		axis := p.Frames[frame].Dir(m.Coords[s.Coord].Axis)
		for c := j.First; c < j.First+j.Count; c++ {
			sum += s.Factor * axis.Dot(p.axes[c]) * of(c)
		}
	}
	return sum
}

// Line appends the points of a muscle's path in the world to dst, m, arcs over
// surfaces as short chords, for drawing.
func (p *Pose) Line(id body.MuscleID, dst []geom.Vec) []geom.Vec {
	pl := &p.plans[id]
	for i := range pl.legs {
		lg := &pl.legs[i]
		a := p.Frames[lg.a.Segment].Point(lg.a.At)
		b := p.Frames[lg.b.Segment].Point(lg.b.At)
		if i == 0 {
			dst = append(dst, a)
		}
		if lg.surface != nil {
			f := p.Frames[lg.surface.Segment]
			centre, axis := f.Point(lg.surface.Centre), f.Dir(lg.surface.Axis)
			if w := around(lg.surface, centre, axis, a, b, f.Point(lg.side)); w.Outcome == body.Wrapped {
				dst = arc(lg.surface, centre, axis, w, f.Point(lg.side), dst)
			}
		}
		dst = append(dst, b)
	}
	return dst
}

// arc appends chords of the way over a surface from w.T0 to w.T1.
func arc(s *body.Surface, centre, axis geom.Vec, w wrapped, side geom.Vec, dst []geom.Vec) []geom.Vec {
	steps := 1 + int(w.Arc/s.Radius/0.3)
	n := axis
	if s.Shape == body.Sphere {
		c := w.T0.Sub(centre).Cross(w.T1.Sub(centre))
		if c.Norm() < 1e-12 {
			return append(dst, w.T0, w.T1)
		}
		n = c.Unit()
	}
	r0 := w.T0.Sub(centre)
	rise := w.T1.Sub(w.T0).Dot(n)
	angle := math.Sqrt(max(0, w.Arc*w.Arc-rise*rise)) / s.Radius
	// Turn the way that ends at T1.
	end := func(a float64) geom.Vec { return centre.Add(geom.Turn(n, a).Apply(r0)).Add(n.Scale(rise)) }
	if end(-angle).Sub(w.T1).Norm() < end(angle).Sub(w.T1).Norm() {
		angle = -angle
	}
	for k := 0; k <= steps; k++ {
		t := float64(k) / float64(steps)
		dst = append(dst, centre.Add(geom.Turn(n, angle*t).Apply(r0)).Add(n.Scale(rise*t)))
	}
	return dst
}
