package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// gravity is the standard acceleration of free fall, m/s2, downward.
const gravity = 9.80665

// force is one outside force on a segment, in the world: N and m.
type force struct {
	segment body.SegmentID
	at      geom.Vec
	f       geom.Vec
}

// weights lists the weight of every segment and the loads.
func (a *Analyser) weights(p *pose.Pose, loads []body.Load) (forces []force) {
	m := p.Model
	for i := range m.Segments {
		if s := &m.Segments[i]; s.Mass > 0 {
			forces = append(forces, force{body.SegmentID(i), p.Frames[i].Point(s.Centre), geom.V(0, -gravity*s.Mass, 0)})
		}
	}
	for _, l := range loads {
		if patch, ok := m.Patch(l.Patch); ok {
			f := geom.V(0, -gravity*l.Mass, 0)
			if l.Kind != body.Carry {
				// Pushing one way, the world presses back the other way; pulling
				// something one way, it draws the hand the other way as well.
				f = directions[l.Direction].Scale(-l.Force)
			}
			forces = append(forces, force{patch.Segment, middle(p, patch), f})
		}
	}
	return forces
}

// outside lists the forces on the body: weights, loads, and the upward
// reactions of the supports.
//
// How a floor shares the weight among several contacts is not decided by
// balance alone. Here the reactions are vertical, push only, balance weight and
// tipping moments, and are otherwise as even as possible (least sum of
// squares). complete is false when no such reactions balance the body.
func (a *Analyser) outside(p *pose.Pose, supports []body.Support, loads []body.Load) (forces []force, complete bool) {
	m := p.Model
	forces = a.weights(p, loads)
	var points []force
	for _, s := range supports {
		patch, ok := m.Patch(s.Patch)
		if ok && body.Bare(patch.Key) == "toes" && rests(supports, "heel"+patch.Side.Suffix()) {
			continue // with the heel down the toes lie there and carry next to nothing
		}
		if ok && s.On != body.Wall {
			for _, pt := range patch.Points {
				points = append(points, force{patch.Segment, p.Point(patch.Segment, pt), geom.V(0, 1, 0)})
			}
		}
	}
	share, ok := evenReactions(points, forces)
	for i, v := range share {
		if v > 0 {
			points[i].f = geom.V(0, v, 0)
			forces = append(forces, points[i])
		}
	}
	return forces, ok
}

func rests(supports []body.Support, patch string) bool {
	return slices.ContainsFunc(supports, func(s body.Support) bool { return s.Patch == patch })
}

// directions are the words of pushes and pulls, in the world, for a body that
// faces forward.
var directions = map[string]geom.Vec{
	"up": geom.V(0, 1, 0), "down": geom.V(0, -1, 0), "forward": geom.V(1, 0, 0),
	"backward": geom.V(-1, 0, 0), "right": geom.V(0, 0, 1), "left": geom.V(0, 0, -1),
}

// middle is the middle of a patch in the world, m.
func middle(p *pose.Pose, patch *body.Patch) geom.Vec {
	var sum geom.Vec
	for _, pt := range patch.Points {
		sum = sum.Add(p.Point(patch.Segment, pt))
	}
	return sum.Scale(1 / float64(len(patch.Points)))
}

// evenReactions shares the vertical load among the points: f >= 0, the sum and
// the two tipping moments balanced, least sum of squares. Points that would
// have to pull are left out one by one.
func evenReactions(points, loads []force) ([]float64, bool) {
	var want [3]float64 // N, N·m about Z, N·m about X
	for _, l := range loads {
		t := l.at.Cross(l.f)
		want[0] -= l.f.Y
		want[1] -= t.Z
		want[2] -= t.X
	}
	out := make([]bool, len(points))
	share := make([]float64, len(points))
	for range len(points) + 1 {
		// f = Aᵀ λ with A Aᵀ λ = want, over the points still in.
		var g [3][4]float64
		for i, pt := range points {
			if out[i] {
				continue
			}
			row := [3]float64{1, pt.at.X, -pt.at.Z}
			for r := range 3 {
				for c := range 3 {
					g[r][c] += row[r] * row[c]
				}
			}
		}
		for r := range 3 {
			g[r][r] += 1e-9 // points in one line leave one moment open
			g[r][3] = want[r]
		}
		lambda := solve3(g)
		worst := -1
		for i, pt := range points {
			share[i] = 0
			if out[i] {
				continue
			}
			share[i] = lambda[0] + lambda[1]*pt.at.X - lambda[2]*pt.at.Z
			if share[i] < -1e-6 && (worst < 0 || share[i] < share[worst]) {
				worst = i
			}
		}
		if worst < 0 {
			break
		}
		out[worst] = true
	}
	var got [3]float64
	for i, pt := range points {
		got[0] += share[i]
		got[1] += share[i] * pt.at.X
		got[2] -= share[i] * pt.at.Z
	}
	ok := len(points) > 0
	for r := range 3 {
		ok = ok && math.Abs(got[r]-want[r]) < 0.01*math.Max(1, math.Abs(want[0]))
	}
	return share, ok
}

// solve3 solves three equations by elimination with pivoting.
func solve3(g [3][4]float64) (x [3]float64) {
	for c := range 3 {
		p := c
		for r := c + 1; r < 3; r++ {
			if math.Abs(g[r][c]) > math.Abs(g[p][c]) {
				p = r
			}
		}
		g[c], g[p] = g[p], g[c]
		if g[c][c] == 0 {
			return [3]float64{}
		}
		for r := range 3 {
			if r != c {
				f := g[r][c] / g[c][c]
				for k := c; k < 4; k++ {
					g[r][k] -= f * g[c][k]
				}
			}
		}
	}
	for c := range 3 {
		x[c] = g[c][3] / g[c][c]
	}
	return x
}

// asked returns, for every coordinate, the moment that muscles, ligaments and
// stops together must supply to hold the posture against the forces, N·m,
// positive toward the coordinate's positive direction. Forces on the part of
// the body that the joint carries, its child side, are counted; with complete
// reactions the other side would give the same.
func asked(p *pose.Pose, forces []force) []float64 {
	m := p.Model
	need := make([]float64, len(m.Coords))
	for _, f := range forces {
		for s := f.segment; s != body.Ground; s = m.Segments[s].Parent {
			j := &m.Joints[m.Segments[s].Joint]
			if j.Parent == body.Ground {
				break
			}
			for c := j.First; c < j.First+j.Count; c++ {
				axis, centre := p.Axis(c)
				need[c] -= axis.Dot(f.at.Sub(centre).Cross(f.f))
			}
		}
	}
	return need
}
