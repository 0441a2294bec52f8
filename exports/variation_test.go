package exports

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// TestVariationsAreSaidAloud: whole sentences in both voices, sides together,
// what differs and where it comes from.
func TestVariationsAreSaidAloud(t *testing.T) {
	m := body.Adult()
	an := analysis.New(m)
	for _, c := range []struct {
		base, variant string
		want          []string // in the plain voice
	}{
		{"standing on toes; arms overhead", "heels down", []string{"Drawing the foot up on both sides", "Now rests on the heel, on the floor.", "The sole of the foot is no longer drawn long on both sides, by curling the toes."}},
		{"standing; elbows flexed 90", "with 4 kg", []string{"Now 2 kg at the right palm.", "It asks clearly more effort of the whole body.", "by the load"}},
		{"standing; knees pulled straight lightly", "knees pulled straight strongly", []string{"Now asked: pull the right knee into extension, 60%.", "by the cue"}},
		{"standing", "standing", []string{"Nothing: both are the same posture."}},
	} {
		from := posture.Read(m, c.base)
		to := posture.Vary(m, from.Posture, c.variant)
		f := an.Analyse(from.Posture, nil)
		v := an.Compare(f, an.Analyse(to.Posture, f))
		for _, voice := range []Voice{Plain, Technical} {
			for _, st := range VariationStatements(m, v, voice) {
				for _, s := range st.forms() {
					if s == "" || s != strings.TrimSpace(s) || !strings.HasSuffix(s, ".") || strings.Contains(s, "  ") || strings.ToUpper(s[:1]) != s[:1] {
						t.Errorf("%s against %s: %q is no sentence", c.base, c.variant, s)
					}
					if len(strings.Fields(s)) > 30 {
						t.Errorf("%q is too long to say", s)
					}
				}
			}
			var out bytes.Buffer
			if err := WriteVariation(&out, m, &from, &to, v, Options{Voice: voice}); err != nil {
				t.Fatal(err)
			}
			said := strings.Join(strings.Fields(out.String()), " ")
			for _, want := range c.want {
				if voice == Plain && !strings.Contains(said, want) {
					t.Errorf("%s against %s does not say %q:\n%s", c.base, c.variant, want, out.String())
				}
			}
			if !strings.Contains(said, "For teaching.") {
				t.Error("the care text is missing")
			}
		}
		var out bytes.Buffer
		if err := WriteVariationJSON(&out, m, &from, &to, v, Options{}); err != nil {
			t.Fatal(err)
		}
		var doc map[string]any
		if err := json.Unmarshal(out.Bytes(), &doc); err != nil || doc["format"] != VariationFormat {
			t.Errorf("JSON: %v, format %v", err, doc["format"])
		}
		for key, value := range doc["variation"].(map[string]any) {
			if value == nil {
				t.Errorf("%s is null", key)
			}
		}
	}
}
