package posture

import (
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// back holds canonical words to reading back as the same posture.
func back(t testing.TB, m *body.Model, r Reading) {
	t.Helper()
	again := Read(m, r.Canonical)
	if len(again.Unknown) > 0 {
		t.Errorf("canonical %q is not understood: %+v", r.Canonical, again.Unknown)
	}
	if !reflect.DeepEqual(again.Posture, r.Posture) {
		t.Errorf("canonical %q reads back as %q\n%+v\n%+v", r.Canonical, again.Canonical, r.Posture, again.Posture)
	}
	if again.Canonical != r.Canonical {
		t.Errorf("canonical %q reads back as %q", r.Canonical, again.Canonical)
	}
}

// anyPosture makes a posture from everything that the model's vocabulary holds.
func anyPosture(m *body.Model, r *rand.Rand) body.Posture {
	p := body.Posture{Positions: []body.Position{}, Supports: []body.Support{}, Loads: []body.Load{}, Cues: []body.Cue{}}
	rare := func() bool { return r.IntN(12) == 0 }
	strength := func() float64 { return []float64{0.1, 0.3, 0.6, float64(1+r.IntN(100)) / 100}[r.IntN(4)] }
	if r.IntN(2) == 0 {
		p.Stance = m.Stances[r.IntN(len(m.Stances))].Key
	}
	for id := range m.Movements {
		if r.IntN(6) == 0 {
			deg := []float64{0, float64(r.IntN(181) - 90), float64(r.IntN(36001)-18000) / 100}[r.IntN(3)]
			p.Positions = append(p.Positions, body.Position{Movement: body.MovementID(id), Value: geom.Deg(deg)})
			if body.Bare(m.Movements[id].Key) != m.Movements[id].Key && id+1 < len(m.Movements) && m.Movements[id].Side == body.Right {
				p.Positions = append(p.Positions, body.Position{Movement: body.MovementID(id + 1), Value: geom.Deg(deg)})
			}
		}
		if rare() {
			p.Cues = append(p.Cues, body.Cue{Kind: body.Brace, Movement: body.MovementID(id), Intensity: strength()})
		}
		if rare() {
			p.Cues = append(p.Cues, body.Cue{Kind: body.PullIn, Movement: body.MovementID(id), Toward: r.IntN(2) == 0, Intensity: strength()})
		}
	}
	st, _ := m.Stance(p.Stance)
	for _, patch := range m.Patches {
		if rare() {
			s := body.Support{Patch: patch.Key, On: []string{body.Floor, body.Seat, body.Wall, body.Bar}[r.IntN(4)]}
			given := false
			for i := 0; st != nil && i < len(st.Supports); i++ {
				given = given || st.Supports[i] == s
			}
			if !given {
				p.Supports = append(p.Supports, s)
			}
		}
		if rare() {
			p.Loads = append(p.Loads, body.Load{Kind: body.Carry, Patch: patch.Key, Mass: float64(1+r.IntN(20000)) / 1000})
		}
		if rare() {
			p.Loads = append(p.Loads, body.Load{Kind: []body.LoadKind{body.Push, body.Pull}[r.IntN(2)], Patch: patch.Key, Force: float64(1+r.IntN(3000)) / 10,
				Direction: []string{"up", "down", "forward", "backward", "right", "left"}[r.IntN(6)]})
		}
		if rare() {
			p.Cues = append(p.Cues, body.Cue{Kind: []body.CueKind{body.PushAway, body.DrawIn}[r.IntN(2)], Movement: -1, Patch: patch.Key, Intensity: strength()})
		}
	}
	// One position a movement: a pair above may have met its left side again.
	seen := map[body.MovementID]bool{}
	kept := p.Positions[:0]
	for _, pos := range p.Positions {
		if !seen[pos.Movement] {
			kept = append(kept, pos)
		}
		seen[pos.Movement] = true
	}
	p.Positions = kept
	for _, side := range []body.Side{body.Right, body.Left} {
		if id := m.MustMovement("shoulder_flexion" + side.Suffix()); r.IntN(3) == 0 && !seen[id] {
			p.Hanging = p.Hanging.With(side, true)
		}
	}
	Sort(m, &p)
	return p
}

// TestEveryPostureReadsBack holds written postures to reading back unchanged.
func TestEveryPostureReadsBack(t *testing.T) {
	m := body.Adult()
	r := rand.New(rand.NewPCG(7, 11))
	for range 400 {
		p := anyPosture(m, r)
		text := Write(m, p)
		got := Read(m, text)
		if len(got.Unknown) > 0 {
			t.Fatalf("not understood: %+v in %q", got.Unknown, text)
		}
		if !reflect.DeepEqual(got.Posture, p) {
			t.Fatalf("%q\nreads back as\n%q", text, got.Canonical)
		}
	}
}

// TestWriteLeavesThePostureAlone holds Write to changing nothing it is given.
func TestWriteLeavesThePostureAlone(t *testing.T) {
	m := body.Adult()
	p := body.Posture{Positions: []body.Position{{Movement: m.MustMovement("knee_flexion_r"), Value: 1}, {Movement: 0, Value: 1}}}
	Write(m, p)
	if p.Positions[0].Movement == 0 {
		t.Error("Write sorted its argument")
	}
}

// TestVocabularyReads holds every entry to being understood, whole.
func TestVocabularyReads(t *testing.T) {
	m := body.Adult()
	phrases := 0
	for _, e := range Vocabulary(m) {
		if e.Kind == "phrase" {
			phrases++
		}
		r := Read(m, e.Phrase)
		if len(r.Unknown) > 0 || r.Canonical == "" || r.Canonical != e.Canonical {
			t.Errorf("%s %q reads %q, listed as %q: %+v", e.Kind, e.Phrase, r.Canonical, e.Canonical, r.Unknown)
		}
		back(t, m, r)
	}
	if phrases < 60 {
		t.Errorf("%d phrases, want at least 60", phrases)
	}
}

// TestPhraseConditionsNameMovements holds the table's conditions to movements
// that exist, on both sides.
func TestPhraseConditionsNameMovements(t *testing.T) {
	m := body.Adult()
	for _, terms := range lexiconOf(m).terms {
		for _, term := range terms {
			for i, p := range term.row {
				if p.when.movement == "" {
					continue
				}
				m.MustMovement(p.when.movement + "_r")
				m.MustMovement(p.when.movement + "_l")
				if last := term.row[len(term.row)-1]; last.when.movement != "" {
					t.Errorf("%q has no row without a condition", last.said)
				}
				if i == len(term.row)-1 {
					t.Errorf("%q: the last row may have no condition", p.said)
				}
			}
		}
	}
}

// TestHostileTextIsBounded holds the reader to answering soon, whatever it is given.
func TestHostileTextIsBounded(t *testing.T) {
	m := body.Adult()
	for name, text := range map[string]string{
		"a megabyte of commas":   strings.Repeat(",", 1<<20),
		"a megabyte of one":      strings.Repeat("a", 1<<20),
		"phrases without end":    strings.Repeat("arms overhead ", 1<<13),
		"failing phrases":        strings.Repeat("arms overhead blorp,", 1<<13),
		"nested sides":           strings.Repeat("left right both ", 1<<13),
		"digits":                 strings.Repeat("9", 1<<16),
		"numbers":                strings.Repeat("knee 9 ", 1<<13),
		"bytes that are no text": strings.Repeat("\xff\xfe;", 1<<14),
		"statements":             strings.Repeat("knees flexed 9;", 1<<12),
	} {
		start := time.Now()
		r := Read(m, text)
		sound(t, text, r)
		if took := time.Since(start); took > 5*time.Second { // about fifty times what it takes
			t.Errorf("%s took %v", name, took)
		}
	}
}

// sound holds a reading's places to the text and its lists to being there.
func sound(t testing.TB, text string, r Reading) {
	t.Helper()
	if r.Parts == nil || r.Unknown == nil || r.Posture.Positions == nil || r.Posture.Supports == nil || r.Posture.Loads == nil || r.Posture.Cues == nil {
		t.Error("a list is nil")
	}
	at := 0
	for _, p := range r.Parts {
		if p.From < at || p.To <= p.From || p.To > len(text) {
			t.Fatalf("part %+v out of place in %d bytes", p, len(text))
		}
		at = p.To
	}
	at = 0
	for _, u := range r.Unknown {
		if u.From < at || u.To <= u.From || u.To > len(text) || text[u.From:u.To] != u.Text || u.Why == "" || u.Near == nil {
			t.Fatalf("unknown %+v out of place in %d bytes", u, len(text))
		}
		at = u.From
	}
	if !utf8.ValidString(r.Canonical) {
		t.Fatal("canonical words are no text")
	}
}

// FuzzRead holds every text to sound places, and what was understood to
// reading back identically.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"", "standing on toes; shoulders flexed 170; elbows straight", "left knee flexed 30, right straight",
		"T-pose, palms down", "hands carry 2,001 kg; right hand carries 1e9 lb", "knees at −5 % and 0.0000001°",
		"push the palms into the wall at 33.3333333 %", "each hand pushes left 900 N\xff", "bend forward 90.123456789012",
		"arms overhead, palms up. thumbs up; left fist", "and with , ; the a of", "half , half half kneeling left right both",
		"base of the thumb flexed 10; trunk pulled into bend right hard", "hips and knees and left ankle 20",
	} {
		f.Add(s)
	}
	m := body.Adult()
	f.Fuzz(func(t *testing.T, text string) {
		r := Read(m, text)
		sound(t, text, r)
		back(t, m, r)
	})
}

func BenchmarkRead(b *testing.B) {
	m := body.Adult()
	const text = "standing on toes; shoulders flexed 170; elbows straight; forearms pronated fully; " +
		"wrists extended 70; trunk extended slightly; knees pulled straight firmly; hands carry 2 kg"
	for b.Loop() {
		if r := Read(m, text); len(r.Unknown) > 0 {
			b.Fatal(r.Unknown)
		}
	}
}
