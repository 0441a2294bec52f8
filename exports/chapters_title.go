package exports

import (
	"fmt"
	"strings"

	"tautline/analysis"
	"tautline/timeline"
)

// titler words the titles of chapters and remembers what it said of a posture
// that several phases share.
type titler struct {
	limit   int
	speaker *speaker // nil when titles carry no groups
	said    map[*analysis.Findings][2]string
}

func newTitler(r *timeline.Report, o Options) *titler {
	t := &titler{limit: o.Title, said: map[*analysis.Findings][2]string{}}
	if o.TitleGroups {
		t.speaker = o.speaker(r.Model)
	}
	return t
}

// title is a phase's title fit for any chapter format. Groups are added whole or
// not at all: a finding that loses its last words could claim more than it does.
func (t *titler) title(p *timeline.PhaseReport) string {
	title := cleanLine(p.Mark.Title)
	if title == "" {
		title = fmt.Sprintf("Phase %d", p.Number)
	}
	title = cut(title, t.limit)
	if t.speaker == nil || p.Findings == nil {
		return title
	}
	works, long := t.groups(p.Findings)
	for _, tail := range [][]string{{works, long}, {works}, {long}} {
		if full := title + ": " + strings.Join(tail, "; "); tail[0] != "" && tail[len(tail)-1] != "" && width(full) <= t.limit {
			return full
		}
	}
	return title
}

// groups gives the first group that works and the first that is drawn long, in
// the fewest words, as captions rank them; empty where there is none.
func (t *titler) groups(f *analysis.Findings) (works, long string) {
	said, known := t.said[f]
	if !known {
		for _, s := range t.speaker.posture(f) {
			brief := strings.TrimSuffix(lowerStart(s.Brief), ".")
			switch {
			case s.Kind == Work && said[0] == "":
				said[0] = brief
			case s.Kind == Long && said[1] == "":
				said[1] = brief
			}
		}
		t.said[f] = said
	}
	return said[0], said[1]
}
