package exports

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/timeline"
)

// TestPacingOfGeneratedStudies holds the captions of 200 random studies to every
// limit at once: lines, speed, time on screen, gaps, and their own phase.
func TestPacingOfGeneratedStudies(t *testing.T) {
	paces := []Pace{
		DefaultPace,
		{Wrap: 28, Line: 32, Lines: 2, Speed: 12, MaxSpeed: 13, Least: 2000, Most: 7000, Gap: 120},
		{Wrap: 50, Line: 60, Lines: 1, Speed: 17, MaxSpeed: 25, Least: 833, Most: 6000, Gap: 84},
	}
	cues, reports, silent := 0, 0, 0
	for seed := range uint64(200) {
		r := generated(seed)
		for _, p := range paces {
			got, quiet, err := Captions(r, Options{Pace: p, Voice: []Voice{Plain, Technical}[seed%2]})
			if err != nil {
				t.Fatal(err)
			}
			reports++
			cues += len(got)
			silent += len(quiet.Phases)
			holdPace(t, r, p, got)
		}
	}
	// The studies must have tried what they are for.
	if cues < 5*reports || silent < reports {
		t.Errorf("only %d cues and %d silent phases in %d files", cues, silent, reports)
	}
}

// holdPace is every promise about the captions of one study.
func holdPace(t *testing.T, r *timeline.Report, p Pace, cues []Cue) {
	t.Helper()
	phases := map[string][2]timeline.Instant{"care": {0, end(r)}}
	for _, ph := range r.Phases {
		phases[fmt.Sprint("m", ph.Mark.ID)] = [2]timeline.Instant{ph.From, ph.To}
	}
	if len(r.Phases) > 0 {
		phases["care"] = [2]timeline.Instant{0, r.Phases[0].From}
	}
	ids := map[string]bool{}
	for i, c := range cues {
		group, _, _ := strings.Cut(c.ID, "-")
		in, known := phases[group]
		stands := c.To - c.From
		chars := Screen(c.Lines).width()
		switch {
		case ids[c.ID] || !known:
			t.Errorf("id %q", c.ID)
		case c.From < in[0] || c.To > in[1] || c.To > end(r):
			t.Errorf("%s: %v to %v is outside its phase %v", c.ID, c.From, c.To, in)
		case i > 0 && c.From-cues[i-1].To < p.Gap:
			t.Errorf("%s follows after %v", c.ID, c.From-cues[i-1].To)
		case stands < p.Least || stands > p.Most:
			t.Errorf("%s stands for %v", c.ID, stands)
		case float64(chars) > p.MaxSpeed*stands.Seconds():
			t.Errorf("%s: %d characters in %v", c.ID, chars, stands)
		case len(c.Lines) == 0 || len(c.Lines) > p.Lines:
			t.Errorf("%s has %d lines", c.ID, len(c.Lines))
		}
		for _, line := range c.Lines {
			if width(line) > p.Line || line == "" || line != cleanLine(line) {
				t.Errorf("%s: line %q", c.ID, line)
			}
		}
		ids[c.ID] = true
	}
}

// TestWhatIsKeptWhenOneThingFits: the ranking, case by case.
func TestWhatIsKeptWhenOneThingFits(t *testing.T) {
	for _, c := range []struct {
		why     string
		title   string
		seconds float64
		want    []string
	}{
		{"nothing can be read", "Overhead reach on toes", 1.2, nil},
		{"the finding, in fewest words", "Overhead reach on toes", 1.6, []string{"Calf drawn long, both sides."}},
		{"still in fewest words, at the speed aimed at", "Overhead reach on toes", 2, []string{"Calf drawn long, both sides."}},
		{"the finding in full", "Overhead reach on toes", 2.6, []string{"The calf is drawn long on both sides."}},
		{"the title joins when there is time to read both", "Overhead reach on toes", 4.2, []string{"Overhead reach on toes: the calf is drawn long on both sides."}},
		{"a short title joins sooner", "Reach", 3.1, []string{"Reach: the calf is drawn long on both sides."}},
		{"the care line is said once, and the finding gives up its title for it", "Reach", 5.1, []string{"The calf is drawn long on both sides.", "Stop on pain, dizziness or numbness."}},
		{"the specific caution comes before the care line, and the finding gives up words for it", "Reach", 5.6, []string{"Calf drawn long, both sides.", "Keep the load overhead light and under control."}},
		{"then both", "Reach", 8, []string{"Calf drawn long, both sides.", "Keep the load overhead light and under control.", "Stop on pain, dizziness or numbness."}},
		{"with the title when there is time", "Reach", 9, []string{"Reach: the calf is drawn long on both sides.", "Keep the load overhead light and under control.", "Stop on pain, dizziness or numbness."}},
		{"then the care line in full", "Reach", 11.2, []string{"Reach: the calf is drawn long on both sides.", "Keep the load overhead light and under control.", "For teaching; not a measurement. Stop on pain, dizziness or numbness."}},
		{"then other findings, in order", "Reach", 16, []string{
			"Reach: the calf is drawn long on both sides.", "Keep the load overhead light and under control.",
			"For teaching; not a measurement. Stop on pain, dizziness or numbness.", "The calf has to be working on both sides."}},
	} {
		r := sampleReport([]string{c.title}, seconds(0), timeline.Instant(c.seconds*1000))
		cues, silent, err := Captions(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, cue := range cues {
			got = append(got, strings.Join(cue.Lines, " "))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s (%g s):\n got %q\nwant %q", c.why, c.seconds, got, c.want)
		}
		if (len(silent.Phases) > 0) != (c.want == nil) {
			t.Errorf("%s: silent %v", c.why, silent)
		}
	}
}

// TestMovementsSayWhatShortensAndLengthens, before they say more of the posture
// that they begin with.
func TestMovementsSayWhatShortensAndLengthens(t *testing.T) {
	for _, c := range []struct {
		why     string
		seconds float64
		want    []string
	}{
		{"no time for both", 3, []string{"The calf is drawn long on both sides."}},
		{"in few words", 6, []string{"The calf is drawn long on both sides.", "On the way: back of the shoulder lengthens, right."}},
		{"in full", 7.2, []string{"Stand: the calf is drawn long on both sides.", "Moving on: the back of the shoulder lengthens on the right."}},
		{"where to, and more of the posture", 17, []string{"Stand: the calf is drawn long on both sides.", "The calf has to be working on both sides.",
			"Position alone cannot tell how the parts of the calf share the work on both sides.", "Moving to reach: the back of the shoulder lengthens on the right."}},
	} {
		r := sampleReport([]string{"Stand", "Reach"}, seconds(0, c.seconds), 60_000)
		f := *r.Phases[0].Findings
		f.Cautions = nil
		f.Groups = f.Groups[:6]
		for i := range r.Phases {
			r.Phases[i].Findings = &f
		}
		careless := &captioner{r: r, o: Options{}.withDefaults(), end: end(r), speaker: newSpeaker(r.Model, Plain),
			said: map[*analysis.Findings][]Statement{}, cared: true, cautioned: map[string]bool{}}
		careless.phase(0)
		var got []string
		for _, cue := range careless.cues {
			got = append(got, strings.Join(cue.Lines, " "))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s (%g s):\n got %q\nwant %q", c.why, c.seconds, got, c.want)
		}
	}
}

// TestCautionsAreSaidOnce: the same caution in every phase becomes noise.
func TestCautionsAreSaidOnce(t *testing.T) {
	r := sampleStudies()["plain"]
	cues, _, err := Captions(r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]int{}
	for _, c := range cues {
		said[strings.Join(c.Lines, " ")]++
	}
	if caution := "Keep the load overhead light and under control."; said[caution] != 1 || said[careSaying.Forms[0]]+said[careSaying.Forms[1]] != 1 {
		t.Errorf("not once each: %v", said)
	}
}

// TestLinesBreakWhereTheyRead: after punctuation, before small words, never
// after an article.
func TestLinesBreakWhereTheyRead(t *testing.T) {
	for _, c := range []struct {
		text string
		want []Screen
	}{
		{"", nil},
		{"Reach", []Screen{{"Reach"}}},
		{"The calf is drawn long on both sides.", []Screen{{"The calf is drawn long on both sides."}}},
		{"The front of the shoulder may be working on both sides.", []Screen{{"The front of the shoulder", "may be working on both sides."}}},
		{"For teaching; not a measurement. Stop on pain, dizziness or numbness.", []Screen{{"For teaching; not a measurement.", "Stop on pain, dizziness or numbness."}}},
		{"Overhead reach on toes: the calf is drawn long on both sides.", []Screen{{"Overhead reach on toes:", "the calf is drawn long on both sides."}}},
		{strings.Repeat("x", 100), []Screen{{strings.Repeat("x", 42), strings.Repeat("x", 42)}, {strings.Repeat("x", 16)}}},
	} {
		got := DefaultPace.Screens(c.text)
		if !slices.EqualFunc(got, c.want, func(a, b Screen) bool { return slices.Equal(a, b) }) {
			t.Errorf("%q breaks as %q, want %q", c.text, got, c.want)
		}
	}
}

// FuzzScreens: breaking loses nothing and stays within the lines.
func FuzzScreens(f *testing.F) {
	for _, title := range hostileTitles {
		f.Add(title, 37, 42)
	}
	f.Fuzz(func(t *testing.T, text string, wrap, line int) {
		p := Pace{Wrap: wrap, Line: line}.withDefaults()
		if p.Check() != nil || len(text) > 20_000 {
			return
		}
		text = cleanLine(text)
		all := ""
		for _, s := range p.Screens(text) {
			if len(s) == 0 || len(s) > p.Lines {
				t.Fatalf("screen of %d lines", len(s))
			}
			for _, l := range s {
				if l == "" || width(l) > p.Line {
					t.Fatalf("line %q of %d characters, limit %d", l, width(l), p.Line)
				}
				all += l
			}
		}
		if strings.ReplaceAll(all, " ", "") != strings.ReplaceAll(text, " ", "") {
			t.Fatalf("%q became %q", text, all)
		}
	})
}

func TestPaceRefusesLimitsThatNoTextMeets(t *testing.T) {
	for _, p := range []Pace{
		{Wrap: 5}, {Wrap: 40, Line: 30}, {Lines: -1}, {Speed: -3}, {Speed: 20, MaxSpeed: 10},
		{Least: 5000, Most: 2000}, {Gap: -5}, {Line: 200, Lines: 4},
	} {
		if _, _, err := Captions(sampleStudies()["plain"], Options{Pace: p}); err == nil {
			t.Errorf("%+v is accepted", p)
		}
	}
	if err := (Pace{}).withDefaults().Check(); err != nil {
		t.Errorf("the defaults: %v", err)
	}
}
