package pose_test

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

const erector = "iliocostalis_lumborum_lumbar+iliocostalis_lumborum_thoracic+longissimus_thoracis_lumbar+longissimus_thoracis_thoracic"

func TestTrunkMomentArmsLieWithinThePublishedOnes(t *testing.T) {
	l := newLines(t)
	uses := map[string]int{}
	for _, r := range publishedRows(t, "trunk_arms.csv", "muscle", "coordinate", "at", "arm_mm", "tolerance_mm", "use", "source", "conditions") {
		uses[r[5]]++
		l.at(r[2])
		got, want := l.arm(r[0], r[1]), l.number(r[3])
		if math.Abs(got-want) > l.number(r[4]) || got*want <= 0 {
			t.Errorf("%s about %s at %q: %.1f mm, published %.1f ± %s (%s; %s)", r[0], r[1], r[2], got, want, r[4], r[6], r[7])
		}
	}
	if uses["compared"] < uses["fitted"] || len(uses) != 2 {
		t.Errorf("uses %v: at least half of the rows are for comparing only", uses)
	}
}

func TestBackMusclesShareTheLoadOfTheLowBackAsPublished(t *testing.T) {
	l := newLines(t)
	moment := func(muscles string) float64 {
		area := 0.0
		for _, key := range strings.Split(muscles, "+") {
			area += l.m.Muscles[l.muscle(key)].PCSA
		}
		return -area * l.arm(muscles, "lumbar_flexion")
	}
	l.at("")
	thoracic := moment("iliocostalis_lumborum_thoracic+longissimus_thoracis_thoracic")
	lumbar := moment("iliocostalis_lumborum_lumbar+longissimus_thoracis_lumbar")
	deep := moment("multifidus")
	all := thoracic + lumbar + deep
	upright := l.arm(erector, "lumbar_flexion")
	l.at("lumbar_flexion=50")
	got := map[string]float64{"thoracic fibres": thoracic / all, "lumbar fibres": lumbar / all, "multifidus": deep / all,
		"fall with flexion": 1 - l.arm(erector, "lumbar_flexion")/upright}
	for _, r := range publishedRows(t, "trunk_ratios.csv", "quantity", "ratio", "tolerance", "use", "source", "conditions") {
		value, ok := got[r[0]]
		if !ok || math.Abs(value-l.number(r[1])) > l.number(r[2]) {
			t.Errorf("%s: %.2f, published %s ± %s (%s; %s)", r[0], value, r[1], r[2], r[4], r[5])
		}
	}
}

// The arm of the back muscles must fall steadily as the low back rounds.
func TestErectorSpinaeLosesLeverageAsTheLowBackRounds(t *testing.T) {
	l := newLines(t)
	if arms := l.sweep(erector, "lumbar_flexion", -20, 55); !rising(arms) || arms[len(arms)-1] > -40 {
		t.Errorf("extending arms %.1f mm from arched to rounded do not fall, or vanish", negated(arms))
	}
}

// The rest of the arm, below the shoulder: beyond it the model's blade, which
// turns at the acromioclavicular joint alone, gives the lower trapezius no pull
// upward any more.
func TestGirdleMusclesTurnTheBladeAsAnatomyHasIt(t *testing.T) {
	l := newLines(t)
	for _, arm := range []string{"", "shoulder_flexion=30", "shoulder_flexion=60", "shoulder_abduction=60"} {
		for _, r := range publishedRows(t, "girdle_signs.csv", "muscle", "movement", "sign", "source") {
			if got := l.posed(arm).about(r[0], r[1]); (got > 0) != (r[2] == "+") {
				t.Errorf("%s about %s at %q: %.1f mm, expected %s (%s)", r[0], r[1], arm, got, r[2], r[3])
			}
		}
	}
	l.posed("")
	if lower, upper := l.about("serratus_anterior_lower", "shoulder_blade_upward_rotation"), l.about("trapezius_ascending", "shoulder_blade_upward_rotation"); lower <= upper {
		t.Errorf("lower serratus turns up with %.1f mm, lower trapezius with %.1f; serratus is the strongest", lower, upper)
	}
	if major, minor := l.about("rhomboid_major", "shoulder_blade_upward_rotation"), l.about("rhomboid_minor", "shoulder_blade_upward_rotation"); major >= minor {
		t.Errorf("rhomboid major turns down with %.1f mm, minor with %.1f; major is the stronger", -major, -minor)
	}
	// Above the shoulder serratus still turns the blade against the collar bone.
	for _, arm := range []string{"shoulder_flexion=120", "shoulder_flexion=150", "shoulder_flexion=170"} {
		for _, key := range []string{"serratus_anterior_lower", "serratus_anterior_middle"} {
			if got := l.posed(arm).arm(key, "scapula_upward_rotation"); got <= 0 {
				t.Errorf("%s at %q: %.1f mm upward", key, arm, got)
			}
		}
	}
}

func TestRaisingTheArmsDrawsLongWhatAnatomySays(t *testing.T) {
	l := newLines(t)
	for _, overhead := range []string{"shoulder_flexion=170", "shoulder_abduction=170"} {
		l.longer("pectoralis_minor rhomboid_minor rhomboid_major levator_scapulae", overhead, "")
		l.longer("trapezius_descending trapezius_ascending serratus_anterior_middle serratus_anterior_lower", "", overhead)
	}
}

func TestSlidingTheBladeAroundTheRibsDrawsItsOpposersLong(t *testing.T) {
	l := newLines(t)
	const forward, back = "shoulder_blade_protraction=15", "shoulder_blade_protraction=-15"
	l.longer("rhomboid_minor rhomboid_major trapezius_transverse", forward, back)
	l.longer("serratus_anterior_upper serratus_anterior_middle serratus_anterior_lower pectoralis_minor", back, forward)
	// Drawn back, serratus is longer even while the blade is turned up.
	for _, up := range []string{"shoulder_flexion=170;", "shoulder_flexion=120;", "shoulder_blade_upward_rotation=30;"} {
		l.longer("serratus_anterior_upper serratus_anterior_middle serratus_anterior_lower", up+"shoulder_blade_protraction=-30", up+"shoulder_blade_protraction=-5")
	}
	l.longer("pectoralis_minor", "shoulder_blade_tilt=20", "")
	l.longer("trapezius_ascending subclavius pectoralis_minor", "shoulder_blade_elevation=30", "")
	l.longer("trapezius_descending levator_scapulae", "", "shoulder_blade_elevation=30")
}

func TestAbdominalWallLengthensAsTheTrunkArches(t *testing.T) {
	l := newLines(t)
	wall := "rectus_abdominis external_oblique_anterior external_oblique_lateral internal_oblique_anterior"
	l.longer(wall, "trunk_flexion=-15", "")
	l.longer(wall, "", "trunk_flexion=30")
	l.longer(wall+" internal_oblique_lateral", "thoracic_flexion=-12", "") // the ribcage lifted over a still low back
	l.longer(strings.ReplaceAll(erector, "+", " ")+" multifidus quadratus_lumborum_iliocostal", "trunk_flexion=30", "")
}

func TestNeckMusclesBendAndTurnAsAnatomyHasIt(t *testing.T) {
	l := newLines(t)
	for _, nod := range []string{"", "neck_flexion=20", "neck_flexion=-20", "neck_bend=15", "neck_rotation=-25"} {
		l.posed(nod)
		if low, head := l.about("sternocleidomastoid", "lower_neck_flexion"), l.about("sternocleidomastoid", "head_flexion"); low <= 0 || head >= 0 {
			t.Errorf("sternocleidomastoid at %q: %.1f mm at the lower neck and %.1f at the head, expected to flex the one and extend the other", nod, low, head)
		}
		strap, splenius := l.about("sternocleidomastoid", "neck_rotation"), l.about("splenius_capitis", "neck_rotation")
		if strap >= 0 || splenius <= 0 {
			t.Errorf("at %q sternocleidomastoid turns with %.1f mm and splenius with %.1f, expected left and right", nod, strap, splenius)
		}
		for _, key := range []string{"semispinalis_capitis", "splenius_capitis", "longissimus_capitis"} {
			for _, movement := range []string{"lower_neck_flexion", "head_flexion"} {
				if arm := l.about(key, movement); arm >= 0 {
					t.Errorf("%s at %q flexes: %.1f mm about %s", key, nod, arm, movement)
				}
			}
		}
	}
	// Vasavada, Li and Delp 1998: the largest arms of the upright neck.
	l.posed("")
	for _, key := range []string{"longus_colli", "scalenus_anterior", "scalenus_medius"} {
		if l.about(key, "lower_neck_flexion") >= l.about("sternocleidomastoid", "lower_neck_flexion") {
			t.Errorf("%s flexes the lower neck with a longer arm than sternocleidomastoid", key)
		}
	}
}

func trunkRegion(region string) bool {
	return region == "trunk" || region == "neck" || region == "shoulder girdle"
}

func TestTrunkPathsNeitherJumpNorDiveIntoTheirSurfaces(t *testing.T) {
	l := newLines(t)
	r := rand.New(rand.NewSource(5))
	const (
		step    = 1e-4 // rad
		longest = 0.3  // m, more than any muscle stands off any joint it crosses
	)
	side := pose.New(l.m)
	for i, mu := range l.m.Muscles {
		if mu.Side != body.Right || !trunkRegion(mu.Region) {
			continue
		}
		id := body.MuscleID(i)
		if fibre := mu.Fibre * mu.AnatomicalFibre * math.Cos(mu.Pennation); fibre > l.posed("").long(strings.TrimSuffix(mu.Key, "_r"))/1000 {
			t.Errorf("%s: fibres of %.0f mm in a path that is shorter", mu.Key, 1000*fibre)
		}
		coords, _ := l.p.Arms(id)
		for range 300 {
			for _, c := range coords {
				l.q[c] = l.m.Coords[c].Lo + r.Float64()*(l.m.Coords[c].Hi-l.m.Coords[c].Lo)
			}
			l.p.Set(l.q)
			l.p.MeasureOne(id)
			if o := l.p.Outcome(id); o == body.Inside || o == body.Failed {
				t.Fatalf("%s: %v at %v", mu.Key, o, l.q)
			}
			c := coords[r.Intn(len(coords))]
			side.Set(l.p.Turned(c, step))
			side.MeasureOne(id)
			if d := math.Abs(side.Length(id) - l.p.Length(id)); d > longest*step {
				t.Fatalf("%s jumps by %.3f mm when %s moves by %g rad", mu.Key, 1000*d, l.m.Coords[c].Key, step)
			}
		}
	}
}
