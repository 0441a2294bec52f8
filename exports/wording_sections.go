package exports

import (
	"fmt"
	"strings"

	"tautline/analysis"
)

// sections are the lists that notes and screens cut the findings into, in the
// order in which they are read.
var sections = []struct {
	kind         Kind
	title, label string // in full, and for a narrow column
}{
	{Work, "Work", "Work"},
	{Long, "What is drawn long", "Drawn long"},
	{Short, "What is near its shortest", "Near shortest"},
	{Untold, "What cannot be told", "Not told"},
}

// mostSaid is how many statements of one kind a list of many phases holds.
const mostSaid = 5

// andMore ends a list that was cut.
func andMore(n int) string {
	if n == 1 {
		return "And one more, of less weight."
	}
	return fmt.Sprintf("And %d more, of less weight.", n)
}

// moreJoints ends a list of joints that was cut.
func moreJoints(n int) string {
	if n == 1 {
		return "And one more joint moves."
	}
	return fmt.Sprintf("And %d more joints move.", n)
}

// only keeps the statements of one kind.
func only(all []Statement, kind Kind) []Statement {
	kept := []Statement{}
	for _, s := range all {
		if s.Kind == kind {
			kept = append(kept, s)
		}
	}
	return kept
}

// unknownWords says which words were not understood, why, and what is near.
func unknownWords(text, why string, near []string) string {
	s := "“" + cut(cleanLine(text), 120) + "”"
	if why = strings.TrimRight(cleanLine(why), "."); why != "" {
		s += ": " + why
	}
	if len(near) > 0 {
		s += "; near: " + cleanLine(strings.Join(near[:min(named, len(near))], ", "))
	}
	return s
}

// doubtWords says a doubt and what would mend it.
func doubtWords(d analysis.Doubt) string {
	text := sentence(strings.TrimRight(cleanLine(d.Text), "."))
	if mend := strings.TrimRight(cleanLine(d.Mend), "."); mend != "" {
		text += " " + sentence(mend)
	}
	return text
}
