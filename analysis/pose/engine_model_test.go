package pose_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// engineModel is the whole body written out for an engine that is not ours, in
// its own language: nested bodies with joints, wrapping shapes and tendons.
type engineModel struct {
	m     *body.Model
	xml   strings.Builder
	dofs  []body.CoordID // ours, by the engine's column
	hangs map[body.SegmentID][]body.SegmentID
	sites map[body.SegmentID][]string
	forms map[body.SegmentID][]body.SurfaceID
	count int          // of tendons
	apart []engineSpan // stretches written once more by themselves
}

// engineSpan is the stretch of a muscle over one surface, written as two
// tendons of its own: going round on the side that the side point names, and
// without a side point, when the engine takes the shorter way.
type engineSpan struct {
	muscle       body.MuscleID
	sided, short int // tendons
}

// lightest stands in for the mass and inertia of the parts that carry none,
// because the engine refuses a moving body without: kg and kg·m2.
const lightest = 1e-9

// newEngineModel writes a model out: tendons in the order of the muscles, and
// when spans says so every stretch over a surface by itself after them.
func newEngineModel(m *body.Model, spans bool) *engineModel {
	e := &engineModel{m: m, hangs: map[body.SegmentID][]body.SegmentID{}, sites: map[body.SegmentID][]string{}, forms: map[body.SegmentID][]body.SurfaceID{}}
	for i := range m.Segments {
		e.hangs[m.Segments[i].Parent] = append(e.hangs[m.Segments[i].Parent], body.SegmentID(i))
	}
	for i := range m.Surfaces {
		s := m.Surfaces[i].Segment
		e.forms[s] = append(e.forms[s], body.SurfaceID(i))
	}
	tendons := e.tendons()
	if spans {
		tendons += e.spans()
	}
	e.write(`<mujoco model="body"><compiler angle="radian" inertiafromgeom="false"/>`)
	e.write(`<option gravity="0 %s 0"><flag contact="disable"/></option>`, num(-gravity))
	// Armature keeps the engine's mass matrix regular; no length and no gravity
	// moment depends on it.
	e.write(`<default><joint armature="1"/><geom contype="0" conaffinity="0" mass="0"/></default><worldbody>`)
	for _, id := range e.hangs[body.Ground] {
		e.segment(id)
	}
	e.write(`</worldbody><tendon>%s</tendon></mujoco>`, tendons)
	return e
}

const gravity = 9.81 // m/s2

func num(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func triple(v geom.Vec) string { return num(v.X) + " " + num(v.Y) + " " + num(v.Z) }

func (e *engineModel) write(format string, a ...any) { fmt.Fprintf(&e.xml, format+"\n", a...) }

// segment writes one segment and everything that hangs from it. A body's frame
// in the engine is the segment's frame, and the joints turn about the joint's
// centre in it.
func (e *engineModel) segment(id body.SegmentID) {
	s := &e.m.Segments[id]
	j := &e.m.Joints[s.Joint]
	e.write(`<body name="%s" pos="%s">`, s.Key, triple(j.InParent.Sub(j.InChild)))
	if s.Mass > 0 {
		e.write(`<inertial pos="%s" mass="%s" diaginertia="%s"/>`, triple(s.Centre), num(s.Mass),
			triple(geom.V(s.Gyr.X*s.Gyr.X, s.Gyr.Y*s.Gyr.Y, s.Gyr.Z*s.Gyr.Z).Scale(s.Mass)))
	} else {
		e.write(`<inertial pos="0 0 0" mass="%s" diaginertia="%s"/>`, num(lightest), triple(geom.V(lightest, lightest, lightest)))
	}
	if j.Ball {
		e.write(`<joint name="%s" type="ball" pos="%s"/>`, j.Key, triple(j.InChild))
	}
	for c := j.First; c < j.First+j.Count; c++ {
		e.dofs = append(e.dofs, c)
		if co := &e.m.Coords[c]; co.Slide {
			e.write(`<joint name="%s" type="slide" axis="%s"/>`, co.Key, triple(co.Axis))
		} else if !j.Ball {
			e.write(`<joint name="%s" type="hinge" pos="%s" axis="%s" ref="%s"/>`, co.Key, triple(j.InChild), triple(co.Axis), num(-co.Offset))
		}
	}
	for _, f := range e.forms[id] {
		sf := &e.m.Surfaces[f]
		if sf.Shape == body.Sphere {
			e.write(`<geom name="%s" type="sphere" size="%s" pos="%s"/>`, sf.Key, num(sf.Radius), triple(sf.Centre))
		} else { // its length is only for drawing: the engine wraps cylinders as endless ones, as we do
			e.write(`<geom name="%s" type="cylinder" size="%s 0.1" pos="%s" zaxis="%s"/>`, sf.Key, num(sf.Radius), triple(sf.Centre), triple(sf.Axis))
		}
	}
	for _, site := range e.sites[id] {
		e.write(`%s`, site)
	}
	for _, child := range e.hangs[id] {
		e.segment(child)
	}
	e.write(`</body>`)
}

// tendons writes every path, and collects the sites that it needs in the segments.
func (e *engineModel) tendons() string {
	var out strings.Builder
	for i := range e.m.Muscles {
		mu := &e.m.Muscles[i]
		for k, n := range mu.Path {
			at := n.At
			if n.Wrap {
				at = outsideOf(&e.m.Surfaces[n.Surface], n.At)
			}
			e.sites[n.Segment] = append(e.sites[n.Segment], fmt.Sprintf(`<site name="%s.%d" pos="%s"/>`, mu.Key, k, triple(at)))
		}
		e.tendon(&out, mu, mu.Key, 0, len(mu.Path), true)
	}
	return out.String()
}

// spans writes the stretches over surfaces by themselves.
func (e *engineModel) spans() string {
	var out strings.Builder
	for i := range e.m.Muscles {
		mu := &e.m.Muscles[i]
		for k, n := range mu.Path {
			if n.Wrap {
				name := fmt.Sprintf("%s.%d", mu.Key, k)
				e.apart = append(e.apart, engineSpan{body.MuscleID(i), e.count, e.count + 1})
				e.tendon(&out, mu, name+".sided", k-1, k+2, true)
				e.tendon(&out, mu, name+".short", k-1, k+2, false)
			}
		}
	}
	return out.String()
}

// tendon writes the nodes from one to before another.
func (e *engineModel) tendon(out *strings.Builder, mu *body.Muscle, name string, from, to int, sides bool) {
	e.count++
	fmt.Fprintf(out, "<spatial name=\"%s\">\n", name)
	for k := from; k < to; k++ {
		switch n := mu.Path[k]; {
		case n.Wrap && sides:
			fmt.Fprintf(out, "<geom geom=\"%s\" sidesite=\"%s.%d\"/>\n", e.m.Surfaces[n.Surface].Key, mu.Key, k)
		case n.Wrap:
			fmt.Fprintf(out, "<geom geom=\"%s\"/>\n", e.m.Surfaces[n.Surface].Key)
		default:
			fmt.Fprintf(out, "<site site=\"%s.%d\"/>\n", mu.Key, k)
		}
	}
	out.WriteString("</spatial>\n")
}

// outsideOf moves a side point straight out to twice the radius: only its
// direction matters to both, but the engine takes a side point inside the shape
// as a wish to wrap on the inside.
func outsideOf(s *body.Surface, side geom.Vec) geom.Vec {
	d := side.Sub(s.Centre)
	if s.Shape == body.Cylinder {
		d = d.Sub(s.Axis.Scale(d.Dot(s.Axis)))
	}
	return s.Centre.Add(d.Unit().Scale(2 * s.Radius))
}

// position gives the engine's numbers for our coordinates: the same for hinges
// and slides, a unit quaternion for a ball joint.
func (e *engineModel) position(q []float64) []float64 {
	var out []float64
	for i := 0; i < len(e.dofs); i++ {
		c := e.dofs[i]
		j := &e.m.Joints[e.m.Coords[c].Joint]
		if !j.Ball {
			out = append(out, q[c])
			continue
		}
		var w geom.Vec
		for k := j.First; k < j.First+j.Count; k++ {
			w = w.Add(e.m.Coords[k].Axis.Scale(q[k]))
		}
		sin, cos := math.Sincos(w.Norm() / 2)
		v := geom.Vec{}
		if w.Norm() > 0 {
			v = w.Unit().Scale(sin)
		}
		out = append(out, cos, v.X, v.Y, v.Z)
		i += int(j.Count) - 1
	}
	return out
}

// ours turns the engine's derivatives by column into ours by coordinate. The
// engine counts small turns of a ball joint in the child's frame, we about axes
// fixed in the parent.
func (e *engineModel) ours(frames []geom.Frame, axis func(body.CoordID) geom.Vec, columns func(int) float64) []float64 {
	out := make([]float64, len(e.m.Coords))
	for i := 0; i < len(e.dofs); i++ {
		c := e.dofs[i]
		j := &e.m.Joints[e.m.Coords[c].Joint]
		if !j.Ball {
			out[c] = columns(i)
			continue
		}
		turn := geom.V(columns(i), columns(i+1), columns(i+2))
		for k := j.First; k < j.First+j.Count; k++ {
			out[k] = frames[j.Child].Rot.ApplyInverse(axis(k)).Dot(turn)
		}
		i += int(j.Count) - 1
	}
	return out
}
