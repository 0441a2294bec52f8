package analysis

import (
	"fmt"
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// swing is what inertia asks at one moment of a movement: for every part a force
// against its acceleration, and a moment against its angular acceleration.
//
//	f = -m a,  M = -(I α + ω × I ω)
//
// in the world, for a movement of one second until in says otherwise.
type swing struct {
	forces  []force
	moments []geom.Vec // N·m, one for each force
	share   float64    // the largest of its moments about a joint, as a share of what weight could ask there
}

// part is one rigid part that has inertia: a segment, or a mass carried.
type part struct {
	segment body.SegmentID
	at, gyr geom.Vec // m, in the segment's frame
	mass    float64  // kg
}

const (
	// swingStep is the step of the finite differences, as a share of the way.
	swingStep = 0.02
	// inertiaCounts is the share of gravity's moments from which inertia is
	// counted.
	inertiaCounts = 0.10
)

// swings gives the inertia at every sample of the way, for a movement that
// takes one second along the smooth course of Along. At the ends there is none.
// With x a part's place at the share s of the way and s(t) the course in time:
//
//	a = x' s̈ + x'' ṡ²
//
// so that every force goes with one over the duration squared.
func (a *Analyser) swings(p *pose.Pose, from, to *Findings) []swing {
	parts := a.parts(from, to)
	list := make([]swing, pathSamples)
	frames := [3][]geom.Frame{}
	for k := 1; k < pathSamples-1; k++ {
		t := float64(k) / (pathSamples - 1)
		for i := range frames {
			p.Set(toward(from, to, ease(t)+float64(i-1)*swingStep))
			frames[i] = append(frames[i][:0], p.Frames...)
		}
		speed, rise := 30*t*t*(1-t)*(1-t), 60*t*(1-t)*(1-2*t) // ṡ and s̈ of ease
		p.Set(toward(from, to, ease(t)))
		var w swing
		for _, pt := range parts {
			x := [3]geom.Vec{}
			for i := range x {
				x[i] = frames[i][pt.segment].Point(pt.at)
			}
			way := x[2].Sub(x[0]).Scale(1 / (2 * swingStep))
			bend := x[2].Add(x[0]).Sub(x[1].Scale(2)).Scale(1 / (swingStep * swingStep))
			w.forces = append(w.forces, force{pt.segment, x[1], way.Scale(rise).Add(bend.Scale(speed * speed)).Scale(-pt.mass)})

			r := [3]geom.Rot{frames[0][pt.segment].Rot, frames[1][pt.segment].Rot, frames[2][pt.segment].Rot}
			before, after := r[1].Mul(r[0].Inverse()).Vector(), r[2].Mul(r[1].Inverse()).Vector()
			turn := before.Add(after).Scale(1 / (2 * swingStep))
			omega := turn.Scale(speed)
			alpha := turn.Scale(rise).Add(after.Sub(before).Scale(speed * speed / (swingStep * swingStep)))
			w.moments = append(w.moments, pt.turning(r[1], alpha).Add(omega.Cross(pt.turning(r[1], omega))).Scale(-1))
		}
		w.share = w.against(p, parts)
		list[k] = w
	}
	return list
}

// parts lists what has inertia: the segments and the masses carried all the way.
func (a *Analyser) parts(from, to *Findings) []part {
	var list []part
	for i := range a.Model.Segments {
		if s := &a.Model.Segments[i]; s.Mass > 0 {
			list = append(list, part{body.SegmentID(i), s.Centre, s.Gyr, s.Mass})
		}
	}
	for _, l := range from.Posture.Loads {
		patch, ok := a.Model.Patch(l.Patch)
		if !ok || l.Kind != body.Carry || !slices.Contains(to.Posture.Loads, l) {
			continue
		}
		var mid geom.Vec
		for _, pt := range patch.Points {
			mid = mid.Add(pt)
		}
		list = append(list, part{segment: patch.Segment, at: mid.Scale(1 / float64(len(patch.Points))), mass: l.Mass})
	}
	return list
}

// turning is I w for a part turned by r, kg·m² times w.
func (pt *part) turning(r geom.Rot, w geom.Vec) geom.Vec {
	l := r.ApplyInverse(w)
	g := pt.gyr
	return r.Apply(geom.V(g.X*g.X*l.X, g.Y*g.Y*l.Y, g.Z*g.Z*l.Z).Scale(pt.mass))
}

// generalised is what inertia asks about every coordinate of the pose, N·m or N.
func (w *swing) generalised(p *pose.Pose) []float64 {
	q := generalised(p, w.forces)
	m := p.Model
	for i, mo := range w.moments {
		for s := w.forces[i].segment; s != body.Ground; s = m.Segments[s].Parent {
			j := &m.Joints[m.Segments[s].Joint]
			for c := j.First; c < j.First+j.Count; c++ {
				if axis, _ := p.Axis(c); !m.Coords[c].Slide {
					q[c] += axis.Dot(mo)
				}
			}
		}
	}
	return q
}

// against compares inertia with weight, joint by joint: with the moment that the
// parts beyond a joint would have there if they lay level, so that a joint which
// happens to be balanced does not make every movement a quick one.
func (w *swing) against(p *pose.Pose, parts []part) float64 {
	m := p.Model
	q := w.generalised(p)
	weight := make([]float64, len(q))
	for i, pt := range parts {
		for s := pt.segment; s != body.Ground; s = m.Segments[s].Parent {
			j := &m.Joints[m.Segments[s].Joint]
			for c := j.First; c < j.First+j.Count; c++ {
				reach := 1.0
				if _, centre := p.Axis(c); !m.Coords[c].Slide {
					reach = w.forces[i].at.Sub(centre).Norm()
				}
				weight[c] += gravity * pt.mass * reach
			}
		}
	}
	most := 0.0
	for c := range q {
		if weight[c] > 0 {
			most = math.Max(most, math.Abs(q[c])/weight[c])
		}
	}
	return most
}

// in makes a swing of one second one of the given duration, s.
func (w *swing) in(duration float64) {
	k := 1 / (duration * duration)
	for i := range w.forces {
		w.forces[i].f = w.forces[i].f.Scale(k)
		w.moments[i] = w.moments[i].Scale(k)
	}
}

// quickBelow is the duration under which inertia counts, s: where the largest
// share of gravity's moments, which goes with one over the duration squared,
// reaches inertiaCounts.
func quickBelow(swings []swing) float64 {
	most := 0.0
	for _, w := range swings {
		most = math.Max(most, w.share)
	}
	return math.Sqrt(most / inertiaCounts)
}

// QuickBelow is the duration under which a movement is so quick that inertia
// counts, s: its moments pass a tenth of gravity's at some joint. It is cheap,
// and every slower movement between the same two postures is the same to Between.
func (a *Analyser) QuickBelow(from, to *Findings) float64 {
	p := a.pose()
	defer a.poses.Put(p)
	return quickBelow(a.swings(p, from, to))
}

// pace says how time was taken.
func (mv *Movement) pace(duration float64) []Doubt {
	switch {
	case duration <= 0 && mv.QuickBelow > 0:
		return []Doubt{{Kind: "inertia", Text: fmt.Sprintf("No time passes on this way; it is taken as slow, as if it took %.1f s or more.", mv.QuickBelow)}}
	case mv.Quick:
		return []Doubt{{Kind: "inertia", Text: fmt.Sprintf("This is quick: in %.1f s what the moving parts weigh is no longer all, and the effort of starting and stopping them is counted, along a smooth course.", duration)}}
	}
	return nil
}
