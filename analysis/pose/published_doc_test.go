package pose_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/doc"
)

// miss sums up, for one coordinate, how far the model's arms lie from those
// published, rows that the geometry was fitted to apart from those only compared.
type miss struct {
	coordinate string
	rows       map[string]int     // by use
	off        map[string]float64 // mm, sums of |model - published|, by use
	arm        float64            // mm, sum of |published|
	most       float64            // mm, the largest |model - published|
	where      string             // of that row
}

// TestDocumentShowsTheModelBesideThePublishedArms keeps the table of DEVELOPERS.md
// that lets a reader judge how good the geometry is.
func TestDocumentShowsTheModelBesideThePublishedArms(t *testing.T) {
	l := newLines(t)
	var all []*miss
	for _, file := range []string{"lower_limb_arms.csv", "trunk_arms.csv", "upper_limb_arms.csv"} {
		for _, r := range publishedRows(t, file, "muscle", "coordinate", "at", "arm_mm", "tolerance_mm", "use", "source", "conditions") {
			i := slices.IndexFunc(all, func(m *miss) bool { return m.coordinate == r[1] })
			if i < 0 {
				i, all = len(all), append(all, &miss{coordinate: r[1], rows: map[string]int{}, off: map[string]float64{}})
			}
			want := l.number(r[3])
			got := 0.0
			if file == "upper_limb_arms.csv" {
				got = l.published(r[0], r[1], r[2])
			} else {
				l.at(r[2])
				got = l.arm(r[0], r[1])
			}
			all[i].add(r, got, want)
		}
	}
	rows := [][]string{}
	for _, m := range all {
		n := m.rows["fitted"] + m.rows["compared"]
		rows = append(rows, []string{"`" + m.coordinate + "`", fmt.Sprintf("%.0f", m.arm/float64(n)),
			m.mean("fitted"), m.mean("compared"), fmt.Sprintf("%.0f: %s", m.most, m.where)})
	}
	doc.Part(t, "DEVELOPERS.md", "published",
		"Moment arms of the model beside published ones, in mm, by the coordinate they turn. Means are over the sizes of the differences.\n\n"+
			doc.Table([]string{"coordinate", "mean published arm", "off by, rows fitted", "off by, rows compared", "farthest off"}, rows))
}

// add takes in one row.
func (m *miss) add(row []string, got, want float64) {
	off := math.Abs(got - want)
	m.rows[row[5]]++
	m.off[row[5]] += off
	m.arm += math.Abs(want)
	if off > m.most {
		m.most = off
		muscle, _, many := strings.Cut(row[0], "+")
		if many {
			muscle += " and others"
		}
		m.where = fmt.Sprintf("%s, %.0f instead of %.0f", muscle, got, want)
		if row[2] != "" {
			m.where += " at " + row[2]
		}
	}
}

// mean words the mean miss of the rows of one use.
func (m *miss) mean(use string) string {
	if m.rows[use] == 0 {
		return "none"
	}
	return fmt.Sprintf("%.0f (%d rows)", m.off[use]/float64(m.rows[use]), m.rows[use])
}
