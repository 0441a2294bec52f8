package pose_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tautline/analysis/body"
)

// strongest is what all muscles together can do about a movement at the present
// pose, N·m: each whose arm points that way, at full activation. Left out are
// those that bend or straighten the fingers, where the source had them at rest.
func (l *lines) strongest(movement string, toward bool, without string) float64 {
	l.t.Helper()
	mv := l.movement(movement)
	sum := 0.0
	for i, mu := range l.m.Muscles {
		id := body.MuscleID(i)
		if mu.Passive || without == "fingers" && l.crossesFingers(id) {
			continue
		}
		l.p.MeasureOne(id)
		arm := l.p.MovementArm(id, mv)
		if !toward {
			arm = -arm
		}
		sum += math.Max(0, arm) * mu.PCSA * math.Cos(mu.Pennation) * l.m.SpecificTension
	}
	return sum
}

// crossesFingers tells whether a muscle goes on to the fingers or the thumb.
func (l *lines) crossesFingers(id body.MuscleID) bool {
	coords, _ := l.p.Arms(id)
	for _, c := range coords {
		if key := l.m.Joints[l.m.Coords[c].Joint].Key; strings.HasPrefix(key, "finger") || strings.HasPrefix(key, "thumb") {
			return true
		}
	}
	return false
}

// TestJointsAreAsStrongAsMeasured compares only: nothing was fitted to measured
// strength. Half to half again is what is asked: people of one sex differ by a
// fifth to a third, women from men by half, and the sum of all muscles is more
// than anyone brings to bear at once.
func TestJointsAreAsStrongAsMeasured(t *testing.T) {
	l := newLines(t)
	for _, r := range strengthRows(l) {
		if r.got < r.want/2 || r.got > 1.5*r.want {
			t.Errorf("%s: %.1f N·m, measured %.1f (%s)", r.name, r.got, r.want, r.source)
		}
	}
}

type strengthRow struct {
	name, source string
	got, want    float64 // N·m
}

func strengthRows(l *lines) []strengthRow {
	var rows []strengthRow
	for _, r := range publishedRows(l.t, "strength.csv", "movement", "toward", "at", "without", "moment_nm", "source", "conditions") {
		l.reached(r[2])
		mv := &l.m.Movements[l.movement(r[0])]
		name := mv.Toward
		if r[1] == "no" {
			name = mv.Away
		}
		name = fmt.Sprintf("%s, %s", mv.Joint, name)
		if r[2] != "" {
			name += " at `" + r[2] + "`"
		}
		rows = append(rows, strengthRow{name, r[5], l.strongest(r[0], r[1] == "yes", r[3]), l.number(r[4])})
	}
	return rows
}
