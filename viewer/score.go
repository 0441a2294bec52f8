package viewer

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"tautline/analysis"
)

// apiScore is the whole study for the score: what every muscle does in every
// phase. Postures come back again and again, so each different one is told once
// and phases point to it.
type apiScore struct {
	Phases []int      `json:"phases"` // by phase: index into stands; -1 for none
	Stands []apiStand `json:"stands"`
}

// apiStand is one posture in columns, one character for each muscle in the order
// of the model. A character is a number from 0 to 63, the place in scoreDigits.
type apiStand struct {
	// Looks are 5 times the role (0 quiet, 1 slack, 2 drawn long, 3 works) and
	// the grade (0 geometry, 1 not told, 2 may, 3 likely, 4 must).
	Looks string `json:"looks"`
	// Places are the places in their own spans, 63 for the long end.
	Places string `json:"places"`
	// Efforts are shares of full effort in the way that costs least, Lows and
	// Highs those of near-best ways: 63 times the square root of the share, for
	// small efforts are many.
	Efforts string `json:"efforts"`
	Lows    string `json:"lows"`
	Highs   string `json:"highs"`
}

const scoreDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// getScore answers with the study for the score.
func (s *Server) getScore(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	words := make([]string, len(snap.report.Phases))
	for i := range snap.report.Phases {
		words[i] = snap.report.Phases[i].Words
	}
	tag := digest(append(words, modelTag(snap.model), s.opt.ToolVersion)...)
	sendTagged(w, r, tag, func() any { return score(snap) })
}

func score(snap *snapshot) apiScore {
	a := apiScore{Phases: make([]int, len(snap.report.Phases)), Stands: []apiStand{}}
	known := map[string]int{}
	for i := range snap.report.Phases {
		p := &snap.report.Phases[i]
		if p.Findings == nil {
			a.Phases[i] = -1
			continue
		}
		at, ok := known[p.Words]
		if !ok {
			at = len(a.Stands)
			known[p.Words] = at
			a.Stands = append(a.Stands, stand(p.Findings))
		}
		a.Phases[i] = at
	}
	return a
}

func stand(f *analysis.Findings) apiStand {
	column := func(of func(*analysis.MuscleFinding) float64) string {
		var b strings.Builder
		for i := range f.Muscles {
			b.WriteByte(scoreDigit(of(&f.Muscles[i])))
		}
		return b.String()
	}
	root := func(share float64) float64 { return 63 * math.Sqrt(max(0, share)) }
	return apiStand{
		Looks:   column(func(m *analysis.MuscleFinding) float64 { return float64(5*roleRank(m.Role) + gradeRank(m.Grade)) }),
		Places:  column(func(m *analysis.MuscleFinding) float64 { return 63 * m.Place }),
		Efforts: column(func(m *analysis.MuscleFinding) float64 { return root(m.Best) }),
		Lows:    column(func(m *analysis.MuscleFinding) float64 { return root(m.Lo) }),
		Highs:   column(func(m *analysis.MuscleFinding) float64 { return root(max(m.Hi, m.Best)) }),
	}
}

// scoreDigit writes a number in one character; what is no number stands in the
// middle.
func scoreDigit(v float64) byte {
	if math.IsNaN(v) {
		v = 31
	}
	return scoreDigits[int(math.Round(max(0, min(63, v))))]
}

func roleRank(r analysis.Role) int {
	n := strings.IndexByte("qslw", roleCode(r))
	if n < 0 {
		panic(fmt.Sprintf("viewer: the role %q has no place in the score", r))
	}
	return n
}

func gradeRank(g analysis.Grade) int { return strings.IndexByte("gnylm", gradeCode(g)) }
