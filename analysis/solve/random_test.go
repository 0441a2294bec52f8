package solve

import (
	"math"
	"math/rand/v2"
)

// shape describes a random program.
type shape struct {
	rows, muscles, contacts int
	fill                    float64 // share of a muscle's rows that are not zero
	level                   float64 // largest share of the limits that meets the rows
	repeated                int     // rows that repeat a mix of others
	idle                    int     // columns that stand at a limit in the witness
	excess                  float64 // added to one row, out of reach if large
}

// random makes a program of the kind the package is for: pulls between none and
// all with a weight, pushes without upper limit and without weight. The side is
// met by a witness, so the program is feasible unless there is an excess.
func random(r *rand.Rand, s shape) *Program {
	n := s.muscles + s.contacts
	p := &Program{A: NewMatrix(s.rows + s.repeated)}
	m := s.rows + s.repeated
	p.B = make([]float64, m)
	mix := make([]float64, s.repeated*s.rows)
	for k := range mix {
		if r.Float64() < 0.3 {
			mix[k] = math.Round(4 * r.NormFloat64())
		}
	}
	scale := make([]float64, s.rows)
	for i := range scale {
		scale[i] = math.Exp(2 * r.NormFloat64())
	}
	column := make([]float64, m)
	for j := range n {
		clear(column)
		strength := math.Exp(r.NormFloat64())
		for i := range s.rows {
			if r.Float64() < s.fill {
				column[i] = strength * scale[i] * r.NormFloat64()
			}
		}
		for e := range s.repeated {
			for i := range s.rows {
				column[s.rows+e] += mix[e*s.rows+i] * column[i]
			}
		}
		p.A.Append(column)
		lo, hi, w := 0.0, 1.0, math.Exp(r.NormFloat64())
		x := s.level * r.Float64()
		if j >= s.muscles {
			hi, w, x = math.Inf(1), 0, 20*r.Float64()
		}
		if r.IntN(n) < s.idle {
			x = 0
			if j < s.muscles && r.IntN(4) == 0 {
				x = hi
			}
		}
		p.Lo, p.Hi = append(p.Lo, lo), append(p.Hi, hi)
		p.C, p.W = append(p.C, 0), append(p.W, w)
		for i, v := range column {
			p.B[i] += v * x
		}
	}
	if s.excess != 0 && m > 0 {
		p.B[r.IntN(m)] += s.excess
	}
	return p
}

// posture is the shape of a whole-body posture.
var posture = shape{rows: 60, muscles: 270, contacts: 30, fill: 0.12, level: 0.3}
