package analysis_test

import (
	"math"
	"testing"

	"tautline/analysis/geom"
	"tautline/analysis/solve"
)

// Lever problems from textbooks, put to the solver the way a posture is: rows
// for the two forces and the moment about a joint, a column for every muscle,
// columns without weight for what the bones press on each other with. Lengths
// in m, forces in N, x forward, y up, the joint at the origin.

// pull is a force at a place of the body that is held.
type pull struct{ x, y, fx, fy float64 }

// lever is one problem. Every muscle is a pull of one newton; known are the
// weights and whatever else is given.
type lever struct {
	name    string
	muscles []pull
	known   []pull
	want    []float64 // N, one per muscle
	joint   float64   // N, size of the force in the joint; 0 where the source gives none
	angle   float64   // degrees above the x axis of the force on the body that is held, where joint is given
	source  string
}

// down is a mass at a distance in front of the joint.
func down(kg, x, gravity float64) pull { return pull{x: x, fy: -kg * gravity} }

// toward is a unit pull in a direction, degrees above the x axis.
func toward(x, y, deg float64) pull {
	s, c := math.Sincos(geom.Deg(deg))
	return pull{x, y, c, s}
}

// across is a unit pull in a direction with a given arm that turns the body
// from x toward y.
func across(arm, deg float64) pull {
	s, c := math.Sincos(geom.Deg(deg))
	return pull{arm * s, -arm * c, c, s}
}

// lean is a weight at a place along a trunk that leans forward from the vertical.
func lean(along, weight, deg float64) pull {
	s, c := math.Sincos(geom.Deg(deg))
	return pull{along * s, along * c, 0, -weight}
}

const (
	schoolGravity   = 9.8  // m/s², as the books use it
	standardGravity = 9.81 // m/s², as the derived rows use it
	bookTolerance   = 0.005
)

const (
	openStax  = "OpenStax College Physics, chapter 9.6"
	openStax2 = "OpenStax College Physics, chapter 9.6; distances from memory"
	typical   = "textbook-type problem, origin not identified (second-hand)"
	giancoli  = "Giancoli, Physics, 7th edition, chapter 9 (second-hand)"
	winter    = "derived from segment fractions of Dempster and Winter"
)

// The straight arm of 70 kg and 1.75 m by those fractions: upper arm, forearm
// and hand, kg and m from the shoulder, and from the elbow for the last two.
var (
	armMass   = [3]float64{0.028 * 70, 0.016 * 70, 0.006 * 70}
	upperArm  = 0.186 * 1.75
	forearm   = 0.146 * 1.75
	armCentre = [3]float64{0.436 * upperArm, 0.430 * forearm, forearm + 0.506*0.108*1.75}
)

func arm(elbowBent bool) []pull {
	at := [3]float64{armCentre[0], upperArm + armCentre[1], upperArm + armCentre[2]}
	if elbowBent {
		at[1], at[2] = upperArm, upperArm
	}
	return []pull{down(armMass[0], at[0], schoolGravity), down(armMass[1], at[1], schoolGravity), down(armMass[2], at[2], schoolGravity)}
}

func belowElbow(held float64) []pull {
	return []pull{down(armMass[1], armCentre[1], schoolGravity), down(armMass[2]+held, armCentre[2], schoolGravity)}
}

// moment asks for N·m: one newton at an arm of one metre.
var moment = []pull{{x: 1, fy: 1}}

var levers = []lever{
	{"forearm and book", []pull{toward(0.04, 0, 90)}, []pull{down(2.5, 0.16, schoolGravity), down(4, 0.38, schoolGravity)},
		[]float64{470.4}, 406.7, -90, openStax2},
	{"forearm and ball", []pull{toward(0.035, 0, 90)}, []pull{down(1, 0.185, schoolGravity), down(0.6, 0.37, schoolGravity)},
		[]float64{113.96}, 98.3, -90, typical},
	{"elbow at 105 degrees with 25 kg", []pull{toward(0.05, 0, 105)}, []pull{down(2, 0.15, schoolGravity), down(25, 0.35, schoolGravity)},
		[]float64{1836}, 0, 0, giancoli + ", problem 37"},
	{"elbow at 105 degrees with 21 kg", []pull{toward(0.05, 0, 105)}, []pull{down(2, 0.15, schoolGravity), down(21, 0.35, schoolGravity)},
		[]float64{1552}, 0, 0, typical},
	{"18.14 kg far out in the hand", []pull{toward(0.05, 0, 90)}, []pull{down(18.14, 0.56, standardGravity)},
		[]float64{1993}, 0, 0, typical + ", answer derived"},
	{"arm held straight out, 3.3 kg", []pull{toward(0.12, 0, 165)}, []pull{down(3.3, 0.24, schoolGravity)},
		[]float64{250}, 243.5, -7.6, giancoli + ", problem 34; distances from memory"},
	{"arm held straight out, 2.7 kg", []pull{toward(0.12, 0, 165)}, []pull{down(2.7, 0.24, schoolGravity)},
		[]float64{204.5}, 199.3, -7.6, typical + ", answer derived"},
	{"arm of 33 N on a short lever", []pull{toward(0.03, 0, 90)}, []pull{{x: 0.30, fy: -33}},
		[]float64{330}, 0, 0, typical + ", answer derived"},
	{"straight arm held level", moment, arm(false), []float64{10.3}, 0, 0, winter},
	{"arm level, forearm hanging", moment, arm(true), []float64{7.64}, 0, 0, winter + ", printed as 7.6"},
	{"forearm held level", moment, belowElbow(0), []float64{2.65}, 0, 0, winter},
	{"forearm held level with 5 kg", moment, belowElbow(5), []float64{19.9}, 0, 0, winter},
	{"straight arm held level by a lever of 30 mm", []pull{toward(0.03, 0, 90)}, arm(false), []float64{343}, 0, 0, winter},

	{"one foot on its ball, the ball twice as far as the heel", []pull{toward(-1, 0, 90)}, []pull{{x: 2, fy: 72 * schoolGravity}},
		[]float64{2 * 72 * schoolGravity}, 3 * 72 * schoolGravity, -90, giancoli + ", question 36"},
	{"one foot on its ball, 12.5 and 4.6 cm", []pull{toward(-0.046, 0, 90)}, []pull{{x: 0.125, fy: 75 * schoolGravity}},
		[]float64{1997}, 0, 0, typical},
	{"one foot on its ball, 12 and 4 cm", []pull{toward(-0.04, 0, 90)}, []pull{{x: 0.12, fy: 75 * schoolGravity}},
		[]float64{2205}, 2940, -90, openStax},
	{"squat to the level thigh, hips", moment, []pull{{x: 0.280, fy: -0.678 * 75 * standardGravity / 2}}, []float64{70}, 0, 0, "derived, per leg"},
	{"squat to the level thigh, quadriceps on 40 mm", []pull{toward(-0.04, 0, -90)}, []pull{{x: 1, fy: -52}}, []float64{1300}, 0, 0, "derived from 52 N·m per leg"},
	{"hinge with the trunk 60 degrees forward", moment, []pull{lean(0.315, 0.678*75*standardGravity, 60)}, []float64{136}, 0, 0, "derived"},
	{"hinge with the trunk level", moment, []pull{lean(0.315, 0.678*75*standardGravity, 90)}, []float64{157}, 0, 0, "derived"},

	{"trunk 60 degrees forward, arms hanging", []pull{trunkExtensor(2.0/3, 12, 60)}, []pull{lean(0.5, 320, 60), lean(1, 160, 60)},
		[]float64{1999}, 2196, 30, "Davidovits, Physics in Biology and Medicine (second-hand)"},
	{"box lifted with the back", []pull{across(0.08, 180+29)}, []pull{down(55, 0.35, schoolGravity), down(30, 0.5, schoolGravity)},
		[]float64{4196}, 4657, 38, openStax},
	{"back muscle on 5 cm", []pull{across(0.05, 180+29)}, []pull{{x: 1, fy: -100}}, []float64{2000}, 0, 0, "derived, 100 N·m"},
	{"back muscle on 7.5 cm", []pull{across(0.075, 180+29)}, []pull{{x: 1, fy: -100}}, []float64{1333}, 0, 0, "derived, 100 N·m"},
	{"kneecap between its two tendons", nil, []pull{tendon(1250, 180-55), tendon(1250, 180+75)},
		nil, 1057, 10, openStax},
	{"deltoid along and across the bone", nil, []pull{tendon(300, 180-15)}, nil, math.Hypot(289.8, 77.6), -geom.Degrees(math.Atan(77.6 / 289.8)), "University of Genoa course text"},
	{"lean of 15 degrees", moment, []pull{lean(0.3155, 0.678*70*standardGravity, 15)}, []float64{38.0}, 0, 0, winter},
	{"lean of 30 degrees", moment, []pull{lean(0.3155, 0.678*70*standardGravity, 30)}, []float64{73.4}, 0, 0, winter},
	{"lean of 45 degrees", moment, []pull{lean(0.3155, 0.678*70*standardGravity, 45)}, []float64{103.9}, 0, 0, winter},
	{"lean of 60 degrees", moment, []pull{lean(0.3155, 0.678*70*standardGravity, 60)}, []float64{127.2}, 0, 0, winter},
	{"lean of 90 degrees", moment, []pull{lean(0.3155, 0.678*70*standardGravity, 90)}, []float64{146.9}, 0, 0, winter},
}

// trunkExtensor leaves the spine at a share of its length, at an angle to it,
// toward the pelvis and behind the spine.
func trunkExtensor(along, toSpine, deg float64) pull {
	p := lean(along, 0, deg)
	return toward(p.x, p.y, 270-deg-toSpine)
}

// tendon is a given force through the joint itself.
func tendon(force, deg float64) pull {
	p := toward(0, 0, deg)
	return pull{fx: force * p.fx, fy: force * p.fy}
}

// program puts a lever to the solver: the muscles' forces, then the joint's.
func (l lever) program() *solve.Program {
	const farther = 1e5 // N, more than any of the joints here carries
	p := &solve.Program{A: solve.NewMatrix(3), B: make([]float64, 3)}
	add := func(f pull, weight, lo float64) {
		p.A.Append([]float64{f.fx, f.fy, f.x*f.fy - f.y*f.fx})
		p.C, p.W = append(p.C, 0), append(p.W, weight)
		p.Lo, p.Hi = append(p.Lo, lo), append(p.Hi, farther)
	}
	for _, f := range l.muscles {
		add(f, 1, 0)
	}
	add(pull{fx: 1}, 0, -farther)
	add(pull{fy: 1}, 0, -farther)
	for _, f := range l.known {
		p.B[0] -= f.fx
		p.B[1] -= f.fy
		p.B[2] -= f.x*f.fy - f.y*f.fx
	}
	return p
}

func TestLeversOfTextbooks(t *testing.T) {
	var s solve.Solver
	for _, l := range levers {
		t.Run(l.name, func(t *testing.T) {
			var sol solve.Solution
			p := l.program()
			s.Load(p)
			s.Minimise(&sol)
			if c := solve.Check(p, &sol); sol.Status != solve.Optimal || !c.Holds {
				t.Fatalf("%v, certificate %+v", sol.Status, c)
			}
			for i, want := range l.want {
				if !geom.Near(sol.X[i], want, 0, bookTolerance) {
					t.Errorf("%.1f, expected %.1f (%s)", sol.X[i], want, l.source)
				}
			}
			n := len(l.muscles)
			x, y := sol.X[n], sol.X[n+1]
			if l.joint > 0 && !geom.Near(math.Hypot(x, y), l.joint, 0, bookTolerance) {
				t.Errorf("%.1f N in the joint, expected %.1f (%s)", math.Hypot(x, y), l.joint, l.source)
			}
			// Angles are printed to the degree or a tenth of it.
			if got := geom.Degrees(math.Atan2(y, x)); l.joint > 0 && math.Abs(got-l.angle) > 0.1 {
				t.Errorf("the force in the joint stands at %.2f degrees, expected %.1f (%s)", got, l.angle, l.source)
			}
		})
	}
}

// Derived, with the ball at 125 mm before and 75 mm below the ankle.
func TestHigherHeelNeedsLessOfTheCalf(t *testing.T) {
	force := func(deg, arm float64) float64 {
		s, c := math.Sincos(geom.Deg(deg))
		var solver solve.Solver
		var sol solve.Solution
		solver.Load(lever{muscles: []pull{toward(-arm, 0, 90)}, known: []pull{{x: 0.125*c - 0.075*s, fy: 1}}}.program())
		solver.Minimise(&sol)
		return sol.X[0]
	}
	flat, high := force(0, 0.048), force(30, 0.050)
	// 2.6 and 1.4 body weights: printed to two figures.
	if math.Abs(flat-2.6) > 0.05 || math.Abs(high-1.4) > 0.05 {
		t.Errorf("%.2f body weights flat, %.2f at 30 degrees; expected 2.6 and 1.4", flat, high)
	}
}
