package exports

import (
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
)

// TestStatementsSayNoMoreThanTheirFindings: every role and grade in both voices.
func TestStatementsSayNoMoreThanTheirFindings(t *testing.T) {
	m := sampleModel()
	shoulder := func(role analysis.Role, grade analysis.Grade) analysis.GroupFinding {
		return sampleGroup(m, "shoulder_flexion_r+", role, grade, "deltoid_anterior_r")
	}
	for _, c := range []struct {
		group            analysis.GroupFinding
		plain, technical string
		kind             Kind
	}{
		{shoulder(analysis.DrawnLong, analysis.Geometry), "The front of the shoulder is drawn long on the right.", "The shoulder flexors are drawn long on the right.", Long},
		{shoulder(analysis.Slack, analysis.Geometry), "The front of the shoulder is near its shortest on the right.", "The shoulder flexors are near their shortest on the right.", Short},
		{shoulder(analysis.Working, analysis.Must), "The front of the shoulder has to be working on the right.", "The shoulder flexors have to be working on the right.", Work},
		{shoulder(analysis.Working, analysis.Likely), "The front of the shoulder is likely working on the right.", "The shoulder flexors are likely working on the right.", Work},
		{shoulder(analysis.Working, analysis.May), "The front of the shoulder may be working on the right.", "The shoulder flexors may be working on the right.", Work},
		// Geometry never shows that a muscle works.
		{shoulder(analysis.Working, analysis.Geometry), "The front of the shoulder may be working on the right.", "The shoulder flexors may be working on the right.", Work},
		{shoulder(analysis.Working, analysis.NotTold), "Position alone cannot tell whether the front of the shoulder is working on the right.", "Position alone cannot tell whether the shoulder flexors are working on the right.", Untold},
		{shoulder(analysis.DrawnLong, analysis.May), "The front of the shoulder may be drawn long on the right.", "The shoulder flexors may be drawn long on the right.", Long},
		{shoulder(analysis.DrawnLong, analysis.Likely), "The front of the shoulder is likely drawn long on the right.", "The shoulder flexors are likely drawn long on the right.", Long},
		{shoulder(analysis.DrawnLong, analysis.NotTold), "Position alone cannot tell whether the front of the shoulder is drawn long on the right.", "Position alone cannot tell whether the shoulder flexors are drawn long on the right.", Untold},
		{shoulder(analysis.Quiet, analysis.Geometry), "", "", ""},
	} {
		f := &analysis.Findings{Groups: []analysis.GroupFinding{c.group}}
		for v, want := range map[Voice]string{Plain: c.plain, Technical: c.technical} {
			got := Statements(m, f, v)
			switch {
			case want == "" && len(got) > 0:
				t.Errorf("%s, %s: says %q", c.group.Role, c.group.Grade, got[0].Text)
			case want == "":
			case len(got) != 1 || got[0].Text != want || got[0].Kind != c.kind:
				t.Errorf("%s, %s, %s: %+v, want %q", c.group.Role, c.group.Grade, v, got, want)
			case got[0].Brief != "" && width(got[0].Brief) >= width(want):
				t.Errorf("brief %q is no shorter than %q", got[0].Brief, want)
			case strings.Contains(want, "may") && !strings.Contains(got[0].Brief, "may"), strings.Contains(want, "likely") && !strings.Contains(got[0].Brief, "likely"),
				strings.Contains(want, "cannot tell") && !strings.Contains(got[0].Brief, "cannot be told"):
				t.Errorf("brief %q of %q lost its hedge", got[0].Brief, want)
			}
		}
	}
}

// TestSidesAndNames: what is merged, what is not, and how groups are named.
func TestSidesAndNames(t *testing.T) {
	m := sampleModel()
	long := func(movement string, muscles ...string) analysis.GroupFinding {
		return sampleGroup(m, movement, analysis.DrawnLong, analysis.Geometry, muscles...)
	}
	calf := func(s string) analysis.GroupFinding {
		return long("ankle_dorsiflexion"+s+"-", "gastrocnemius_medial"+s, "gastrocnemius_lateral"+s, "soleus"+s)
	}
	for _, c := range []struct {
		why    string
		groups []analysis.GroupFinding
		plain  []string
	}{
		{"both sides together", []analysis.GroupFinding{calf("_l"), calf("_r")}, []string{"The calf is drawn long on both sides."}},
		{"also with others between", []analysis.GroupFinding{calf("_r"), long("trunk_bend-", "obliques_l"), calf("_l")},
			[]string{"The calf is drawn long on both sides.", "The side of the waist is drawn long on the left."}},
		{"a part keeps its own name", []analysis.GroupFinding{long("ankle_dorsiflexion_r-", "soleus_r")}, []string{"The deep calf is drawn long on the right."}},
		{"two parts of three are the region", []analysis.GroupFinding{long("ankle_dorsiflexion_r-", "soleus_r", "gastrocnemius_medial_r")},
			[]string{"The calf is drawn long on the right."}},
		{"what was said is not said again beside something new", []analysis.GroupFinding{calf("_r"), long("knee_flexion_r+", "gastrocnemius_medial_r", "biceps_femoris_r")},
			[]string{"The calf is drawn long on the right.", "The outer hamstring is drawn long on the right."}},
		{"but on the other side it is", []analysis.GroupFinding{calf("_r"), long("knee_flexion_l+", "gastrocnemius_medial_l", "biceps_femoris_l")},
			[]string{"The calf is drawn long on the right.", "The inner calf and the outer hamstring are drawn long on the left."}},
		{"sides that differ stay apart", []analysis.GroupFinding{calf("_r"), long("ankle_dorsiflexion_l-", "soleus_l")},
			[]string{"The calf is drawn long on the right.", "The deep calf is drawn long on the left."}},
		{"grades that differ stay apart", []analysis.GroupFinding{
			sampleGroup(m, "shoulder_flexion_r+", analysis.Working, analysis.Must, "deltoid_anterior_r"),
			sampleGroup(m, "shoulder_flexion_l+", analysis.Working, analysis.May, "deltoid_anterior_l")},
			[]string{"The front of the shoulder has to be working on the right.", "The front of the shoulder may be working on the left."}},
		{"nothing is said twice", []analysis.GroupFinding{long("knee_flexion_r+", "biceps_femoris_r"), long("shoulder_flexion_r-", "biceps_femoris_r")},
			[]string{"The outer hamstring is drawn long on the right."}},
		{"a long list becomes what they do", []analysis.GroupFinding{long("knee_flexion_r-", "rectus_femoris_r", "deltoid_anterior_r", "soleus_r", "obliques_r")},
			[]string{"The muscles for straightening the knee are drawn long on the right."}},
		{"muscles of both sides have no side", []analysis.GroupFinding{long("trunk_bend+", "obliques_l", "obliques_r")}, []string{"The side of the waist is drawn long."}},
		{"what cannot be told comes last", []analysis.GroupFinding{sampleGroup(m, "knee_flexion_r-", analysis.Working, analysis.NotTold, "rectus_femoris_r"), calf("_r")},
			[]string{"The calf is drawn long on the right.", "Position alone cannot tell whether the front of the thigh is working on the right."}},
		{"no groups, nothing to say", nil, []string{}},
	} {
		got := []string{}
		for _, s := range Statements(m, &analysis.Findings{Groups: c.groups}, Plain) {
			got = append(got, s.Text)
		}
		if !slices.Equal(got, c.plain) {
			t.Errorf("%s:\n got %q\nwant %q", c.why, got, c.plain)
		}
	}
	if got := Statements(m, nil, Plain); got == nil || len(got) != 0 {
		t.Errorf("without findings: %v", got)
	}
}

func TestMovementsInWords(t *testing.T) {
	m := sampleModel()
	mv := sampleMove(m)
	got := MovementStatements(m, mv, Plain)
	want := []string{"The back of the shoulder lengthens on the right.", "The front of the thigh shortens on both sides.",
		"The front of the shoulder may be working while it shortens on the right.", "The front of the thigh may be working while it lengthens on both sides."}
	if len(got) != 4 || got[2].Text != want[2] || got[3].Text != want[3] || got[2].Grade != analysis.May ||
		got[0].Text != want[0] || got[1].Text != want[1] || got[0].Kind != Lengthens || got[1].Kind != Shortens {
		t.Fatalf("%+v", got)
	}
	tech := MovementStatements(m, mv, Technical)
	if tech[2].Text != "The shoulder flexors may be working concentrically on the right." || tech[2].Figures != "anterior deltoid; with the least effort 41% of what they could do at most, 22% on average" ||
		tech[3].Text != "The knee extensors may be working eccentrically on both sides." {
		t.Errorf("%+v", tech[2:])
	}
	for title, want := range map[string]string{
		"Side reach":   "Moving to side reach: the back of the shoulder lengthens on the right.",
		"Side Reach":   "Moving to Side Reach: the back of the shoulder lengthens on the right.",
		"T-shape":      "Moving to t-shape: the back of the shoulder lengthens on the right.",
		"  two\nlines": "Moving to two lines: the back of the shoulder lengthens on the right.",
		"":             "Moving on: the back of the shoulder lengthens on the right.",
		"Rest:":        "Moving to rest: the back of the shoulder lengthens on the right.",
		"مرفوع":        "Moving to مرفوع: the back of the shoulder lengthens on the right.",
	} {
		if said := movingTo(title, got[0]); said != want {
			t.Errorf("%q: %q, want %q", title, said, want)
		}
	}
	joints := newSpeaker(m, Plain).joints(mv)
	if len(joints) != 2 || joints[0] != (jointChange{"Raising the arm forward on the right", "0° to 126° of flexion"}) ||
		joints[1] != (jointChange{"Straightening the knee on both sides", "right 57° of flexion to 0°, left 52° of flexion to 0°"}) {
		t.Errorf("joints: %+v", joints)
	}
}

// TestEverySentenceIsWhole: capital, full stop, no doubled words or spaces, and
// short enough to say aloud.
func TestEverySentenceIsWhole(t *testing.T) {
	r := sampleStudies()["plain"]
	for _, v := range []Voice{Plain, Technical} {
		sp := newSpeaker(r.Model, v)
		var all []Statement
		for i := range r.Phases {
			all = append(append(append(all, sp.posture(r.Phases[i].Findings)...), inTurns(sp.movement(r.Phases[i].Movement), sp.wayWork(r.Phases[i].Movement))...), sp.changes(r.Phases[i].Findings)...)
		}
		for _, s := range all {
			for _, text := range s.forms() {
				words := strings.Fields(text)
				for i := 1; i < len(words); i++ {
					if strings.EqualFold(words[i], words[i-1]) {
						t.Errorf("%q doubles %q", text, words[i])
					}
				}
				if text != upperFirst(text) || !strings.HasSuffix(text, ".") || strings.HasSuffix(text, "..") || strings.Contains(text, "  ") || strings.Contains(text, " ,") {
					t.Errorf("%q is not a sentence", text)
				}
				if len(words) > 30 {
					t.Errorf("%q is too long to say", text)
				}
			}
			if (s.Figures == "") != (v == Plain) {
				t.Errorf("%s voice: figures %q", v, s.Figures)
			}
		}
	}
}

// TestCareIsSaidWithDeference: every specific caution names who decides, and
// fits a caption.
func TestCareIsSaidWithDeference(t *testing.T) {
	for key := range specificCare {
		c := analysis.Caution{Key: key, Why: "something calls for it"}
		words := cautionWords(c)
		if !strings.Contains(words, "licensed professional") || !strings.HasPrefix(words, "Something calls for it. ") {
			t.Errorf("%s: %q", key, words)
		}
		if said := DefaultPace.Say(0, 4000, []Saying{{Forms: []string{cautionBrief(c)}}}); len(said) != 1 {
			t.Errorf("%s: %q is no caption", key, cautionBrief(c))
		}
	}
	if got := cautionWords(analysis.Caution{Key: "unheard of"}); !strings.Contains(got, "licensed professional") {
		t.Errorf("a new caution says %q", got)
	}
	for _, must := range []string{"teaching", "not a measurement", "pain, dizziness or numbness", "pregnancy", "osteoporosis", "blood-pressure", "licensed professional", "local rules"} {
		if !strings.Contains(strings.Join(CareText(), " "), must) {
			t.Errorf("the care text lacks %q", must)
		}
	}
	if said := DefaultPace.Say(0, DefaultPace.Most, []Saying{{Forms: careSaying.Forms[:1]}}); len(said) != 1 {
		t.Error("the care line is no caption")
	}
}

func TestPlainNamesAgreeWithTheirVerbs(t *testing.T) {
	for noun, want := range map[string]bool{
		"hamstrings": true, "calf": false, "biceps": false, "gluteus": false, "psoas": false, "back of the knees": false, "muscles of the palm": true, "muscles for bending the knee": true, "muscles that turn the leg out": true, "muscle behind the knees": false, "small muscles under the skull": true,
		"outer hamstrings": true, "neck, deep muscles": false, "obliques": true, "trapezius": false, "rectus abdominis": false, "toes flexor": false,
	} {
		if plural(noun) != want {
			t.Errorf("plural(%q) is %v", noun, !want)
		}
	}
}

// TestReasonsInWords: each kind of reason of a muscle and of a group.
func TestReasonsInWords(t *testing.T) {
	m := sampleModel()
	ankle := sampleMovement(m, "ankle_dorsiflexion_r")
	g := sampleGroup(m, "ankle_dorsiflexion_r-", analysis.Working, analysis.May, "soleus_r")
	f := sampleFindings(m)
	for _, c := range []struct{ got, want string }{
		{muscleReason(m, analysis.Reason{Kind: "position", Movement: ankle, Value: 0.35, Length: 0.0118}), "The right ankle at 20° of dorsiflexion makes it 12 mm longer."},
		{muscleReason(m, analysis.Reason{Kind: "position", Movement: ankle, Value: -0.35, Length: -0.0118}), "The right ankle at 20° of plantarflexion makes it 12 mm shorter."},
		{muscleReason(m, analysis.Reason{Kind: "length", Movement: -1, Value: 0.0231, Source: "made_up"}), "Altogether it is 23 mm longer than in the anatomical position [made_up]."},
		{muscleReason(m, analysis.Reason{Kind: "source", Movement: -1, Value: 1.104, Source: "made_up"}), "Its fibres are at 1.10 of their optimal length [made_up]."},
		{muscleReason(m, analysis.Reason{Kind: "odd", Movement: -1, Text: "Words of its own.", Source: "made_up"}), "Words of its own [made_up]."},
		{muscleReason(m, analysis.Reason{Kind: "odd", Movement: -1}), ""},
		{groupReason(m, f, &g, analysis.Reason{Kind: "load", Movement: ankle, Value: 34.2}), "At the right ankle, gravity and loads ask for 34 N·m toward plantarflexion."},
		{groupReason(m, f, &g, analysis.Reason{Kind: "arm", Movement: ankle, Value: -0.0451}), "The soleus has a moment arm of 45 mm there toward plantarflexion."},
		{groupReason(m, f, &g, analysis.Reason{Kind: "model", Movement: -1}), "Whether these muscles give it, or ligaments and passive tension do, is not settled."},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestExplainingAMuscleAndAJoint: the answer holds the figures and their source.
func TestExplainingAMuscleAndAJoint(t *testing.T) {
	m := sampleModel()
	f := sampleFindings(m)
	var b strings.Builder
	if err := WriteExplainMuscle(&b, m, f, sampleMuscles(m, "soleus_r")[0], Options{Tool: "1.2.3"}); err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"Right deep calf", "right soleus", "musculus soleus", "heel", "Its share beside the gastrocnemius varies.", "300 mm from end to end",
		"The right ankle at 29° of dorsiflexion makes it 12 mm longer.", "made_up: Made up for a test (estimate).", "tautline 1.2.3", "Stop on pain"} {
		if !strings.Contains(b.String(), must) {
			t.Errorf("the muscle's explanation lacks %q:\n%s", must, b.String())
		}
	}
	b.Reset()
	ids := []body.MovementID{sampleMovement(m, "ankle_dorsiflexion_r"), sampleMovement(m, "knee_flexion_l")}
	if err := WriteExplainJoint(&b, m, f, ids, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"Right ankle, dorsiflexion and plantarflexion", "29° of dorsiflexion, as said.", "Left knee, flexion and extension",
		"0°, as in the anatomical position.", "The plantar flexors are drawn long on the right", "right deep calf"} {
		if !strings.Contains(b.String(), must) {
			t.Errorf("the joint's explanation lacks %q:\n%s", must, b.String())
		}
	}
	for _, line := range strings.Split(b.String(), "\n") {
		if width(line) > 88 {
			t.Errorf("line of %d columns: %q", width(line), line)
		}
	}
}
