package pose_test

import (
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

func TestLowerLimbMomentArmsLieWithinThePublishedOnes(t *testing.T) {
	l := newLines(t)
	uses := map[string]int{}
	for _, r := range publishedRows(t, "lower_limb_arms.csv", "muscle", "coordinate", "at", "arm_mm", "tolerance_mm", "use", "source", "conditions") {
		want, tolerance := l.number(r[3]), l.number(r[4])
		uses[r[5]]++
		l.at(r[2])
		got := l.arm(r[0], r[1])
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s about %s at %q: %.1f mm, published %.1f ± %.1f (%s; %s)", r[0], r[1], r[2], got, want, tolerance, r[6], r[7])
		}
		if math.Abs(want) >= plainSign && got*want <= 0 {
			t.Errorf("%s about %s at %q: %.1f mm acts against the published %.1f (%s)", r[0], r[1], r[2], got, want, r[6])
		}
	}
	if uses["compared"] < uses["fitted"] || len(uses) != 2 {
		t.Errorf("uses %v: at least half of the rows are for comparing only", uses)
	}
}

func TestLowerLimbLengthsChangeAsPublished(t *testing.T) {
	l := newLines(t)
	for _, r := range publishedRows(t, "lower_limb_lengths.csv", "muscle", "from", "to", "change_mm", "tolerance_mm", "use", "source", "conditions") {
		got := l.length(r[0], r[2]) - l.length(r[0], r[1])
		if want, tolerance := l.number(r[3]), l.number(r[4]); math.Abs(got-want) > tolerance {
			t.Errorf("%s from %q to %q: %.1f mm, published %.1f ± %.1f (%s; %s)", r[0], r[1], r[2], got, want, tolerance, r[6], r[7])
		}
	}
}

// Dostal 1986 and Neumann 2010: the straight hip's flexor in the groin extends
// the bent one, the shorter and lower ones before the longer.
func TestAdductorsTurnFromFlexorsToExtensorsAsTheHipBends(t *testing.T) {
	l := newLines(t)
	turns := map[string]int{}
	for _, key := range []string{"adductor_longus", "adductor_brevis", "gracilis"} {
		arms := l.sweep(key, "hip_flexion", 0, 100)
		if arms[0] <= 0 || arms[len(arms)-1] >= 0 {
			t.Errorf("%s: %.1f mm straight and %.1f mm bent, expected a flexor and an extensor", key, arms[0], arms[len(arms)-1])
		}
		turns[key] = slices.IndexFunc(arms, func(a float64) bool { return a < 0 })
	}
	if first := turns["adductor_longus"] * 5; first < 50 || first > 75 {
		t.Errorf("adductor longus turns at about %d degrees, published 50 to 70", first)
	}
	if turns["gracilis"] >= turns["adductor_longus"] || turns["adductor_brevis"] >= turns["adductor_longus"] {
		t.Errorf("steps of turning %v: gracilis and adductor brevis turn first", turns)
	}
}

// Nemeth and Ohlsen 1985.
func TestHipExtensorsExtendOverTheWholeRange(t *testing.T) {
	l := newLines(t)
	flexion := l.m.Coords[l.coord("hip_flexion")]
	lo, hi := flexion.Lo*180/math.Pi, flexion.Hi*180/math.Pi
	for _, key := range []string{"gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower", "adductor_magnus_ischial",
		"semimembranosus", "semitendinosus", "biceps_femoris_long"} {
		if least := slices.Max(l.sweep(key, "hip_flexion", lo, hi)); least >= 0 {
			t.Errorf("%s flexes the hip somewhere: arm %.1f mm", key, least)
		}
	}
	whole := "gluteus_maximus_upper+gluteus_maximus_middle+gluteus_maximus_lower"
	arms := l.sweep(whole, "hip_flexion", 0, 110)
	if !rising(arms) {
		t.Errorf("gluteus maximus: extension arms %.1f mm from 0 to 110 degrees; they fall steadily", negated(arms))
	}
	ischial := l.sweep("adductor_magnus_ischial", "hip_flexion", 0, 90)
	if -ischial[len(ischial)/2] <= -ischial[0] {
		t.Errorf("ischial adductor magnus: %.1f mm at 45 degrees and %.1f straight; it is greater half bent", -ischial[len(ischial)/2], -ischial[0])
	}
}

// Blemker and Delp 2005.
func TestIliopsoasArmRisesWithHipFlexion(t *testing.T) {
	l := newLines(t)
	for _, key := range []string{"psoas_upper", "psoas_lower", "iliacus"} {
		arms := l.sweep(key, "hip_flexion", 0, 75)
		if !rising(arms) || arms[len(arms)-1] < 1.5*arms[0] {
			t.Errorf("%s: arms %.1f mm from straight to 75 degrees do not rise", key, arms)
		}
	}
}

// Dostal 1986 by way of Neumann 2010: the order of the abductors.
func TestHipAbductorsStandInThePublishedOrder(t *testing.T) {
	l := newLines(t)
	l.at("")
	order := []string{"gluteus_medius_anterior", "gluteus_medius_middle", "gluteus_minimus_anterior", "tensor_fasciae_latae",
		"gluteus_medius_posterior", "gluteus_minimus_posterior", "sartorius", "rectus_femoris", "piriformis"}
	last := math.Inf(1)
	for _, key := range order {
		arm := -l.arm(key, "hip_adduction")
		// Neighbours of the list are 3 mm apart on the average, well within the
		// spread between people: only a plain inversion counts.
		if arm > last+plainSign/2 || arm <= 0 {
			t.Errorf("%s abducts with %.1f mm after %.1f mm", key, arm, last)
		}
		last = arm
	}
}

// Manal 2013, Maganaris 2000.
func TestAnkleArmsChangeWithTheAnkleAsMeasuredInLivingPeople(t *testing.T) {
	l := newLines(t)
	if achilles := negated(l.sweep("soleus", "ankle_dorsiflexion", 20, -30)); !rising(achilles) || achilles[len(achilles)-1] < achilles[0]+1 {
		t.Errorf("Achilles tendon: arms %.1f mm toward plantarflexion do not rise", achilles)
	}
	if shin := negated(l.sweep("tibialis_anterior", "ankle_dorsiflexion", 15, -30)); !rising(shin) || shin[len(shin)-1] < shin[0]+1 {
		t.Errorf("tibialis anterior: arms %.1f mm toward plantarflexion do not fall", negated(shin))
	}
}

func TestBendingTheKneeSlackensGastrocnemiusAndLeavesSoleus(t *testing.T) {
	l := newLines(t)
	if _, crossed := slices.BinarySearch(l.crossed("soleus"), l.coord("knee_flexion")); crossed {
		t.Error("soleus crosses the knee")
	}
	for _, key := range []string{"gastrocnemius_medial", "gastrocnemius_lateral", "plantaris"} {
		last := l.length(key, "")
		for _, knee := range []string{"30", "60", "90", "120"} {
			now := l.length(key, "knee_flexion="+knee)
			if now >= last {
				t.Errorf("%s is %.1f mm at %s degrees of the knee, %.1f before", key, now, knee, last)
			}
			last = now
		}
	}
}

// Inversion arms are published relative to tibialis posterior's.
func TestLongTendonsTurnTheSoleAsPublished(t *testing.T) {
	l := newLines(t)
	for _, r := range publishedRows(t, "lower_limb_ratios.csv", "muscle", "against", "coordinate", "at", "ratio", "tolerance", "use", "source", "conditions") {
		l.at(r[3])
		got, want := l.arm(r[0], r[2])/l.arm(r[1], r[2]), l.number(r[4])
		if math.Abs(got-want) > l.number(r[5]) || got*want <= 0 {
			t.Errorf("%s about %s is %.2f of %s, published %.2f ± %s and the same sign (%s; %s)", r[0], r[2], got, r[1], want, r[5], r[7], r[8])
		}
	}
}

// Buford 2001: turning the bent lower leg.
func TestHamstringsAndStrapsTurnTheBentLowerLeg(t *testing.T) {
	l := newLines(t)
	for key, sign := range map[string]float64{"semimembranosus": 1, "semitendinosus": 1, "gracilis": 1, "sartorius": 1, "popliteus": 1,
		"biceps_femoris_long": -1, "biceps_femoris_short": -1, "tensor_fasciae_latae": -1} {
		l.at("")
		straight := sign * l.arm(key, "knee_rotation")
		l.at("knee_flexion=75")
		bent := sign * l.arm(key, "knee_rotation")
		if bent <= 0 {
			t.Errorf("%s turns the bent lower leg the wrong way, arm %.1f mm", key, sign*bent)
		}
		if key != "popliteus" && bent <= straight {
			t.Errorf("%s: rotation arm %.1f mm bent, %.1f straight; it grows with flexion", key, bent, straight)
		}
	}
	l.at("knee_flexion=75")
	biceps, inner, deep := -l.arm("biceps_femoris_long", "knee_rotation"), l.arm("semitendinosus", "knee_rotation"), l.arm("semimembranosus", "knee_rotation")
	if biceps <= inner || inner <= deep {
		t.Errorf("rotation arms of biceps, semitendinosus, semimembranosus %.1f, %.1f, %.1f mm, published in falling order", biceps, inner, deep)
	}
}

// A path that slips off its surface, or dives into it, jumps in length: no
// degree of a joint may move an end by more than its distance from the axis.
func TestLowerLimbPathsNeitherJumpNorDiveIntoTheirSurfaces(t *testing.T) {
	l := newLines(t)
	r := rand.New(rand.NewSource(7))
	step := geom.Deg(0.5)
	const longest = 0.2 // m, more than any muscle stands off any joint it crosses
	regions := []string{"hip", "thigh", "leg", "foot"}
	for i, mu := range l.m.Muscles {
		if mu.Side != body.Right || !slices.Contains(regions, mu.Region) {
			continue
		}
		id := body.MuscleID(i)
		clear(l.q)
		l.p.Set(l.q)
		coords := l.crossed(strings.TrimSuffix(mu.Key, "_r"))
		for range 600 {
			for _, c := range coords {
				l.q[c] = l.m.Coords[c].Lo + r.Float64()*(l.m.Coords[c].Hi-l.m.Coords[c].Lo)
			}
			l.p.Set(l.q)
			l.p.MeasureOne(id)
			before := l.p.Length(id)
			if o := l.p.Outcome(id); o != body.Straight && o != body.Wrapped {
				t.Errorf("%s: %v at %.2f", mu.Key, o, l.q)
				break
			}
			c := coords[r.Intn(len(coords))]
			l.q[c] += step
			l.p.Set(l.q)
			l.p.MeasureOne(id)
			if d := math.Abs(l.p.Length(id) - before); d > longest*step {
				t.Errorf("%s moves %.2f mm in half a degree of %s", mu.Key, 1000*d, l.m.Coords[c].Key)
				break
			}
		}
	}
}
