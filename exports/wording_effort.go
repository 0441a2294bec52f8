package exports

import (
	"fmt"
	"slices"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// standardGravity turns a mass into a weight, m/s2; it is a convention.
const standardGravity = 9.80665

// leastNamed is the share below which words say "none": what is less than this
// is within the errors of everything that it was computed from.
const leastNamed = 0.05

// doubts lists what the reader should know about a posture. That it cannot be
// held is always among it.
func doubts(f *analysis.Findings) []analysis.Doubt {
	if f.Effort.Held || len(f.Muscles) == 0 || slices.ContainsFunc(f.Doubts, tellsUnheld) {
		return f.Doubts
	}
	return append([]analysis.Doubt{{Kind: "balance",
		Text: "No way of holding this still was found, so nothing is said to have to work.",
		Mend: "Name another support, or bring the weight nearer over those that there are."}}, f.Doubts...)
}

// tellsUnheld reports whether a doubt says that a posture cannot be held, or
// that nothing was settled about it.
func tellsUnheld(d analysis.Doubt) bool { return d.Kind == "balance" || d.Kind == "model" }

// torque writes a moment in figures that can be meant.
func torque(moment float64) string {
	if moment = abs(moment); moment < 9.95 {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", moment), ".0") + " N·m"
	}
	return fmt.Sprintf("%.0f N·m", moment)
}

// nearBest says which ways of holding a posture a span is over.
func nearBest(f *analysis.Findings) string {
	if f == nil || f.Effort.NearBest <= 1 {
		return "near-best ways"
	}
	return fmt.Sprintf("ways that cost at most %s more effort there than the best", percent(f.Effort.NearBest-1))
}

// within says the same beside figures, in fewer words.
func within(f *analysis.Findings) string {
	if f.Effort.NearBest <= 1 {
		return "near the least effort"
	}
	return "for up to " + percent(f.Effort.NearBest-1) + " more effort"
}

// supportWords says what each support bears, in shares of the body's weight:
// the parts of one foot or hand together.
func supportWords(m *body.Model, f *analysis.Findings) string {
	weight := standardGravity * m.Person.Mass
	if f == nil || weight <= 0 {
		return ""
	}
	type bearer struct {
		name  string
		force geom.Vec
	}
	var all []bearer
	for _, s := range f.Effort.Forces {
		name := bearing(m, s.Patch)
		if i := slices.IndexFunc(all, func(b bearer) bool { return b.name == name }); i >= 0 {
			all[i].force = all[i].force.Add(s.Force)
		} else {
			all = append(all, bearer{name, s.Force})
		}
	}
	parts := []string{}
	for i, b := range all {
		share := percent(b.force.Norm() / weight)
		if i == 0 {
			parts = append(parts, "the "+b.name+" bears "+share+" of body weight")
		} else {
			parts = append(parts, "the "+b.name+" "+share)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return sentence(list(parts))
}

// bearing names what a patch is part of when weight is spoken of.
func bearing(m *body.Model, key string) string {
	i := slices.IndexFunc(m.Patches, func(p body.Patch) bool { return p.Key == key })
	if i < 0 {
		return key
	}
	patch := &m.Patches[i]
	whole, ok := map[string]string{
		"heel": "foot", "ball": "foot", "toes": "foot", "top_of_foot": "foot", "back_of_heel": "foot",
		"palm": "hand", "grip": "hand", "fingertips": "hand",
	}[body.Bare(key)]
	if !ok {
		return patch.Name
	}
	return strings.TrimSpace(patch.Side.String() + " " + whole)
}

// bounded reports whether a finding about work comes from the balance of the
// whole body; else it says only what gravity and loads ask of a joint.
func bounded(g *analysis.GroupFinding) bool {
	return slices.ContainsFunc(g.Reasons, func(r analysis.Reason) bool { return r.Kind == "bound" })
}

// boundWords says how little of something is needed, for the answer to "why":
// least in any way of holding the posture, lo in near-best ways.
func boundWords(f *analysis.Findings, it string, least, lo float64) string {
	switch {
	case least >= leastNamed:
		return fmt.Sprintf("every way of holding this uses at least %s of what %s can do here", percent(least), it)
	case lo >= leastNamed:
		return fmt.Sprintf("%s all use at least %s of what %s can do here; some costlier way does without", nearBest(f), percent(lo), it)
	}
	return nearBest(f) + " include some that do almost without " + map[string]string{"they": "them", "it": "it"}[it]
}

// effortWords gives a working muscle's activation in figures, and how much of
// it is settled.
func effortWords(f *analysis.Findings, mf *analysis.MuscleFinding) string {
	if mf.Role != analysis.Working || mf.Best < leastNamed || !finite(mf.Best) {
		return ""
	}
	words := percent(mf.Best) + " of its full effort in the way that costs least"
	if mf.Hi > mf.Best {
		words += "; " + spanWords(mf.Bounds) + " " + within(f)
	} else if mf.Lo >= leastNamed {
		words += "; at least " + percent(mf.Lo) + " " + within(f)
	}
	if mf.Least >= leastNamed {
		words += "; at least " + percent(mf.Least) + " in any way"
	} else {
		words += "; some way of holding this does without it"
	}
	return sentence(words)
}

// spanWords writes a near-best span: "8 to 31%".
func spanWords(b analysis.Bounds) string {
	return fmt.Sprintf("%.0f to %s", b.Lo*100, percent(b.Hi))
}
