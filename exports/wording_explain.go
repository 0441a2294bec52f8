package exports

import (
	"fmt"
	"math"
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// roleWords says a muscle's own state, for the answer to "why".
func roleWords(f *analysis.MuscleFinding) string {
	where := map[analysis.LengthState]string{
		analysis.Short: "near its shortest",
		analysis.Mid:   "at a middle length",
		analysis.Long:  "long",
	}[f.State]
	if where == "" {
		where = "of a length that cannot be told"
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
			words = mo.Joint + " " + mo.Toward
			if !a.Toward {
				words = mo.Joint + " " + mo.Away
			}
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

// reasonWords gives a reason with the key of its source.
func reasonWords(r analysis.Reason) string {
	text := strings.TrimSuffix(cleanLine(r.Text), ".")
	if r.Source != "" {
		text += " [" + r.Source + "]"
	}
	return text + "."
}

// movementName names a movement with its side: "right knee, flexion and
// extension".
func movementName(mo *body.Movement) string {
	return strings.TrimSpace(mo.Side.String()+" "+mo.Joint) + ", " + mo.Toward + " and " + mo.Away
}

// jointWords gives a joint's value and where it comes from.
func jointWords(mo *body.Movement, j analysis.JointValue) string {
	words := degrees(mo, j.Value)
	if j.Stated {
		words += ", as said"
	} else {
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
