package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tautline/analysis/body"
)

// effortDoubts says what is missing where a posture cannot be held, and which
// cues nothing resists.
func (a *Analyser) effortDoubts(f *Findings) {
	a.unmetDoubts(f)
	if slices.ContainsFunc(f.Contacts, func(c Contact) bool {
		return body.Bare(c.Patch) == "side_of_shoulder" || body.Bare(c.Patch) == "side_of_hip"
	}) {
		f.Doubts = append(f.Doubts, Doubt{Kind: "model", Text: "Body parts that lie on one another are not in the model: the upper arm and leg are taken as held free.",
			Mend: "Read what is said of their muscles as true only while they are lifted."})
	}
	if f.Effort.Held {
		return
	}
	if !f.Effort.Solved {
		f.Doubts = append(f.Doubts, Doubt{Kind: "model", Text: "How this posture could be held was not settled by the computation; nothing firm is said of what works.",
			Mend: "Change a joint by a degree or two."})
		return
	}
	if slices.ContainsFunc(f.Doubts, func(d Doubt) bool { return d.Kind == "balance" }) {
		return // it would fall: said with how far and which way
	}
	short := slices.Clone(f.Effort.Short)
	slices.SortStableFunc(short, func(x, y Shortfall) int {
		return int(math.Copysign(1, math.Abs(y.Moment)-math.Abs(x.Moment)))
	})
	said := a.missing(short)
	if len(said) == 0 {
		return
	}
	if len(said) > mostMissing {
		said = said[:mostMissing]
	}
	f.Doubts = append(f.Doubts, Doubt{Kind: "balance",
		Text: "The muscles of the model cannot hold this posture still: they lack " + spoken(said) + ".",
		Mend: "Bring the weight nearer to the joints named, take off load, or add a support."})
}

// missingAlike is the share by which two sides may differ and still lack as much.
const missingAlike = 0.05

// mostMissing is how many shortfalls a sentence names.
const mostMissing = 3

// missing names shortfalls, the largest first: of every joint its largest, once
// for both sides where both lack as much, or of what the supports give the body as a whole.
func (a *Analyser) missing(short []Shortfall) []string {
	m := a.Model
	var said []string
	for i, s := range short {
		co := &m.Coords[s.Coord]
		amount := math.Abs(s.Moment)
		if m.Joints[co.Joint].Parent != body.Ground {
			side := "the " + a.jointOf(s.Coord)
			alike := func(o Shortfall) bool {
				return co.Side != body.Middle && o.Coord != s.Coord && body.Bare(m.Coords[o.Coord].Key) == body.Bare(co.Key) && math.Abs(math.Abs(o.Moment)-amount) < missingAlike*amount
			}
			switch {
			case slices.ContainsFunc(short[:i], alike):
				continue
			case slices.ContainsFunc(short[i:], alike):
				side += " on both sides"
			case co.Side != body.Middle:
				side += " on the " + co.Side.String()
			}
			if place := " N·m at " + side; !slices.ContainsFunc(said, func(o string) bool { return strings.HasSuffix(o, place) }) {
				said = append(said, fmt.Sprintf("%.1f", amount)+place)
			}
			continue
		}
		if co.Slide {
			said = append(said, fmt.Sprintf("%.0f N of support %s", amount, map[bool]string{true: "from below", false: "from the side"}[math.Abs(co.Axis.Y) > 0.5]))
			continue
		}
		said = append(said, fmt.Sprintf("%.1f N·m against tipping over", amount))
	}
	return slices.Compact(said)
}

// jointOf names the joint of a coordinate as it is said, without a side.
func (a *Analyser) jointOf(c body.CoordID) string {
	m := a.Model
	for _, mv := range m.Movements {
		for _, s := range mv.Shares {
			if s.Coord == c {
				return mv.Joint
			}
		}
	}
	return m.Joints[m.Coords[c].Joint].Name
}

// unmetDoubts tells the cues that nothing resists, left and right together.
func (a *Analyser) unmetDoubts(f *Findings) {
	said := map[string]int{}
	for _, u := range f.Effort.Unmet {
		who, side := a.cued(u)
		text, mend := "", ""
		switch {
		case u.Together:
			text = fmt.Sprintf("The cue to the %s cannot be met together with the other cues.", who)
			mend = "Ask for one of them alone, or for less."
		case u.Cue.Kind == body.PushAway || u.Cue.Kind == body.DrawIn:
			text = fmt.Sprintf("There is nothing to %s with the %s: pressing harder there would move the body instead.", u.Cue.Kind, who)
			mend = "Name another support that the body can press against."
		default:
			text = fmt.Sprintf("Nothing resists the cue to the %s: held still, they can use %.0f %% of their strength here, and %.0f %% is asked.", who, 100*u.Most, 100*u.Asked)
			mend = "Take the joint to the end of its range, ask both sides of it to work, or give it a load to work against."
		}
		key := text
		if side != body.Middle {
			key = strings.ReplaceAll(text, side.String()+" ", "")
		}
		if i, ok := said[key]; ok {
			f.Doubts[i].Text = upperFirst(key) // true of both sides
			continue
		}
		said[key] = len(f.Doubts)
		f.Doubts = append(f.Doubts, Doubt{Kind: "cue", Text: text, Mend: mend})
	}
}

// cued names who a cue is for, and on which side.
func (a *Analyser) cued(u Unmet) (string, body.Side) {
	if len(u.Patches) > 0 {
		var words []string
		side, both := body.Middle, false
		for _, key := range u.Patches {
			if patch, ok := a.Model.Patch(key); ok {
				if !slices.Contains(words, patch.Word) {
					words = append(words, patch.Word)
				}
				both = both || side != body.Middle && patch.Side != side
				side = patch.Side
			}
		}
		where := ""
		switch {
		case both:
			where = " on both sides"
		case side != body.Middle:
			where = " on the " + side.String()
		}
		return spoken(words) + where, body.Middle
	}
	mv := &a.Model.Movements[u.Cue.Movement]
	toward := u.Toward
	if u.Cue.Kind == body.PullIn {
		toward = u.Cue.Toward
	}
	name := mv.Against
	if toward {
		name = mv.Agents
	}
	if mv.Side != body.Middle {
		name = mv.Side.String() + " " + name
	}
	return name, mv.Side
}

// spoken joins words as they are said: "a, b and c".
func spoken(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
