package exports

import (
	"io"
	"slices"

	"tautline/analysis"
	"tautline/analysis/body"
)

// ExplainFormat names the JSON document of an explanation and the version of
// its shape.
const ExplainFormat = "tautline explanation 1"

// explanation is the answer to "why" for muscles or joints in one posture.
type explanation struct {
	head
	Muscles []MuscleRecord `json:"muscles"`
	Joints  []JointRecord  `json:"joints"`
	Groups  []GroupRecord  `json:"groups"` // those that the muscles or joints are part of
}

// WriteExplainJSON writes as JSON what WriteExplainMuscle and WriteExplainJoint
// say in words.
func WriteExplainJSON(w io.Writer, m *body.Model, f *analysis.Findings, muscles []body.MuscleID, joints []body.MovementID, o Options) error {
	o = o.withDefaults()
	whole := RecordPosture(m, nil, f, o.Voice)
	e := explanation{head: newHead(ExplainFormat, m, o), Muscles: []MuscleRecord{}, Joints: []JointRecord{}, Groups: []GroupRecord{}}
	for _, r := range whole.Muscles {
		if slices.ContainsFunc(muscles, func(id body.MuscleID) bool { return m.Muscles[id].Key == r.Muscle }) {
			e.Muscles = append(e.Muscles, r)
		}
	}
	asked := func(key string) bool {
		return slices.ContainsFunc(joints, func(id body.MovementID) bool { return m.Movements[id].Key == key })
	}
	for _, r := range whole.Joints {
		if asked(r.Movement) {
			e.Joints = append(e.Joints, r)
		}
	}
	for _, r := range whole.Groups {
		if asked(r.Movement) || slices.ContainsFunc(e.Muscles, func(x MuscleRecord) bool { return slices.Contains(r.Muscles, x.Muscle) }) {
			e.Groups = append(e.Groups, r)
		}
	}
	return encode(w, e)
}
