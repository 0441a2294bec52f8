package figure

import (
	"strings"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/pose"
)

// TestOutlineCoversTheStandingAdult: from crown to sole the outline spans the
// stature, and both sides are mirror images.
func TestOutlineCoversTheStandingAdult(t *testing.T) {
	m := body.Adult()
	p := pose.New(m)
	lo, hi := 0.0, 0.0
	left, right := 0.0, 0.0
	drawn := map[body.SegmentID]bool{}
	for _, c := range Outline(m) {
		drawn[c.Segment] = true
		f := p.Frames[c.Segment]
		for _, end := range []struct {
			y, z, r float64
		}{{f.Point(c.A).Y, f.Point(c.A).Z, c.RA}, {f.Point(c.B).Y, f.Point(c.B).Z, c.RB}} {
			lo, hi = min(lo, end.y-end.r), max(hi, end.y+end.r)
			left, right = min(left, end.z-end.r), max(right, end.z+end.r)
		}
	}
	// Hair, soft soles and the drawing's own freedom: 2 cm.
	if got := hi - lo; got < m.Person.Stature-0.02 || got > m.Person.Stature+0.02 {
		t.Errorf("the outline is %.3f m tall, the adult %.3f m", got, m.Person.Stature)
	}
	if d := left + right; d > 1e-9 || d < -1e-9 {
		t.Errorf("left %.4f and right %.4f do not mirror", left, right)
	}
	for id, s := range m.Segments {
		if s.Length > 0 && !drawn[body.SegmentID(id)] && body.Bare(s.Key) != "talus" {
			t.Errorf("%s is not drawn", s.Key)
		}
	}
}

// TestOutlineReportsEveryFault: a broken table is refused with every fault at
// its place, not only the first.
func TestOutlineReportsEveryFault(t *testing.T) {
	good := "# k = said\n" + strings.Join(columns, ",") + "\n"
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"no rows":    {good, []string{"has no rows"}},
		"header":     {"a,b\n", []string{"header"}},
		"many":       {good + "tail,both,x,0,0,0,0,0,0,5,5,k\nhead,up,,0,0,0,0,900,0,5,zero,other\n", []string{":3:1: the model has no segment", "side:", "part is empty", "b_y_mm", "b_radius_mm", "legend"}},
		"middle arm": {good + "humerus,middle,x,0,0,0,0,0,0,5,5,k\n", []string{"does not suit"}},
		"too few":    {good + "head,both\n", []string{"fields"}},
	} {
		_, err := readOutline("t.csv", []byte(c.text), body.Adult())
		if err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q not in\n%v", name, w, err)
			}
		}
	}
	if _, err := readOutline("t.csv", []byte(good+"head,both,x,0,0,0,0,0,0,5,5,k\n"), body.Adult()); err != nil {
		t.Errorf("a good table is refused: %v", err)
	}
}
