package posture

import (
	"testing"

	"tautline/analysis/body"
)

// TestReadSaysWhatTeachersSay holds common phrasings to their canonical words.
func TestReadSaysWhatTeachersSay(t *testing.T) {
	m := body.Adult()
	for _, c := range []struct{ said, want string }{
		// plain clinical statements
		{"knees flexed 90", "both knees flexed 90°"},
		{"Knees flexed 90°.", "both knees flexed 90°"},
		{"knee flexion 90", "both knees flexed 90°"},
		{"knee flexion of ninety degrees on the left side", "left knee flexed 90°"},
		{"90 degrees of left knee flexion", "left knee flexed 90°"},
		{"bend your right knee to 45 degrees", "right knee flexed 45°"},
		{"knees flexed -5", "both knees extended 5°"},
		{"knees flexed 12,5 deg", "both knees flexed 12.5°"},
		{"hips and knees flexed 90", "both hips flexed 90°; both knees flexed 90°"},
		{"left knee flexed 30, right straight", "right knee straight; left knee flexed 30°"},
		{"left knee flexed 30. right knee straight", "right knee straight; left knee flexed 30°"},
		{"hips flexed 90 and knees 45", "both hips flexed 90°; both knees flexed 45°"},
		{"right shoulder flexed 90 and abducted 20", "right shoulder flexed 90°; right shoulder abducted 20°"},
		{"left knee and hip flexed 40", "left hip flexed 40°; left knee flexed 40°"},
		{"shoulders medially rotated 40", "both shoulders medially rotated 40°"},
		{"shoulders internally rotated 40", "both shoulders medially rotated 40°"},
		{"right hip externally rotated half", "right hip laterally rotated 22.5°"},
		{"hips abducted slightly", "both hips abducted 11.3°"},
		{"wrists extended fully", "both wrists extended 70°"},
		{"wrists bent back 50", "both wrists extended 50°"},
		{"wrists flexed 50 %", "both wrists flexed 40°"},
		{"hands bent back 30", "both wrists extended 30°"},
		{"right wrist ulnar deviation 20", "right wrist ulnarly deviated 20°"},
		{"forearms pronated fully", "both forearms pronated 80°"},
		{"forearms supinated", "both forearms supinated 80°"},
		{"forearms neutral", "both forearms neutral in pronation"},
		{"ankles dorsiflexed half; feet inverted 10", "both ankles dorsiflexed 10°; both feet inverted 10°"},
		{"right ankle plantar flexed 40", "right ankle plantarflexed 40°"},
		{"toes lifted 30", "left and right toes extended 30°"},
		{"shoulder blades protracted half", "both shoulder blades protracted 7.5°"},
		{"right scapula elevated 20", "right shoulder blade elevated 20°"},
		{"trunk rotated 30 to the right", "trunk rotated right 30°"},
		{"right trunk rotation 30", "trunk rotated right 30°"},
		{"trunk bent left 20; neck turned left half", "trunk bent left 20°; neck rotated left 30°"},
		{"lumbar spine flexed 20", "lumbar spine flexed 20°"},
		{"thoracic spine rotated left 10", "thoracic spine rotated left 10°"},
		{"head rotated left 20", "neck rotated left 20°"},
		{"head nodded 10", "head flexed 10°"},
		{"pelvis tilted anteriorly 5", "pelvis tilted anteriorly 5°"},
		{"pelvis tucked slightly", "pelvis tilted posteriorly 3.3°"},
		{"spine neutral", "trunk straight; trunk neutral in bend right; trunk neutral in rotation right"},
		{"elbows straight", "both elbows straight"},
		{"knees flexed 200", "both knees flexed 200°"}, // past the range: kept
		{"knees hyperextended 7", "both knees extended 7°"},

		// phrases
		{"arms overhead", "both shoulders flexed 180°"},
		{"raise both arms overhead", "both shoulders flexed 180°"},
		{"left arm overhead", "left shoulder flexed 180°"},
		{"arms out to the sides", "both shoulders abducted 90°"},
		{"T-pose", "both shoulders abducted 90°; both elbows straight"},
		{"arms forward", "both shoulders flexed 90°"},
		{"right arm raised forward 120", "right shoulder flexed 120°"},
		{"arms by the sides", "both shoulders neutral in flexion; both shoulders neutral in abduction"},
		{"elbows by your sides", "both shoulders neutral in flexion; both shoulders neutral in abduction"},
		{"palms up", "both forearms supinated 80°"},
		{"palms facing down", "both forearms pronated 80°"},
		{"palms forward", "both forearms supinated 80°"},
		{"thumbs up", "both forearms neutral in pronation"},
		{"arms out to the sides; thumbs up", "both shoulders abducted 90°; both shoulders laterally rotated 90°"},
		{"thumbs up; arms out to the sides", "both shoulders abducted 90°; both shoulders laterally rotated 90°"},
		{"T-pose, palms down", "both shoulders abducted 90°; both elbows straight; both forearms neutral in pronation"},
		{"arms overhead, palms forward", "both shoulders flexed 180°; both forearms pronated 80°; both wrists straight"},
		{"look up", "neck extended 22.5°"},
		{"look down 30", "neck flexed 30°"},
		{"look over the right shoulder", "neck rotated right 60°"},
		{"ear to the left shoulder", "neck bent left 45°"},
		{"chin tucked", "head flexed 22.5°"},
		{"knees soft", "both knees flexed 15°"},
		{"right knee soft", "right knee flexed 15°"},
		{"elbows locked", "both elbows straight"},
		{"elbows at 90 degrees", "both elbows flexed 90°"},
		{"knees bent at a right angle", "both knees flexed 90°"},
		{"hinge forward 60", "both hips flexed 60°"},
		{"bend forward 90", "both hips flexed 47.5°; lumbar spine flexed 42.5°; thoracic spine flexed 15.8°"},
		{"lean to the right", "trunk bent right 17.5°"},
		{"lean to the left slightly", "trunk bent left 8.8°"},
		{"twist to the left 30", "trunk rotated left 30°"},
		{"heels down", "both heels on the floor"},
		{"toes tucked under", "left and right toes extended 70°"},
		{"point the toes", "both ankles plantarflexed 50°"},
		{"feet flexed", "both ankles dorsiflexed 20°"},
		{"make a fist with the right hand", "right fingers flexed 100°; right thumb flexed 40°"},
		{"right fist", "right fingers flexed 100°; right thumb flexed 40°"},
		{"fingers spread", "left and right fingers straight; both thumbs abducted 70°"},
		{"wrists back", "both wrists extended 70°"},
		{"shoulders shrugged", "both shoulder blades elevated 22.5°"},
		{"shoulder blades squeezed together", "both shoulder blades retracted 29°"},
		{"chest open", "both shoulder blades retracted 14.5°; thoracic spine extended 7.9°"},
		{"pelvis tucked", "pelvis tilted posteriorly 13°"},
		{"arch the back", "lumbar spine extended 16°"},
		{"legs apart", "both hips abducted 15°"},
		{"left leg back 10", "left hip extended 10°"},

		// supports
		{"hands on the floor", "both palms on the floor"},
		{"right hand on the wall", "right palm against the wall"},
		{"back against the wall", "back of the pelvis against the wall; upper back against the wall"},
		{"hands on the bar", "both grips on the bar"},
		{"sitting bones on a chair", "both sit bones on the seat"},
		{"balls of the feet on the ground", "both balls of the feet on the floor"},
		{"left hand and right knee on the floor", "right knee on the floor; left palm on the floor"},

		// loads
		{"hands carry 2 kg", "both hands together carry 2 kg"},
		{"each hand carries 1 kg", "both hands together carry 2 kg"},
		{"right hand carries 5 kg", "right hand carries 5 kg"},
		{"holding a 10 kg crate in both hands", "both hands together carry 10 kg"},
		{"standing with 500 g in the left hand", "standing; left hand carries 0.5 kg"},
		{"right hand holds 5 lb", "right hand carries 2.268 kg"},
		{"hands push forward 50 N", "both hands together push forward 50 N"},
		{"the right hand pulls down 20.5 newtons", "right hand pulls down 20.5 N"},
		{"right hand pushes left 30 N", "right hand pushes left 30 N"},
		{"head carries 3 kg", "head carries 3 kg"},

		// cues
		{"knees pulled straight firmly", "both knees pulled into extension firmly"},
		{"pull the wrists back strongly", "both wrists pulled into extension strongly"},
		{"pull the right wrist back", "right wrist pulled into extension firmly"},
		{"brace the trunk lightly", "trunk braced in flexion lightly"},
		{"push the palms into the wall firmly", "both palms against the wall; both palms pushed away firmly"},
		{"heels pulled in strongly", "both heels pulled in strongly"},
		{"trunk pulled into rotation right at 45 %", "trunk pulled into rotation right at 45 %"},

		// together
		{"squat with arms forward and 5 lb in each hand", "squat; both shoulders flexed 90°; both hands together carry 4.536 kg"},
		{"half-kneeling, left knee down", "half kneeling with the left knee down"},
		{"arms overhead; right arm forward", "right shoulder flexed 90°; left shoulder flexed 180°"},
		{"knees flexed 90; left knee straight", "right knee flexed 90°; left knee straight"},
		{"elbows soft; elbows flexed 40", "both elbows flexed 40°"},
		{
			"standing on toes; shoulders flexed 170; elbows straight; forearms pronated fully;\n" +
				"wrists extended 70; trunk extended slightly; knees pulled straight firmly; hands carry 2 kg",
			"standing on toes; both shoulders flexed 170°; both elbows straight; both forearms pronated 80°; both wrists extended 70°; " +
				"trunk extended 6.3°; both hands together carry 2 kg; both knees pulled into extension firmly",
		},
	} {
		r := Read(m, c.said)
		if r.Canonical != c.want {
			t.Errorf("%q\n  reads %q\n  want  %q", c.said, r.Canonical, c.want)
		}
		for _, u := range r.Unknown {
			t.Errorf("%q: %q not understood: %s", c.said, u.Text, u.Why)
		}
		back(t, m, r)
	}
}

// TestStancesReadAndRest holds every stance to its name, to supports and to
// realistic positions, as far as the published ranges tell.
func TestStancesReadAndRest(t *testing.T) {
	m := body.Adult()
	for said, key := range map[string]string{
		"standing": "standing", "standing on tiptoe": "standing_on_toes", "standing on the left leg": "standing_on_left_leg",
		"balance on the right leg": "standing_on_right_leg", "split stance": "split_stance_left", "squat": "squat", "seated": "sitting",
		"kneeling": "kneeling", "kneeling on the left knee": "half_kneeling_left", "half kneeling": "half_kneeling_right",
		"on hands and knees": "all_fours", "plank": "plank", "forearm plank": "forearm_plank", "lying on the back": "supine",
		"prone": "prone", "side lying": "side_lying_right", "lying on the left side": "side_lying_left", "hanging from a bar": "hanging",
	} {
		if r := Read(m, said); r.Posture.Stance != key || len(r.Unknown) > 0 || len(r.Posture.Positions) > 0 {
			t.Errorf("%q reads as stance %q, want %q alone (%v)", said, r.Posture.Stance, key, r.Unknown)
		}
	}
	if len(m.Stances) < 14 {
		t.Errorf("%d stances, want at least 14", len(m.Stances))
	}
	for _, s := range m.Stances {
		r := Read(m, s.Name)
		if r.Posture.Stance != s.Key || r.Canonical != s.Name {
			t.Errorf("%q reads as %q (%v)", s.Name, r.Canonical, r.Unknown)
		}
		if len(s.Supports) == 0 {
			t.Errorf("%s rests on nothing", s.Name)
		}
		for _, p := range s.Positions {
			mv := m.Movements[p.Movement]
			const slack = 0.18 // rad: 10 degrees; planks bend wrists past the AAOS range, as people do
			if p.Value < mv.Lo-slack || p.Value > mv.Hi+slack {
				t.Errorf("%s: %s is past its range", s.Name, Statement(m, p))
			}
		}
	}
}

// TestUnknownSaysWhere holds what is not understood to its place, and to
// leaving nothing half understood.
func TestUnknownSaysWhere(t *testing.T) {
	m := body.Adult()
	for _, c := range []struct{ said, unknown, near, canonical string }{
		{"knees flexd 30", "flexd", "flexed", ""},
		{"elbows straight; kness soft", "kness", "knees", "both elbows straight"},
		{"standing; knees not flexed 30", "not", "", "standing"},
		{"not arms overhead", "not", "", ""},
		{"ärms overhead", "ärms", "arms", ""},
		{"squat\n\n  flibber flabber", "flibber flabber", "", "squat"},
		{"knees bent", "knees bent", "knees flexed fully", ""},
		{"wrists 40", "wrists 40", "wrists extended", ""},
		{"knees flexed 400", "knees flexed 400", "", ""},
		{"knees flexed 10-15", "knees flexed 10-15", "", ""},
		{"knees pronated 30", "knees pronated 30", "knees flexed", ""},
		{"knees soft firmly", "firmly", "", ""},
		{"squat; plank", "plank", "", "squat"},
		{"left knee flexed 30; left knee flexed 40", "left knee flexed 40", "", "left knee flexed 30°"},
		{"hands carry 2", "hands carry 2", "", ""},
		{"hands push 50 N", "hands push 50 N", "", ""},
		{"hands carry 0 kg", "hands carry 0 kg", "", ""},
		{"left squat", "left squat", "", ""},
		{"left lumbar spine flexed 20 right", "left lumbar spine flexed 20 right", "", ""},
		{"left trunk extended 20", "left trunk extended 20", "", ""},
		{"left chest on the floor", "left chest on the floor", "", ""},
		{"left head carries 3 kg", "left head carries 3 kg", "", ""},
		{"push the left chest away", "push the left chest away", "", ""},
		{"look up 900", "look up 900", "", ""},
		{"knees slightly hyperextended", "knees slightly hyperextended", "", ""},
		{"🙂", "🙂", "", ""},
	} {
		r := Read(m, c.said)
		if r.Canonical != c.canonical {
			t.Errorf("%q reads %q, want %q", c.said, r.Canonical, c.canonical)
		}
		if len(r.Unknown) != 1 {
			t.Errorf("%q: %d stretches not understood, want 1: %+v", c.said, len(r.Unknown), r.Unknown)
			continue
		}
		u := r.Unknown[0]
		if u.Text != c.unknown || c.said[u.From:u.To] != u.Text || u.Why == "" {
			t.Errorf("%q: %q (%s) not understood, want %q", c.said, u.Text, u.Why, c.unknown)
		}
		found := c.near == ""
		for _, n := range u.Near {
			found = found || n == c.near
		}
		if !found {
			t.Errorf("%q: near matches %q lack %q", c.said, u.Near, c.near)
		}
	}
}

// TestPartsCutTheText holds every part to its statement.
func TestPartsCutTheText(t *testing.T) {
	const text = "squat; knees flexd 30 ;\n hands carry 2 kg."
	r := Read(body.Adult(), text)
	want := []Part{{0, 5, "squat"}, {7, 21, ""}, {25, 41, "both hands together carry 2 kg"}}
	if len(r.Parts) != len(want) {
		t.Fatalf("%d parts, want %d: %+v", len(r.Parts), len(want), r.Parts)
	}
	for i, p := range r.Parts {
		if p != want[i] {
			t.Errorf("part %d is %+v %q, want %+v", i, p, text[p.From:p.To], want[i])
		}
	}
}

// TestNegationsAreNeverReadAsTheirOpposite holds sentences that deny a position
// to saying nothing rather than the position.
func TestNegationsAreNeverReadAsTheirOpposite(t *testing.T) {
	for _, said := range []string{
		"do not flex the knees 30", "don't bend the knees 30", "knees never flexed 30", "neither knee flexed 30",
		"hands off the floor", "no arms overhead", "hands carry no 2 kg", "knees flexed less than 30",
		"without arms overhead", "avoid T-pose", "stop squat", "knees flexed 30 or 40", "do not brace the trunk firmly",
		"feet not on the floor", "arms almost overhead", "release the knees pulled straight firmly",
	} {
		if r := Read(body.Adult(), said); r.Canonical != "" || len(r.Unknown) == 0 {
			t.Errorf("%q reads %q with %d stretches not understood", said, r.Canonical, len(r.Unknown))
		}
	}
}
