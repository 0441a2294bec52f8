package posture

import (
	"slices"
	"strings"

	"tautline/analysis/body"
)

// Entry is one thing that can be said, for help and for completing what is
// being typed.
type Entry struct {
	Phrase    string // as it may be typed; reads without anything unknown
	Canonical string // what it is understood as
	Kind      string // "stance", "phrase", "position", "support", "load" or "cue"
}

// Vocabulary lists everything that can be said, stances first. Where a number
// belongs, an example stands. The result is shared; do not change it.
func Vocabulary(m *body.Model) []Entry { return lexiconOf(m).vocabulary() }

func (x *lexicon) entries() []Entry {
	var out []Entry
	seen := map[string]bool{}
	add := func(kind, phrase string) {
		if !seen[phrase] {
			seen[phrase] = true
			out = append(out, Entry{phrase, Read(x.m, phrase).Canonical, kind})
		}
	}
	for _, s := range x.m.Stances {
		add("stance", s.Name)
	}
	for _, r := range rows(phrasesCSV) {
		add("phrase", strings.NewReplacer("#", "30", "@", "30").Replace(r[0]))
	}
	for i := range x.m.Movements {
		m := &x.m.Movements[i]
		if m.Side == body.Left {
			continue
		}
		for _, name := range []string{m.Toward, m.Away} {
			for _, amount := range []string{"slightly", "half", "fully", "30"} {
				if name == m.Away && m.Lo == 0 && (amount == "slightly" || amount == "half") {
					continue // there is no range to take a part of
				}
				add("position", x.joints(m)+" "+x.participle[name]+" "+amount)
			}
			add("cue", x.joints(m)+" pulled into "+name+" firmly")
		}
		add("cue", x.joints(m)+" braced in "+m.Toward+" firmly")
	}
	for i := range x.m.Patches {
		p := &x.m.Patches[i]
		if p.Side == body.Left {
			continue
		}
		who, many := p.Word, p.Side == body.Right
		if many {
			who = x.pluralOf(p.Word)
		}
		for _, on := range []string{body.Floor, body.Seat, body.Bar} {
			add("support", who+" on the "+on)
		}
		add("support", who+" against the "+body.Wall)
		add("load", who+" "+verb("carry", "carries", many)+" 2 kg")
		add("cue", who+" pushed away firmly")
	}
	return slices.Clip(out)
}
