package analysis_test

import (
	"math"
	"strings"
	"testing"

	"tautline/analysis"
)

func pullOf(t testing.TB, f *analysis.Findings, key string) analysis.Pull {
	t.Helper()
	id, ok := whole.Model.Muscle(key)
	if !ok {
		t.Fatalf("no muscle %q", key)
	}
	return f.Pulls[id]
}

// Which end moves is read off the supports; what it does at the joint stays.
func TestTheHeldEndIsTheOneThatSupportsReach(t *testing.T) {
	for _, c := range []struct {
		words, muscle, moves, held, movement string
		toward                               bool
		way, other                           analysis.Way
	}{
		{"standing; hips flexed 60", "gluteus_maximus_middle_r", "pelvis", "thigh_r", "hip_flexion_r", false, analysis.Backward, analysis.Backward},
		{"supine; left hip flexed 60", "gluteus_maximus_middle_l", "thigh_l", "pelvis", "hip_flexion_l", false, analysis.Backward, analysis.Backward},
		{"standing on the left leg", "gluteus_maximus_middle_r", "thigh_r", "pelvis", "hip_flexion_r", false, analysis.Backward, analysis.Backward},
		{"standing", "iliacus_r", "pelvis", "thigh_r", "hip_flexion_r", true, analysis.Forward, analysis.Forward},
		{"supine; left hip flexed 60", "iliacus_l", "thigh_l", "pelvis", "hip_flexion_l", true, analysis.Forward, analysis.Forward},
		{"supine; left hip flexed 60", "psoas_upper_l", "thigh_l", "abdomen", "hip_flexion_l", true, analysis.Forward, analysis.Forward},
		{"standing", "psoas_lower_r", "abdomen", "thigh_r", "hip_flexion_r", true, analysis.Forward, analysis.Forward},
		{"hanging", "latissimus_lumbar_r", "pelvis", "humerus_r", "", false, "", ""},
		{"standing; arms overhead", "latissimus_lumbar_r", "humerus_r", "pelvis", "", false, "", ""},
		{"standing; shoulders flexed 90", "pectoralis_major_sternocostal_r", "humerus_r", "thorax", "", false, "", ""},
		{"plank", "pectoralis_major_sternocostal_r", "thorax", "humerus_r", "", false, "", ""},
		{"standing; hips flexed 60", "semimembranosus_r", "pelvis", "shank_r", "hip_flexion_r", false, analysis.Backward, ""},
		{"sitting; right knee straight", "semimembranosus_r", "shank_r", "pelvis", "knee_flexion_r", true, analysis.Backward, ""},
		{"standing", "soleus_r", "shank_r", "foot_r", "ankle_dorsiflexion_r", false, analysis.Backward, ""},
		{"supine; left hip flexed 60", "soleus_l", "foot_l", "shank_l", "ankle_dorsiflexion_l", false, "", ""},
		{"standing", "trapezius_descending_r", "clavicle_r", "head", "", false, "", ""},
		{"standing", "trapezius_transverse_l", "scapula_l", "thorax", "", false, "", ""},
		{"hanging", "trapezius_ascending_l", "thorax", "scapula_l", "", false, "", ""},
		{"all fours", "serratus_anterior_middle_r", "thorax", "scapula_r", "shoulder_blade_protraction_r", true, "", ""},
		{"standing; shoulders flexed 90", "serratus_anterior_middle_r", "scapula_r", "thorax", "shoulder_blade_protraction_r", true, "", ""},
		{"standing", "rectus_abdominis_r", "thorax", "pelvis", "", false, analysis.Forward, ""},
		{"hanging", "rectus_abdominis_r", "pelvis", "thorax", "", false, "", ""},
	} {
		f := analyse(t, c.words)
		p := pullOf(t, f, c.muscle)
		segments := whole.Model.Segments
		if segments[p.Moves].Key != c.moves || segments[p.Held].Key != c.held {
			t.Errorf("%s: %s moves %s with %s held (%s); want %s with %s held", c.words, c.muscle, segments[p.Moves].Key, segments[p.Held].Key, p.By, c.moves, c.held)
			continue
		}
		if c.movement != "" && (p.Movement < 0 || whole.Model.Movements[p.Movement].Key != c.movement || p.Toward != c.toward) {
			t.Errorf("%s: %s does %d %v, want %s %v", c.words, c.muscle, p.Movement, p.Toward, c.movement, c.toward)
		}
		if c.way != "" && p.Way != c.way || c.other != "" && p.Other != c.other {
			t.Errorf("%s: %s takes %s %s and would take %s %s; want %s and %s", c.words, c.muscle, c.moves, p.Way, c.held, p.Other, c.way, c.other)
		}
	}
}

func TestPullsPointAlongTheMuscleFromWhatMoves(t *testing.T) {
	for _, words := range postures {
		f := analyse(t, words)
		if len(f.Pulls) != len(whole.Model.Muscles) {
			t.Fatalf("%s: %d pulls of %d muscles", words, len(f.Pulls), len(whole.Model.Muscles))
		}
		for i, p := range f.Pulls {
			mu := &whole.Model.Muscles[i]
			first, last := mu.Path[0], mu.Path[len(mu.Path)-1]
			end := last
			if p.Reverse {
				end = first
			}
			if p.Moves != end.Segment || p.Moves == p.Held && first.Segment != last.Segment {
				t.Errorf("%s: %s moves %d", words, mu.Key, p.Moves)
			}
			if d := f.Frames[end.Segment].Point(end.At).Sub(p.At).Norm(); d > 1e-9 {
				t.Errorf("%s: %s starts %.1f mm from its end", words, mu.Key, 1000*d)
			}
			if math.Abs(p.Dir.Norm()-1) > 1e-9 {
				t.Errorf("%s: %s has direction %v", words, mu.Key, p.Dir)
			}
		}
	}
}

func TestMirroredPosturesGiveMirroredPulls(t *testing.T) {
	a := analyse(t, "standing on the left leg; right shoulder abducted 90")
	b := analyse(t, "standing on the right leg; left shoulder abducted 90")
	turned := strings.NewReplacer("right", "left", "left", "right")
	for i, p := range a.Pulls {
		mu := &whole.Model.Muscles[i]
		q := b.Pulls[mu.Mirror]
		if p.Reverse != q.Reverse || p.By != q.By || p.Dir.Sub(q.Dir.Mirror()).Norm() > 1e-5 {
			t.Errorf("%s: %+v, mirrored %+v", mu.Key, p, q)
		}
		if turned.Replace(string(p.Way)) != string(q.Way) {
			t.Errorf("%s goes %s, mirrored %s", mu.Key, p.Way, q.Way)
		}
	}
}
