package pose_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/doc"
)

// TestDocumentShowsTheModelBesideThePublishedValues keeps the tables of
// DEVELOPERS.md that let a reader judge how good the geometry is.
func TestDocumentShowsTheModelBesideThePublishedValues(t *testing.T) {
	doc.Part(t, "DEVELOPERS.md", "published", publishedSummary(newLines(t)))
}

// publishedSummary sets every published row beside the model: by joint
// coordinate the root-mean-square difference of the rows that geometry was
// fitted to and of those only compared, and the farthest miss; then what is
// known to be wrong.
func publishedSummary(l *lines) string {
	var arms, changes misses
	for _, file := range []string{"lower_limb_arms.csv", "trunk_arms.csv", "upper_limb_arms.csv"} {
		for _, r := range publishedRows(l.t, file, "muscle", "coordinate", "at", "arm_mm", "tolerance_mm", "use", "source", "conditions") {
			got := 0.0
			if file == "upper_limb_arms.csv" {
				got = l.published(r[0], r[1], r[2])
			} else {
				l.at(r[2])
				got = l.arm(r[0], r[1])
			}
			arms.add(r[1], r[5], got, l.number(r[3]), row(r[0], r[2]))
		}
	}
	for _, file := range []string{"lower_limb_lengths.csv", "upper_limb_lengths.csv"} {
		for _, r := range publishedRows(l.t, file, "muscle", "from", "to", "change_mm", "tolerance_mm", "use", "source", "conditions") {
			got := l.reached(r[2]).long(r[0]) - l.reached(r[1]).long(r[0])
			changes.add(moved(r[1], r[2]), r[5], got, l.number(r[3]), row(r[0], cmp.Or(r[1], "zero")+" to "+r[2]))
		}
	}
	header := []string{"", "rows fitted", "error, fitted", "rows compared", "error, compared", "farthest miss"}
	var b strings.Builder
	b.WriteString("The model beside published measurements. Errors are root-mean-square differences in mm; geometry was adjusted only to the rows called fitted. Sources and conditions stand on the rows in `testdata/published`.\n\n")
	header[0] = "moment arms about"
	b.WriteString(doc.Table(header, arms.rows()))
	header[0] = "change of length with"
	b.WriteString("\n" + doc.Table(header, changes.rows()))
	b.WriteString("\nThe strength of joints beside measured strength, all muscles together at full activation, which is more than anyone brings to bear. Nothing was fitted to these: the arm has its cross-sections from mean muscle volumes, the rest of the body from cadavers.\n\n")
	strengths := [][]string{}
	for _, r := range strengthRows(l) {
		strengths = append(strengths, []string{r.name, fmt.Sprintf("%.0f", r.got), fmt.Sprintf("%.0f", r.want), fmt.Sprintf("%.2f", r.got/r.want)})
	}
	b.WriteString(doc.Table([]string{"joint and movement", "model, N·m", "measured, N·m", "ratio"}, strengths))
	known := [][]string{}
	for _, r := range publishedRows(l.t, "action_exceptions.csv", "muscle", "movement", "kind", "from_deg", "to_deg", "why", "reason", "source") {
		if r[5] == "miss" {
			known = append(known, []string{"`" + r[0] + "`", "`" + r[1] + "`", r[3] + " to " + r[4], r[6]})
		}
	}
	if len(known) > 0 {
		b.WriteString("\nWhere the pull is known to be wrong:\n\n" + doc.Table([]string{"muscle", "movement", "degrees", "what is wrong"}, known))
	}
	return b.String()
}

// misses are sums of differences between model and published, by a name, in the
// order of the names' first rows.
type misses struct{ of []*miss }

type miss struct {
	name   string
	rows   map[string]int     // by use
	square map[string]float64 // mm2, by use
	most   float64            // mm, the largest difference
	where  string             // of that row
}

func (m *misses) add(name, use string, got, want float64, where string) {
	i := slices.IndexFunc(m.of, func(x *miss) bool { return x.name == name })
	if i < 0 {
		i, m.of = len(m.of), append(m.of, &miss{name: name, rows: map[string]int{}, square: map[string]float64{}})
	}
	x, off := m.of[i], math.Abs(got-want)
	x.rows[use]++
	x.square[use] += off * off
	if off > x.most {
		x.most, x.where = off, fmt.Sprintf("%.1f: %s, %.1f instead of %.1f", off, where, got, want)
	}
}

func (m *misses) rows() [][]string {
	all := make([][]string, len(m.of))
	for i, x := range m.of {
		all[i] = []string{"`" + x.name + "`"}
		for _, use := range []string{"fitted", "compared"} {
			n, rms := x.rows[use], "–"
			if n > 0 {
				rms = fmt.Sprintf("%.1f", math.Sqrt(x.square[use]/float64(n)))
			}
			all[i] = append(all[i], fmt.Sprint(n), rms)
		}
		all[i] = append(all[i], x.where)
	}
	return all
}

// row names a published row shortly.
func row(muscles, at string) string {
	name, _, many := strings.Cut(muscles, "+")
	if many {
		name += " and others"
	}
	if at != "" {
		name += " at " + at
	}
	return name
}

// moved names the coordinates that differ between two postures.
func moved(from, to string) string {
	before, names := map[string]bool{}, []string{}
	for _, part := range strings.Split(from, ";") {
		before[part] = true
	}
	for _, part := range strings.Split(to, ";") {
		if name, _, _ := strings.Cut(part, "="); !before[part] && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, " ")
}
