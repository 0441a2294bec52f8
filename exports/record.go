package exports

import (
	"math"
	"strconv"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/timeline"
)

// The records are the report as plain values for machines: keys in snake case
// with their units, names beside keys, no slice ever null. JSON is written from
// them, and tables will be.
//
// Lengths are in millimetres, angles in degrees, times in milliseconds from the
// recording's time zero; place is 0 at a muscle's shortest and 1 at its longest
// over its joints' ranges; fibre_ratio is relative to the optimal length.

// Number is a figure with at most six decimals, so that the last bits of a
// computation do not show. What is not a number is null in JSON.
type Number float64

// MarshalJSON writes the shortest form of the rounded figure.
func (n Number) MarshalJSON() ([]byte, error) {
	x := math.Round(float64(n)*1e6) / 1e6
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, x+0, 'f', -1, 64), nil // +0 turns -0 into 0
}

func mm(metres float64) Number { return Number(math.Round(metres*1e5) / 100) }
func deg(rad float64) Number   { return Number(math.Round(rad*18000/math.Pi) / 100) }

// share rounds a ratio to what can be meant by it.
func share(x float64) Number { return Number(math.Round(x*1e4) / 1e4) }

// PhaseRecord is one phase.
type PhaseRecord struct {
	Number   int             `json:"number"`
	MarkID   int64           `json:"mark_id"`
	Title    string          `json:"title"`
	Note     string          `json:"note"`
	FromMs   int64           `json:"from_ms"`
	ToMs     int64           `json:"to_ms"`
	Hold     bool            `json:"hold"`
	Words    string          `json:"words"`
	Analysis *PostureRecord  `json:"analysis"` // null without findings
	Movement *MovementRecord `json:"movement"` // null for a hold
}

// PostureRecord is the analysis of one posture.
type PostureRecord struct {
	Canonical       string          `json:"canonical"`
	Unknown         []UnknownRecord `json:"unknown"`
	Statements      []SaidRecord    `json:"statements"`
	Groups          []GroupRecord   `json:"groups"`
	Muscles         []MuscleRecord  `json:"muscles"`
	Joints          []JointRecord   `json:"joints"`
	Doubts          []DoubtRecord   `json:"doubts"`
	Cautions        []CautionRecord `json:"cautions"`
	Contacts        []ContactRecord `json:"contacts"`
	CentreOfMassMm  [3]Number       `json:"centre_of_mass_mm"` // forward, up, right
	Effort          EffortRecord    `json:"effort"`
	SourcesReferred []string        `json:"sources"`
}

// UnknownRecord is a stretch of the words that was not understood.
type UnknownRecord struct {
	FromByte int      `json:"from_byte"`
	ToByte   int      `json:"to_byte"`
	Text     string   `json:"text"`
	Why      string   `json:"why"`
	Near     []string `json:"near"`
}

// SaidRecord is a statement in words.
type SaidRecord struct {
	Kind    string `json:"kind"`
	Grade   string `json:"grade"`
	Text    string `json:"text"`
	Figures string `json:"figures"`
}

// GroupRecord is one finding about a functional group.
type GroupRecord struct {
	Movement string   `json:"movement"` // key
	Group    string   `json:"group"`    // "knee flexors"
	Role     string   `json:"role"`
	Grade    string   `json:"grade"`
	Muscles  []string `json:"muscles"` // keys, most important first
	Place    Number   `json:"place"`
	MomentNm Number   `json:"moment_nm"`
	Effort   Number   `json:"effort"` // moment_nm as a share of what the group could do
	BoundsRecord
	Split   []SpanRecord   `json:"split"` // members that the position does not tell apart
	Reasons []ReasonRecord `json:"reasons"`
}

// MuscleRecord is one finding about a muscle.
type MuscleRecord struct {
	Muscle           string `json:"muscle"` // key
	LengthMm         Number `json:"length_mm"`
	Place            Number `json:"place"`
	FibreRatio       Number `json:"fibre_ratio"`
	State            string `json:"state"`
	FromAnatomicalMm Number `json:"from_anatomical_mm"`
	FromPreviousMm   Number `json:"from_previous_mm"`
	Role             string `json:"role"`
	Grade            string `json:"grade"`
	For              string `json:"for"` // key of a movement, or ""
	Toward           bool   `json:"toward"`
	BoundsRecord
	Part    string         `json:"part"`    // "agonist" and so on, "" where it cannot be told
	Parts   []PartRecord   `json:"parts"`   // about which joints, most telling first
	Manner  string         `json:"manner"`  // "shortened", "lengthened", "holding"; "" when it does not work
	Pull    *PullRecord    `json:"pull"`    // null where it was not computed
	Reasons []ReasonRecord `json:"reasons"` // empty for a quiet muscle
}

// ReasonRecord is one link of the answer to "why".
type ReasonRecord struct {
	Kind     string `json:"kind"`
	Movement string `json:"movement"` // key, or ""
	Value    Number `json:"value"`
	Unit     string `json:"unit"`      // "deg", "mm", "N·m", "ratio" or ""; of a bound, value is its least in any way
	LengthMm Number `json:"length_mm"` // what a position adds to the muscle's length
	Text     string `json:"text"`
	Source   string `json:"source"` // key, or ""
}

// JointRecord is the value of one movement.
type JointRecord struct {
	Movement string `json:"movement"`  // key
	ValueDeg Number `json:"value_deg"` // positive toward the movement's first name
	Stated   bool   `json:"stated"`
	PastDeg  Number `json:"past_deg"` // past the published range
}

// DoubtRecord is something to know about a posture.
type DoubtRecord struct {
	Kind   string `json:"kind"`
	Text   string `json:"text"`
	Mend   string `json:"mend"`
	Source string `json:"source"`
}

// CautionRecord is a specific caution with its words.
type CautionRecord struct {
	Key  string `json:"key"`
	Why  string `json:"why"`
	Text string `json:"text"`
}

// ContactRecord is a patch that rests on something.
type ContactRecord struct {
	Patch string    `json:"patch"`
	On    string    `json:"on"`
	AtMm  [3]Number `json:"at_mm"` // forward, up, right
	GapMm Number    `json:"gap_mm"`
}

// MovementRecord is the analysis of the way to the next mark.
type MovementRecord struct {
	Statements []SaidRecord         `json:"statements"`
	Groups     []GroupChangeRecord  `json:"groups"`
	Joints     []JointChangeRecord  `json:"joints"`
	Muscles    []MuscleChangeRecord `json:"muscles"`
	Work       []GroupWorkRecord    `json:"work"`
	Quick      bool                 `json:"quick"`            // inertia counts, and is counted
	QuickBelow Number               `json:"quick_below_s"`    // the duration from which down it would
	Held       int                  `json:"positions_held"`   // of those looked at; only these count in work
	Looked     int                  `json:"positions_looked"` // at, both ends included
	Doubts     []DoubtRecord        `json:"doubts"`
}

// GroupWorkRecord is what a group that works does over the movement, with the
// least effort, in shares of what it could do.
type GroupWorkRecord struct {
	Movement    string   `json:"movement"`
	Group       string   `json:"group"`
	Peak        Number   `json:"peak"`
	Mean        Number   `json:"mean"`
	Contraction string   `json:"contraction"` // "concentric", "eccentric", "isometric", "mixed"
	Muscles     []string `json:"muscles"`
}

// GroupChangeRecord is how a group's length changes, as a share of its span.
type GroupChangeRecord struct {
	Movement    string   `json:"movement"`
	Group       string   `json:"group"`
	PlaceChange Number   `json:"place_change"`
	Muscles     []string `json:"muscles"`
}

// JointChangeRecord is how far a joint moves.
type JointChangeRecord struct {
	Movement string `json:"movement"`
	FromDeg  Number `json:"from_deg"`
	ToDeg    Number `json:"to_deg"`
}

// MuscleChangeRecord is how a muscle's length changes.
type MuscleChangeRecord struct {
	Muscle    string `json:"muscle"`
	ChangeMm  Number `json:"change_mm"`
	PlaceFrom Number `json:"place_from"`
	PlaceTo   Number `json:"place_to"`
	Turns     bool   `json:"turns"`
	// Peak and Mean are shares of full effort, with the least effort.
	Peak        Number `json:"peak"`
	Mean        Number `json:"mean"`
	Contraction string `json:"contraction"` // "" when it does not work
}

// ProblemRecord is one thing that check reports.
type ProblemRecord struct {
	Kind   string `json:"kind"`
	MarkID int64  `json:"mark_id"` // 0 for the study as a whole
	AtMs   int64  `json:"at_ms"`
	Text   string `json:"text"`
	Doubt  bool   `json:"doubt"`
}

// SourceRecord is one source.
type SourceRecord struct {
	Key   string `json:"key"`
	Text  string `json:"text"`
	Grade string `json:"grade"`
}

// RecordPhase gives one phase of a report.
func RecordPhase(m *body.Model, p *timeline.PhaseReport, v Voice) PhaseRecord {
	rec := PhaseRecord{
		Number: p.Number, MarkID: p.Mark.ID, Title: p.Mark.Title, Note: p.Mark.Note,
		FromMs: int64(p.From), ToMs: int64(p.To), Hold: p.Movement == nil, Words: p.Words,
	}
	if p.Findings != nil {
		posture := RecordPosture(m, &p.Reading, p.Findings, v)
		rec.Analysis = &posture
	}
	if p.Movement != nil {
		movement := RecordMovement(m, p.Movement, v)
		rec.Movement = &movement
	}
	return rec
}

// said turns statements into records.
func said(statements []Statement) []SaidRecord {
	list := make([]SaidRecord, len(statements))
	for i, s := range statements {
		list[i] = SaidRecord{string(s.Kind), string(s.Grade), s.Text, s.Figures}
	}
	return list
}

// muscleKeys names muscles by key.
func muscleKeys(m *body.Model, ids []body.MuscleID) []string {
	keys := make([]string, len(ids))
	for i, id := range ids {
		keys[i] = m.Muscles[id].Key
	}
	return keys
}

// reasonRecords gives reasons in the units of their kinds, with their words.
func reasonRecords(m *body.Model, reasons []analysis.Reason, words func(analysis.Reason) string) []ReasonRecord {
	list := make([]ReasonRecord, len(reasons))
	for i, r := range reasons {
		rec := ReasonRecord{Kind: r.Kind, LengthMm: mm(r.Length), Text: words(r), Source: r.Source}
		if r.Movement >= 0 && int(r.Movement) < len(m.Movements) {
			rec.Movement = m.Movements[r.Movement].Key
		}
		switch r.Kind {
		case "position":
			rec.Value, rec.Unit = deg(r.Value), "deg"
		case "arm", "length":
			rec.Value, rec.Unit = mm(r.Value), "mm"
		case "load":
			rec.Value, rec.Unit = Number(math.Round(r.Value*100)/100), "N·m"
		case "source", "cue":
			rec.Value, rec.Unit = share(r.Value), "ratio"
		case "bound":
			rec.Value, rec.Unit, rec.LengthMm = share(r.Value), "ratio", 0
		}
		list[i] = rec
	}
	return list
}
