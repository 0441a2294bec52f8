package viewer

import (
	"fmt"
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
)

// What a load or a cue may name.
var (
	surfaces = []string{body.Floor, body.Seat, body.Wall, body.Bar}
	ways     = []string{"up", "down", "forward", "backward", "left", "right"}
	loads    = []body.LoadKind{body.Carry, body.Push, body.Pull}
	jointCue = []body.CueKind{body.PullIn, body.Brace}
	touchCue = []body.CueKind{body.PushAway, body.DrawIn}
)

// Bounds of what a dial or a field may send. They keep nonsense out and say
// nothing about bodies.
const (
	mostTurn  = 360.0 // degrees
	mostMass  = 1000.0
	mostForce = 10_000.0
	mostItems = 400
)

// stateOf is a posture as the page sets it.
func stateOf(m *body.Model, p body.Posture) apiState {
	a := apiState{Stance: p.Stance, Positions: []apiPosition{}, Supports: []apiSupport{}, Loads: []apiLoad{}, Cues: []apiCue{}, Hanging: apiArms(p.Hanging)}
	for _, x := range p.Positions {
		a.Positions = append(a.Positions, apiPosition{m.Movements[x.Movement].Key, degrees(x.Value)})
	}
	for _, x := range p.Supports {
		a.Supports = append(a.Supports, apiSupport(x))
	}
	for _, x := range p.Loads {
		a.Loads = append(a.Loads, apiLoad{string(x.Kind), x.Patch, x.Mass, x.Force, x.Direction})
	}
	for _, x := range p.Cues {
		c := apiCue{string(x.Kind), "", x.Toward, x.Patch, x.Intensity}
		if x.Movement >= 0 {
			c.Movement = m.Movements[x.Movement].Key
		}
		a.Cues = append(a.Cues, c)
	}
	return a
}

// degrees gives an angle without the dust of the conversion.
func degrees(rad float64) float64 { return math.Round(geom.Degrees(rad)*1e6) / 1e6 }

// posture reads a state against a model's vocabulary.
func (a apiState) posture(m *body.Model) (body.Posture, error) {
	var p body.Posture
	wrong := func(format string, args ...any) error {
		return fmt.Errorf("%w: "+format, append([]any{errRequest}, args...)...)
	}
	if n := len(a.Positions) + len(a.Supports) + len(a.Loads) + len(a.Cues); n > mostItems {
		return p, wrong("%d statements in one posture", n)
	}
	if _, ok := m.Stance(a.Stance); a.Stance != "" && !ok {
		return p, wrong("no stance %q", a.Stance)
	}
	p.Stance, p.Hanging = a.Stance, body.Arms(a.Hanging)
	for _, x := range a.Positions {
		id, ok := m.Movement(x.Movement)
		if !ok || math.Abs(x.ValueDeg) > mostTurn {
			return p, wrong("no movement %q to %g degrees", x.Movement, x.ValueDeg)
		}
		p.Positions = append(p.Positions, body.Position{Movement: id, Value: geom.Deg(x.ValueDeg)})
		if mv := &m.Movements[id]; body.Bare(mv.Key) == "shoulder_flexion" {
			p.Hanging = p.Hanging.With(mv.Side, false) // a dial that moves the arm takes it in hand
		}
	}
	for _, x := range a.Supports {
		if _, ok := m.Patch(x.Patch); !ok || !slices.Contains(surfaces, x.On) {
			return p, wrong("no support %q on %q", x.Patch, x.On)
		}
		p.Supports = append(p.Supports, body.Support(x))
	}
	for _, x := range a.Loads {
		l := body.Load{Kind: body.LoadKind(x.Kind), Patch: x.Patch, Mass: x.MassKg, Force: x.ForceN, Direction: x.Direction}
		_, ok := m.Patch(x.Patch)
		carried := l.Kind == body.Carry
		if carried {
			l.Force, l.Direction = 0, ""
			ok = ok && l.Mass > 0 && l.Mass <= mostMass
		} else {
			l.Mass = 0
			ok = ok && l.Force > 0 && l.Force <= mostForce && slices.Contains(ways, l.Direction)
		}
		if !ok || !slices.Contains(loads, l.Kind) {
			return p, wrong("no load %q at %q", x.Kind, x.Patch)
		}
		p.Loads = append(p.Loads, l)
	}
	for _, x := range a.Cues {
		c := body.Cue{Kind: body.CueKind(x.Kind), Movement: -1, Patch: x.Patch, Intensity: x.Intensity}
		_, ok := m.Patch(x.Patch)
		ok = ok && slices.Contains(touchCue, c.Kind)
		if x.Patch == "" {
			c.Movement, ok = m.Movement(x.Movement)
			c.Toward = x.Toward && c.Kind == body.PullIn
			ok = ok && slices.Contains(jointCue, c.Kind)
		}
		if !ok || c.Intensity <= 0 || c.Intensity > 1 {
			return p, wrong("no cue %q of %q%q at %g", x.Kind, x.Movement, x.Patch, x.Intensity)
		}
		p.Cues = append(p.Cues, c)
	}
	posture.Sort(m, &p)
	return p, nil
}

// intend gives every cue of a posture one intensity; none leaves them out.
func intend(p body.Posture, intensity float64) body.Posture {
	p.Cues = slices.Clone(p.Cues)
	if intensity <= 0 {
		p.Cues = nil
	}
	for i := range p.Cues {
		p.Cues[i].Intensity = min(1, intensity)
	}
	return p
}
