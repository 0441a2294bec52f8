package exports

import (
	"math"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
)

// RecordPosture gives the analysis of one posture. reading may be nil for a
// posture that was never put into words.
func RecordPosture(m *body.Model, reading *posture.Reading, f *analysis.Findings, v Voice) PostureRecord {
	if reading == nil {
		reading = &posture.Reading{}
	}
	used := newSources(m)
	used.addFindings(f)
	all := doubts(f)
	rec := PostureRecord{
		Canonical:       reading.Canonical,
		Unknown:         make([]UnknownRecord, len(reading.Unknown)),
		Statements:      said(Statements(m, f, v)),
		Groups:          make([]GroupRecord, len(f.Groups)),
		Muscles:         make([]MuscleRecord, len(f.Muscles)),
		Joints:          make([]JointRecord, len(f.Joints)),
		Doubts:          make([]DoubtRecord, len(all)),
		Cautions:        make([]CautionRecord, len(f.Cautions)),
		Contacts:        make([]ContactRecord, len(f.Contacts)),
		CentreOfMassMm:  mmVec(f.CentreOfMass),
		Effort:          effortRecord(m, &f.Effort),
		SourcesReferred: []string{},
	}
	for i, u := range reading.Unknown {
		rec.Unknown[i] = UnknownRecord{u.From, u.To, u.Text, u.Why, append([]string{}, u.Near...)}
	}
	for i := range f.Groups {
		g := &f.Groups[i]
		mv := &m.Movements[g.Movement]
		rec.Groups[i] = GroupRecord{
			Movement: mv.Key, Group: groupName(mv, g.Toward),
			Role: string(g.Role), Grade: string(g.Grade), Muscles: muscleKeys(m, g.Muscles),
			Place: share(g.Place), MomentNm: Number(math.Round(g.Moment*100) / 100), Effort: share(g.Effort),
			BoundsRecord: boundsRecord(g.Bounds), Split: make([]SpanRecord, len(g.Split)),
			Reasons: reasonRecords(m, g.Reasons, func(r analysis.Reason) string { return groupReason(m, f, g, r) }),
		}
	}
	for i := range f.Groups {
		for k, s := range f.Groups[i].Split {
			rec.Groups[i].Split[k] = SpanRecord{m.Muscles[s.Muscle].Key, boundsRecord(s.Bounds)}
		}
	}
	for i := range f.Muscles {
		rec.Muscles[i] = muscleRecord(m, &f.Muscles[i])
		if i < len(f.Pulls) {
			rec.Muscles[i].Pull = pullRecord(m, &f.Pulls[i])
		}
	}
	for i, j := range f.Joints {
		mv := &m.Movements[j.Movement]
		rec.Joints[i] = JointRecord{mv.Key, deg(j.Value), j.Stated, deg(j.Past)}
	}
	for i, d := range all {
		rec.Doubts[i] = DoubtRecord(d)
	}
	for i, c := range f.Cautions {
		rec.Cautions[i] = CautionRecord{c.Key, c.Why, cautionWords(c)}
	}
	for i, c := range f.Contacts {
		rec.Contacts[i] = ContactRecord{c.Patch, c.On, mmVec(c.At), mm(c.Gap)}
	}
	for _, s := range used.used() {
		rec.SourcesReferred = append(rec.SourcesReferred, s.Key)
	}
	return rec
}

// muscleRecord gives the finding of one muscle.
func muscleRecord(m *body.Model, f *analysis.MuscleFinding) MuscleRecord {
	mu := &m.Muscles[f.Muscle]
	rec := MuscleRecord{
		Muscle:   mu.Key,
		LengthMm: mm(f.Length), Place: share(f.Place), FibreRatio: share(f.Fibre), State: string(f.State),
		FromAnatomicalMm: mm(f.FromAnatomical), FromPreviousMm: mm(f.FromPrevious),
		Role: string(f.Role), Grade: string(f.Grade), Toward: f.Toward, BoundsRecord: boundsRecord(f.Bounds),
		Part: string(f.Part), Parts: partRecords(m, f.Parts), Manner: string(f.Manner), Reasons: []ReasonRecord{},
	}
	if f.Role != analysis.Quiet {
		rec.Reasons = reasonRecords(m, f.Reasons, func(r analysis.Reason) string { return muscleReason(m, r) })
	}
	if f.For >= 0 && int(f.For) < len(m.Movements) {
		rec.For = m.Movements[f.For].Key
	}
	return rec
}

// RecordMovement gives the analysis of the way to the next mark.
func RecordMovement(m *body.Model, mv *analysis.Movement, v Voice) MovementRecord {
	rec := MovementRecord{
		Statements: said(MovementStatements(m, mv, v)),
		Groups:     make([]GroupChangeRecord, len(mv.Groups)),
		Joints:     make([]JointChangeRecord, len(mv.Joints)),
		Muscles:    make([]MuscleChangeRecord, len(mv.Muscles)),
		Work:       make([]GroupWorkRecord, len(mv.Work)),
		Quick:      mv.Quick, QuickBelow: share(mv.QuickBelow), Held: mv.Held, Looked: mv.Looked,
		Doubts: make([]DoubtRecord, len(mv.Doubts)),
	}
	for i, g := range mv.Work {
		mo := &m.Movements[g.Movement]
		rec.Work[i] = GroupWorkRecord{mo.Key, groupName(mo, g.Toward), share(g.Peak), share(g.Mean), string(g.Contraction), muscleKeys(m, g.Muscles)}
	}
	for i, d := range mv.Doubts {
		rec.Doubts[i] = DoubtRecord(d)
	}
	for i, g := range mv.Groups {
		mo := &m.Movements[g.Movement]
		rec.Groups[i] = GroupChangeRecord{mo.Key, groupName(mo, g.Toward), share(g.Change), muscleKeys(m, g.Muscles)}
	}
	for i, j := range mv.Joints {
		rec.Joints[i] = JointChangeRecord{m.Movements[j.Movement].Key, deg(j.From), deg(j.To)}
	}
	for i, c := range mv.Muscles {
		rec.Muscles[i] = MuscleChangeRecord{m.Muscles[c.Muscle].Key, mm(c.Change), share(c.PlaceFrom), share(c.PlaceTo), c.Turns,
			share(c.Peak), share(c.Mean), string(c.Contraction)}
	}
	return rec
}

func mmVec(v geom.Vec) [3]Number { return [3]Number{mm(v.X), mm(v.Y), mm(v.Z)} }
