package analysis_test

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
)

var whole = analysis.New(body.Adult())

func analyse(t testing.TB, words string) *analysis.Findings {
	t.Helper()
	rd := posture.Read(whole.Model, words)
	if len(rd.Unknown) > 0 {
		t.Fatalf("%q: not understood: %q", words, rd.Unknown[0].Text)
	}
	return whole.Analyse(rd.Posture, nil)
}

// group finds what is said of a functional group by its technical name.
func group(f *analysis.Findings, side, agents string) []analysis.GroupFinding {
	var found []analysis.GroupFinding
	for _, g := range f.Groups {
		mv := whole.Model.Movements[g.Movement]
		name := mv.Agents
		if !g.Toward {
			name = mv.Against
		}
		if name == agents && (side == "" || mv.Side.String() == side) {
			found = append(found, g)
		}
	}
	return found
}

func has(gs []analysis.GroupFinding, r analysis.Role) bool {
	return slices.ContainsFunc(gs, func(g analysis.GroupFinding) bool { return g.Role == r })
}

var postures = []string{
	"standing", "standing on toes; arms overhead", "standing; hips flexed 70; knees flexed 25; hands carry 12 kg", "squat", "plank",
	"half kneeling with the left knee down", "sitting; right knee straight", "hanging", "supine; left hip flexed 90", "standing on the left leg",
	"standing; knees pulled straight strongly", "all fours", "standing; shoulders abducted 90; hands carry 4 kg",
}

func TestClaimsAreAsFirmAsTheirBounds(t *testing.T) {
	const active, used = 0.05, 0.01 // of full activation: below it a muscle is called quiet, a group left out
	claims := map[analysis.Grade]int{}
	for _, words := range postures {
		f := analyse(t, words)
		check := func(what string, g analysis.Grade, b analysis.Bounds, active float64) {
			claims[g]++
			if g == analysis.Must && b.Least < active || g == analysis.Likely && b.Lo < active {
				t.Errorf("%s: %s is graded %q with %+v", words, what, g, b)
			}
			if b.Least > b.Lo+1e-9 || b.Lo > b.Best+1e-6 || b.Best > b.Hi+1e-6 {
				t.Errorf("%s: %s has bounds out of order: %+v", words, what, b)
			}
			if !f.Effort.Held && g != analysis.May {
				t.Errorf("%s cannot be held, and %s is graded %q", words, what, g)
			}
		}
		for _, g := range f.Groups {
			if g.Role == analysis.Working {
				check(whole.Model.Movements[g.Movement].Key, g.Grade, g.Bounds, used)
			}
		}
		for _, mf := range f.Muscles {
			if mf.Role == analysis.Working {
				check(whole.Model.Muscles[mf.Muscle].Key, mf.Grade, mf.Bounds, active)
			}
		}
	}
	for _, g := range []analysis.Grade{analysis.Must, analysis.Likely, analysis.May} {
		if claims[g] < 10 {
			t.Errorf("only %d claims are graded %q: the test says little", claims[g], g)
		}
	}
}

func TestFindingsAreCompleteFiniteAndTheSameEveryTime(t *testing.T) {
	for _, words := range postures {
		f, again := analyse(t, words), analyse(t, words)
		if !reflect.DeepEqual(f, again) {
			t.Errorf("%s: two runs differ", words)
		}
		if f.Groups == nil || f.Doubts == nil || f.Cautions == nil || f.Contacts == nil || f.Joints == nil {
			t.Errorf("%s: a list is nil", words)
		}
		for _, mf := range f.Muscles {
			if s := mf.Length + mf.Place + mf.Fibre + mf.FromAnatomical; math.IsNaN(s) || math.IsInf(s, 0) || mf.Length <= 0 {
				t.Errorf("%s: %s has length %g, place %g, fibre %g", words, whole.Model.Muscles[mf.Muscle].Key, mf.Length, mf.Place, mf.Fibre)
			}
			if len(mf.Reasons) == 0 {
				t.Errorf("%s: %s has no reasons", words, whole.Model.Muscles[mf.Muscle].Key)
			}
		}
	}
}

// Within the published ranges nothing leaves its own span by more than the
// search for the span can miss.
func TestPlacesStayInTheirSpan(t *testing.T) {
	for _, words := range postures {
		for _, mf := range analyse(t, words).Muscles {
			// A tenth and a half: the floor may take the toes past the published
			// range, which the span goes by.
			if mf.Place < -0.15 || mf.Place > 1.15 {
				t.Errorf("%s: %s is at %.2f of its span", words, whole.Model.Muscles[mf.Muscle].Key, mf.Place)
			}
		}
	}
}

func TestMirroredPosturesGiveMirroredFindings(t *testing.T) {
	a := analyse(t, "standing; right shoulder abducted 165; trunk bent left 25; left shoulder abducted 15")
	b := analyse(t, "standing; left shoulder abducted 165; trunk bent right 25; right shoulder abducted 15")
	for _, mf := range a.Muscles {
		other := b.Muscles[whole.Model.Muscles[mf.Muscle].Mirror]
		if math.Abs(mf.Length-other.Length) > 1e-6 || mf.State != other.State || mf.Role != other.Role {
			t.Errorf("%s: %.6f m %s %s, mirrored %.6f m %s %s", whole.Model.Muscles[mf.Muscle].Key, mf.Length, mf.State, mf.Role, other.Length, other.State, other.Role)
		}
	}
}

func TestChangeFromThePostureBefore(t *testing.T) {
	first := analyse(t, "standing")
	second := whole.Analyse(posture.Read(whole.Model, "standing; right hip flexed 90").Posture, first)
	for i, mf := range second.Muscles {
		if want := mf.Length - first.Muscles[i].Length; mf.FromPrevious != want {
			t.Fatalf("%s changed by %g, want %g", whole.Model.Muscles[i].Key, mf.FromPrevious, want)
		}
	}
	if id, _ := whole.Model.Muscle("semitendinosus_r"); second.Muscles[id].FromPrevious < 0.03 {
		t.Errorf("lifting the thigh lengthens semitendinosus by only %.0f mm", 1000*second.Muscles[id].FromPrevious)
	}
}

// What a teacher would say of some postures: common practice, no source.
func TestGroupsAreSpokenOfAsATeacherWould(t *testing.T) {
	for _, c := range []struct {
		words, side, agents string
		role                analysis.Role
	}{
		{"standing; hips flexed 80", "right", "hip extensors", analysis.DrawnLong},
		{"standing; hips flexed 80", "left", "hip extensors", analysis.Working},
		{"standing; wrists extended 70; fingers straight", "right", "wrist flexors", analysis.DrawnLong},
		{"standing; wrists extended 70; fingers straight", "left", "finger flexors", analysis.DrawnLong},
		{"standing; arms overhead", "right", "shoulder extensors", analysis.DrawnLong},
		{"standing; shoulders abducted 90", "right", "shoulder abductors", analysis.Working},
		{"standing on toes", "right", "plantar flexors", analysis.Working},
		{"standing on toes", "left", "dorsiflexors", analysis.DrawnLong},
		{"squat", "right", "knee extensors", analysis.Working},
		{"squat", "left", "knee extensors", analysis.DrawnLong},
		{"standing; knees pulled straight firmly", "right", "knee extensors", analysis.Working},
		{"sitting; right knee straight", "right", "knee extensors", analysis.Working},
		{"standing; right elbow flexed 90; right hand carries 4 kg", "right", "elbow flexors", analysis.Working},
		{"bend forward 90", "", "trunk extensors", analysis.Working},
	} {
		if got := group(analyse(t, c.words), c.side, c.agents); !has(got, c.role) {
			t.Errorf("%s: the %s %s are not called %s (%d findings of them)", c.words, c.side, c.agents, c.role, len(got))
		}
	}
	// Knees that hang on their stops ask nothing of the thigh.
	if has(group(analyse(t, "standing"), "right", "knee extensors"), analysis.Working) {
		t.Error("quiet standing calls the knee extensors working")
	}
}

func TestReasonsNameTheJointsThatMadeIt(t *testing.T) {
	f := analyse(t, "standing; right hip flexed 90; right knee straight")
	id, _ := whole.Model.Muscle("semitendinosus_r")
	r := f.Muscles[id].Reasons[0]
	if r.Kind != "position" || whole.Model.Movements[r.Movement].Joint != "hip" || r.Length < 0.03 {
		t.Errorf("the first reason for a long hamstring is %+v", r)
	}
}

func TestDoubtsAreSaid(t *testing.T) {
	for words, want := range map[string]string{
		"right elbow flexed 90":                               "standing is assumed",
		"standing; right knee flexed 160":                     "past the published range",
		"standing; right hip flexed 90; right knee flexed 90": "right leg is lifted off the floor",
		"all fours; elbows flexed 40":                         "cm ",
		"supine; hips flexed 90":                              "Both legs are lifted",
		"supine; left hip flexed 60":                          "left leg is lifted",
	} {
		f := analyse(t, words)
		if !slices.ContainsFunc(f.Doubts, func(d analysis.Doubt) bool { return strings.Contains(d.Text, want) }) {
			t.Errorf("%s: no doubt says %q: %+v", words, want, f.Doubts)
		}
	}
	fall := whole.Analyse(posture.Read(whole.Model, "standing; hips flexed 100; ankles neutral; arms overhead").Posture, nil)
	if !slices.ContainsFunc(fall.Doubts, func(d analysis.Doubt) bool { return d.Kind == "balance" }) {
		t.Errorf("a posture that falls forward says nothing of it: %+v", fall.Doubts)
	}
}

func TestCautionsAttachToWhatCallsForThem(t *testing.T) {
	for words, want := range map[string]string{
		"standing on toes":                            "balance on toes",
		"standing on the left leg":                    "balance on one leg",
		"standing; arms overhead; hands carry 5 kg":   "overhead load",
		"standing; hips flexed 70; hands carry 10 kg": "loaded forward bend",
		"plank": "pressure on the wrist",
		"standing; knees pulled straight strongly": "breath",
		"standing; neck extended fully":            "neck extension",
	} {
		f := analyse(t, words)
		if !slices.ContainsFunc(f.Cautions, func(c analysis.Caution) bool { return c.Key == want }) {
			t.Errorf("%s: no caution %q in %+v", words, want, f.Cautions)
		}
	}
	if c := analyse(t, "standing").Cautions; len(c) > 0 {
		t.Errorf("quiet standing carries cautions: %+v", c)
	}
}

func TestMovementSaysWhatLengthensAndTurns(t *testing.T) {
	stand, sit := analyse(t, "standing"), analyse(t, "standing; right knee flexed 90")
	mv := whole.Between(stand, sit, 0)
	get := func(key string) analysis.MovementFinding {
		id, _ := whole.Model.Muscle(key)
		return mv.Muscles[id]
	}
	if get("vastus_lateralis_r").Change < 0.02 || get("biceps_femoris_short_r").Change > -0.02 {
		t.Errorf("bending the knee changes vastus by %.0f mm and biceps short head by %.0f mm", 1000*get("vastus_lateralis_r").Change, 1000*get("biceps_femoris_short_r").Change)
	}
	if len(mv.Joints) == 0 || whole.Model.Movements[mv.Joints[0].Movement].Key != "knee_flexion_r" {
		t.Errorf("what moves most is %+v", mv.Joints)
	}
	if len(mv.Groups) == 0 || mv.Groups[0].Change == 0 {
		t.Error("no group changes")
	}
	for i, q := range analysis.Along(stand, sit, 0.5) {
		if want := (stand.Coords[i] + sit.Coords[i]) / 2; !geom.Near(q, want, 1e-12, 0) {
			t.Fatalf("half way is not the middle of coordinate %d", i)
		}
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		analysis.New(body.Adult())
	}
}

func BenchmarkAnalyse(b *testing.B) {
	rd := posture.Read(whole.Model, "standing on toes; arms overhead; wrists extended 70")
	for b.Loop() {
		whole.Analyse(rd.Posture, nil)
	}
}
