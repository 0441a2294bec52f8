package exports

import (
	"math"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// EffortRecord is what holding a posture asks of the muscles as a whole.
type EffortRecord struct {
	Held bool `json:"held"`
	// Cost is half the sum of squared activations in the way of holding the
	// posture that costs least. A near-best way may spend around a joint what
	// the best one does there, times NearBest.
	Cost        Number            `json:"cost"`
	NearBest    Number            `json:"near_best"`
	Short       []ShortRecord     `json:"short"`  // what is missing where it cannot be held
	Forces      []ForceRecord     `json:"forces"` // what every support bears
	Certificate CertificateRecord `json:"certificate"`
}

// ShortRecord is a moment that no muscles can give, or a force for a coordinate
// of the whole body in space that is a length.
type ShortRecord struct {
	Coordinate string `json:"coordinate"` // key
	Joint      string `json:"joint"`
	Missing    Number `json:"missing"`
	Unit       string `json:"unit"` // "N·m" or "N"
}

// ForceRecord is the force of one support on the body.
type ForceRecord struct {
	Patch  string    `json:"patch"`
	ForceN [3]Number `json:"force_n"` // forward, up, right
	// BodyWeights is the size of the force in weights of the body.
	BodyWeights Number `json:"body_weights"`
}

// CertificateRecord is how well the computed way meets its equations, checked
// by code that shares nothing with the solver. Zero for a posture not held.
type CertificateRecord struct {
	Missed float64 `json:"missed"` // the largest part of an equation that is missed
	Gap    float64 `json:"gap"`    // relative, to a proven bound on the cost
}

// BoundsRecord is how much something must and may be used, in shares of its
// full use. Zero where it is not used.
type BoundsRecord struct {
	Best       Number `json:"best"`         // in the way that costs least
	Least      Number `json:"least"`        // in any way of holding the posture
	NearBestLo Number `json:"near_best_lo"` // in near-best ways
	NearBestHi Number `json:"near_best_hi"` // null where it was not computed
}

// SpanRecord is the bounds of one muscle of a group.
type SpanRecord struct {
	Muscle string `json:"muscle"` // key
	BoundsRecord
}

// PartRecord is what a muscle does about one joint.
type PartRecord struct {
	Movement string `json:"movement"` // key, or ""
	Toward   bool   `json:"toward"`
	Part     string `json:"part"`
	Share    Number `json:"share"` // of what all muscles that pull this way give
}

// PullRecord is the way a muscle pulls: from the end that would move to the end
// that is held.
type PullRecord struct {
	Moves    string    `json:"moves"` // key of a segment
	Held     string    `json:"held"`
	HeldBy   string    `json:"held_by"`   // "nearer", "carries", "by custom", "unsettled"
	AtMm     [3]Number `json:"at_mm"`     // forward, up, right
	Dir      [3]Number `json:"direction"` // of unit length
	Movement string    `json:"movement"`  // key, or ""
	Toward   bool      `json:"toward"`
	Way      string    `json:"way"`       // where what moves goes
	OtherWay string    `json:"other_way"` // where the held end would go if it were free
}

func partRecords(m *body.Model, parts []analysis.PartIn) []PartRecord {
	list := make([]PartRecord, len(parts))
	for i, p := range parts {
		list[i] = PartRecord{Toward: p.Toward, Part: string(p.Part), Share: share(p.Share)}
		if p.Movement >= 0 {
			list[i].Movement = m.Movements[p.Movement].Key
		}
	}
	return list
}

func pullRecord(m *body.Model, p *analysis.Pull) *PullRecord {
	rec := &PullRecord{Moves: m.Segments[p.Moves].Key, Held: m.Segments[p.Held].Key, HeldBy: string(p.By),
		AtMm: mmVec(p.At), Dir: [3]Number{share(p.Dir.X), share(p.Dir.Y), share(p.Dir.Z)}, Toward: p.Toward,
		Way: string(p.Way), OtherWay: string(p.Other)}
	if p.Movement >= 0 {
		rec.Movement = m.Movements[p.Movement].Key
	}
	return rec
}

func effortRecord(m *body.Model, e *analysis.Effort) EffortRecord {
	rec := EffortRecord{Held: e.Held, Cost: Number(e.Cost), NearBest: Number(e.NearBest),
		Short: make([]ShortRecord, len(e.Short)), Forces: make([]ForceRecord, len(e.Forces))}
	if e.Held {
		rec.Certificate = CertificateRecord{decade(e.Primal), decade(e.Gap)}
	}
	for i, s := range e.Short {
		c := &m.Coords[s.Coord]
		rec.Short[i] = ShortRecord{c.Key, m.Joints[c.Joint].Name, share(s.Moment), "N·m"}
		if c.Slide {
			rec.Short[i].Unit = "N"
		}
	}
	for i, s := range e.Forces {
		rec.Forces[i] = ForceRecord{s.Patch, newtons(s.Force), share(s.Force.Norm() / (standardGravity * m.Person.Mass))}
	}
	return rec
}

// decade rounds an error up to a power of ten: its last digits are noise and
// would differ between machines, and what is below a millionth of a millionth
// differs between two runs.
func decade(x float64) float64 {
	if x = math.Abs(x); x < 1e-12 {
		return 1e-12
	}
	return math.Pow(10, math.Ceil(math.Log10(x)))
}

func boundsRecord(b analysis.Bounds) BoundsRecord {
	rec := BoundsRecord{share(b.Best), share(b.Least), share(b.Lo), share(b.Hi)}
	if b.Best > 0 && b.Hi <= b.Best {
		rec.NearBestHi = Number(math.NaN()) // not looked for
	}
	return rec
}

// newtons gives a force to a tenth of a newton.
func newtons(f geom.Vec) [3]Number {
	tenth := func(x float64) Number { return Number(math.Round(x*10) / 10) }
	return [3]Number{tenth(f.X), tenth(f.Y), tenth(f.Z)}
}
