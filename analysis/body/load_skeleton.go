package body

import (
	"math"

	"tautline/analysis/geom"
)

// anthropometry is one row of body-segment parameters for each sex.
type anthropometry map[Sex]struct{ mass, centre, ap, ml, long float64 }

func (l *loader) anthropometry() map[string]anthropometry {
	t := l.table("anthropometry.csv", "row", "sex", "mass_fraction", "centre_fraction",
		"gyration_ap_fraction", "gyration_ml_fraction", "gyration_long_fraction", "source")
	rows := map[string]anthropometry{}
	for _, r := range t.rows {
		key := r.word("row")
		sex := Sex(r.oneOf("sex", string(Male), string(Female)))
		if rows[key] == nil {
			rows[key] = anthropometry{}
		}
		if _, dup := rows[key][sex]; dup {
			r.bad("row", "%q stands twice for %s", key, sex)
		}
		a := rows[key][sex]
		a.mass = r.number("mass_fraction", 0.001, 0.6)
		a.centre = r.number("centre_fraction", 0, 1)
		a.ap = r.number("gyration_ap_fraction", 0.01, 1)
		a.ml = r.number("gyration_ml_fraction", 0.01, 1)
		a.long = r.number("gyration_long_fraction", 0.01, 1)
		rows[key][sex] = a
		// A rigid body's principal moments obey the triangle inequality.
		if x, y, z := a.ap*a.ap, a.ml*a.ml, a.long*a.long; x > y+z || y > x+z || z > x+y {
			r.bad("gyration_ap_fraction", "no rigid body has these three radii of gyration")
		}
		l.source(r)
	}
	return rows
}

func (l *loader) segments() {
	rows := l.anthropometry()
	t := l.table("segments.csv", "segment", "name", "side", "anthropometry",
		"from_x_mm", "from_y_mm", "from_z_mm", "to_x_mm", "to_y_mm", "to_z_mm", "source")
	sum := map[Sex]float64{}
	for _, r := range t.rows {
		key, name, src := r.word("segment"), r.word("name"), l.source(r)
		from, to := r.vec("from_"), r.vec("to_")
		if l := from.Sub(to).Norm(); l == 0 {
			r.bad("from_x_mm", "the segment has no length")
			continue
		} else if l < 0.005 {
			r.bad("to_x_mm", "the segment is %g mm long: is the unit right?", 1000*l)
		}
		var a anthropometry
		if k := r.text("anthropometry"); k != "" {
			if a = rows[k]; a == nil {
				r.bad("anthropometry", "there is no row %q in anthropometry.csv", k)
			}
		}
		for _, side := range sidesOf(r) {
			k, n := sided(key, name, side)
			if !once(r, "segment", k, l.m.index.segments) {
				continue
			}
			id := SegmentID(len(l.m.Segments))
			l.m.index.segments[k] = id
			s := Segment{Key: k, Name: n, Side: side, Parent: Ground, Joint: -1,
				From: mirrored(from, side), To: mirrored(to, side), Source: src}
			s.Length = from.Sub(to).Norm()
			if a != nil {
				l.refMass[id] = a
				for sex, v := range a {
					sum[sex] += v.mass
				}
			}
			l.m.Segments = append(l.m.Segments, s)
		}
	}
	for _, sex := range []Sex{Male, Female} {
		// The published fractions add to one within rounding of their last digit.
		if math.Abs(sum[sex]-1) > 0.0005 {
			t.add(0, 0, "the mass fractions for %s add to %.4f, expected 1", sex, sum[sex])
		}
	}
	l.m.anthropometry = l.refMass
	l.m.setInertia(Male, l.numbers["reference_mass_kg"])
}

// setInertia gives every segment its mass, centre and radii of gyration for a
// sex and a whole-body mass [kg]. The rows' axes are antero-posterior,
// medio-lateral and along the segment; the longitudinal axis is the segment's
// own, and the other two are taken along the frame's X and Z for the upright
// segments, with the foot's long axis forward.
func (m *Model) setInertia(sex Sex, mass float64) {
	total := 0.0
	for _, a := range m.anthropometry {
		total += a[sex].mass
	}
	for id, a := range m.anthropometry {
		v, s := a[sex], &m.Segments[id]
		s.Mass = mass * v.mass / total // the women's fractions add to 0.9999
		s.Centre = s.From.Lerp(s.To, v.centre)
		if d := s.To.Sub(s.From); math.Abs(d.X) > math.Abs(d.Y) {
			s.Gyr = geom.V(v.long, v.ap, v.ml).Scale(s.Length)
		} else {
			s.Gyr = geom.V(v.ap, v.long, v.ml).Scale(s.Length)
		}
	}
}

func (l *loader) joints() {
	t := l.table("joints.csv", "joint", "name", "side", "parent", "child",
		"parent_x_mm", "parent_y_mm", "parent_z_mm", "child_x_mm", "child_y_mm", "child_z_mm", "kind", "source")
	seen := map[string]bool{}
	for _, r := range t.rows {
		key, name, src := r.word("joint"), r.word("name"), l.source(r)
		kind := r.oneOf("kind", "hinges", "ball")
		for _, side := range sidesOf(r) {
			k, n := sided(key, name, side)
			if !once(r, "joint", k, seen) {
				continue
			}
			seen[k] = true
			j := Joint{Key: k, Name: n, Side: side, Parent: Ground, Ball: kind == "ball",
				InParent: mirrored(r.vec("parent_"), side), InChild: mirrored(r.vec("child_"), side), Source: src}
			if p := r.word("parent"); p != "ground" {
				id, ok := l.segment(r, "parent", side)
				if !ok {
					continue
				}
				j.Parent = id
			}
			child, ok := l.segment(r, "child", side)
			if !ok {
				continue
			}
			j.Child = child
			if s := &l.m.Segments[child]; s.Joint >= 0 {
				r.bad("child", "%s already hangs from %s", s.Name, l.m.Joints[s.Joint].Name)
			} else {
				s.Joint, s.Parent = JointID(len(l.m.Joints)), j.Parent
			}
			l.m.Joints = append(l.m.Joints, j)
		}
	}
}

func (l *loader) coordinates() {
	t := l.table("coordinates.csv", "coordinate", "name", "joint", "slide", "axis_x", "axis_y", "axis_z",
		"offset_deg", "lo_deg_or_mm", "hi_deg_or_mm", "source")
	byJoint := map[string][]row{}
	for _, r := range t.rows {
		byJoint[r.word("joint")] = append(byJoint[r.word("joint")], r)
	}
	for i := range l.m.Joints {
		j := &l.m.Joints[i]
		rows := byJoint[bareOn(j.Key, j.Side)]
		j.First, j.Count = CoordID(len(l.m.Coords)), CoordID(len(rows))
		if len(rows) == 0 {
			t.add(0, 0, "joint %s has no coordinate", j.Key)
		}
		if j.Ball && len(rows) != 3 {
			t.add(0, 0, "ball joint %s has %d coordinates, expected 3", j.Key, len(rows))
		}
		for _, r := range rows {
			k, n := sided(r.word("coordinate"), r.word("name"), j.Side)
			if !once(r, "coordinate", k, l.m.index.coords) {
				continue
			}
			l.m.index.coords[k] = CoordID(len(l.m.Coords))
			c := Coordinate{Key: k, Name: n, Joint: JointID(i), Side: j.Side, Axis: r.axis(), Source: l.source(r)}
			c.Slide = r.oneOf("slide", "no", "yes") == "yes"
			unit := math.Pi / 180
			if c.Slide {
				unit = 1e-3
			}
			c.Offset = geom.Deg(r.number("offset_deg", -180, 180))
			lo, hi := r.number("lo_deg_or_mm", -5000, 5000), r.number("hi_deg_or_mm", -5000, 5000)
			if lo >= hi {
				r.bad("lo_deg_or_mm", "the range is empty: %g to %g", lo, hi)
			}
			c.Lo, c.Hi = unit*lo, unit*hi
			if j.Side == Left {
				if c.Axis = c.Axis.MirrorAxis(); c.Slide {
					c.Axis = c.Axis.Scale(-1)
				}
			}
			l.m.Coords = append(l.m.Coords, c)
		}
		delete(byJoint, "")
	}
	names := map[string]bool{}
	for _, j := range l.m.Joints {
		names[bareOn(j.Key, j.Side)] = true
	}
	for _, r := range t.rows {
		if !names[r.word("joint")] {
			r.bad("joint", "there is no joint %q", r.word("joint"))
		}
	}
}

// bareOn strips the suffix that sided put on, so that a middle key that happens
// to end in _r or _l keeps it.
func bareOn(key string, s Side) string { return key[:len(key)-len(s.Suffix())] }

// tree checks that segments form one tree under the pelvis with parents first.
func (l *loader) tree() {
	t := &table{file: "joints.csv", problems: &l.problems}
	for i, s := range l.m.Segments {
		switch {
		case s.Joint < 0:
			t.add(0, 0, "segment %s hangs from nothing", s.Key)
		case s.Parent == Ground && i != 0:
			t.add(0, 0, "segment %s hangs from the ground; only the first, %s, may", s.Key, l.m.Segments[0].Key)
		case s.Parent != Ground && int(s.Parent) >= i:
			t.add(0, 0, "segment %s stands before its parent %s, or hangs from itself", s.Key, l.m.Segments[s.Parent].Key)
		}
	}
}
