package exports

import (
	"slices"

	"tautline/analysis"
)

// pullsTitle stands above the pulls of the main muscles.
const pullsTitle = "Which way they pull"

// mostPulls is how many muscles the notes say the pull of.
const mostPulls = 4

// pulls says which way the muscles that work most pull, and which end is held:
// the first of each working group, one side for both.
func (sp *speaker) pulls(f *analysis.Findings) []string {
	var out, told []string
	for i := range f.Groups {
		g := &f.Groups[i]
		if g.Role != analysis.Working || g.Grade == analysis.NotTold || len(g.Muscles) == 0 || len(out) == mostPulls {
			continue
		}
		name := MuscleNoun(sp.model, g.Muscles[0], sp.voice)
		words := pullWords(sp.model, f, g.Muscles[0])
		if words == "" || slices.Contains(told, name) {
			continue
		}
		told = append(told, name)
		out = append(out, upperFirst("the "+name)+": "+lowerStart(words))
	}
	return out
}
