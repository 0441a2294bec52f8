package posture

import (
	"slices"
	"strings"

	"tautline/analysis/body"
)

// maxText bounds the bytes that are read of one posture; the rest is reported.
const maxText = 64 << 10 // more than all that can be said at once

// reader reads one text.
type reader struct {
	x     *lexicon
	text  string
	whole bool // phrases are understood; not inside a phrase's own meaning

	items   []item
	unknown []Unknown
	part    int
	last    clause // what a later clause of the same statement may leave out
}

// item is one thing understood.
type item struct {
	part     int
	from, to int
	rank     int // a statement of higher rank stands against one of lower rank
	stance   string
	position *body.Position
	support  *body.Support
	load     *body.Load
	cue      *body.Cue
	hang     body.Side // the arm that hangs; Middle for none
	later    *later    // a phrase whose meaning depends on the rest
}

// Ranks: naming one side says more than naming none, and an explicit position
// more than what a phrase implies.
const (
	oneSide  = 1
	explicit = 2
)

// Read reads a posture in ordinary clinical words. Statements are separated by
// semicolons, new lines or full stops, and come in any order. What is not
// understood is left out of the posture and reported, never guessed.
//
// A sided joint without "left" or "right" means both. Of two statements about
// the same thing, one that names a side stands against one that does not, and
// an explicit position against a phrase ("arms overhead"); where neither rule
// decides and they differ, the first stands and the second is reported.
func Read(m *body.Model, text string) Reading {
	r := reader{x: lexiconOf(m), text: text, whole: true}
	if len(text) > maxText {
		r.unknown = append(r.unknown, Unknown{From: maxText, To: len(text), Text: text[maxText:],
			Why: "the text is too long for one posture", Near: []string{}})
		r.text = text[:maxText]
	}
	parts := r.statements()
	r.resolveLater()
	p := r.assemble()
	out := Reading{Posture: p, Canonical: Write(m, p), Parts: []Part{}, Unknown: []Unknown{}}
	of := make([][]item, len(parts))
	for _, it := range r.items {
		of[it.part] = append(of[it.part], it)
	}
	for i, s := range parts {
		said, _ := r.posture(of[i])
		out.Parts = append(out.Parts, Part{s.from, s.to, Write(m, said)})
	}
	slices.SortStableFunc(r.unknown, func(a, b Unknown) int { return a.From - b.From })
	for _, u := range r.unknown {
		if len(out.Unknown) < maxNear && u.Near == nil {
			u.Near = r.x.near(u.Text)
		}
		if u.Near == nil {
			u.Near = []string{}
		}
		out.Unknown = append(out.Unknown, u)
	}
	return out
}

// span is a stretch of the text.
type span struct{ from, to int }

// statements reads every statement and gives their places.
func (r *reader) statements() []span {
	var spans []span
	toks := r.x.tokens(r.text)
	for len(toks) > 0 {
		n := slices.IndexFunc(toks, func(t token) bool { return t.kind == endToken })
		if n < 0 {
			n = len(toks)
		}
		if said := toks[:n]; len(said) > 0 {
			r.part = len(spans)
			spans = append(spans, span{said[0].from, said[n-1].to})
			r.statement(said)
		}
		toks = toks[min(n+1, len(toks)):]
	}
	return spans
}

// statement reads one statement.
func (r *reader) statement(toks []token) {
	r.last = clause{}
	r.clauses(r.x.atoms(toks, r.whole))
}

// clauses reads a run of atoms clause by clause: commas and words like "and"
// stand between clauses.
func (r *reader) clauses(atoms []atom) {
	var unit, waiting []atom
	flush := func() {
		if len(unit) == 0 {
			return
		}
		u := append(waiting, unit...)
		waiting, unit = nil, nil
		if r.x.onlyNames(u) {
			waiting = u // "hips and knees flexed": the hips wait for the knees' clause
			return
		}
		r.unit(u)
	}
	for _, a := range atoms {
		if a.toks[0].kind == commaToken || a.is("and") && len(a.terms) == 1 {
			flush()
			continue
		}
		unit = append(unit, a)
	}
	flush()
	if len(waiting) > 0 {
		r.fail(waiting, "nothing is said about it")
	}
}

// onlyNames tells a clause that names places but says nothing of them.
func (x *lexicon) onlyNames(u []atom) bool {
	for _, a := range u {
		if !a.is("joint", "patch", "carrier", "side", "soft", "thing") || a.is("phrase", "stance", "cue", "resting") && !a.is("joint", "patch", "side") {
			return false
		}
	}
	return true
}

// whole tells a saying that stands for itself.
func whole(a atom) bool { return a.is("phrase", "stance") }

// unit reads one clause. Where a phrase does not cover it whole, the clause is
// read word by word first, so that "elbows extended 5" is not the phrase
// "elbows extended", and with its phrases only if that leaves something over.
// If both do, nothing of it stands: "not arms overhead" must not raise the arms.
func (r *reader) unit(u []atom) {
	i := slices.IndexFunc(u, whole)
	if i < 0 {
		r.plain(u)
		return
	}
	rest := slices.DeleteFunc(slices.Clone(u), whole)
	if len(rest) == len(u)-1 && !slices.ContainsFunc(rest, func(a atom) bool { return !a.is("side", "soft", "thing") }) {
		r.phrase(u[i], rest, u)
		return
	}
	items, unknown, last := len(r.items), len(r.unknown), r.last
	undo := func() { r.items, r.unknown, r.last = r.items[:items], r.unknown[:unknown], last }
	if r.whole && slices.ContainsFunc(u, func(a atom) bool { return a.is("phrase") }) {
		r.whole = false
		r.clauses(r.x.atoms(tokensOf(u), false))
		r.whole = true
		if len(r.unknown) == unknown {
			return
		}
		undo()
	}
	r.mixed(u)
	if len(r.unknown) == unknown {
		return
	}
	why := slices.Clone(r.unknown[unknown:])
	undo()
	clause := r.text[u[0].from():u[len(u)-1].to()]
	for _, one := range why {
		if one.Text != clause && !strings.HasSuffix(one.Why, leftOut) {
			one.Why += ", so “" + short(clause) + "”" + leftOut
		}
		r.unknown = append(r.unknown, one)
	}
}

// leftOut ends the reason why a clause that was understood in part does not stand.
const leftOut = " was left out"

// mixed reads a clause in which phrases and stances stand for themselves with
// the sides before them, and what is between them is read by its kind.
func (r *reader) mixed(u []atom) {
	var run []atom
	for _, a := range u {
		if !whole(a) {
			run = append(run, a)
			continue
		}
		var sides []atom
		for len(run) > 0 && run[len(run)-1].is("side") {
			sides, run = append(sides, run[len(run)-1]), run[:len(run)-1]
		}
		r.plainRun(run)
		run = nil
		r.phrase(a, sides, append(sides, a))
	}
	r.plainRun(run)
}

// plainRun reads what stands between phrases, if it says anything.
func (r *reader) plainRun(run []atom) {
	if slices.ContainsFunc(run, func(a atom) bool { return !a.is("soft", "thing") }) {
		r.plain(run)
	}
}

// plain reads a clause without phrases by what gives it away.
func (r *reader) plain(u []atom) {
	has := func(f func(atom) bool) bool { return slices.ContainsFunc(u, f) }
	switch {
	case has(r.meaningless):
		r.failEach(u)
	case has(func(a atom) bool { return a.number("mass", "force") }):
		r.readLoad(u)
	case has(func(a atom) bool { return a.is("cue") }):
		r.readCue(u)
	case has(func(a atom) bool { return a.is("surface") }):
		r.readSupport(u)
	default:
		r.readPosition(u)
	}
}

// add files something understood, with the place it came from.
func (r *reader) add(u []atom, it item) {
	it.part, it.from, it.to = r.part, u[0].from(), u[len(u)-1].to()
	r.items = append(r.items, it)
}

func tokensOf(u []atom) []token {
	var out []token
	for _, a := range u {
		out = append(out, a.toks...)
	}
	return out
}
