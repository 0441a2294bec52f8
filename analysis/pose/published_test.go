package pose_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// What the tests against published measurements share.

// lines measures the muscle lines of the right side of the reference adult.
type lines struct {
	t *testing.T
	m *body.Model
	p *pose.Pose
	q []float64
}

func newLines(t *testing.T) *lines {
	m := body.Adult()
	return &lines{t, m, pose.New(m), make([]float64, len(m.Coords))}
}

func (l *lines) muscle(key string) body.MuscleID {
	l.t.Helper()
	id, ok := l.m.Muscle(key + "_r")
	if !ok {
		l.t.Fatalf("there is no muscle %q", key)
	}
	return id
}

func (l *lines) coord(key string) body.CoordID {
	l.t.Helper()
	if id, ok := l.m.Coord(key + "_r"); ok {
		return id
	}
	id, ok := l.m.Coord(key)
	if !ok {
		l.t.Fatalf("there is no coordinate %q", key)
	}
	return id
}

// at takes "hip_flexion=90;knee_flexion=15", degrees, all others zero.
func (l *lines) at(angles string) {
	l.t.Helper()
	clear(l.q)
	for _, part := range strings.Split(angles, ";") {
		if part == "" {
			continue
		}
		key, value, _ := strings.Cut(part, "=")
		l.q[l.coord(key)] = geom.Deg(l.number(value))
	}
	l.p.Set(l.q)
}

func (l *lines) number(s string) float64 {
	l.t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		l.t.Fatal(err)
	}
	return v
}

// arm gives mm at the present pose; "a+b" is the mean by cross-section.
func (l *lines) arm(muscles, coord string) float64 {
	l.t.Helper()
	sum, weight := 0.0, 0.0
	for _, key := range strings.Split(muscles, "+") {
		id := l.muscle(key)
		l.p.MeasureOne(id)
		area := l.m.Muscles[id].PCSA
		sum += area * 1000 * l.p.MomentArm(id, l.coord(coord))
		weight += area
	}
	return sum / weight
}

// length gives mm.
func (l *lines) length(muscle, angles string) float64 {
	l.t.Helper()
	l.at(angles)
	id := l.muscle(muscle)
	l.p.MeasureOne(id)
	return 1000 * l.p.Length(id)
}

// sweep gives the arms of a muscle from one angle to another, degrees.
func (l *lines) sweep(muscle, coord string, from, to float64) []float64 {
	l.t.Helper()
	const steps = 20
	arms := make([]float64, steps+1)
	for i := range arms {
		a := from + (to-from)*float64(i)/steps
		l.at(coord + "=" + strconv.FormatFloat(a, 'f', -1, 64))
		arms[i] = l.arm(muscle, coord)
	}
	return arms
}

// publishedRows reads a table of testdata/published, which must have these columns.
func publishedRows(t *testing.T, file string, columns ...string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0], columns) || len(rows) < 2 {
		t.Fatalf("%s has the columns %v, expected %v", file, rows[0], columns)
	}
	return rows[1:]
}

const (
	plainSign = 10  // mm; published arms of this size must also have the right sign
	even      = 0.1 // mm; a fall of less is no fall: where a path lies on a surface its arm barely changes
)

// rising tells whether the values rise or stay, to within even.
func rising(values []float64) bool {
	for i := 1; i < len(values); i++ {
		if values[i] < values[i-1]-even {
			return false
		}
	}
	return true
}

func negated(values []float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = -v
	}
	return out
}

// crossed lists the coordinates that a muscle crosses, in order.
func (l *lines) crossed(muscle string) []body.CoordID {
	coords, _ := l.p.Arms(l.muscle(muscle))
	sorted := slices.Clone(coords)
	slices.Sort(sorted)
	return sorted
}

// posed resolves "shoulder_flexion=170;neck_flexion=20", movements in degrees,
// those of the right side where there is one.
func (l *lines) posed(angles string) *lines {
	l.t.Helper()
	var po body.Posture
	for _, part := range strings.Split(angles, ";") {
		if part == "" {
			continue
		}
		key, value, _ := strings.Cut(part, "=")
		po.Positions = append(po.Positions, body.Position{Movement: l.movement(key), Value: geom.Deg(l.number(value))})
	}
	l.p.Set(l.m.Resolve(po).Coords)
	return l
}

func (l *lines) movement(key string) body.MovementID {
	l.t.Helper()
	if id, ok := l.m.Movement(key + "_r"); ok {
		return id
	}
	id, ok := l.m.Movement(key)
	if !ok {
		l.t.Fatalf("there is no movement %q", key)
	}
	return id
}

// about gives the arm about a movement, mm, at the present pose.
func (l *lines) about(muscle, movement string) float64 {
	l.t.Helper()
	id := l.muscle(muscle)
	l.p.MeasureOne(id)
	return 1000 * l.p.MovementArm(id, l.movement(movement))
}

// long gives the length at the present pose, mm.
func (l *lines) long(muscle string) float64 {
	l.t.Helper()
	id := l.muscle(muscle)
	l.p.MeasureOne(id)
	return 1000 * l.p.Length(id)
}

// longer demands that every muscle is longer in one posture than in another.
func (l *lines) longer(muscles, in, than string) {
	l.t.Helper()
	for _, key := range strings.Fields(muscles) {
		a, b := l.posed(in).long(key), l.posed(than).long(key)
		if a <= b {
			l.t.Errorf("%s is %.1f mm in %q and %.1f in %q; it must be longer", key, a, in, b, than)
		}
	}
}
