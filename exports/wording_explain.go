package exports

import (
	"fmt"
	"math"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// roleWords says a muscle's own state, for the answer to "why": whether it
// works, and shortened, lengthened or holding; else how long it is.
func roleWords(f *analysis.MuscleFinding) string {
	where := map[analysis.LengthState]string{
		analysis.Short: "near its shortest",
		analysis.Mid:   "neither drawn long nor slack",
		analysis.Long:  "long",
	}[f.State]
	if where == "" {
		where = "of a length that cannot be told"
	}
	doing := map[analysis.LengthState]string{
		analysis.Short: ", shortened",
		analysis.Mid:   ", holding, neither drawn long nor slack",
		analysis.Long:  ", lengthened",
	}[f.State]
	if f.Manner != "" {
		doing = ", " + string(f.Manner)
	}
	var work string
	switch {
	case f.Grade == analysis.NotTold:
		work = "Position alone cannot tell whether it is working"
	case f.Role != analysis.Working:
		work = "It is not known to work"
	case f.Grade == analysis.Must:
		work = "It has to be working"
	case f.Grade == analysis.Likely:
		work = "It is likely working"
	default:
		work = "It may be working"
	}
	if f.Role == analysis.Working && f.Grade != analysis.NotTold && doing != "" {
		return work + doing + "."
	}
	return fmt.Sprintf("It is %s. %s.", where, work)
}

// lengthWords gives a muscle's length in figures.
func lengthWords(f *analysis.MuscleFinding) string {
	if !finite(f.Length) || !finite(f.Place) {
		return "The path could not be followed in this posture."
	}
	words := fmt.Sprintf("%.0f mm from end to end, at %s of its own span, fibres at %.2f of their optimal length; %s than in the anatomical position",
		f.Length*1000, percent(f.Place), f.Fibre, longer(f.FromAnatomical))
	if f.FromPrevious != 0 {
		words += ", " + longer(f.FromPrevious) + " than in the posture before"
	}
	return words + "."
}

// longer says a change of length in whole millimetres: "23 mm longer".
func longer(metres float64) string {
	mm := math.Round(metres * 1000)
	switch {
	case mm > 0:
		return fmt.Sprintf("%.0f mm longer", mm)
	case mm < 0:
		return fmt.Sprintf("%.0f mm shorter", -mm)
	}
	return "no longer or shorter"
}

// actionWords lists a muscle's standard actions, the main ones first and in
// full, however many there are: this is reference, not speech.
func actionWords(m *body.Model, mu *body.Muscle, v Voice) string {
	var main, weak []string
	for _, a := range mu.Actions {
		mo := &m.Movements[a.Movement]
		words := mo.Plain
		if !a.Toward {
			words = mo.PlainAway
		}
		if v == Technical {
			words = mo.Joint + " " + direction(mo, a.Toward)
		}
		if a.Main {
			main = appendNew(main, words)
		} else {
			weak = appendNew(weak, words)
		}
	}
	words := strings.Join(main, "; ")
	if len(weak) > 0 {
		if words != "" {
			words += "; "
		}
		words += "weakly or in some postures: " + strings.Join(weak, "; ")
	}
	return words
}

// muscleReason says one link of the answer to "why" about a muscle.
func muscleReason(m *body.Model, r analysis.Reason) string {
	return reason(r, func() string {
		switch r.Kind {
		case "position":
			return jointAt(m, r) + " makes it " + longer(r.Length)
		case "length":
			return "altogether it is " + longer(r.Value) + " than in the anatomical position"
		case "source":
			return fmt.Sprintf("its fibres are at %.2f of their optimal length", r.Value)
		}
		return ""
	})
}

// groupReason says one link of the answer to "why" about a group. The figures of
// positions, lengths and arms are those of its first muscle.
func groupReason(m *body.Model, f *analysis.Findings, g *analysis.GroupFinding, r analysis.Reason) string {
	first := "its first muscle"
	if len(g.Muscles) > 0 {
		mu := &m.Muscles[g.Muscles[0]]
		first = "the " + spokenName(bareName(mu.Name, mu.Side))
	}
	return reason(r, func() string {
		switch r.Kind {
		case "position":
			return jointAt(m, r) + " makes " + first + " " + longer(r.Length)
		case "length":
			return "altogether " + first + " is " + longer(r.Value) + " than in the anatomical position"
		case "arm":
			mo := &m.Movements[r.Movement]
			return fmt.Sprintf("%s has a moment arm of %.0f mm there toward %s", first, abs(r.Value)*1000, direction(mo, r.Value >= 0))
		case "load":
			mo := &m.Movements[r.Movement]
			if bounded(g) {
				return fmt.Sprintf("at the %s they give %s toward %s in the way of holding this that costs least effort", jointName(mo), torque(r.Value), direction(mo, g.Toward))
			}
			return fmt.Sprintf("at the %s, gravity and loads ask for %s toward %s", jointName(mo), torque(r.Value), direction(mo, g.Toward))
		case "cue":
			return fmt.Sprintf("the words ask for %s of what they can do", percent(r.Value))
		case "bound":
			words := boundWords(f, "they", r.Value, r.Length)
			if lowered(g) {
				words += "; with angles, arms and weights a little off it may come out less, so it is said less firmly"
			}
			return words
		case "model":
			if bounded(g) {
				return "this is for holding still; habit and tension of one's own choosing are not in it"
			}
			return "whether these muscles give it, or ligaments and passive tension do, is not settled"
		}
		return ""
	})
}

// lowered reports whether a grade is softer than the bounds by themselves would
// make it.
func lowered(g *analysis.GroupFinding) bool {
	return g.Grade != analysis.Must && (g.Least >= leastNamed || g.Grade != analysis.Likely && g.Lo >= leastNamed)
}

// reason finishes the words of a reason with the key of its source. Words of its
// own come before those of its kind; a kind without words says nothing.
func reason(r analysis.Reason, words func() string) string {
	text := strings.TrimRight(cleanLine(r.Text), ".")
	if text == "" && (r.Movement >= 0 || r.Kind != "position" && r.Kind != "arm" && r.Kind != "load") {
		text = words()
	}
	if text == "" {
		return ""
	}
	if r.Source != "" {
		text += " [" + r.Source + "]"
	}
	return sentence(text)
}

// jointAt says where a joint is: "the right ankle at 20° of dorsiflexion".
func jointAt(m *body.Model, r analysis.Reason) string {
	mo := &m.Movements[r.Movement]
	return "the " + jointName(mo) + " at " + degrees(mo, r.Value)
}

// jointName names a joint with its side.
func jointName(mo *body.Movement) string {
	return strings.TrimSpace(mo.Side.String() + " " + mo.Joint)
}

// direction names one of a movement's two directions.
func direction(mo *body.Movement, toward bool) string {
	if toward {
		return mo.Toward
	}
	return mo.Away
}

// movementName names a movement with its side: "right knee, flexion and
// extension".
func movementName(mo *body.Movement) string {
	return jointName(mo) + ", " + mo.Toward + " and " + mo.Away
}

// jointWords gives a joint's value and where it comes from.
func jointWords(mo *body.Movement, j analysis.JointValue) string {
	words := degrees(mo, j.Value)
	switch {
	case j.Stated:
		words += ", as said"
	case j.Value == 0:
		words += ", as in the anatomical position"
	default:
		words += ", from the stance or from how joints move together"
	}
	if past := math.Round(j.Past * 180 / math.Pi); past > 0 {
		words += fmt.Sprintf("; %.0f° past the published range", past)
	}
	return words + "."
}

// rangeWords gives the published range of a movement.
func rangeWords(mo *body.Movement) string {
	words := degrees(mo, mo.Lo) + " to " + degrees(mo, mo.Hi)
	if mo.Source != "" {
		words += " [" + mo.Source + "]"
	}
	return words + "."
}
