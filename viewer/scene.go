package viewer

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"sync"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/exports/figure"
	"tautline/timeline"
)

// How a movement is drawn: a sample for every sampleTurn of the joint that turns
// farthest, so that a straight way between samples looks like a turn.
const (
	linePoints = 12
	sampleTurn = 9 * math.Pi / 180
	maxSamples = 25
)

// drawer places a body to be drawn. It keeps its workspace from scene to scene.
type drawer struct {
	mu      sync.Mutex
	model   *body.Model
	pose    *pose.Pose
	outline []figure.Capsule
}

func (d *drawer) use(m *body.Model) {
	if d.model != m {
		d.model, d.pose, d.outline = m, pose.New(m), figure.Outline(m)
	}
}

// getModel answers with what of the body does not move.
func (s *Server) getModel(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	sendTagged(w, r, digest(modelTag(snap.model)), func() any { return still(snap.model) })
}

func still(m *body.Model) apiModel {
	a := apiModel{Version: modelTag(m), Parts: []string{}, RadiiMM: []float64{}, LinePoints: linePoints, Muscles: []apiStrand{}}
	for _, c := range figure.Outline(m) {
		a.Parts = append(a.Parts, body.Bare(m.Segments[c.Segment].Key))
		a.RadiiMM = append(a.RadiiMM, tenth(c.RA*1000), tenth(c.RB*1000))
	}
	for i := range m.Muscles {
		mu := &m.Muscles[i]
		// The side of a square with the muscle's cross-section.
		a.Muscles = append(a.Muscles, apiStrand{mu.Key, mu.Plain, mu.Name, mu.Side.String(), mu.Region, tenth(math.Sqrt(mu.PCSA) * 1000)})
	}
	return a
}

// modelTag names one body: its tables and its size.
func modelTag(m *body.Model) string {
	return digest(m.Version, fmt.Sprintf("%+v", m.Person))
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// getScene answers with the moving body of one phase.
func (s *Server) getScene(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	key := r.PathValue("key")
	i, ok := snap.sceneOf[key]
	if !ok {
		fail(w, errNoScene)
		return
	}
	sendTagged(w, r, key, func() any {
		var next *analysis.Findings
		if i+1 < len(snap.report.Phases) {
			next = snap.report.Phases[i+1].Findings
		}
		return s.drawer.scene(snap.model, &snap.report.Phases[i], next)
	})
}

// scene samples the way from a phase's posture to the next: coordinates change
// evenly and the whole stays on what supports it at both ends.
func (d *drawer) scene(m *body.Model, p *timeline.PhaseReport, next *analysis.Findings) apiScene {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.use(m)
	from := p.Findings
	if from == nil {
		return apiScene{Samples: []apiSample{}}
	}
	if p.Hold() || next == nil {
		d.pose.Set(from.Coords)
		return apiScene{[]apiSample{d.sample(from)}}
	}
	n := 1 + steps(m, from.Coords, next.Coords)
	scene := apiScene{Samples: make([]apiSample, n)}
	for k := range n {
		t := float64(k) / float64(n-1)
		q := analysis.Along(from, next, t)
		at := from
		if t > 0.5 {
			at = next
		}
		d.pose.Set(q)
		if rise := d.rise(from.Contacts, next.Contacts); k > 0 && k < n-1 && rise != 0 {
			q[m.MustCoord("pelvis_y")] -= rise
			d.pose.Set(q)
		}
		scene.Samples[k] = d.sample(at)
	}
	return scene
}

// still draws one posture.
func (d *drawer) still(m *body.Model, f *analysis.Findings) apiSample {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.use(m)
	d.pose.Set(f.Coords)
	return d.sample(f)
}

// steps is how many stretches a movement is cut into.
func steps(m *body.Model, from, to []float64) int {
	most := 0.0
	for c := range from {
		if !m.Coords[c].Slide {
			most = max(most, math.Abs(to[c]-from[c]))
		}
	}
	return min(maxSamples-1, max(2, int(math.Ceil(most/sampleTurn))))
}

// rise is how far the lowest floor contact that both ends share stands off the
// floor at the present pose, m.
func (d *drawer) rise(from, to []analysis.Contact) float64 {
	low, found := math.Inf(1), false
	for _, c := range from {
		shared := slices.ContainsFunc(to, func(o analysis.Contact) bool { return o.Patch == c.Patch && o.On == body.Floor })
		patch, ok := d.model.Patch(c.Patch)
		if c.On != body.Floor || !shared || !ok {
			continue
		}
		for _, at := range patch.Points {
			low, found = min(low, d.pose.Point(patch.Segment, at).Y), true
		}
	}
	if !found {
		return 0
	}
	return low
}

// sample draws the present pose, with what bears it and what it bears as found.
func (d *drawer) sample(f *analysis.Findings) apiSample {
	a := apiSample{
		Body:     make([]int, 0, 6*len(d.outline)),
		Lines:    make([]int, 0, 3*linePoints*len(d.model.Muscles)),
		Contacts: []int{}, Bears: []int{}, Loads: []apiHeavy{},
	}
	for _, c := range d.outline {
		a.Body = put(put(a.Body, d.pose.Point(c.Segment, c.A)), d.pose.Point(c.Segment, c.B))
	}
	var line []geom.Vec
	for i := range d.model.Muscles {
		line = d.pose.Line(body.MuscleID(i), line[:0])
		a.Lines = even(a.Lines, line)
	}
	a.Centre = put(nil, d.pose.CentreOfMass())
	for _, c := range f.Contacts {
		if at, ok := d.middle(c.Patch); ok {
			a.Contacts = put(a.Contacts, at)
			a.Bears = append(a.Bears, newtons(f, c.Patch)...)
		}
	}
	for _, l := range f.Posture.Loads {
		if at, ok := d.middle(l.Patch); ok {
			a.Loads = append(a.Loads, heavy(l, put(nil, at)))
		}
	}
	return a
}

// middle is the middle of a patch at the present pose.
func (d *drawer) middle(key string) (geom.Vec, bool) {
	patch, ok := d.model.Patch(key)
	if !ok {
		return geom.Vec{}, false
	}
	var sum geom.Vec
	for _, at := range patch.Points {
		sum = sum.Add(d.pose.Point(patch.Segment, at))
	}
	return sum.Scale(1 / float64(len(patch.Points))), true
}

// newtons is what a support presses on the body in the best way, in whole
// newtons; nothing where it bears nothing.
func newtons(f *analysis.Findings, patch string) []int {
	for _, s := range f.Effort.Forces {
		if s.Patch == patch {
			return []int{int(math.Round(s.Force.X)), int(math.Round(s.Force.Y)), int(math.Round(s.Force.Z))}
		}
	}
	return []int{0, 0, 0}
}

// heavy is a load as it is drawn.
func heavy(l body.Load, at []int) apiHeavy {
	if l.Kind == body.Carry {
		return apiHeavy{at, "down", fmt.Sprintf("%.3g kg", l.Mass)}
	}
	return apiHeavy{at, l.Direction, fmt.Sprintf("%.3g N", l.Force)}
}

// put appends a point in whole millimetres.
func put(dst []int, v geom.Vec) []int {
	return append(dst, int(math.Round(v.X*1000)), int(math.Round(v.Y*1000)), int(math.Round(v.Z*1000)))
}

// even appends a line as linePoints points at even distances along it.
func even(dst []int, line []geom.Vec) []int {
	total := 0.0
	for i := 1; i < len(line); i++ {
		total += line[i].Sub(line[i-1]).Norm()
	}
	seg, walked := 1, 0.0
	for k := range linePoints {
		want := total * float64(k) / (linePoints - 1)
		for seg < len(line)-1 && walked+line[seg].Sub(line[seg-1]).Norm() < want {
			walked += line[seg].Sub(line[seg-1]).Norm()
			seg++
		}
		at, l := line[seg], line[seg].Sub(line[seg-1]).Norm()
		if l > 0 {
			at = line[seg-1].Lerp(line[seg], min(1, (want-walked)/l))
		}
		dst = put(dst, at)
	}
	return dst
}
