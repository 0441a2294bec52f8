package exports

import (
	"strings"

	"tautline/analysis"
	"tautline/analysis/body"
)

// partWords says what part a muscle plays among the others, and for what;
// empty where that cannot be told.
func partWords(m *body.Model, mf *analysis.MuscleFinding, v Voice) string {
	var parts []string
	if mf.Part == analysis.Stabiliser {
		parts = append(parts, map[Voice]string{
			Technical: "stabiliser: it works and keeps its length",
			Plain:     "it steadies: it works and keeps its length",
		}[v])
	}
	for _, p := range mf.Parts[:min(named, len(mf.Parts))] {
		if words := partIn(m, p, v); words != "" {
			parts = append(parts, words)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return sentence(strings.Join(parts, "; "))
}

// partIn says what a muscle does about one joint.
func partIn(m *body.Model, p analysis.PartIn, v Voice) string {
	if p.Movement < 0 {
		return ""
	}
	mo := &m.Movements[p.Movement]
	if v == Technical {
		words := string(p.Part) + " for " + strings.TrimSpace(mo.Side.String()+" "+mo.Joint) + " " + direction(mo, p.Toward)
		if p.Share > 0 && p.Part != analysis.Antagonist {
			words += " (" + percent(p.Share) + " of that pull)"
		}
		return words
	}
	does := mo.Plain
	if !p.Toward {
		does = mo.PlainAway
	}
	where := side(mo.Side.String()).phrase()
	switch p.Part {
	case analysis.Agonist:
		return "a main worker for " + does + where
	case analysis.Synergist:
		return "a helper for " + does + where
	case analysis.Antagonist:
		return "the opponent here: by itself it would be " + does + where
	case analysis.Neutraliser:
		return "it takes back what others do besides, by " + does + where
	}
	return ""
}

// pullWords says which way a muscle pulls, from the end that would move to the
// end that is held, and what it would do were the other end held.
func pullWords(m *body.Model, f *analysis.Findings, id body.MuscleID) string {
	if int(id) >= len(f.Pulls) || f.Pulls[id].Muscle != id || f.Pulls[id].Moves == f.Pulls[id].Held {
		return ""
	}
	p := &f.Pulls[id]
	moves, held := "the "+m.Segments[p.Moves].Name, "the "+m.Segments[p.Held].Name
	words := "with " + held + " held" + heldBy(p.By) + ", it " + moved("pulls", "turns", moves, held, p.Way)
	words += "; with " + moves + " held it would " + moved("pull", "turn", held, moves, p.Other)
	return sentence(words)
}

// moved says where a part goes: "pulls the thigh backward".
func moved(pulls, turns, what, to string, w analysis.Way) string {
	switch w {
	case "":
		return pulls + " " + what + " toward " + to
	case analysis.TurnRight:
		return turns + " " + what + " to the right"
	case analysis.TurnLeft:
		return turns + " " + what + " to the left"
	}
	return pulls + " " + what + " " + string(w)
}

// heldBy says why an end counts as held.
func heldBy(by analysis.HeldBy) string {
	switch by {
	case analysis.Nearer:
		return " (it is nearer to a support)"
	case analysis.Carries:
		return " (its supports carry more)"
	}
	return " (as textbooks take it; the supports do not tell)"
}
