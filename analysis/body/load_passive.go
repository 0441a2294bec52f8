package body

import (
	"math"

	"tautline/analysis/geom"
)

// Passive is one term of a passive joint moment as it was published: either
//
//	sign × exp(constant + a·ankle + k·knee + h·hip)   [N·m]
//
// or, when Plain, sign × constant, with the ankle in plantarflexion, knee and
// hip in flexion, all in degrees, the unit of the published coefficients.
type Passive struct {
	Sign, Constant   float64
	Ankle, Knee, Hip float64 // per degree
	Plain            bool
	Source           string
}

// Held is a coordinate that ligaments hold, so that muscles need not: always,
// or while another movement is below an angle.
type Held struct {
	Coord  CoordID
	When   MovementID // -1: always
	Below  float64    // rad
	Reason string
	Source string
}

// RibPoint is a place of the shoulder blade that lies on the ribs.
type RibPoint struct {
	Name   string
	At     geom.Vec // m, in the frame of the scapula on one side
	Side   Side
	Source string
}

// passiveSpan is where the published passive moments were measured, degrees, the
// ankle in plantarflexion. Outside it their exponentials run away: angles are
// held at the ends.
type passiveSpan struct{ ankleLo, ankleHi, kneeHi, hipLo, hipHi float64 }

// PassiveMoment gives the passive moment about a movement of the leg, N·m,
// positive toward the movement's first name; zero for movements without one.
// Angles are of the same leg, rad.
func (m *Model) PassiveMoment(mv MovementID, ankleDorsiflexion, knee, hip float64) float64 {
	w := m.passiveWithin
	a := max(w.ankleLo, min(w.ankleHi, -geom.Degrees(ankleDorsiflexion)))
	k := min(w.kneeHi, geom.Degrees(knee))
	h := max(w.hipLo, min(w.hipHi, geom.Degrees(hip)))
	sum := 0.0
	for _, t := range m.Passive[mv] {
		v := t.Constant
		if !t.Plain {
			v = math.Exp(t.Constant + t.Ankle*a + t.Knee*k + t.Hip*h)
		}
		sum += t.Sign * v
	}
	return sum
}

func (l *loader) passive() {
	t := l.table("passive.csv", "movement", "term", "sign", "constant", "ankle_plantarflexion", "knee_flexion", "hip_flexion", "source")
	l.m.Passive = map[MovementID][]Passive{}
	for _, r := range t.rows {
		p := Passive{Sign: r.number("sign", -1, 1), Constant: r.number("constant", -20, 20), Ankle: r.number("ankle_plantarflexion", -1, 1),
			Knee: r.number("knee_flexion", -1, 1), Hip: r.number("hip_flexion", -1, 1), Plain: r.oneOf("term", "exp", "plain") == "plain", Source: l.source(r)}
		for _, side := range []Side{Right, Left} {
			id, ok := l.m.index.movements[r.word("movement")+side.Suffix()]
			if !ok {
				r.bad("movement", "there is no movement %q", r.word("movement"))
				break
			}
			l.m.Passive[id] = append(l.m.Passive[id], p)
		}
	}
}

func (l *loader) held() {
	t := l.table("held.csv", "coordinate", "when", "below_deg", "reason", "source")
	for _, r := range t.rows {
		for _, side := range []Side{Right, Left} {
			h := Held{When: -1, Below: geom.Deg(r.number("below_deg", 0, 180)), Reason: r.word("reason"), Source: l.source(r)}
			id, ok := l.m.index.coords[r.word("coordinate")+side.Suffix()]
			if !ok {
				r.bad("coordinate", "there is no coordinate %q on the %s", r.word("coordinate"), side)
				break
			}
			h.Coord = id
			if w := r.word("when"); w != "always" {
				if h.When, ok = l.m.index.movements[w+side.Suffix()]; !ok {
					r.bad("when", "there is no movement %q", w)
					break
				}
			}
			l.m.Held = append(l.m.Held, h)
		}
	}
}

func (l *loader) ribs() {
	t := l.table("ribs.csv", "point", "x_mm", "y_mm", "z_mm", "source")
	for _, r := range t.rows {
		for _, side := range []Side{Right, Left} {
			l.m.Ribs = append(l.m.Ribs, RibPoint{r.word("point"), mirrored(r.vec(""), side), side, l.source(r)})
		}
	}
}

// soft reads what soft tissue gives at each coordinate.
func (l *loader) soft() {
	t := l.table("soft.csv", "coordinate", "moment_nm", "source")
	l.m.Soft = make([]float64, len(l.m.Coords))
	for _, r := range t.rows {
		v, key := r.number("moment_nm", 0, 20), r.word("coordinate")
		l.source(r)
		found := false
		for _, k := range []string{key, key + "_r", key + "_l"} {
			if id, ok := l.m.index.coords[k]; ok {
				l.m.Soft[id], found = v, true
			}
		}
		if !found {
			r.bad("coordinate", "there is no coordinate %q", key)
		}
	}
}
