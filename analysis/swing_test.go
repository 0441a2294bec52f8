package analysis

import (
	"math"
	"testing"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
)

func read(t *testing.T, a *Analyser, words string) *Findings {
	t.Helper()
	rd := posture.Read(a.Model, words)
	if len(rd.Unknown) > 0 {
		t.Fatalf("%q: not understood: %q", words, rd.Unknown[0].Text)
	}
	return a.Analyse(rd.Posture, nil)
}

// What inertia asks, times how fast each joint turns, is the power that goes
// into the speed of the parts: Σ Q q̇ = -d(kinetic energy)/dt. The energy is
// worked out from places and turns alone.
func TestInertiaTakesThePowerThatSpeedGains(t *testing.T) {
	a := New(body.Adult())
	from, to := read(t, a, "standing; right hand carries 5 kg"), read(t, a, "standing; hips flexed 70; right knee flexed 50; trunk flexed 30; trunk bent left 10; elbows flexed 80; right hand carries 5 kg")
	p := a.pose()
	defer a.poses.Put(p)
	parts := a.parts(from, to)
	const h = 1e-4
	energy := func(at float64) float64 {
		sum := 0.0
		p.Set(Along(from, to, at-h))
		before := append([]geom.Frame(nil), p.Frames...)
		p.Set(Along(from, to, at+h))
		for _, pt := range parts {
			v := p.Frames[pt.segment].Point(pt.at).Sub(before[pt.segment].Point(pt.at)).Scale(1 / (2 * h))
			w := p.Frames[pt.segment].Rot.Mul(before[pt.segment].Rot.Inverse()).Vector().Scale(1 / (2 * h))
			sum += pt.mass*v.Dot(v)/2 + w.Dot(pt.turning(before[pt.segment].Rot, w))/2
		}
		return sum
	}
	for k, w := range a.swings(p, from, to) {
		if len(w.forces) == 0 {
			continue
		}
		at := float64(k) / (pathSamples - 1)
		gained := (energy(at+0.002) - energy(at-0.002)) / 0.004
		p.Set(Along(from, to, at))
		power, speed := 0.0, 30*at*at*(1-at)*(1-at)
		for c, q := range w.generalised(p) {
			power += q * speed * (to.Coords[c] - from.Coords[c])
		}
		if math.Abs(power+gained) > 0.005*math.Abs(gained)+0.05 {
			t.Errorf("at %.3f of the way: speed gains %.3f W, inertia takes %.3f W", at, gained, -power)
		}
		if k == 2 && gained < 10 {
			t.Errorf("only %.1f W: the test says little", gained)
		}
	}
}

func TestInertiaGoesWithOneOverTheSquareOfTime(t *testing.T) {
	w := swing{forces: []force{{f: geom.V(4, 0, 0)}}, moments: []geom.Vec{geom.V(0, 2, 0)}}
	w.in(2)
	if w.forces[0].f.X != 1 || w.moments[0].Y != 0.5 {
		t.Errorf("in twice the time: %v and %v", w.forces[0].f, w.moments[0])
	}
}
