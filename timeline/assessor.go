package timeline

import (
	"sync"

	"tautline/analysis"
	"tautline/analysis/posture"
)

// Assessor assesses one study after another, or one study as it changes, and
// keeps what the last one was made of: an edit then costs what it changed. It
// may be used from several goroutines, one assessment at a time.
type Assessor struct {
	a    *analysis.Analyser
	busy sync.Mutex
	memo *memo
}

// NewAssessor makes an Assessor that remembers nothing yet.
func NewAssessor(a *analysis.Analyser) *Assessor {
	return &Assessor{a: a, memo: &memo{a: a}}
}

// memo keeps what was worked out in one assessment, by the words it depends on,
// and hands over what the next one asks for again. Nothing of it is kept with a
// study.
type memo struct {
	a    *analysis.Analyser
	last *memo // of the assessment before; nil once this one is over

	mu       sync.Mutex
	postures map[string]func() *analysis.Findings
	after    map[[2]string]func() *analysis.Findings
	ways     map[way]func() *analysis.Movement
}

// way is what a movement depends on.
type way struct {
	from, to string
	duration float64 // s, cut to where it makes no difference
}

// next begins the memo of another assessment.
func (m *memo) next() *memo {
	m.last = nil
	return &memo{a: m.a, last: m, postures: map[string]func() *analysis.Findings{},
		after: map[[2]string]func() *analysis.Findings{}, ways: map[way]func() *analysis.Movement{}}
}

// once finds a result in this assessment or the last, or has it worked out, by
// whoever asks for it first.
func once[K comparable, V any](m *memo, of func(*memo) map[K]func() V, key K, work func() V) V {
	m.mu.Lock()
	get, ok := of(m)[key]
	if !ok && m.last != nil {
		get, ok = of(m.last)[key]
	}
	if !ok {
		get = sync.OnceValue(work)
	}
	of(m)[key] = get
	m.mu.Unlock()
	return get()
}

// posture gives the findings of one text, with nothing before it.
func (m *memo) posture(words string, readings map[string]posture.Reading) *analysis.Findings {
	return once(m, func(m *memo) map[string]func() *analysis.Findings { return m.postures }, words,
		func() *analysis.Findings { return m.a.Analyse(readings[words].Posture, nil) })
}

// findings gives the findings of one text after another; has is false where
// there is none before.
func (m *memo) findings(words, before string, has bool, readings map[string]posture.Reading) *analysis.Findings {
	f := m.posture(words, readings)
	if !has {
		return f
	}
	prev := m.posture(before, readings)
	return once(m, func(m *memo) map[[2]string]func() *analysis.Findings { return m.after }, [2]string{words, before},
		func() *analysis.Findings { return m.a.After(f, prev) })
}

// movement gives the way between two postures. How long it takes, s, only
// counts where it is quick: slow ways are all alike.
func (m *memo) movement(from, to string, duration float64, readings map[string]posture.Reading) *analysis.Movement {
	start, end := m.posture(from, readings), m.posture(to, readings)
	if slow := m.a.QuickBelow(start, end); duration > slow {
		duration = slow
	}
	return once(m, func(m *memo) map[way]func() *analysis.Movement { return m.ways }, way{from, to, duration},
		func() *analysis.Movement { return m.a.Between(start, end, duration) })
}
