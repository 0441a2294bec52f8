package timeline

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// ModelFor gives the body model of the study's person: the reference adult
// where nothing was said. A size outside the model's range is an error that
// names the range.
func ModelFor(s Study) (*body.Model, error) {
	adult := body.Adult()
	p := adult.Person
	if s.Person.StatureM != 0 {
		p.Stature = s.Person.StatureM
	}
	if s.Person.MassKg != 0 {
		p.Mass = s.Person.MassKg
	}
	if s.Person.Sex != "" {
		p.Sex = body.Sex(s.Person.Sex)
	}
	if p == adult.Person {
		return adult, nil
	}
	return adult.Scaled(p)
}

// Assess analyses every phase of a study. The phases are shared among the
// processors; progress, when not nil, is called after each with how many of how
// many are done, from any goroutine. The only error is that ctx ended.
func Assess(ctx context.Context, a *analysis.Analyser, s Study, progress func(done, total int)) (*Report, error) {
	phases := s.Phases()
	r := &Report{Study: s, Model: a.Model, Phases: make([]PhaseReport, len(phases)), Problems: []Problem{}}
	r.Study.Marks = append([]Mark{}, s.Marks...)
	r.Study.Sort()

	readings := readAll(a.Model, phases)
	total := len(phases)
	var done atomic.Int64
	each := func(work func(i int)) {
		var wait sync.WaitGroup
		var next atomic.Int64
		for range min(runtime.GOMAXPROCS(0), max(total, 1)) {
			wait.Go(func() {
				for i := int(next.Add(1)) - 1; i < total && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
					work(i)
				}
			})
		}
		wait.Wait()
	}
	// A phase's findings look back at the posture before, which has the same
	// words wherever it stands: the pair of words decides, and is worked out once.
	memo := newMemo(a)
	each(func(i int) {
		before := ""
		if i > 0 {
			before = phases[i-1].Words
		}
		p := &r.Phases[i]
		p.Phase, p.Reading = phases[i], readings[phases[i].Words]
		p.Findings = memo.findings(phases[i].Words, before, i > 0, readings)
		if !p.Hold() {
			p.Movement = memo.movement(phases[i].Words, phases[i].NextWords, float64(phases[i].To-phases[i].From)/1000, readings)
		}
		if n := done.Add(1); progress != nil {
			progress(int(n), total)
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("assessing stopped after %d of %d phases: %w", done.Load(), total, err)
	}
	r.problems()
	return r, nil
}

// readAll reads each different text once.
func readAll(m *body.Model, phases []Phase) map[string]posture.Reading {
	readings := map[string]posture.Reading{}
	for _, p := range phases {
		for _, w := range []string{p.Words, p.NextWords} {
			if _, ok := readings[w]; !ok {
				readings[w] = posture.Read(m, w)
			}
		}
	}
	return readings
}

// memo keeps what was worked out, by the words it depends on. It lives as long
// as one Assess: nothing computed is kept with a study.
type memo struct {
	a        *analysis.Analyser
	mu       sync.Mutex
	postures map[[2]string]func() *analysis.Findings
	ways     map[way]func() *analysis.Movement
}

// way is what a movement depends on.
type way struct {
	from, to string
	duration float64 // s, cut to where it makes no difference
}

func newMemo(a *analysis.Analyser) *memo {
	return &memo{a: a, postures: map[[2]string]func() *analysis.Findings{}, ways: map[way]func() *analysis.Movement{}}
}

// none stands for "no posture before" in a memo key; no text contains it.
const none = "\x00"

func (m *memo) findings(words, before string, has bool, readings map[string]posture.Reading) *analysis.Findings {
	if !has {
		before = none
	}
	key := [2]string{words, before}
	m.mu.Lock()
	get, ok := m.postures[key]
	if !ok {
		get = sync.OnceValue(func() *analysis.Findings {
			var prev *analysis.Findings
			if before != none {
				prev = m.findings(before, none, false, readings)
			}
			return m.a.Analyse(readings[words].Posture, prev)
		})
		m.postures[key] = get
	}
	m.mu.Unlock()
	return get()
}

// movement gives the way between two postures. How long it takes, s, only
// counts where it is quick: slow ways are all alike.
func (m *memo) movement(from, to string, duration float64, readings map[string]posture.Reading) *analysis.Movement {
	start, end := m.findings(from, none, false, readings), m.findings(to, none, false, readings)
	if slow := m.a.QuickBelow(start, end); duration > slow {
		duration = slow
	}
	key := way{from, to, duration}
	m.mu.Lock()
	get, ok := m.ways[key]
	if !ok {
		get = sync.OnceValue(func() *analysis.Movement { return m.a.Between(start, end, duration) })
		m.ways[key] = get
	}
	m.mu.Unlock()
	return get()
}

// problems collects what is wrong or doubtful, phase by phase.
func (r *Report) problems() {
	end := r.Study.End()
	for i, p := range r.Phases {
		add := func(kind string, doubt bool, format string, args ...any) {
			r.Problems = append(r.Problems, Problem{kind, p.Mark.ID, p.From, fmt.Sprintf(format, args...), doubt})
		}
		if r.Study.Recording != nil && p.From > r.Study.Recording.Duration {
			add("time", false, "mark %d %s at %s is past the end of the recording, %s", p.Mark.ID, quoted(p.Mark.Title), p.From, r.Study.Recording.Duration)
		}
		if i > 0 && p.From == r.Phases[i-1].From {
			add("order", true, "mark %d %s is at the same time as mark %d, %s", p.Mark.ID, quoted(p.Mark.Title), r.Phases[i-1].Mark.ID, p.From)
		}
		if p.Mark.Words != "" { // a posture carried on was reported where it was said
			for _, u := range p.Reading.Unknown {
				near := ""
				if len(u.Near) > 0 {
					near = "; near: " + strings.Join(u.Near, ", ")
				}
				add("words", false, "mark %d %s: %s was not understood: %s%s", p.Mark.ID, quoted(p.Mark.Title), quoted(u.Text), u.Why, near)
			}
			for _, d := range p.Findings.Doubts {
				add(d.Kind, true, "mark %d %s: %s", p.Mark.ID, quoted(p.Mark.Title), d.Text)
			}
		}
		if p.Words == "" && i == 0 {
			add("words", true, "mark %d %s has no posture and none is before it", p.Mark.ID, quoted(p.Mark.Title))
		}
	}
	if r.Study.Recording == nil && len(r.Phases) > 0 {
		r.Problems = append(r.Problems, Problem{"recording", 0, end, "the study has no recording yet", true})
	}
}

// quoted puts a title or a text in quotation marks, cut to what one line holds.
func quoted(s string) string {
	const most = 60
	r := []rune(s)
	if len(r) > most {
		s = string(r[:most-1]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
