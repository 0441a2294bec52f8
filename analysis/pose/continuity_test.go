package pose_test

import (
	"math"
	"math/rand"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

const (
	// largestJump is what a path may change its length by at one point of a way
	// between two postures, m: nothing, up to the rounding of the search.
	largestJump = 1e-6
	// bendOver is the difference between the changes of two neighbouring steps
	// from which on a stretch is searched for a jump, m. Smooth paths bend by a
	// hundredth of a millimetre in such steps.
	bendOver = 5e-5
	waySteps = 400
)

// Along random ways from one posture to another, over the whole ranges of every
// joint with the girdle as arms carry it, no path may have a point inside its
// surface, fail, or change its length at once. There are no exceptions; one
// would need a reason here.
func TestNoPathJumpsFailsOrDivesAnywhere(t *testing.T) {
	m := body.Adult()
	r := rand.New(rand.NewSource(31))
	ways := 100
	if testing.Short() {
		ways = 10
	}
	w := &way{p: pose.New(m), q: make([]float64, len(m.Coords))}
	lengths := make([][]float64, waySteps+1)
	for k := range lengths {
		lengths[k] = make([]float64, len(m.Muscles))
	}
	said := map[string]bool{}
	wrapped := 0
	for range ways {
		w.from, w.to = anyPose(m, r), anyPose(m, r)
		for k := range lengths {
			w.at(float64(k) / waySteps)
			w.p.Measure()
			for i := range m.Muscles {
				lengths[k][i] = w.p.Length(body.MuscleID(i))
				o := w.p.Outcome(body.MuscleID(i))
				if o == body.Wrapped {
					wrapped++
				}
				if (o == body.Inside || o == body.Failed) && !said[m.Muscles[i].Key] {
					said[m.Muscles[i].Key] = true
					t.Errorf("%s: %v at %.2f", m.Muscles[i].Key, o, w.q)
				}
			}
		}
		for i := range m.Muscles {
			length := func(x float64) float64 {
				w.at(x)
				w.p.MeasureOne(body.MuscleID(i))
				return w.p.Length(body.MuscleID(i))
			}
			at, jump := steepest(func(k int) float64 { return lengths[k][i] }, length)
			if jump > largestJump && !said[m.Muscles[i].Key] {
				said[m.Muscles[i].Key] = true
				w.at(at)
				t.Errorf("%s jumps by %.3f mm at %.2f", m.Muscles[i].Key, 1000*jump, w.q)
			}
		}
	}
	if wrapped < ways*waySteps*len(m.Muscles)/10 {
		t.Errorf("only %d of %d paths touched a surface", wrapped, ways*waySteps*len(m.Muscles))
	}
}

// A dial of the arm moves the blade and the collar bone steadily, wherever it
// starts: forward and back, out and across, over the whole swing.
func TestGirdleFollowsTheArmWithoutJumps(t *testing.T) {
	l := newLines(t)
	flexion, abduction := l.m.Movements[l.movement("shoulder_flexion")], l.m.Movements[l.movement("shoulder_abduction")]
	r := rand.New(rand.NewSource(33))
	const (
		steps = 500
		// faster is how many radians a bone may turn while the arm is raised by
		// one: the rhythm's steepest stretch is far below it, a jump far above.
		faster = 4
	)
	bones := []string{"clavicle_r", "scapula_r", "humerus_r"}
	before := make([]geom.Rot, len(bones))
	for range 300 {
		f0, f1 := flexion.Lo+r.Float64()*(flexion.Hi-flexion.Lo), flexion.Lo+r.Float64()*(flexion.Hi-flexion.Lo)
		a0, a1 := abduction.Lo+r.Float64()*(abduction.Hi-abduction.Lo), abduction.Lo+r.Float64()*(abduction.Hi-abduction.Lo)
		most := faster * math.Hypot(f1-f0, a1-a0) / steps
		for k := range steps + 1 {
			x := float64(k) / steps
			f, a := f0+x*(f1-f0), a0+x*(a1-a0)
			l.p.Set(l.m.Resolve(body.Posture{Positions: []body.Position{{Movement: l.movement("shoulder_flexion"), Value: f}, {Movement: l.movement("shoulder_abduction"), Value: a}}}).Coords)
			for i, key := range bones {
				id, ok := l.m.Segment(key)
				if !ok {
					t.Fatalf("there is no segment %q", key)
				}
				now := l.p.Frames[id].Rot
				if turned := before[i].Inverse().Mul(now).Vector().Norm(); k > 0 && turned > most {
					t.Fatalf("%s turns by %.2f degrees at once at flexion %.1f and abduction %.1f", key, geom.Degrees(turned), geom.Degrees(f), geom.Degrees(a))
				}
				before[i] = now
			}
		}
	}
}

// The search finds a jump of a fifth of a millimetre in a steep way,
// and none in a way with a kink.
func TestSearchForJumpsFindsThem(t *testing.T) {
	for _, c := range []struct {
		name   string
		length func(x float64) float64
		want   float64
	}{
		{"a step", func(x float64) float64 { return 0.4 + 0.1*math.Sin(3*x) + 2e-4*math.Floor(x+0.123) }, 2e-4},
		{"a kink", func(x float64) float64 { return 0.4 + 0.3*math.Abs(x-0.377) }, 0},
	} {
		_, jump := steepest(func(k int) float64 { return c.length(float64(k) / waySteps) }, c.length)
		if math.Abs(jump-c.want) > largestJump {
			t.Errorf("%s: found %.6f mm, want %.6f", c.name, 1000*jump, 1000*c.want)
		}
	}
}

// way is a straight way between two sets of coordinates.
type way struct {
	p        *pose.Pose
	from, to []float64
	q        []float64
}

func (w *way) at(x float64) {
	for c := range w.q {
		w.q[c] = w.from[c] + x*(w.to[c]-w.from[c])
	}
	w.p.Set(w.q)
}

// anyPose is a random posture, every other time with each joint below the
// shoulder and in the trunk at one end of its published range.
func anyPose(m *body.Model, r *rand.Rand) []float64 {
	q := randomPose(m, r)
	if r.Intn(2) == 0 {
		return q
	}
	for i := range m.Movements {
		mv := &m.Movements[i]
		if mv.Girdle || len(mv.Shares) != 1 {
			continue
		}
		end := mv.Lo
		if r.Intn(2) == 0 {
			end = mv.Hi
		}
		q[mv.Shares[0].Coord] = end * mv.Shares[0].Factor
	}
	return q
}

// steepest looks through a way that is known at equal steps for stretches over
// which the length changes otherwise than over a neighbour, and halves each until
// only a jump is left: where the largest is, from 0 to 1, and how large.
func steepest(known func(k int) float64, length func(x float64) float64) (at, jump float64) {
	change := func(k int) float64 { return known(k+1) - known(k) }
	for k := range waySteps {
		beside := k - 1
		if k == 0 || (k+1 < waySteps && math.Abs(change(k+1)-change(k)) > math.Abs(change(beside)-change(k))) {
			beside = k + 1
		}
		slope := change(beside) * waySteps
		if math.Abs(change(k)-change(beside)) < bendOver {
			continue
		}
		lo, hi := float64(k)/waySteps, float64(k+1)/waySteps
		a, b := known(k), known(k+1)
		for range 30 {
			mid := (lo + hi) / 2
			v := length(mid)
			if math.Abs(v-a-slope*(mid-lo)) > math.Abs(b-v-slope*(hi-mid)) {
				hi, b = mid, v
			} else {
				lo, a = mid, v
			}
		}
		if d := math.Abs(b - a); d > jump {
			at, jump = lo, d
		}
	}
	return at, jump
}
