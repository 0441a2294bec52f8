package body_test

import (
	"math"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

func curve(t *testing.T, key string) *body.PassiveCurve {
	t.Helper()
	m := body.Adult()
	for i := range m.PassiveCurves {
		if c := &m.PassiveCurves[i]; m.Movements[c.Movement].Key == key {
			return c
		}
	}
	t.Fatalf("%s has no passive curve", key)
	return nil
}

// Delp, Grewal and Buchanan 1996 (abstract): near zero in the central 150
// degrees, 0.5 N·m in 90 of flexion, 1.2 in 90 of extension; Dolan, Mannion and
// Adams 1994 (abstract): the silent tissues of men's backs resist 25 N·m in
// lordotic postures and 120 in full flexion.
func TestPassiveCurvesAreAsPublished(t *testing.T) {
	for _, c := range []struct {
		movement    string
		deg, moment float64
	}{
		{"wrist_flexion_r", 0, 0}, {"wrist_flexion_l", 70, 0}, {"wrist_flexion_r", -70, 0},
		{"wrist_flexion_r", 90, -0.5}, {"wrist_flexion_l", -90, 1.2},
		{"lumbar_flexion", 0, 0}, {"lumbar_flexion", -10, 0},
	} {
		if got := curve(t, c.movement).Value(geom.Deg(c.deg)); math.Abs(got-c.moment) > 1e-9 {
			t.Errorf("%s at %g degrees: %g N·m, published %g", c.movement, c.deg, got, c.moment)
		}
	}
	if full := -curve(t, "lumbar_flexion").Value(geom.Deg(42.5)); full < 120-25 || full > 120 {
		t.Errorf("fully bent, the lumbar spine's tissues carry %.0f N·m; published 120, of which 25 in lordotic postures", full)
	}
	// More than half of the way there is needed before the tissues take hold.
	if half := curve(t, "lumbar_flexion").Value(geom.Deg(42.5 / 2)); math.Abs(half) > 120.0/10 {
		t.Errorf("half bent, the lumbar spine's tissues already carry %.0f N·m", half)
	}
}

// Ligaments push a joint back from the way it has gone, never further.
func TestPassiveCurvesPushBack(t *testing.T) {
	m := body.Adult()
	for i := range m.PassiveCurves {
		c := &m.PassiveCurves[i]
		for j := 1; j < len(c.At); j++ {
			if c.Moment[j] > c.Moment[j-1] {
				t.Errorf("%s: the moment rises from %g to %g N·m with the movement", m.Movements[c.Movement].Key, c.Moment[j-1], c.Moment[j])
			}
		}
	}
}

// What is measured is not estimated a second time.
func TestNoPassiveMomentIsCountedTwice(t *testing.T) {
	m := body.Adult()
	has := map[body.CoordID]string{}
	for id := range m.Passive {
		has[m.Movements[id].Shares[0].Coord] = "passive.csv"
	}
	for _, c := range m.PassiveCurves {
		co := m.Movements[c.Movement].Shares[0].Coord
		if at, twice := has[co]; twice {
			t.Errorf("%s stands in passive_curves.csv and in %s", m.Coords[co].Key, at)
		}
		has[co] = "passive_curves.csv"
	}
	for c, v := range m.Soft {
		if at, twice := has[body.CoordID(c)]; twice && v != 0 {
			t.Errorf("%s stands in soft.csv and in %s", m.Coords[c].Key, at)
		}
	}
}
