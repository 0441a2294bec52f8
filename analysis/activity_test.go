package analysis_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
)

// What has been measured of muscles in postures, and what position leaves open.
// Only whether a muscle works is asked, and which works more: how much differs
// too far between people. A muscle drawn in parts stands as "a+b": it works when
// any of its parts does, and rests when all do.

// seen keeps the analysis of every posture that the tables name.
var seen = map[string]*analysis.Findings{}

func seenIn(t *testing.T, words string) *analysis.Findings {
	t.Helper()
	if seen[words] == nil {
		seen[words] = analyse(t, words)
	}
	return seen[words]
}

func firm(g analysis.Grade) bool { return g == analysis.Must || g == analysis.Likely }

// said is what the analysis says of one thing on one side.
type said struct {
	works, firmly, must, long bool
	words                     string
}

func (s *said) add(role analysis.Role, grade analysis.Grade, long bool, words string) {
	works := role == analysis.Working
	s.works = s.works || works
	s.firmly = s.firmly || works && firm(grade)
	s.must = s.must || works && grade == analysis.Must
	s.long = s.long || long
	s.words += "; " + words
}

func saidOfMuscle(f *analysis.Findings, id body.MuscleID) (s said) {
	mf := f.Muscles[id]
	s.add(mf.Role, mf.Grade, mf.State == analysis.Long, fmt.Sprintf("%s %s (%s), activation %.3f, near best %.3f to %.3f, least %.3f, place %.2f",
		whole.Model.Muscles[id].Key, mf.Role, mf.Grade, mf.Best, mf.Lo, mf.Hi, mf.Least, mf.Place))
	return s
}

// saidOf gathers what is said of a muscle, all its parts together, or of a group.
func saidOf(t *testing.T, f *analysis.Findings, name, side string) (s said) {
	t.Helper()
	if isGroup(name) {
		for _, g := range group(f, side, name) {
			s.add(g.Role, g.Grade, g.Role == analysis.DrawnLong, fmt.Sprintf("%s %s (%s), effort %.3f, near best %.3f to %.3f, least %.3f", name, g.Role, g.Grade, g.Effort, g.Lo, g.Hi, g.Least))
		}
		if s.words == "" {
			s.words = "; nothing is said of the " + side + " " + name
		}
	} else {
		all := true
		for _, id := range muscles(t, name, side) {
			part := saidOfMuscle(f, id)
			all = all && part.long
			s.works, s.firmly, s.must = s.works || part.works, s.firmly || part.firmly, s.must || part.must
			s.words += part.words
		}
		s.long = all
	}
	if !f.Effort.Held {
		s.words += "; the analysis says that the posture cannot be held"
	}
	s.words = strings.TrimPrefix(s.words, "; ")
	return s
}

// open reports whether the analysis leaves a muscle's part undecided: it is not
// called necessary, and where a group that it mainly belongs to is, it is called
// less, or named among those that the position does not tell apart.
func open(f *analysis.Findings, id body.MuscleID) bool {
	mf := f.Muscles[id]
	if mf.Role != analysis.Working {
		return true
	}
	if mf.Grade == analysis.Must {
		return false
	}
	for _, g := range f.Groups {
		if g.Role != analysis.Working || g.Grade != analysis.Must || !mainly(id, g.Movement, g.Toward) || !firm(mf.Grade) {
			continue
		}
		if !slices.ContainsFunc(g.Split, func(s analysis.Span) bool { return s.Muscle == id }) {
			return false
		}
	}
	return true
}

func mainly(id body.MuscleID, mv body.MovementID, toward bool) bool {
	return slices.ContainsFunc(whole.Model.Muscles[id].Actions, func(a body.Action) bool { return a.Main && a.Movement == mv && a.Toward == toward })
}

// misses are the rows that the model is known to miss, with the likely cause: a list that may
// only shrink. A row that is met again must be taken out.
func misses(t *testing.T) map[string]bool {
	t.Helper()
	list := map[string]bool{}
	for _, r := range measuredRows(t, "activity_misses.csv", "row", "why") {
		list[r[0]] = true
	}
	return list
}

// judge holds one row's verdict against the known misses.
func judge(t *testing.T, known map[string]bool, wrong string) {
	t.Helper()
	_, row, _ := strings.Cut(t.Name(), "/")
	row = strings.ReplaceAll(row, "_", " ")
	switch {
	case wrong != "" && !known[row]:
		t.Error(wrong)
	case wrong == "" && known[row]:
		t.Errorf("the miss %q is one no more: take it out of activity_misses.csv", row)
	}
}

func TestActivityIsAsMeasured(t *testing.T) {
	known := misses(t)
	for _, r := range measuredRows(t, "activity.csv", activityColumns...) {
		words, name, side, expect, source := r[0], r[1], r[2], r[3], r[5]
		t.Run(words+": "+strings.TrimSpace(side+" "+name)+" "+expect, func(t *testing.T) {
			f := seenIn(t, words)
			wrong := ""
			for _, side := range sides(side) {
				s := saidOf(t, f, name, side)
				ok := false
				switch expect {
				case "working":
					ok = s.firmly
				case "possible": // it can be active: to say that it must be claims more
					ok = !s.must
				case "silent":
					ok = f.Effort.Held && !s.firmly
				case "long":
					ok = s.long
				case "undecided":
					ok = f.Effort.Held
					for _, id := range muscles(t, name, side) {
						ok = ok && open(f, id)
					}
				}
				if !ok {
					wrong = fmt.Sprintf("expected %s (%s): %s", expect, source, s.words)
				}
			}
			judge(t, known, wrong)
		})
	}
}

// leastMore is the difference of activation that counts as more: half a per cent
// of full, well above the solver's rounding.
const leastMore = 0.005

// activation is the mean over a muscle's parts or a group's members, by
// cross-section, in the best way of holding the posture.
func activation(t *testing.T, f *analysis.Findings, name, side string) float64 {
	t.Helper()
	ids := muscles(t, name, side)
	for i, mu := range whole.Model.Muscles {
		for _, a := range mu.Actions {
			mv := whole.Model.Movements[a.Movement]
			who := mv.Agents
			if !a.Toward {
				who = mv.Against
			}
			if a.Main && who == name && (side == "" || mv.Side.String() == side) {
				ids = append(ids, body.MuscleID(i))
			}
		}
	}
	sum, weight := 0.0, 0.0
	for _, id := range ids {
		area := whole.Model.Muscles[id].PCSA
		sum, weight = sum+area*f.Muscles[id].Best, weight+area
	}
	if weight == 0 {
		t.Fatalf("there is nobody among the %s %s", side, name)
	}
	return sum / weight
}

func TestActivityRisesWhereItWasMeasuredTo(t *testing.T) {
	known := misses(t)
	for _, r := range measuredRows(t, "activity_order.csv", orderColumns...) {
		t.Run(r[0]+": "+strings.TrimSpace(r[2]+" "+r[1])+" above "+strings.TrimSpace(r[5]+" "+r[4])+" in "+r[3], func(t *testing.T) {
			more, than := seenIn(t, r[0]), seenIn(t, r[3])
			wrong := ""
			for _, f := range []*analysis.Findings{more, than} {
				if !f.Effort.Held {
					wrong = fmt.Sprintf("the analysis says that one of the postures cannot be held: %v", f.Effort.Short)
				}
			}
			pairs := [][2]string{{r[2], r[5]}}
			if r[2] == "both" && r[5] == "both" {
				pairs = [][2]string{{"right", "right"}, {"left", "left"}}
			}
			for _, p := range pairs {
				a, b := activation(t, more, r[1], p[0]), activation(t, than, r[4], p[1])
				if a < b+leastMore && wrong == "" {
					wrong = fmt.Sprintf("%s %s %.3f, %s %s %.3f: the first must be more (%s)", p[0], r[1], a, p[1], r[4], b, r[7])
				}
			}
			judge(t, known, wrong)
		})
	}
}
