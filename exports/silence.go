package exports

import (
	"fmt"
	"strings"

	"tautline/analysis"
)

// Silence is what captions had no room for.
type Silence struct {
	Phases   []int              // numbers of the phases that have something to say and no cue
	Cautions []analysis.Caution // specific cautions that no phase had room for, once each
	Care     bool               // the care line found no room either
}

// silence sums up what was not said.
func (c *captioner) silence() Silence {
	s := Silence{Phases: c.silent, Care: !c.cared && len(c.cues) > 0}
	told := map[string]bool{}
	for i := range c.r.Phases {
		if f := c.r.Phases[i].Findings; f != nil {
			for _, caution := range f.Cautions {
				if !c.cautioned[caution.Key] && !told[caution.Key] {
					told[caution.Key] = true
					s.Cautions = append(s.Cautions, caution)
				}
			}
		}
	}
	return s
}

// words says what captions leave out, one line each.
func (s Silence) words() []string {
	var said []string
	switch n := len(s.Phases); {
	case n == 1:
		said = append(said, fmt.Sprintf("phase %d is too short for a caption", s.Phases[0]))
	case n > 1:
		said = append(said, fmt.Sprintf("%d phases are too short for a caption: %s", n, numbers(s.Phases)))
	}
	if len(s.Cautions) > 0 {
		keys := make([]string, len(s.Cautions))
		for i, c := range s.Cautions {
			keys[i] = c.Key
		}
		said = append(said, "no caption had room for the caution about "+strings.Join(keys, ", or about ")+": say it, or give the notes along")
	}
	if s.Care {
		said = append(said, "no caption had room for the care line: publish it beside the captions")
	}
	return said
}

// numbers lists phase numbers, the first few of many.
func numbers(ns []int) string {
	const most = 12
	var b strings.Builder
	for i, n := range ns {
		if i == most {
			fmt.Fprintf(&b, " and %d more", len(ns)-most)
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprint(&b, n)
	}
	return b.String()
}
