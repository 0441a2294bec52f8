package solve

import "math"

// Rows may leave columns no way off a limit though the limits themselves would:
// a program that can only just be met. Then multipliers that prove the answer
// exist but may be as large as one likes, and a search that climbs to them never
// arrives. So the columns without a way are found by linear programs, their
// limits are drawn together, and the narrowed program is solved in their place
// (facial reduction, Borwein and Wolkowicz 1981). The last of the linear
// programs yields a price ŷ of the rows that is zero on every column with a way
// and of the right sign on all others, and as much of it as is needed is added
// to the multipliers to prove the answer for the limits as they were.

// face is what is known about the columns without a way.
type face struct {
	narrowed bool
	y        []float64 // the price of the rows that shows them to have none
	full     []float64 // multipliers with as much of it as they need
	cost     []float64 // +1 at an upper limit, -1 at a lower, 0 with a way
}

const (
	// stuck is the move that counts as none, relative to the size of x.
	stuck = 1e-9
	// maxNarrowing bounds the linear programs; each finds a way for some column.
	maxNarrowing = 60
)

// narrow finds the columns without a way, from a point that the simplex stands
// at, and draws their limits together. It reports whether there are any.
func (s *Solver) narrow() bool {
	f := &s.face
	if f.narrowed {
		return false
	}
	f.y, f.cost = resize(f.y, s.m), resize(f.cost, s.n)
	for j := range f.cost {
		f.cost[j] = -1
		if s.lo[j] == s.hi[j] {
			f.cost[j] = 0
		}
	}
	first := true
	for range maxNarrowing {
		moved, left := first, 0
		for j, c := range f.cost {
			if c == 0 {
				continue
			}
			low := s.lp.x[j]-s.lo[j] <= stuck*s.lp.size
			high := s.hi[j]-s.lp.x[j] <= stuck*s.lp.size
			switch {
			case first && low, !first && c < 0 && low, !first && c > 0 && high:
				left++
			case first && high:
				f.cost[j] = 1
				left++
			default:
				f.cost[j], moved = 0, true
			}
		}
		if left == 0 {
			return false
		}
		if !moved {
			break
		}
		first = false
		switch s.lp.minimise(f.cost) {
		case lost:
			s.lset, s.lp.ready = false, false
			return false
		case endless:
			for j, r := range s.lp.ray {
				if r > stuck {
					f.cost[j] = 0
				}
			}
		}
	}
	copy(f.y, s.lp.y)
	for j, c := range f.cost {
		switch {
		case c < 0:
			s.hi[j] = s.lo[j]
		case c > 0:
			s.lo[j] = s.hi[j]
		}
	}
	f.narrowed = true
	return true
}

// mended is y with what proves that columns without a way stand right at x, for
// a cost and a price of effort.
func (s *Solver) mended(price float64, c, x, y []float64) []float64 {
	f := &s.face
	if !f.narrowed {
		return y
	}
	most := 0.0
	for j, side := range f.cost {
		if side == 0 {
			continue
		}
		// side times z may not be above zero; ŷ lowers it by side times A·ŷ.
		if wrong := side * (price*s.w[j]*x[j] + c[j] - s.times(j, y)); wrong > 0 {
			if help := side * s.times(j, f.y); help > 0 {
				most = max(most, wrong/help)
			}
		}
	}
	f.full = append(f.full[:0], y...)
	add(f.full, most, f.y)
	return f.full
}

// proven reports whether what the rows of a settled search still miss weighs
// little at its multipliers: where those are very large, little is much.
func (q *quadratic) proven() bool {
	q.short()
	sum, cost := 0.0, 0.0
	for i, g := range q.g {
		sum += math.Abs(g * q.y[i])
	}
	for j, x := range q.x {
		cost += q.w[j]*x*x/2 + math.Abs(q.c[j]*x)
	}
	return sum <= weighty*(1+cost)
}

// weighty is the weight of missing parts of rows that casts doubt on an answer,
// relative to the cost.
const weighty = 2e-11
