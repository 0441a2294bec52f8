package pose_test

import (
	"math"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// An actionException is one place where geometry and the table of standard
// actions do not say the same: the pull opposes the action over a part of the
// range, or a large arm has no action. It is a fact of anatomy, with a source,
// or a miss of the model, which is said.
type actionException struct {
	from, to float64 // rad, for an action that is opposed
	used     bool
}

// actionExceptions reads the exceptions by kind, muscle and movement, without
// the sides.
func actionExceptions(l *lines) map[[3]string]*actionException {
	l.t.Helper()
	all := map[[3]string]*actionException{}
	for _, r := range publishedRows(l.t, "action_exceptions.csv", "muscle", "movement", "kind", "from_deg", "to_deg", "why", "reason", "source") {
		key := [3]string{r[2], r[0], r[1]}
		e := &actionException{}
		switch r[2] {
		case "opposes":
			e.from, e.to = geom.Deg(l.number(r[3])), geom.Deg(l.number(r[4]))
		case "unlisted":
		default:
			l.t.Errorf("%v: the kind is opposes or unlisted", r)
		}
		l.muscle(r[0])
		l.movement(r[1])
		if all[key] != nil {
			l.t.Errorf("%v stands twice", key)
		}
		if (r[5] != "anatomy" && r[5] != "miss") || r[6] == "" || r[7] == "" {
			l.t.Errorf("%v: an exception needs a why of anatomy or miss, a reason and a source", key)
		}
		all[key] = e
	}
	return all
}

// stale complains of exceptions of one kind that excuse nothing.
func stale(t *testing.T, all map[[3]string]*actionException, kind string) {
	t.Helper()
	for key, e := range all {
		if key[0] == kind && !e.used {
			t.Errorf("the exception %v excuses nothing any more: take it out", key)
		}
	}
}

// Every standard action of every muscle on both sides, over the middle half of
// the movement's range with the other joints in the anatomical position.
func TestEveryMusclePullsAsItsStandardActionsSay(t *testing.T) {
	l := newLines(t)
	exceptions := actionExceptions(l)
	const steps = 8
	checked := 0
	for i, mu := range l.m.Muscles {
		id := body.MuscleID(i)
		for _, a := range mu.Actions {
			mv := &l.m.Movements[a.Movement]
			e := exceptions[[3]string{"opposes", body.Bare(mu.Key), body.Bare(mv.Key)}]
			for k := range steps + 1 {
				value := mv.Lo + (mv.Hi-mv.Lo)*(0.25+0.5*float64(k)/steps)
				l.p.Set(l.m.Resolve(body.Posture{Positions: []body.Position{{Movement: a.Movement, Value: value}}}).Coords)
				l.p.MeasureOne(id)
				arm := l.p.MovementArm(id, a.Movement)
				checked++
				switch {
				case arm != 0 && (arm > 0) == a.Toward:
				case e != nil && value >= e.from && value <= e.to:
					e.used = true
				default:
					t.Errorf("%s about %s at %.0f degrees: %.1f mm, against its standard action", mu.Key, mv.Key, geom.Degrees(value), 1000*arm)
				}
			}
		}
	}
	stale(t, exceptions, "opposes")
	if checked < 9*2*250 {
		t.Errorf("only %d arms were checked", checked)
	}
	t.Logf("%d arms of %d muscles", checked, len(l.m.Muscles))
}

// The other way round: whatever pulls strongly has an action that says so.
func TestEveryLargeArmHasAStandardAction(t *testing.T) {
	l := newLines(t)
	exceptions := actionExceptions(l)
	const (
		large = 0.010 // m
		share = 0.25  // of the muscle's largest arm
	)
	l.at("")
	arms := 0
	for i, mu := range l.m.Muscles {
		id := body.MuscleID(i)
		l.p.MeasureOne(id)
		most := 0.0
		for j := range l.m.Movements {
			most = math.Max(most, math.Abs(l.p.MovementArm(id, body.MovementID(j))))
		}
		for j := range l.m.Movements {
			mv := &l.m.Movements[j]
			arm := l.p.MovementArm(id, body.MovementID(j))
			if math.Abs(arm) <= large || math.Abs(arm) <= share*most {
				continue
			}
			arms++
			if listed(l.m, &mu, mv, arm) {
				continue
			}
			if e := exceptions[[3]string{"unlisted", body.Bare(mu.Key), body.Bare(mv.Key)}]; e != nil {
				e.used = true
				continue
			}
			t.Errorf("%s pulls about %s with %.1f mm (largest %.1f) and no action says so", mu.Key, mv.Key, 1000*arm, 1000*most)
		}
	}
	stale(t, exceptions, "unlisted")
	if arms < 500 {
		t.Errorf("only %d large arms were seen", arms)
	}
}

// listed tells whether some action of the muscle says what an arm about a
// movement does: an action about that movement, or about one that moves the
// same joint (the lumbar spine with the trunk), to the same side.
func listed(m *body.Model, mu *body.Muscle, mv *body.Movement, arm float64) bool {
	for _, a := range mu.Actions {
		for _, s := range m.Movements[a.Movement].Shares {
			for _, u := range mv.Shares {
				if s.Coord == u.Coord && (s.Factor*u.Factor*arm > 0) == a.Toward {
					return true
				}
			}
		}
	}
	return false
}
