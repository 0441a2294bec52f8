package main

import (
	"math"
	"slices"
	"sort"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/exports/figure"
	"tautline/timeline"
)

// course tells where the body is at any time: exactly in each mark's posture at
// the mark, and between two marks on the smooth way that the analysis samples.
// A foot that stands at both ends stays where it stands, and a foot that is
// taken elsewhere is lifted as far as it must be to clear the floor.
type course struct {
	phases []timeline.PhaseReport
	pose   *pose.Pose
	skin   []figure.Capsule
	at     []geom.Vec // by phase: where its posture has been moved on the floor, m
}

func newCourse(m *body.Model, phases []timeline.PhaseReport) *course {
	c := &course{phases, pose.New(m), figure.Outline(m), make([]geom.Vec, len(phases))}
	for i := 1; i < len(phases); i++ {
		from, to := phases[i-1].Findings, phases[i].Findings
		held := shared(from, to)
		c.at[i] = c.at[i-1].Add(c.stands(held, from.Coords)).Sub(c.stands(held, to.Coords))
	}
	return c
}

// frames places every segment at a time, s. The slice is the course's own.
func (c *course) frames(t float64) []geom.Frame {
	m := c.pose.Model
	i := max(0, sort.Search(len(c.phases), func(i int) bool { return c.phases[i].From.Seconds() > t })-1)
	p := &c.phases[i]
	from := p.Findings
	q, move := slices.Clone(from.Coords), c.at[i]
	if p.Next != nil {
		to := c.phases[i+1].Findings
		share := (t - p.From.Seconds()) / (p.To - p.From).Seconds()
		held := shared(from, to)
		q = analysis.Along(from, to, share)
		move = move.Add(c.stands(held, from.Coords)).Sub(c.stands(held, q))
		for _, side := range []body.Side{body.Right, body.Left} {
			if !slices.ContainsFunc(held, func(key string) bool { return strings.HasSuffix(key, side.Suffix()) }) {
				c.clear(side, q, (1-share)*c.lowest(side, from.Coords)+share*c.lowest(side, to.Coords)-move.Y)
			}
		}
	}
	q[m.MustCoord("pelvis_x")] += move.X
	q[m.MustCoord("pelvis_y")] += move.Y
	q[m.MustCoord("pelvis_z")] += move.Z
	c.pose.Set(q)
	return c.pose.Frames
}

// clear lifts a leg until nothing of it is below a height, m: the knee bends,
// and hip and ankle go with it, as in a step.
func (c *course) clear(side body.Side, q []float64, floor float64) {
	m := c.pose.Model
	start := slices.Clone(q)
	low := func(bend float64) float64 {
		for key, share := range map[string]float64{"knee_flexion": 1, "hip_flexion": 0.5, "ankle_dorsiflexion": 0.4} {
			k := m.MustCoord(key + side.Suffix())
			q[k] = start[k] + share*bend
		}
		return c.lowest(side, q)
	}
	const enough = 1e-6 // m, far less than a pixel
	if low(0) >= floor-enough {
		return
	}
	lo, hi := 0.0, math.Pi/2
	for range 24 {
		if mid := (lo + hi) / 2; low(mid) < floor {
			lo = mid
		} else {
			hi = mid
		}
	}
	low(hi)
}

// shared names the patches that rest on the floor in both postures.
func shared(from, to *analysis.Findings) []string {
	var held []string
	for _, a := range from.Contacts {
		if slices.ContainsFunc(to.Contacts, func(b analysis.Contact) bool { return a.Patch == b.Patch && a.On == b.On }) {
			held = append(held, a.Patch)
		}
	}
	return held
}

// stands is the middle of patches, m; the world's origin when there are none.
func (c *course) stands(patches []string, q []float64) geom.Vec {
	c.pose.Set(q)
	var sum geom.Vec
	n := 0.0
	for _, key := range patches {
		if patch, ok := c.pose.Model.Patch(key); ok {
			for _, at := range patch.Points {
				sum, n = sum.Add(c.pose.Point(patch.Segment, at)), n+1
			}
		}
	}
	return sum.Scale(1 / max(1, n))
}

// lowest is the height of the lowest point of one leg's skin, m.
func (c *course) lowest(side body.Side, q []float64) float64 {
	c.pose.Set(q)
	low := math.Inf(1)
	for _, k := range c.skin {
		if s := &c.pose.Model.Segments[k.Segment]; s.Side == side {
			f := c.pose.Frames[k.Segment]
			low = min(low, f.Point(k.A).Y-k.RA, f.Point(k.B).Y-k.RB)
		}
	}
	return low
}
