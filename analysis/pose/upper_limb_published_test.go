package pose_test

import (
	"math"
	"math/rand"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// reached takes movements and, below the elbow, coordinates:
// "shoulder_abduction=90;finger_mcp=30", degrees; the girdle follows the arm.
func (l *lines) reached(angles string) *lines {
	l.t.Helper()
	var movements, coords []string
	for _, part := range strings.Split(angles, ";") {
		key, _, _ := strings.Cut(part, "=")
		if _, ok := l.m.Movement(key + "_r"); ok {
			movements = append(movements, part)
		} else if part != "" {
			coords = append(coords, part)
		}
	}
	l.posed(strings.Join(movements, ";"))
	copy(l.q, l.p.Coords)
	for _, part := range coords {
		key, value, _ := strings.Cut(part, "=")
		l.q[l.coord(key)] = geom.Deg(l.number(value))
	}
	l.p.Set(l.q)
	return l
}

// upperArm gives the arm about a coordinate, mm; "humerus_axis" is turning about
// the upper arm's own long axis, medially positive, wherever the arm points.
func (l *lines) upperArm(muscle, coord string) float64 {
	l.t.Helper()
	if coord != "humerus_axis" {
		return l.arm(muscle, coord)
	}
	id := l.muscle(muscle)
	l.p.MeasureOne(id)
	humerus, _ := l.m.Segment("humerus_r")
	long := l.p.Frames[humerus].Dir(geom.V(0, 1, 0))
	sum := 0.0
	for _, key := range []string{"glenohumeral_flexion", "glenohumeral_abduction", "glenohumeral_rotation"} {
		axis, _ := l.p.Axis(l.coord(key))
		sum += axis.Dot(long) * l.arm(muscle, key)
	}
	return sum
}

// published gives the arm at "elbow_flexion=90", or over "elbow_flexion=0..145"
// the largest one, either way.
func (l *lines) published(muscle, coord, at string) float64 {
	l.t.Helper()
	key, span, _ := strings.Cut(at, "=")
	from, to, isSpan := strings.Cut(span, "..")
	if !isSpan {
		return l.reached(at).upperArm(muscle, coord)
	}
	largest := 0.0
	for d := l.number(from); d <= l.number(to); d += 5 {
		arm := l.reached(key+"="+strconv.FormatFloat(d, 'f', -1, 64)).upperArm(muscle, coord)
		if math.Abs(arm) > math.Abs(largest) {
			largest = arm
		}
	}
	return largest
}

func TestUpperLimbMomentArmsLieWithinThePublishedOnes(t *testing.T) {
	l := newLines(t)
	uses := map[string]int{}
	for _, r := range publishedRows(t, "upper_limb_arms.csv", "muscle", "coordinate", "at", "arm_mm", "tolerance_mm", "use", "source", "conditions") {
		uses[r[5]]++
		want, tolerance := l.number(r[3]), l.number(r[4])
		if got := l.published(r[0], r[1], r[2]); math.Abs(got-want) > tolerance {
			t.Errorf("%s about %s at %s: %.1f mm, published %.1f within %.1f (%s; %s)", r[0], r[1], r[2], got, want, tolerance, r[5], r[6])
		}
	}
	if uses["fitted"] == 0 || uses["compared"] < uses["fitted"] {
		t.Errorf("%v rows: those only compared must be no fewer than those fitted", uses)
	}
}

func TestUpperLimbArmsHaveThePublishedSigns(t *testing.T) {
	l := newLines(t)
	for _, r := range publishedRows(t, "upper_limb_signs.csv", "muscle", "coordinate", "at", "sign", "use", "source") {
		if got := l.published(r[0], r[1], r[2]); (got > 0) != (r[3] == "+") {
			t.Errorf("%s about %s at %s: %.1f mm, published sign %s (%s)", r[0], r[1], r[2], got, r[3], r[5])
		}
	}
}

func TestUpperLimbLengthsChangeAsPublished(t *testing.T) {
	l := newLines(t)
	for _, r := range publishedRows(t, "upper_limb_lengths.csv", "muscle", "from", "to", "change_mm", "tolerance_mm", "use", "source", "conditions") {
		want, tolerance := l.number(r[3]), l.number(r[4])
		if got := l.reached(r[2]).long(r[0]) - l.reached(r[1]).long(r[0]); math.Abs(got-want) > tolerance {
			t.Errorf("%s from %s to %s: %.1f mm, published %.1f within %.1f (%s)", r[0], r[1], r[2], got, want, tolerance, r[6])
		}
	}
}

// degrees runs from one angle to another in steps of 5.
func (l *lines) degrees(muscle, movement string, from, to float64) (at, arms []float64) {
	l.t.Helper()
	for d := from; d <= to; d += 5 {
		at = append(at, d)
		arms = append(arms, l.posed(movement+"="+strconv.FormatFloat(d, 'f', -1, 64)).about(muscle, movement))
	}
	return at, arms
}

func TestElbowMusclesKeepTheirSideFromStraightToFullyBent(t *testing.T) {
	l := newLines(t)
	for _, key := range strings.Fields("biceps_long biceps_short brachialis brachioradialis extensor_carpi_radialis_longus pronator_teres") {
		if _, arms := l.degrees(key, "elbow_flexion", 0, 145); slices.Min(arms) <= 0 {
			t.Errorf("%s stops flexing: %.1f", key, arms)
		}
	}
	for _, key := range strings.Fields("triceps_long triceps_lateral triceps_medial anconeus") {
		if _, arms := l.degrees(key, "elbow_flexion", 0, 145); slices.Max(arms) >= 0 {
			t.Errorf("%s stops extending: %.1f", key, arms)
		}
	}
	at, biceps := l.degrees("biceps_long", "elbow_flexion", 0, 145)
	_, brachialis := l.degrees("brachialis", "elbow_flexion", 0, 145)
	if peak := at[slices.Index(biceps, slices.Max(biceps))]; peak < 90 || peak > 115 {
		t.Errorf("the arm of biceps is largest at %.0f degrees, published 90 to 115", peak)
	}
	for i, d := range at {
		if d > 45 && brachialis[i] > biceps[i] {
			t.Errorf("at %.0f degrees brachialis has more leverage than biceps", d)
		}
	}
	_, radial := l.degrees("brachioradialis", "elbow_flexion", 30, 120)
	if radial[len(radial)-1] < 2*radial[0] {
		t.Errorf("brachioradialis: %.1f mm at 120 degrees, published more than twice the %.1f at 30", radial[len(radial)-1], radial[0])
	}
}

func TestTurningTheForearmDrawsItsMusclesLong(t *testing.T) {
	l := newLines(t)
	const prone, supine = "elbow_flexion=90;forearm_pronation=70", "elbow_flexion=90;forearm_pronation=-70"
	l.longer("biceps_long biceps_short supinator", prone, supine)
	l.longer("pronator_teres pronator_quadratus", supine, prone)
	l.longer("brachioradialis", prone, "elbow_flexion=90")
	l.longer("brachioradialis", supine, "elbow_flexion=90")
	l.longer("biceps_long biceps_short", "forearm_pronation=70", "elbow_flexion=90;forearm_pronation=-70")
}

func TestFistAndOpenHandDrawTheRightSideLong(t *testing.T) {
	l := newLines(t)
	l.longer("flexor_digitorum_superficialis flexor_digitorum_profundus", "", "fingers_flexion=80")
	l.longer("extensor_digitorum", "fingers_flexion=80", "")
	flexors := "flexor_digitorum_superficialis flexor_digitorum_profundus flexor_pollicis_longus"
	l.longer(flexors, "wrist_flexion=-60", "")
	l.longer(flexors, "wrist_flexion=-60", "wrist_flexion=-60;fingers_flexion=40;thumb_flexion=40")
	l.longer("extensor_digitorum", "wrist_flexion=60;fingers_flexion=60", "wrist_flexion=60")
	if l.reached("finger_dip=60").long("flexor_digitorum_superficialis") != l.reached("").long("flexor_digitorum_superficialis") {
		t.Error("the superficial finger flexor does not reach the end joints, yet its length follows them")
	}
	for _, key := range strings.Fields("lumbricals interossei_dorsal interossei_palmar") {
		bent, claw := l.reached("finger_mcp=60").long(key), l.reached("finger_pip=60;finger_dip=40").long(key)
		if rest := l.reached("").long(key); bent >= rest || claw <= rest {
			t.Errorf("%s: %.1f mm at rest, %.1f with bent knuckles, %.1f clawed; published shorter, then longer", key, rest, bent, claw)
		}
	}
}

func TestRaisingAndTurningTheArmDrawsLongWhatAnatomySays(t *testing.T) {
	l := newLines(t)
	depressors := "latissimus_thoracic latissimus_lumbar teres_major pectoralis_major_sternocostal pectoralis_major_abdominal triceps_long"
	for _, overhead := range []string{"shoulder_flexion=170", "shoulder_abduction=170"} {
		l.longer(depressors+" deltoid_spinal", overhead, "")
		l.longer("deltoid_acromial deltoid_clavicular supraspinatus", "", overhead)
	}
	l.longer("triceps_long", "shoulder_flexion=170;elbow_flexion=130", "shoulder_flexion=170")
	l.longer("latissimus_lumbar", "shoulder_flexion=170;trunk_flexion=40", "shoulder_flexion=170")
	l.longer("latissimus_thoracic latissimus_lumbar teres_major pectoralis_major_sternocostal deltoid_spinal", "shoulder_abduction=90", "")
	const in, out = "shoulder_rotation=60", "shoulder_rotation=-60"
	l.longer("subscapularis_upper subscapularis_lower pectoralis_major_clavicular pectoralis_major_sternocostal latissimus_thoracic latissimus_lumbar teres_major deltoid_clavicular", out, in)
	l.longer("infraspinatus_upper infraspinatus_lower teres_minor", in, out)
	l.longer("deltoid_clavicular coracobrachialis biceps_long biceps_short pectoralis_major_clavicular", "shoulder_flexion=-45", "")
	// Open arms, by height: the chest in three parts.
	open := "shoulder_abduction=90;shoulder_rotation=-80"
	l.longer("pectoralis_major_clavicular pectoralis_major_sternocostal pectoralis_major_abdominal subscapularis_lower", open, "")
}

func TestShoulderMusclesCrossOverAsTheArmRises(t *testing.T) {
	l := newLines(t)
	abducts := func(muscle, at string) float64 { return l.posed(at).arm(muscle, "glenohumeral_abduction") }
	flexes := func(muscle, at string) float64 { return l.posed(at).arm(muscle, "glenohumeral_flexion") }
	if side, up := abducts("deltoid_spinal", ""), abducts("deltoid_spinal", "shoulder_abduction=120"); side >= 0 || up < -2 {
		t.Errorf("posterior deltoid abducts by %.1f mm at the side and %.1f at 120; published an adductor that loses it", side, up)
	}
	if side, up := abducts("pectoralis_major_clavicular", ""), abducts("pectoralis_major_clavicular", "shoulder_abduction=110"); side >= 0 || up <= 0 {
		t.Errorf("clavicular pectoral abducts by %.1f mm at the side and %.1f at 110; published an adductor that turns abductor", side, up)
	}
	if side, up := abducts("deltoid_clavicular", ""), abducts("deltoid_clavicular", "shoulder_abduction=90"); up < side+10 {
		t.Errorf("anterior deltoid abducts by %.1f mm at the side and %.1f at 90; published to gain", side, up)
	}
	if early, late := abducts("supraspinatus", "shoulder_abduction=30"), abducts("supraspinatus", "shoulder_abduction=100"); late > early-5 {
		t.Errorf("supraspinatus abducts by %.1f mm at 30 and %.1f at 100; published to fall", early, late)
	}
	if hanging, overhead := flexes("pectoralis_major_sternocostal", "shoulder_flexion=-20"), flexes("pectoralis_major_sternocostal", "shoulder_flexion=150"); hanging <= 0 || overhead >= 0 {
		t.Errorf("sternal pectoral flexes by %.1f mm behind the body and %.1f overhead; published a flexor, then an extensor", hanging, overhead)
	}
	for _, key := range strings.Fields("latissimus_thoracic latissimus_lumbar teres_major pectoralis_major_sternocostal") {
		if f, a := flexes(key, "shoulder_flexion=150"), abducts(key, "shoulder_abduction=150"); f >= 0 || a >= 0 {
			t.Errorf("%s lifts a raised arm: %.1f mm flexion, %.1f mm abduction", key, f, a)
		}
	}
}

var upperRegions = []string{"shoulder", "arm", "forearm", "hand"}

// reach draws an arm posture that a person can take. Left out of the ranges of
// the single movements: raised past straight up by both movements together; far
// behind the body and across it at once, where the ribs stand in the way; and
// far across the body with the arm overhead, where the head does.
func (l *lines) reach(r *rand.Rand) body.Posture {
	for {
		flexion, abduction := -60+240*r.Float64(), -40+220*r.Float64()
		if math.Hypot(flexion, abduction) > 180 || flexion < -20 && abduction < -10 || flexion > 120 && abduction < -10 {
			continue
		}
		var po body.Posture
		for key, v := range map[string]float64{"shoulder_flexion": flexion, "shoulder_abduction": abduction} {
			po.Positions = append(po.Positions, body.Position{Movement: l.movement(key), Value: geom.Deg(v)})
		}
		turn := geom.Deg(-90 + 180*r.Float64())
		return body.Posture{Positions: append(po.Positions, body.Position{Movement: l.movement("shoulder_rotation"), Value: turn})}
	}
}

// A path that slips off its surface, dives into it or changes sides does not
// change in length as its moment arms say.
func TestUpperLimbPathsNeitherJumpNorDiveIntoTheirSurfaces(t *testing.T) {
	l := newLines(t)
	r := rand.New(rand.NewSource(11))
	const (
		step  = 0.05  // rad, wide enough to step across a place where a path changes sides
		slack = 0.001 // m: what touching down within a step may bend the length; a change of sides costs centimetres
	)
	side := pose.New(l.m)
	for i, mu := range l.m.Muscles {
		if mu.Side != body.Right || !slices.Contains(upperRegions, mu.Region) {
			continue
		}
		id := body.MuscleID(i)
		if fibre := mu.Fibre * mu.AnatomicalFibre * math.Cos(mu.Pennation); fibre > l.posed("").long(strings.TrimSuffix(mu.Key, "_r"))/1000 {
			t.Errorf("%s: fibres of %.0f mm in a path that is shorter", mu.Key, 1000*fibre)
		}
		coords := l.crossed(strings.TrimSuffix(mu.Key, "_r"))
		for range 400 {
			q := l.m.Resolve(l.reach(r)).Coords
			for _, c := range coords {
				if key := l.m.Coords[c].Key; !slices.ContainsFunc([]string{"glenohumeral", "scapula", "clavicle"}, func(s string) bool { return strings.HasPrefix(key, s) }) {
					q[c] = l.m.Coords[c].Lo + r.Float64()*(l.m.Coords[c].Hi-l.m.Coords[c].Lo)
				}
			}
			l.p.Set(q)
			l.p.MeasureOne(id)
			if o := l.p.Outcome(id); o == body.Inside || o == body.Failed {
				t.Fatalf("%s: %v at %.2f", mu.Key, o, q)
			}
			c := coords[r.Intn(len(coords))]
			side.Set(l.p.Turned(c, step))
			side.MeasureOne(id)
			said := -step * (l.p.MomentArm(id, c) + side.MomentArm(id, c)) / 2
			if d := side.Length(id) - l.p.Length(id) - said; math.Abs(d) > slack {
				t.Fatalf("%s leaves its moment arms by %.1f mm when %s moves by %g rad from %.2f", mu.Key, 1000*d, l.m.Coords[c].Key, step, q)
			}
		}
	}
}
