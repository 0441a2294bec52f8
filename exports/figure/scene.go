package figure

import (
	"image/color"
	"math"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// Solid is one rounded piece of a scene, in the world: everything within RA of
// A, RB of B, and the straight taper between them.
type Solid struct {
	A, B   geom.Vec // m
	RA, RB float64  // m
	Ink    color.RGBA
}

type end struct {
	at geom.Vec
	r  float64
}

func (s Solid) ends() [2]end { return [2]end{{s.A, s.RA}, {s.B, s.RB}} }

// Group is a thing made of solids.
type Group struct {
	Solids []Solid
	// Soft is over how much depth neighbours run into each other, m; zero
	// leaves every piece its own edge.
	Soft float64
}

// Strand is a muscle's line with what there is to say about it.
type Strand struct {
	Muscle body.MuscleID
	Line   []geom.Vec // m, in the world, from origin to insertion
	Role   analysis.Role
	Grade  analysis.Grade
	Effort float64 // 0 to 1, share of its full activation
	Held   End     // which end is held, as far as the supports tell
	Width  float64 // m, of the belly
}

// End is one end of a muscle, or neither.
type End int8

const (
	Neither   End = 0
	Origin    End = -1
	Insertion End = 1
)

// Scene is everything in a picture: the person, things around, muscle lines,
// and spots on the floor that carry a shadow.
type Scene struct {
	Groups  []Group
	Strands []Strand
	Shadows []geom.Vec // m; where things stand near the floor
}

// Artist draws one body model. It keeps a workspace, so it is not for use from
// several goroutines at once.
type Artist struct {
	Model    *body.Model
	pose     *pose.Pose
	outline  []Capsule
	features []Capsule
}

// New prepares an artist for a model.
func New(m *body.Model) *Artist {
	return &Artist{Model: m, pose: pose.New(m), outline: Outline(m), features: features(m)}
}

// How much the parts of a body run into each other, m, and below which height
// above the floor they throw a shadow, m: matters of drawing.
const (
	bodySoft    = 0.028
	fineSoft    = 0.006
	shadowBelow = 0.22
	thinnest    = 0.008
	widest      = 0.046
)

// Person returns the scene of the body alone, for the frames of every segment
// [world, floor at y = 0].
func (a *Artist) Person(frames []geom.Frame, dress Dress) *Scene {
	s := &Scene{Groups: []Group{{Soft: bodySoft}, {Soft: fineSoft}, {}}}
	for _, c := range a.outline {
		p := a.solid(c, frames, dress)
		g := &s.Groups[0]
		if fine[body.Bare(a.Model.Segments[c.Segment].Key)] {
			g = &s.Groups[1]
		}
		g.Solids = append(g.Solids, p)
		for _, e := range p.ends() {
			if e.at.Y-e.r < shadowBelow {
				s.Shadows = append(s.Shadows, geom.V(e.at.X, 0, e.at.Z))
			}
		}
	}
	for _, c := range a.features {
		s.Groups[2].Solids = append(s.Groups[2].Solids, a.solid(c, frames, dress))
	}
	return s
}

func (a *Artist) solid(c Capsule, frames []geom.Frame, dress Dress) Solid {
	f := frames[c.Segment]
	return Solid{snap(f.Point(c.A)), snap(f.Point(c.B)), c.RA, c.RB, dress.ink(body.Bare(a.Model.Segments[c.Segment].Key), c.Part)}
}

// snap takes a point to the nearest tenth of a micrometre. Where a posture comes
// to rest is found by numerical search, whose last bits may differ from run to
// run with how vectors lie in memory; a drawing shall not.
func snap(v geom.Vec) geom.Vec {
	const per = 1e7
	return geom.V(math.Round(v.X*per)/per, math.Round(v.Y*per)/per, math.Round(v.Z*per)/per)
}

// Findings returns the scene of one analysed posture: the body in plain clay,
// and every muscle by what was found of it.
func (a *Artist) Findings(f *analysis.Findings) *Scene {
	s := a.Person(f.Frames, Clay)
	a.pose.Set(f.Coords)
	for i := range f.Muscles {
		mf := &f.Muscles[i]
		line := a.pose.Line(mf.Muscle, nil)
		for k := range line {
			line[k] = snap(line[k])
		}
		s.Strands = append(s.Strands, Strand{mf.Muscle, line, mf.Role, mf.Grade, mf.Best, held(f, mf.Muscle), a.width(mf.Muscle)})
	}
	return s
}

// held is the end of a muscle that the supports hold.
func held(f *analysis.Findings, id body.MuscleID) End {
	if int(id) >= len(f.Pulls) {
		return Neither
	}
	switch p := &f.Pulls[id]; {
	case p.By != analysis.Nearer && p.By != analysis.Carries:
		return Neither
	case p.Reverse:
		return Insertion
	}
	return Origin
}

// width is how broad a muscle's belly is drawn, m: the side of a square with
// its cross-section, within what reads well.
func (a *Artist) width(id body.MuscleID) float64 {
	return max(thinnest, min(widest, math.Sqrt(a.Model.Muscles[id].PCSA)))
}
