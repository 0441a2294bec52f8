package exports

import (
	"strings"
	"testing"

	"tautline/analysis/body"
)

// TestMusclesGoByTheirLatinNamesWhenAsked: whole muscles by their own name, parts
// by theirs, and many by what they do.
func TestMusclesGoByTheirLatinNamesWhenAsked(t *testing.T) {
	m := body.Adult()
	sp := Options{Names: Latin}.withDefaults().speaker(m)
	if sp.voice != Technical {
		t.Fatalf("Latin in the %s voice", sp.voice)
	}
	knee := sampleMovement(m, "knee_flexion_r")
	for _, c := range []struct {
		muscles string
		want    string
	}{
		{"gastrocnemius_medial_r gastrocnemius_lateral_r", "the gastrocnemius"},
		{"gastrocnemius_medial_r", "the gastrocnemius (caput mediale)"},
		{"soleus_r gastrocnemius_medial_r gastrocnemius_lateral_r", "the soleus and the gastrocnemius"},
		{"deltoid_clavicular_r", "the deltoideus (pars clavicularis)"},
		{"semimembranosus_r semitendinosus_r gracilis_r", "the " + m.Movements[knee].Agents},
	} {
		s := sp.subject(knee, true, sampleMuscles(m, strings.Fields(c.muscles)...))
		if s.the() != c.want || s.side != onRight {
			t.Errorf("%s: %q %s, want %q", c.muscles, s.the(), s.side, c.want)
		}
	}
	for i := range m.Muscles {
		if whole, _ := latinName(&m.Muscles[i]); whole == "" || strings.HasPrefix(whole, "muscul") {
			t.Errorf("%s: %q", m.Muscles[i].Key, whole)
		}
	}
}
