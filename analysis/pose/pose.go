// Package pose tells where every bone and muscle line is for one set of
// coordinates: segment frames, path lengths and moment arms.
//
// A Pose is a workspace over one model: Set places the segments, Measure
// follows the paths. After New nothing is allocated, so a Pose can be reused
// for thousands of postures; it is not for use from several goroutines at once.
package pose

import (
	"fmt"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// Pose is one placement of a model's body.
type Pose struct {
	Model  *body.Model
	Coords []float64    // by CoordID, as last set, rad or m
	Frames []geom.Frame // by SegmentID, world, m
	axes   []geom.Vec   // by CoordID: its axis in the world
	centre []geom.Vec   // by JointID: its centre in the world

	trunk body.SegmentID // whose axes movements of the whole arm are named for

	lengths  []float64
	outcomes []body.WrapOutcome
	plans    []plan
	arms     []float64 // of all muscles; plan.first and plan.coords tell whose
}

// New makes a workspace for a model, in the anatomical position.
func New(m *body.Model) *Pose {
	p := &Pose{
		Model:    m,
		Coords:   make([]float64, len(m.Coords)),
		Frames:   make([]geom.Frame, len(m.Segments)),
		axes:     make([]geom.Vec, len(m.Coords)),
		centre:   make([]geom.Vec, len(m.Joints)),
		lengths:  make([]float64, len(m.Muscles)),
		outcomes: make([]body.WrapOutcome, len(m.Muscles)),
	}
	p.trunk, _ = m.Segment("thorax")
	total := 0
	p.plans, total = plans(m)
	p.arms = make([]float64, total)
	p.Set(p.Coords)
	return p
}

// Set places every segment for coordinates q [rad or m, by CoordID]. A slice of
// another length or a number that is not finite is the caller's bug and panics.
func (p *Pose) Set(q []float64) {
	m := p.Model
	if len(q) != len(m.Coords) {
		panic(fmt.Sprintf("pose: %d coordinates, the model has %d", len(q), len(m.Coords)))
	}
	copy(p.Coords, q)
	for i := range m.Segments {
		p.place(body.SegmentID(i))
	}
}

// place puts one segment against its parent, which is already placed.
func (p *Pose) place(id body.SegmentID) {
	m := p.Model
	s := &m.Segments[id]
	j := &m.Joints[s.Joint]
	f := geom.Frame{Rot: geom.Identity()}
	if s.Parent != body.Ground {
		f = p.Frames[s.Parent]
	}
	centre, rot := f.Point(j.InParent), f.Rot
	if j.Ball {
		// The three coordinates make one rotation vector; the axes for small
		// turns are those of the parent.
		var w geom.Vec
		for c := j.First; c < j.First+j.Count; c++ {
			p.axes[c] = rot.Apply(m.Coords[c].Axis)
			w = w.Add(m.Coords[c].Axis.Scale(p.Coords[c]))
		}
		rot = rot.Mul(geom.FromVector(w))
	} else {
		for c := j.First; c < j.First+j.Count; c++ {
			co := &m.Coords[c]
			p.axes[c] = rot.Apply(co.Axis)
			switch v := p.Coords[c] + co.Offset; {
			case co.Slide:
				centre = centre.Add(p.axes[c].Scale(v))
			case v != 0:
				rot = rot.Mul(geom.Turn(co.Axis, v))
			}
		}
	}
	p.centre[s.Joint] = centre
	p.Frames[id] = geom.Frame{At: centre.Sub(rot.Apply(j.InChild)), Rot: rot}
}

// Turned returns coordinates in which coordinate c has moved by a small step
// from the present pose: q + step for a hinge or slide; for a ball joint the
// child turned by step about the joint's axis fixed in the parent, which is what
// moment arms of ball joints refer to.
func (p *Pose) Turned(c body.CoordID, step float64) []float64 {
	q := append([]float64(nil), p.Coords...)
	j := &p.Model.Joints[p.Model.Coords[c].Joint]
	if !j.Ball {
		q[c] += step
		return q
	}
	var w geom.Vec
	for i := j.First; i < j.First+j.Count; i++ {
		w = w.Add(p.Model.Coords[i].Axis.Scale(q[i]))
	}
	w = geom.Turn(p.Model.Coords[c].Axis, step).Mul(geom.FromVector(w)).Vector()
	for i := j.First; i < j.First+j.Count; i++ {
		q[i] = w.Dot(p.Model.Coords[i].Axis)
	}
	return q
}

// Axis returns the world axis of a coordinate and the world centre of its
// joint, m. Turning about the axis by a positive small angle raises the
// coordinate (see Turned for ball joints).
func (p *Pose) Axis(c body.CoordID) (axis, centre geom.Vec) {
	return p.axes[c], p.centre[p.Model.Coords[c].Joint]
}

// Point returns where a point of a segment is in the world, m.
func (p *Pose) Point(s body.SegmentID, at geom.Vec) geom.Vec { return p.Frames[s].Point(at) }

// CentreOfMass returns the whole body's centre of mass in the world, m.
func (p *Pose) CentreOfMass() geom.Vec {
	var sum geom.Vec
	mass := 0.0
	for i := range p.Model.Segments {
		if s := &p.Model.Segments[i]; s.Mass > 0 {
			sum = sum.Add(p.Frames[i].Point(s.Centre).Scale(s.Mass))
			mass += s.Mass
		}
	}
	return sum.Scale(1 / mass)
}
