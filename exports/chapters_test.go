package exports

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"tautline/timeline"
)

// TestChapterListRules: what platforms ask of a list, and every repair.
func TestChapterListRules(t *testing.T) {
	for _, c := range []struct {
		why    string
		titles []string
		at     []timeline.Instant
		end    float64
		want   string // "" when refused
		told   []string
		left   int // chapters counted when refused
	}{
		{
			why: "a list that is right stays as it is", titles: []string{"Stand", "Reach", "Rest"}, at: seconds(0, 10, 20), end: 30,
			want: "0:00 Stand\n0:10 Reach\n0:20 Rest\n",
		},
		{
			why: "hours where there are hours", titles: []string{"Stand", "Reach", "Rest"}, at: seconds(0, 600, 3725.9), end: 4000,
			want: "0:00 Stand\n10:00 Reach\n1:02:05 Rest\n",
		},
		{
			why: "a first mark within ten seconds moves to 0:00", titles: []string{"Stand", "Reach", "Rest"}, at: seconds(4.2, 15, 30), end: 60,
			want: "0:00 Stand\n0:15 Reach\n0:30 Rest\n", told: []string{`"Stand" starts at 0:00 instead of 0:04.2`},
		},
		{
			why: "a later first mark gets a start before it", titles: []string{"Stand", "Reach"}, at: seconds(12, 30), end: 60,
			want: "0:00 Start\n0:12 Stand\n0:30 Reach\n", told: []string{`added "Start" at 0:00`},
		},
		{
			why: "short chapters join the one before", titles: []string{"Stand", "Wrists", "Reach", "Rest"}, at: seconds(0, 9.9, 12, 25), end: 60,
			want: "0:00 Stand\n0:12 Reach\n0:25 Rest\n", told: []string{`left out "Wrists" at 0:09.9`},
		},
		{
			why: "the rule holds after rounding", titles: []string{"Stand", "Wrists", "Reach", "Rest"}, at: seconds(0.9, 10.8, 20, 30), end: 60,
			want: "0:00 Stand\n0:10 Wrists\n0:20 Reach\n0:30 Rest\n",
		},
		{
			why: "ten seconds that round to nine are too few", titles: []string{"Stand", "Wrists", "Reach", "Rest"}, at: seconds(0, 10.9, 20.95, 30.97), end: 60,
			want: "0:00 Stand\n0:10 Wrists\n0:20 Reach\n0:30 Rest\n",
		},
		{
			why: "the last one needs ten seconds too", titles: []string{"Stand", "Wrists", "Reach", "Rest"}, at: seconds(0, 10, 20, 30), end: 39.5,
			want: "0:00 Stand\n0:10 Wrists\n0:20 Reach\n", told: []string{`left out "Rest" at 0:30, because less than 10 seconds are left`},
		},
		{
			why: "marks past the end are not chapters", titles: []string{"Stand", "Wrists", "Reach", "Late"}, at: seconds(0, 10, 20, 70), end: 60,
			want: "0:00 Stand\n0:10 Wrists\n0:20 Reach\n", told: []string{"past the end of the recording: phases 4"},
		},
		{
			why: "titles that look like a line of their own lose their time", titles: []string{"1:23 Stand", "(0:05) - 1:02:03 Reach", "0:30"}, at: seconds(0, 10, 20), end: 60,
			want: "0:00 Stand\n0:10 Reach\n0:20 At 0.20\n",
		},
		{why: "two chapters are too few", titles: []string{"Stand", "Reach"}, at: seconds(0, 20), end: 60, left: 2},
		{why: "three that are too short are too few", titles: []string{"Stand", "Reach", "Rest"}, at: seconds(0, 4, 8), end: 60, told: []string{"left out", "left out"}, left: 1},
		{why: "none at all", left: 0},
	} {
		r := sampleReport(c.titles, c.at, timeline.Instant(c.end*1000))
		var told []string
		var b bytes.Buffer
		err := writeChapterList(&b, r, Options{Warn: func(s string) { told = append(told, s) }})
		list, foot, _ := strings.Cut(b.String(), "\n\n")
		if list != "" {
			list += "\n"
		}
		var few *ChapterListError
		switch {
		case c.want == "" && (!errors.As(err, &few) || few.Chapters != c.left || b.Len() > 0):
			t.Errorf("%s: error %v, wrote %q; want a refusal with %d chapters", c.why, err, b.String(), c.left)
		case c.want != "" && (err != nil || list != c.want || !strings.Contains(foot, "Stop on pain")):
			t.Errorf("%s: wrote %q, %v; want %q with the care line below", c.why, b.String(), err, c.want)
		case len(told) != len(c.told):
			t.Errorf("%s: told %q, want %q", c.why, told, c.told)
		}
		for i := range min(len(told), len(c.told)) {
			if !strings.Contains(told[i], c.told[i]) {
				t.Errorf("%s: told %q, want %q", c.why, told[i], c.told[i])
			}
		}
	}
}

// TestChapterListOfGeneratedStudies: whatever is written obeys every rule.
func TestChapterListOfGeneratedStudies(t *testing.T) {
	written := 0
	for seed := range uint64(200) {
		r := generated(seed)
		items, _, err := ChapterList(r, Options{})
		if err != nil {
			continue
		}
		written++
		if len(items) < 3 || items[0].Second != 0 {
			t.Fatalf("seed %d: %v", seed, items)
		}
		last := int(end(r) / 1000)
		for i, item := range items {
			next := last
			if i+1 < len(items) {
				next = items[i+1].Second
			}
			if next-item.Second < 10 {
				t.Errorf("seed %d: %q lasts %d s", seed, item.Title, next-item.Second)
			}
			if item.Title == "" || strings.ContainsAny(item.Title, "\r\n") || timeFirst.MatchString(item.Title) {
				t.Errorf("seed %d: title %q", seed, item.Title)
			}
		}
	}
	if written < 40 {
		t.Errorf("only %d of 200 studies gave a list", written)
	}
}

// TestChaptersAreDisjointAndComplete: they follow each other without holes.
func TestChaptersAreDisjointAndComplete(t *testing.T) {
	for name, r := range sampleStudies() {
		chapters, _ := Chapters(r, Options{})
		for i, c := range chapters {
			if c.To <= c.From || c.To > end(r) || c.Title == "" {
				t.Errorf("%s: %+v", name, c)
			}
			if i > 0 && c.From != chapters[i-1].To {
				t.Errorf("%s: chapter %d starts at %v, the one before ends at %v", name, i+1, c.From, chapters[i-1].To)
			}
		}
	}
	_, said := Chapters(sampleStudies()["past end"], Options{})
	if want := []string{"left out, because they lie past the end of the recording: phases 5, 6"}; !slices.Equal(said, want) {
		t.Errorf("said %q, want %q", said, want)
	}
	_, said = Chapters(sampleStudies()["no length"], Options{})
	if want := []string{"left out, because they have no length: phases 1, 2, 5"}; !slices.Equal(said, want) {
		t.Errorf("said %q, want %q", said, want)
	}
}

// TestTitlesCarryGroupsWholeOrNotAtAll: a finding cut short could claim more.
func TestTitlesCarryGroupsWholeOrNotAtAll(t *testing.T) {
	const works, long = "calf working, both sides", "calf drawn long, both sides"
	for _, c := range []struct {
		limit int
		want  string
	}{
		{200, "Reach: " + works + "; " + long},
		{7 + len(works) + 2 + len(long), "Reach: " + works + "; " + long},
		{7 + len(works) + 1 + len(long), "Reach: " + works},
		{7 + len(works), "Reach: " + works},
		{7 + len(works) - 1, "Reach"},
		{5, "Reach"},
		{4, "Rea…"},
	} {
		r := sampleReport([]string{"Reach"}, seconds(0), 20_000)
		chapters, _ := Chapters(r, Options{TitleGroups: true, Title: c.limit})
		if chapters[0].Title != c.want {
			t.Errorf("%d characters: %q, want %q", c.limit, chapters[0].Title, c.want)
		}
	}
	// Without its first group a title carries the other; without findings none.
	r := sampleReport([]string{"Reach"}, seconds(0), 20_000)
	f := *r.Phases[0].Findings
	f.Groups = f.Groups[:2]
	r.Phases[0].Findings = &f
	if chapters, _ := Chapters(r, Options{TitleGroups: true}); chapters[0].Title != "Reach: "+long {
		t.Errorf("%q", chapters[0].Title)
	}
	r.Phases[0].Findings = nil
	if chapters, _ := Chapters(r, Options{TitleGroups: true}); chapters[0].Title != "Reach" {
		t.Errorf("%q", chapters[0].Title)
	}
}

// TestChaptersForRecordingsStartWithThem, with a word about what was changed.
func TestChaptersForRecordingsStartWithThem(t *testing.T) {
	for _, c := range []struct {
		at   float64
		from []timeline.Instant
		said string
	}{
		{0, seconds(0, 30), ""},
		{0.137, seconds(0, 30), `"Reach" starts at 0:00 instead of 0:00.137`},
		{12, seconds(0, 12, 30), `added "Start" at 0:00`},
	} {
		chapters, _ := Chapters(sampleReport([]string{"Reach"}, seconds(c.at, 30), 40_000), Options{})
		got, said := fromZero(chapters)
		from := []timeline.Instant{}
		for _, g := range got {
			from = append(from, g.From)
		}
		if !slices.Equal(from, c.from) || !strings.HasPrefix(strings.Join(said, "|"), c.said) || c.said == "" && len(said) > 0 {
			t.Errorf("first mark at %g s: from %v, said %q", c.at, from, said)
		}
	}
}
