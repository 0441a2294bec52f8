package exports

import (
	"encoding/json"
	"fmt"
	"io"

	"tautline/analysis/body"
	"tautline/timeline"
)

// TrackFormat names the JSON in the cues of a metadata track and the version of
// its shape.
const TrackFormat = "tautline track 1"

// TrackRecord is one phase for players and scripts that follow a recording: what
// is said of it, and the groups behind that, without the muscles one by one. Its
// keys mean what they mean in the report's JSON.
type TrackRecord struct {
	Format     string          `json:"format"`
	Number     int             `json:"number"`
	MarkID     int64           `json:"mark_id"`
	Title      string          `json:"title"`
	Hold       bool            `json:"hold"`
	Canonical  string          `json:"canonical"`
	Statements []SaidRecord    `json:"statements"`
	Groups     []TrackGroup    `json:"groups"`
	Cautions   []CautionRecord `json:"cautions"`
	Doubts     []DoubtRecord   `json:"doubts"`
	Movement   []SaidRecord    `json:"movement"` // on the way to the next mark; empty for a hold
}

// TrackGroup is one finding about a functional group.
type TrackGroup struct {
	Movement string   `json:"movement"`
	Group    string   `json:"group"`
	Role     string   `json:"role"`
	Grade    string   `json:"grade"`
	Muscles  []string `json:"muscles"`
	Place    Number   `json:"place"`
	Effort   Number   `json:"effort"`
}

// writeMetadataVTT writes a WebVTT track of kind metadata: a cue a phase whose
// payload is one line of JSON. Phases that a player cannot show are left out as
// they are from chapters, and told.
func writeMetadataVTT(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	chapters, said := Chapters(r, o)
	o.tell(said)
	t := track{notes: append(headNotes(r, o), sentences(said)...), cues: make([]Cue, len(chapters)), data: true}
	of := phases(r)
	for i, c := range chapters {
		payload, err := json.Marshal(recordTrack(r.Model, of[c.Mark], o.Voice))
		if err != nil {
			return fmt.Errorf("a report that JSON cannot hold: %w", err)
		}
		t.cues[i] = Cue{fmt.Sprintf("m%d", c.Mark), c.From, c.To, []string{string(payload)}}
	}
	return t.write(w)
}

// recordTrack gives one phase in brief.
func recordTrack(m *body.Model, p *timeline.PhaseReport, v Voice) TrackRecord {
	rec := TrackRecord{
		Format: TrackFormat, Number: p.Number, MarkID: p.Mark.ID, Title: p.Mark.Title, Hold: p.Movement == nil, Canonical: p.Reading.Canonical,
		Statements: []SaidRecord{}, Groups: []TrackGroup{}, Cautions: []CautionRecord{}, Doubts: []DoubtRecord{}, Movement: []SaidRecord{},
	}
	if p.Movement != nil {
		rec.Movement = said(MovementStatements(m, p.Movement, v))
	}
	if p.Findings == nil {
		return rec
	}
	rec.Statements = said(Statements(m, p.Findings, v))
	for i := range p.Findings.Groups {
		g := &p.Findings.Groups[i]
		mv := &m.Movements[g.Movement]
		rec.Groups = append(rec.Groups, TrackGroup{mv.Key, groupName(mv, g.Toward), string(g.Role), string(g.Grade), muscleKeys(m, g.Muscles), share(g.Place), share(g.Effort)})
	}
	for _, c := range p.Findings.Cautions {
		rec.Cautions = append(rec.Cautions, CautionRecord{c.Key, c.Why, cautionWords(c)})
	}
	for _, d := range doubts(p.Findings) {
		rec.Doubts = append(rec.Doubts, DoubtRecord(d))
	}
	return rec
}
