package pose_test

import (
	"encoding/json"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/testdata/peer"
)

// engineAnswer is what the engine says of a set of postures.
type engineAnswer struct {
	Engine   string
	Dofs     []string
	Tendons  []string
	Postures []struct {
		Lengths     []float64
		Derivatives []map[string]float64
		Gravity     []float64
	}
	Timing *struct {
		Position float64 `json:"position_us"`
		Paths    float64 `json:"paths_us"`
	}
}

// askEngine lets the engine work out postures of the adult, and times it over
// some seconds when there are any.
func askEngine(t *testing.T, e *engineModel, seconds string, poses [][]float64) engineAnswer {
	t.Helper()
	peer.Package(t, "@mujoco/mujoco")
	positions := make([][]float64, len(poses))
	for i, q := range poses {
		positions[i] = e.position(q)
	}
	asked, err := json.Marshal(positions)
	if err != nil {
		t.Fatal(err)
	}
	model, list := filepath.Join(t.TempDir(), "body.xml"), filepath.Join(t.TempDir(), "poses.json")
	if err := os.WriteFile(model, []byte(e.xml.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(list, asked, 0o600); err != nil {
		t.Fatal(err)
	}
	args := []string{model, list}
	if seconds != "" {
		args = append(args, seconds)
	}
	var got engineAnswer
	peer.Read(t, &got, "tendon.mjs", args...)
	if len(got.Dofs) != len(e.dofs) || len(got.Tendons) != e.count || len(got.Postures) != len(poses) {
		t.Fatalf("%s read %d freedoms, %d tendons and %d postures", got.Engine, len(got.Dofs), len(got.Tendons), len(got.Postures))
	}
	for i, c := range e.dofs {
		if co := &e.m.Coords[c]; got.Dofs[i] != co.Key && got.Dofs[i] != e.m.Joints[co.Joint].Key {
			t.Fatalf("column %d is %s, expected %s", i, got.Dofs[i], co.Key)
		}
	}
	return got
}

// anywhere gives random postures within the ranges, the whole body anywhere and
// turned anyhow.
func anywhere(m *body.Model, n int) [][]float64 {
	r := rand.New(rand.NewSource(21))
	poses := make([][]float64, n)
	for i := range poses {
		poses[i] = randomPose(m, r)
		for c := range m.Coords {
			if m.Segments[m.Joints[m.Coords[c].Joint].Child].Parent == body.Ground {
				poses[i][c] = 2*r.Float64() - 1
			}
		}
	}
	return poses
}

// Where both engines go round the same surface the same way they must agree to
// this: double precision leaves a thousand times less, and a millionth of a
// metre is a thousandth of what any measurement of a body can tell.
const (
	sameLength = 1e-6 // m
	sameArm    = 1e-6 // m/rad
)

// mostExceptions bounds the paths that the other engine sends another way round.
//
// It judges a way by the middle between the points where it touches and leaves,
// which for more than half a turn lies opposite to the middle of the way itself:
// where the side point is close to the middle of a short way, it can prefer the
// long way round the back, and send a line that clears the surface there too.
// Such a path is an exception: with some of its stretches taken without a side
// point, by the shorter way, it must agree all the same.
const mostExceptions = 0.03 // of all paths

func TestEveryPathAgreesWithAnotherEngine(t *testing.T) {
	peer.Long(t, "half a minute")
	m := body.Adult()
	poses := anywhere(m, 500)
	e := newEngineModel(m, true)
	got := askEngine(t, e, "", poses)
	p := pose.New(m)
	wrapped, exceptions, worstLength, worstArm := 0, map[string]int{}, 0.0, 0.0
	for i, q := range poses {
		p.Set(q)
		p.Measure()
		axis := func(c body.CoordID) geom.Vec { a, _ := p.Axis(c); return a }
		for k := range m.Muscles {
			id, theirs := body.MuscleID(k), &got.Postures[i]
			if p.Outcome(id) == body.Wrapped {
				wrapped++
			}
			length, taken := theirs.Lengths[k], []engineSpan(nil)
			if math.Abs(length-p.Length(id)) > sameLength {
				exceptions[body.Bare(m.Muscles[k].Key)]++
				length, taken = e.shorter(theirs.Lengths, id, p.Length(id))
			}
			d := math.Abs(p.Length(id) - length)
			if worstLength = math.Max(worstLength, d); d > sameLength {
				t.Errorf("%s in posture %d: %v, %.7f m, the other engine %.7f", m.Muscles[k].Key, i, p.Outcome(id), p.Length(id), theirs.Lengths[k])
				continue
			}
			derivatives := e.ours(p.Frames, axis, func(column int) float64 {
				key := strconv.Itoa(column)
				sum := theirs.Derivatives[k][key]
				for _, s := range taken {
					sum += theirs.Derivatives[s.short][key] - theirs.Derivatives[s.sided][key]
				}
				return sum
			})
			for c := range m.Coords {
				d := math.Abs(derivatives[c] + p.MomentArm(id, body.CoordID(c)))
				if worstArm = math.Max(worstArm, d); d > sameArm {
					t.Errorf("%s about %s in posture %d: arm %.7f m, the other engine %.7f", m.Muscles[k].Key, m.Coords[c].Key, i, p.MomentArm(id, body.CoordID(c)), -derivatives[c])
				}
			}
		}
	}
	paths, apart := len(poses)*len(m.Muscles), 0
	for _, n := range exceptions {
		apart += n
	}
	if float64(apart) > mostExceptions*float64(paths) {
		t.Errorf("%d of %d paths go another way round", apart, paths)
	}
	if wrapped < paths/10 {
		t.Errorf("only %d of %d paths touch a surface", wrapped, paths)
	}
	t.Logf("%s: %d paths in %d postures, %d of them wrapped; lengths differ by at most %.2g m, derivatives by %.2g m/rad; %d went the long way round with side points: %v",
		got.Engine, paths, len(poses), wrapped, worstLength, worstArm, apart, exceptions)
}

// shorter gives the engine's length of a muscle with the stretches that come
// closest to a wanted length taken by their shorter way, and which they are.
func (e *engineModel) shorter(lengths []float64, id body.MuscleID, wanted float64) (float64, []engineSpan) {
	best, taken := lengths[id], []engineSpan(nil)
	var spans []engineSpan
	for _, s := range e.apart {
		if s.muscle == id {
			spans = append(spans, s)
		}
	}
	for set := range 1 << len(spans) {
		length, chosen := lengths[id], []engineSpan(nil)
		for k, s := range spans {
			if set>>k&1 == 1 {
				length += lengths[s.short] - lengths[s.sided]
				chosen = append(chosen, s)
			}
		}
		if math.Abs(length-wanted) < math.Abs(best-wanted) {
			best, taken = length, chosen
		}
	}
	return best, taken
}

// What gravity asks of every joint, with the whole body anywhere.
func TestGravityMomentsAgreeWithAnotherEngine(t *testing.T) {
	m := body.Adult()
	poses := anywhere(m, 100)
	e := newEngineModel(m, false)
	got := askEngine(t, e, "", poses)
	p := pose.New(m)
	const same = 1e-6 // N·m or N; the stand-in masses make up to 3e-7
	worst, most := 0.0, 0.0
	for i, q := range poses {
		p.Set(q)
		axis := func(c body.CoordID) geom.Vec { a, _ := p.Axis(c); return a }
		theirs := e.ours(p.Frames, axis, func(column int) float64 { return got.Postures[i].Gravity[column] })
		for c := range m.Coords {
			want := weightAbout(p, body.CoordID(c))
			worst, most = math.Max(worst, math.Abs(theirs[c]-want)), math.Max(most, math.Abs(want))
			if math.Abs(theirs[c]-want) > same {
				t.Errorf("posture %d, %s: %.9f, the other engine %.9f", i, m.Coords[c].Key, want, theirs[c])
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if most < 100 {
		t.Errorf("the largest moment is %.1f N·m: the postures ask nothing", most)
	}
	t.Logf("%s: %d moments and forces up to %.0f differ by at most %.2g", got.Engine, len(poses)*len(m.Coords), most, worst)
}

// weightAbout is what holds every segment beyond a coordinate against gravity:
//
//	∂(Σ m g Y)/∂q = Σ m g (axis × (centre of mass - joint's centre)) · Y
func weightAbout(p *pose.Pose, c body.CoordID) float64 {
	m := p.Model
	axis, centre := p.Axis(c)
	beyond := make([]bool, len(m.Segments))
	sum := 0.0
	for i := range m.Segments {
		s := &m.Segments[i]
		beyond[i] = s.Joint == m.Coords[c].Joint || (s.Parent != body.Ground && beyond[s.Parent])
		if !beyond[i] || s.Mass == 0 {
			continue
		}
		rise := axis
		if !m.Coords[c].Slide {
			rise = axis.Cross(p.Point(body.SegmentID(i), s.Centre).Sub(centre))
		}
		sum += s.Mass * gravity * rise.Y
	}
	return sum
}

// The same lengths and derivatives, by both engines in one run. The other engine
// runs in WebAssembly here, which is slower than native code would be: a ratio
// is of that build and no other.
func TestPathsAreFasterThanTheOtherEngines(t *testing.T) {
	peer.Long(t, "seconds")
	m := body.Adult()
	poses := anywhere(m, 100)
	got := askEngine(t, newEngineModel(m, false), "1", poses)
	p := pose.New(m)
	best := math.Inf(1)
	for end := time.Now().Add(time.Second); time.Now().Before(end); {
		start := time.Now()
		for _, q := range poses {
			p.Set(q)
			p.Measure()
		}
		best = math.Min(best, float64(time.Since(start).Nanoseconds())/1000/float64(len(poses)))
	}
	t.Logf("%d paths with their arms: %.0f µs per posture; %s in WebAssembly %.0f µs for its position stage (ratio %.2f), %.0f µs for the least that gives the same (ratio %.2f)",
		len(m.Muscles), best, got.Engine, got.Timing.Position, best/got.Timing.Position, got.Timing.Paths, best/got.Timing.Paths)
	if best > got.Timing.Position {
		t.Errorf("slower than the other engine's position stage")
	}
}
