package viewer

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"sync"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
	"tautline/exports"
)

// errForgotten answers who asks about a posture that was tried too long ago.
var errForgotten = errors.New("that posture is no longer being tried")

// bench keeps the postures that were tried last, by key, with their findings.
type bench struct {
	mu    sync.Mutex
	tried map[string]tried
	order []string // oldest first

	// whole lets one whole answer be worked out at a time: whoever waits while
	// the hand moves on is gone by the time it is their turn.
	whole sync.Mutex
}

// tried is one posture that was tried.
type tried struct {
	model    *body.Model
	reading  posture.Reading
	findings *analysis.Findings
}

const mostTried = 48

func (b *bench) find(key string) (tried, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	t, ok := b.tried[key]
	return t, ok
}

func (b *bench) keep(key string, t tried) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.tried == nil {
		b.tried = map[string]tried{}
	}
	b.order = append(slices.DeleteFunc(b.order, func(k string) bool { return k == key }), key)
	b.tried[key] = t
	if len(b.order) > mostTried {
		delete(b.tried, b.order[0])
		b.order = b.order[1:]
	}
}

// try answers what a posture means that is not kept anywhere.
func (s *Server) try(w http.ResponseWriter, r *http.Request) {
	var ask apiTry
	if err := decode(r, &ask); err != nil {
		fail(w, err)
		return
	}
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	answer, err := s.tryOut(r.Context(), snap, ask)
	if err != nil {
		if r.Context().Err() == nil {
			fail(w, err)
		}
		return // nobody waits for it any more
	}
	send(w, http.StatusOK, answer)
}

func (s *Server) tryOut(ctx context.Context, snap *snapshot, ask apiTry) (apiTried, error) {
	reading, words, err := ask.read(snap.model)
	if err != nil {
		return apiTried{}, err
	}
	v, err := exports.ParseVoice(ask.Voice)
	if err != nil {
		v = exports.Plain
	}
	key, t, err := s.tryPosture(ctx, snap, reading, ask.Glance)
	if err != nil {
		return apiTried{}, err
	}
	m, f := snap.model, t.findings
	answer := apiTried{
		Key: key, Glance: ask.Glance, Canonical: reading.Canonical, Parts: parts(words, reading.Parts), Unknown: unknown(words, reading.Unknown),
		State: stateOf(m, reading.Posture), Values: make([]float64, len(m.Movements)),
		Sample: s.drawer.still(m, f), Findings: sayPosture(m, &reading, words, f, v),
	}
	for _, j := range f.Joints {
		answer.Values[j.Movement] = degrees(j.Value)
	}
	if ask.Against != nil {
		other := posture.Read(m, *ask.Against)
		_, o, err := s.tryPosture(ctx, snap, other, ask.Glance)
		if err != nil {
			return apiTried{}, err
		}
		answer.Varied = varied(snap, snap.analyser.Compare(o.findings, f), v)
	}
	return answer, nil
}

// read makes a reading of whatever was asked, and gives the words that places
// in it refer to.
func (ask apiTry) read(m *body.Model) (posture.Reading, string, error) {
	var reading posture.Reading
	words := ""
	switch {
	case ask.State != nil && (ask.Words != nil || ask.Base != nil), ask.State == nil && ask.Words == nil:
		return reading, "", fmt.Errorf("%w: either words or a state", errRequest)
	case ask.State != nil:
		p, err := ask.State.posture(m)
		if err != nil {
			return reading, "", err
		}
		reading = posture.Reading{Posture: p}
	case ask.Base != nil:
		words = *ask.Words
		reading = posture.Vary(m, posture.Read(m, *ask.Base).Posture, words)
	default:
		words = *ask.Words
		reading = posture.Read(m, words)
	}
	if ask.Mirror {
		reading.Posture = posture.Mirror(m, reading.Posture)
	}
	if ask.Intent != nil {
		reading.Posture = intend(reading.Posture, *ask.Intent)
	}
	reading.Canonical = posture.Write(m, reading.Posture)
	return reading, words, nil
}

// tryPosture finds what a posture means, or has it worked out: at a glance, or
// whole.
func (s *Server) tryPosture(ctx context.Context, snap *snapshot, reading posture.Reading, glance bool) (string, tried, error) {
	key := digest(modelTag(snap.model), reading.Canonical, fmt.Sprint(glance))
	if t, ok := s.bench.find(key); ok {
		return key, t, nil
	}
	t := tried{snap.model, reading, nil}
	if glance {
		t.findings = snap.analyser.Glance(reading.Posture)
	} else {
		s.bench.whole.Lock()
		defer s.bench.whole.Unlock()
		if ctx.Err() != nil {
			return "", t, ctx.Err()
		}
		if have, ok := s.bench.find(key); ok {
			return key, have, nil
		}
		t.findings = snap.analyser.Analyse(reading.Posture, nil)
	}
	s.bench.keep(key, t)
	return key, t, nil
}

// getTriedMuscle answers with everything about one muscle in a posture that was
// tried.
func (s *Server) getTriedMuscle(w http.ResponseWriter, r *http.Request) {
	t, ok := s.bench.find(r.PathValue("key"))
	if !ok {
		fail(w, errForgotten)
		return
	}
	id, ok := muscleID(r, t.findings)
	if !ok {
		fail(w, errNoMuscle)
		return
	}
	send(w, http.StatusOK, muscle(t.model, t.findings, id, voice(r)))
}

// varied words a variation and gives its figures.
func varied(snap *snapshot, v analysis.Variation, voice exports.Voice) *apiVaried {
	m := snap.model
	a := &apiVaried{Differs: exports.Differs(m, v, voice), Effort: exports.EffortChange(v), Statements: []apiStatement{}, Figures: []apiVaries{}}
	for _, st := range exports.VariationStatements(m, v, voice) {
		said := statement(st)
		for _, g := range st.Groups {
			said.Muscles = append(said.Muscles, indices(v.Groups[g].Muscles())...)
		}
		a.Statements = append(a.Statements, distinct(said))
	}
	for _, g := range v.Groups {
		a.Figures = append(a.Figures, varies(m, g))
	}
	return a
}

// varies gives one group's change in per cent.
func varies(m *body.Model, g analysis.GroupVariation) apiVaries {
	mv := &m.Movements[g.Movement]
	a := apiVaries{Name: mv.Agents, Role: string(g.Role)}
	if !g.Toward {
		a.Name = mv.Against
	}
	if side := mv.Side.String(); side != "" {
		a.Name += ", " + side
	}
	value := func(f *analysis.GroupFinding) float64 {
		switch {
		case f == nil:
			return 0
		case g.Role == analysis.Working:
			return 100 * ratio(f.Effort)
		}
		return 100 * ratio(f.Place)
	}
	a.From, a.To = value(g.From), value(g.To)
	return a
}
