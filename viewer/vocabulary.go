package viewer

import (
	"net/http"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// getVocabulary answers with everything that can be set or said.
func (s *Server) getVocabulary(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	sendTagged(w, r, digest(snap.model.Version, s.opt.ToolVersion), func() any { return vocabulary(snap.model) })
}

func vocabulary(m *body.Model) apiVocabulary {
	a := apiVocabulary{Movements: []apiDial{}, Stances: []apiNamed{}, Patches: []apiNamed{}, Surfaces: surfaces, Ways: ways, Says: [][2]string{}}
	for i := range m.Movements {
		mv := &m.Movements[i]
		mirror := posture.Mirror(m, body.Posture{Positions: []body.Position{{Movement: body.MovementID(i), Value: 1}}})
		d := apiDial{
			Key: mv.Key, Name: strings.TrimSpace(mv.Side.String() + " " + mv.Joint), Joint: mv.Joint, Side: mv.Side.String(),
			Toward: posture.Participle(m, mv.Toward), Away: posture.Participle(m, mv.Away), Plain: mv.Plain,
			LoDeg: degrees(mv.Lo), HiDeg: degrees(mv.Hi), Other: int(mirror.Positions[0].Movement), Lateral: mv.Lateral,
			Ranges: []apiRange{}, Source: mv.Source,
		}
		for _, r := range mv.Ranges {
			d.Ranges = append(d.Ranges, apiRange{degrees(r.Lo), degrees(r.Hi), r.Whose})
		}
		a.Movements = append(a.Movements, d)
	}
	for _, st := range m.Stances {
		a.Stances = append(a.Stances, apiNamed{st.Key, st.Name})
	}
	for _, p := range m.Patches {
		a.Patches = append(a.Patches, apiNamed{p.Key, p.Name})
	}
	for _, e := range posture.Vocabulary(m) {
		says := [2]string{e.Phrase, e.Canonical}
		if says[0] == says[1] {
			says[1] = ""
		}
		a.Says = append(a.Says, says)
	}
	return a
}
