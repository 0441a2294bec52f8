package body

import (
	"slices"
	"strconv"

	"tautline/analysis/geom"
)

// regionWords are the regions that a muscle can be listed under.
var regionWords = []string{"neck", "trunk", "shoulder girdle", "shoulder", "arm", "forearm", "hand", "hip", "thigh", "leg", "foot"}

func (l *loader) surfaces(region string) {
	t := l.table(region+"_surfaces.csv", "surface", "segment", "shape", "x_mm", "y_mm", "z_mm",
		"axis_x", "axis_y", "axis_z", "radius_mm", "source")
	for _, r := range t.rows {
		key, src := r.word("surface"), l.source(r)
		s := Surface{Shape: SurfaceShape(r.oneOf("shape", string(Sphere), string(Cylinder))), Source: src}
		s.Radius = r.number("radius_mm", 1, 250) / 1000
		axis := geom.V(0, 0, 1)
		if s.Shape == Cylinder {
			axis = r.axis()
		}
		for _, side := range []Side{Right, Left} {
			k := key + side.Suffix()
			if !once(r, "surface", k, l.m.index.surfaces) {
				continue
			}
			id, ok := l.segment(r, "segment", side)
			if !ok {
				continue
			}
			s.Key, s.Segment, s.Centre, s.Axis = k, id, mirrored(r.vec(""), side), mirrored(axis, side)
			l.m.index.surfaces[k] = SurfaceID(len(l.m.Surfaces))
			l.m.Surfaces = append(l.m.Surfaces, s)
		}
	}
}

func (l *loader) muscles(region string) {
	t := l.table(region+"_muscles.csv", "muscle", "name", "latin", "plain", "region", "pcsa_cm2", "fibre_mm",
		"pennation_deg", "anatomical_fibre_ratio", "passive", "origin", "insertion", "nerve", "note", "source")
	for _, r := range t.rows {
		key := r.word("muscle")
		base := Muscle{
			Latin: r.word("latin"), Region: r.oneOf("region", regionWords...),
			PCSA:            r.number("pcsa_cm2", 0.02, 80) * 1e-4,
			Fibre:           r.number("fibre_mm", 5, 600) * 1e-3,
			Pennation:       geom.Deg(r.number("pennation_deg", 0, 45)),
			AnatomicalFibre: r.number("anatomical_fibre_ratio", 0.4, 1.6),
			Passive:         r.oneOf("passive", "no", "yes") == "yes",
			Origin:          r.word("origin"), Insertion: r.word("insertion"),
			Nerve: r.word("nerve"), Note: r.text("note"), Source: l.source(r),
		}
		right := MuscleID(len(l.m.Muscles))
		for i, side := range []Side{Right, Left} {
			mu := base
			mu.Key, mu.Name = sided(key, r.word("name"), side)
			_, mu.Plain = sided(key, r.word("plain"), side)
			mu.Side, mu.Mirror = side, right+MuscleID(1-i)
			if !once(r, "muscle", mu.Key, l.m.index.muscles) {
				continue
			}
			l.m.index.muscles[mu.Key] = MuscleID(len(l.m.Muscles))
			l.m.Muscles = append(l.m.Muscles, mu)
		}
	}
}

func (l *loader) paths(region string) {
	t := l.table(region+"_paths.csv", "muscle", "order", "kind", "place", "x_mm", "y_mm", "z_mm", "source")
	for _, r := range t.rows {
		key := r.word("muscle")
		over := r.oneOf("kind", "point", "over") == "over"
		src := l.source(r)
		for _, side := range []Side{Right, Left} {
			id, ok := l.m.index.muscles[key+side.Suffix()]
			if !ok {
				r.bad("muscle", "there is no muscle %q", key)
				break
			}
			mu := &l.m.Muscles[id]
			if want := strconv.Itoa(len(mu.Path) + 1); r.text("order") != want {
				r.bad("order", "%q, expected %s: nodes stand in the order of the path", r.text("order"), want)
			}
			n := Node{At: mirrored(r.vec(""), side), Wrap: over}
			if over {
				place := r.word("place")
				sf, ok := l.m.index.surfaces[place+side.Suffix()]
				if !ok {
					r.bad("place", "there is no surface %q", place)
					continue
				}
				n.Surface, n.Segment = sf, l.m.Surfaces[sf].Segment
			} else if n.Segment, ok = l.segment(r, "place", side); !ok {
				continue
			}
			mu.Path = append(mu.Path, n)
			mu.PathSource = src
		}
	}
}

func (l *loader) actions(region string) {
	t := l.table(region+"_actions.csv", "muscle", "movement", "direction", "main", "source", "note")
	for _, r := range t.rows {
		key, movement := r.word("muscle"), r.word("movement")
		a := Action{Toward: r.oneOf("direction", "toward", "away") == "toward",
			Main: r.oneOf("main", "yes", "no") == "yes", Source: l.source(r), Note: r.text("note")}
		for _, side := range []Side{Right, Left} {
			id, ok := l.m.index.muscles[key+side.Suffix()]
			if !ok {
				r.bad("muscle", "there is no muscle %q", key)
				break
			}
			mv, ok := l.m.index.movements[movement+side.Suffix()]
			b := a
			if !ok {
				if mv, ok = l.m.index.movements[movement]; !ok {
					r.bad("movement", "there is no movement %q", movement)
					break
				}
				// A middle movement that turns to one side turns to the other
				// for the mirrored muscle.
				if side == Left && l.m.Movements[mv].Lateral {
					b.Toward = !b.Toward
				}
			}
			b.Movement = mv
			mu := &l.m.Muscles[id]
			if slices.ContainsFunc(mu.Actions, func(x Action) bool { return x.Movement == mv }) {
				r.bad("movement", "%s has two actions on %q", key, movement)
				break
			}
			mu.Actions = append(mu.Actions, b)
		}
	}
}

// checkMuscles holds every path to the rules that the path computation relies on.
func (l *loader) checkMuscles() {
	t := &table{file: "muscles", problems: &l.problems}
	for _, mu := range l.m.Muscles {
		if mu.Side != Right {
			continue // the left is made from the right
		}
		n := len(mu.Path)
		if n < 2 {
			t.add(0, 0, "%s has a path of %d nodes, expected at least 2", mu.Key, n)
			continue
		}
		if mu.Path[0].Wrap || mu.Path[n-1].Wrap {
			t.add(0, 0, "%s begins or ends on a surface; a path begins and ends at a point", mu.Key)
			continue
		}
		crosses := false
		for i, node := range mu.Path {
			crosses = crosses || node.Segment != mu.Path[0].Segment
			if !node.Wrap {
				continue
			}
			if mu.Path[i-1].Wrap || mu.Path[i+1].Wrap {
				t.add(0, 0, "%s has two surfaces without a point between them", mu.Key)
				continue
			}
			s := l.m.Surfaces[node.Surface]
			d := node.At.Sub(s.Centre)
			if s.Shape == Cylinder {
				d = d.Sub(s.Axis.Scale(d.Dot(s.Axis)))
			}
			if d.Norm() < 1e-4 {
				t.add(0, 0, "%s: the side point of %s lies on its axis or centre and names no side", mu.Key, s.Key)
			}
			for _, end := range []Node{mu.Path[i-1], mu.Path[i+1]} {
				if end.Segment == s.Segment && s.depth(end.At) > 0 {
					t.add(0, 0, "%s: a neighbour of %s lies %.1f mm inside it", mu.Key, s.Key, 1000*s.depth(end.At))
				}
			}
		}
		if !crosses {
			t.add(0, 0, "%s crosses no joint", mu.Key)
		}
	}
}

// depth is how deep a point of the surface's segment lies inside it, m;
// negative outside.
func (s Surface) depth(p geom.Vec) float64 {
	d := p.Sub(s.Centre)
	if s.Shape == Cylinder {
		d = d.Sub(s.Axis.Scale(d.Dot(s.Axis)))
	}
	return s.Radius - d.Norm()
}
