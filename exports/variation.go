package exports

import (
	"io"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/posture"
)

// VariationFormat names the JSON document of a variation and the version of its
// shape.
const VariationFormat = "tautline variation 1"

// WriteVariation writes what changes from one posture to another as plain text.
// from and to are the readings of both.
func WriteVariation(w io.Writer, m *body.Model, from, to *posture.Reading, v analysis.Variation, o Options) error {
	o = o.withDefaults()
	p := newPage(w, o)
	sp := o.speaker(m)
	p.posture(from)
	p.item(2, labelColumn, "Against", cleanLine(to.Canonical))
	for i, u := range to.Unknown {
		p.item(2, labelColumn, onlyFirst(i, "Not clear"), unknownWords(u.Text, u.Why, u.Near))
	}
	for i, c := range newly(v.To.Cautions, v.From.Cautions) {
		p.item(2, labelColumn, onlyFirst(i, "Take care"), cautionWords(c))
	}
	for i, line := range sp.differs(v) {
		p.item(2, labelColumn, onlyFirst(i, "Differs"), line)
	}
	p.item(2, labelColumn, "Effort", effortChange(v))
	all := sp.variation(v)
	for _, section := range sections {
		p.statements(section.label, most(only(all, section.kind), o.Voice == Technical), sp.voice)
	}
	for i, d := range newly(v.To.Doubts, v.From.Doubts) {
		p.item(2, labelColumn, onlyFirst(i, "Doubt"), doubtWords(d))
	}
	p.foot(o, "Made by "+o.tool()+", body model "+m.Version)
	return p.end()
}

// newly lists what is in the second posture and not in the first.
func newly[T comparable](to, from []T) []T {
	list := []T{}
	for _, x := range to {
		seen := false
		for _, y := range from {
			seen = seen || x == y
		}
		if !seen {
			list = append(list, x)
		}
	}
	return list
}

// VariationRecord is what changes from one posture to another.
type VariationRecord struct {
	From       string                  `json:"from"` // canonical
	To         string                  `json:"to"`
	Unknown    []UnknownRecord         `json:"unknown"` // of the words of the second
	Differs    []string                `json:"differs"`
	Effort     string                  `json:"effort"`
	Statements []SaidRecord            `json:"statements"`
	Joints     []JointChangeRecord     `json:"joints"`
	Groups     []GroupVariationRecord  `json:"groups"`
	Muscles    []MuscleVariationRecord `json:"muscles"`
	Cautions   []CautionRecord         `json:"cautions"` // of the second only
	Doubts     []DoubtRecord           `json:"doubts"`   // of the second only
}

// GroupVariationRecord is what changes for one functional group.
type GroupVariationRecord struct {
	Movement string   `json:"movement"` // key
	Group    string   `json:"group"`
	Role     string   `json:"role"`
	Turn     string   `json:"turn"`
	From     string   `json:"from_grade"` // "" where nothing is said
	To       string   `json:"to_grade"`
	By       Number   `json:"by"`        // share of strength for work, of the span for lengths
	MomentNm Number   `json:"moment_nm"` // change
	Muscles  []string `json:"muscles"`
	Why      []string `json:"why"` // keys of the joint movements that it comes from, most first
}

// MuscleVariationRecord is what changes for one muscle.
type MuscleVariationRecord struct {
	Muscle     string   `json:"muscle"`
	LengthMm   Number   `json:"length_mm"`
	Place      Number   `json:"place"`
	Activation Number   `json:"activation"`
	FromRole   string   `json:"from_role"`
	ToRole     string   `json:"to_role"`
	FromGrade  string   `json:"from_grade"`
	ToGrade    string   `json:"to_grade"`
	Why        []string `json:"why"`
}

// WriteVariationJSON writes the same as JSON.
func WriteVariationJSON(w io.Writer, m *body.Model, from, to *posture.Reading, v analysis.Variation, o Options) error {
	o = o.withDefaults()
	sp := o.speaker(m)
	rec := VariationRecord{
		From: from.Canonical, To: to.Canonical, Unknown: make([]UnknownRecord, len(to.Unknown)), Differs: sp.differs(v), Effort: effortChange(v),
		Statements: said(sp.variation(v)), Joints: []JointChangeRecord{}, Groups: []GroupVariationRecord{}, Muscles: []MuscleVariationRecord{},
		Cautions: []CautionRecord{}, Doubts: []DoubtRecord{},
	}
	for i, u := range to.Unknown {
		rec.Unknown[i] = UnknownRecord{u.From, u.To, u.Text, u.Why, append([]string{}, u.Near...)}
	}
	for _, j := range v.Joints {
		rec.Joints = append(rec.Joints, JointChangeRecord{m.Movements[j.Movement].Key, deg(j.From), deg(j.To)})
	}
	for _, g := range v.Groups {
		r := GroupVariationRecord{
			Movement: m.Movements[g.Movement].Key, Group: groupName(&m.Movements[g.Movement], g.Toward), Role: string(g.Role), Turn: string(g.Turn),
			By: share(g.By), MomentNm: share(g.Moment), Muscles: muscleKeys(m, g.Muscles()), Why: movementKeys(m, g.Why),
		}
		if g.From != nil {
			r.From = string(g.From.Grade)
		}
		if g.To != nil {
			r.To = string(g.To.Grade)
		}
		rec.Groups = append(rec.Groups, r)
	}
	for _, x := range v.Muscles {
		rec.Muscles = append(rec.Muscles, MuscleVariationRecord{
			m.Muscles[x.Muscle].Key, mm(x.Length), share(x.Place), share(x.Best), string(x.From.Role), string(x.To.Role),
			string(x.From.Grade), string(x.To.Grade), movementKeys(m, x.Why),
		})
	}
	for _, c := range newly(v.To.Cautions, v.From.Cautions) {
		rec.Cautions = append(rec.Cautions, CautionRecord{c.Key, c.Why, cautionWords(c)})
	}
	for _, d := range newly(v.To.Doubts, v.From.Doubts) {
		rec.Doubts = append(rec.Doubts, DoubtRecord(d))
	}
	return encode(w, struct {
		head
		Variation VariationRecord `json:"variation"`
	}{newHead(VariationFormat, m, o), rec})
}

func movementKeys(m *body.Model, changes []analysis.JointChange) []string {
	keys := []string{}
	for _, j := range changes {
		keys = append(keys, m.Movements[j.Movement].Key)
	}
	return keys
}
