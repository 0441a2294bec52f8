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

// Assess analyses every phase of a study once. Who assesses a study again and
// again keeps an Assessor.
func Assess(ctx context.Context, a *analysis.Analyser, s Study, progress func(done, total int)) (*Report, error) {
	return NewAssessor(a).Assess(ctx, s, progress)
}

// Assess analyses every phase of a study. The phases are shared among the
// processors in runs of neighbours, which need each other's postures; progress, when not nil, is called after each with how many of how
// many are done, from any goroutine. What the last study that was assessed had
// in common with this one is not worked out again. The only error is that ctx
// ended.
func (as *Assessor) Assess(ctx context.Context, s Study, progress func(done, total int)) (*Report, error) {
	as.busy.Lock()
	defer as.busy.Unlock()
	a := as.a
	phases := s.Phases()
	r := &Report{Study: s, Model: a.Model, Phases: make([]PhaseReport, len(phases)), Problems: []Problem{}}
	r.Study.Marks = append([]Mark{}, s.Marks...)
	r.Study.Sort()

	readings := readAll(a.Model, phases)
	total := len(phases)
	var done atomic.Int64
	each := func(work func(i int)) {
		procs := runtime.GOMAXPROCS(0)
		run := max((total+8*procs-1)/(8*procs), min(4, (total+procs-1)/procs), 1)
		var wait sync.WaitGroup
		var next atomic.Int64
		for range procs {
			wait.Go(func() {
				for from := int(next.Add(int64(run))) - run; from < total; from = int(next.Add(int64(run))) - run {
					for i := from; i < min(from+run, total) && ctx.Err() == nil; i++ {
						work(i)
					}
				}
			})
		}
		wait.Wait()
	}
	// A phase's findings look back at the posture before, which has the same
	// words wherever it stands: the pair of words decides, and is worked out once.
	memo := as.memo.next()
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
	as.memo = memo
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
