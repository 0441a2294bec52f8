package exports

import (
	"fmt"
	"strings"

	"tautline/timeline"
)

// scoreUnder is the line below the score's title.
const scoreUnder = "Time runs from left to right; on shade the body moves to the next posture. The broader a ribbon, the more effort the best way of holding the posture asks there."

// scoreNothing stands in an empty score.
const scoreNothing = "Nothing works and nothing is drawn long in this study yet."

// scoreKeys says what the forms of the score mean, in the order of its legend.
var scoreKeys = []string{"works in every near-best way", "may work", "works more", "works and shortens", "works and lengthens", "drawn long", "near its shortest"}

func scoreTitle(r *timeline.Report) string {
	if t := cleanLine(r.Study.Title); t != "" {
		return t + ": the score"
	}
	return "The score"
}

func scoreLeftOut(n int) string {
	if n == 1 {
		return "One row that does least was left out."
	}
	return fmt.Sprintf("%d rows that do least were left out.", n)
}

// mostTold is how many rows a description names.
const mostTold = 12

// scoreDesc tells the score to who cannot see it: each row with the phases in
// which it works and in which it is drawn long.
func scoreDesc(r *timeline.Report, rows []scoreRow) string {
	if len(rows) == 0 {
		return scoreNothing
	}
	var said []string
	for i, row := range rows {
		if i == mostTold {
			said = append(said, fmt.Sprintf("And %d more rows.", len(rows)-mostTold))
			break
		}
		var work, long []string
		for k, d := range row.Does {
			n := fmt.Sprint(r.Phases[k].Number)
			switch {
			case d.Works && len(work) < mostTold:
				work = append(work, n)
			case d.Long && len(long) < mostTold:
				long = append(long, n)
			}
		}
		var does []string
		if len(work) > 0 {
			does = append(does, "works in phase "+list(work))
		}
		if len(long) > 0 {
			does = append(does, "is drawn long in phase "+list(long))
		}
		said = append(said, upperFirst(row.Name+row.Side.brief())+": "+strings.Join(does, "; ")+".")
	}
	return strings.Join(said, " ")
}
