package exports

import (
	"strings"

	"tautline/analysis"
)

// careText is what every analysis and every export says, one sentence or two a
// line.
var careText = []string{
	"For teaching. These are estimates from a model of a generic adult, not a measurement of anyone.",
	"Stop on pain, dizziness or numbness.",
	"With an injury, a pregnancy, osteoporosis, or a heart or blood-pressure condition, ask a licensed professional first.",
	"The local rules for instruction apply.",
}

// careSaying is the same in the space of one caption.
var careSaying = Saying{Forms: []string{
	"For teaching; not a measurement. Stop on pain, dizziness or numbness.",
	"Stop on pain, dizziness or numbness.",
}}

// CareText returns the caution that every export carries, a line each.
func CareText() []string { return append([]string(nil), careText...) }

// specificCare words the cautions that a posture calls for, by Caution.Key: what
// to mind, and the same in the space of a caption. Each defers to people who are
// licensed to advise on it.
var specificCare = map[string]struct{ mind, brief string }{
	"overhead load": {
		"Keep the load light and within control overhead, and lower it before the arms tire. With a shoulder or neck complaint, ask a licensed professional first.",
		"Keep the load overhead light and under control.",
	},
	"balance on toes": {
		"Practise beside a wall or a rail, and come down as soon as the balance goes. Anyone unsteady on their feet asks a licensed professional first.",
		"Keep a wall or a rail within reach.",
	},
	"balance on one leg": {
		"Practise beside a wall or a rail, and put the other foot down as soon as the balance goes. Anyone unsteady on their feet asks a licensed professional first.",
		"Keep a wall or a rail within reach.",
	},
	"neck extension": {
		"Take the head back slowly and only as far as it is easy, without weight on it. Stop on dizziness or tingling. With a neck complaint, ask a licensed professional first.",
		"Take the head back slowly; stop if dizzy.",
	},
	"breath": {
		"Keep breathing through the effort: holding the breath raises blood pressure. With a heart or blood-pressure condition, ask a licensed professional first.",
		"Keep breathing through the effort.",
	},
	"loaded forward bend": {
		"Keep the load light and close, and come up before the back tires. With a back complaint or osteoporosis, ask a licensed professional first.",
		"Keep the load light and close to the body.",
	},
	"pressure on the wrist": {
		"Spread the weight over the whole hand, and move to the fists or the forearms if the wrist hurts. With a wrist complaint, ask a licensed professional first.",
		"Spread the weight over the whole hand.",
	},
}

// cautionWords gives the words for a specific caution: what to mind, and why it
// is said here. A key without words of its own still says why and defers.
func cautionWords(c analysis.Caution) string {
	words := "Take care here, and ask a licensed professional when in doubt."
	if known, ok := specificCare[c.Key]; ok {
		words = known.mind
	}
	why := strings.TrimRight(cleanLine(c.Why), ". ")
	if why == "" {
		return words
	}
	return upperFirst(why) + ". " + words
}

// cautionBrief gives a caution in the space of a caption.
func cautionBrief(c analysis.Caution) string {
	if known, ok := specificCare[c.Key]; ok {
		return known.brief
	}
	return "Take care here; ask when in doubt."
}
