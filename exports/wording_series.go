package exports

import (
	"fmt"
	"strings"

	"tautline/timeline"
)

// seriesTitle heads the index of a series.
const seriesTitle = "The series"

// studyName is what a study is called among others.
func studyName(r *timeline.Report) string {
	if t := cleanLine(r.Study.Title); t != "" {
		return t
	}
	return "Untitled study"
}

// seriesSpan says how long a study is and how many phases it has.
func seriesSpan(r *timeline.Report) string {
	n := "1 phase"
	if len(r.Phases) != 1 {
		n = fmt.Sprintf("%d phases", len(r.Phases))
	}
	return r.Study.End().Short() + " long, " + n + "."
}

// words says what a coverage adds.
func (c coverage) words() []string {
	var out []string
	if len(c.works) > 0 {
		out = append(out, "Works in every near-best way: "+strings.Join(c.works, ", ")+".")
	}
	if len(c.long) > 0 {
		out = append(out, "Is drawn long: "+strings.Join(c.long, ", ")+".")
	}
	if len(out) == 0 {
		out = append(out, "No part of the body that an earlier study does not work or draw long already.")
	}
	return out
}
