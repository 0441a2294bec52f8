package posture

import "slices"

// failEach reports the words of a clause that are not known at all, or, where
// there is none, those that mean nothing in it, each at its own place.
func (r *reader) failEach(u []atom) {
	clause := r.text[u[0].from():u[len(u)-1].to()]
	bad, why := func(a atom) bool { return r.meaningless(a) && !r.x.known[a.toks[0].raw] && !r.x.known[a.key] }, "not a known word"
	if !slices.ContainsFunc(u, bad) {
		bad, why = r.meaningless, "not understood here"
	}
	for i := 0; i < len(u); i++ {
		if !bad(u[i]) {
			continue
		}
		j := i
		for j+1 < len(u) && bad(u[j+1]) {
			j++
		}
		said := why
		if u[j].to()-u[i].from() < len(clause) {
			said += ", so “" + short(clause) + "”" + leftOut
		}
		r.fail(u[i:j+1], said)
		i = j
	}
}

// meaningless tells a word that no saying covers and no movement's name has.
func (r *reader) meaningless(a atom) bool {
	return len(a.terms) == 0 && a.toks[0].kind == wordToken && !r.x.formWord[a.key]
}

// fail reports a stretch that was not understood.
func (r *reader) fail(u []atom, why string, near ...string) {
	from, to := u[0].from(), u[0].to()
	for _, a := range u {
		from, to = min(from, a.from()), max(to, a.to())
	}
	r.unknown = append(r.unknown, Unknown{From: from, To: to, Text: r.text[from:to], Why: why, Near: near})
}

// short cuts a quoted clause for a message.
func short(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
