package solve

// Rows may leave columns no way off a limit though the limits themselves would:
// a program that can only just be met. Then multipliers that prove the answer
// exist but may be as large as one likes, and a search that climbs to them never
// arrives. So the columns without a way are found by linear programs, their
// limits are drawn together, and the narrowed program is solved in their place
// (facial reduction, Borwein and Wolkowicz 1981). One more linear program finds
// prices of the rows that are zero on every column with a way and of the right
// sign on all others: added to the multipliers they prove the answer for the
// limits as they were.

// face is what is known about the columns without a way.
type face struct {
	narrowed bool
	side     []float64 // +1 at an upper limit, -1 at a lower, 0 with a way
	wide     scaled    // the program with the limits as they were
	cost, y  []float64
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
	f.side = resize(f.side, s.n)
	for j := range f.side {
		f.side[j] = -1
		if s.lo[j] == s.hi[j] {
			f.side[j] = 0
		}
	}
	first, moved := true, true
	for range maxNarrowing {
		left := 0
		for j, c := range f.side {
			if c == 0 {
				continue
			}
			low := s.lp.x[j]-s.lo[j] <= stuck*s.lp.size
			high := s.hi[j]-s.lp.x[j] <= stuck*s.lp.size
			switch {
			case first && low, !first && c < 0 && low, !first && c > 0 && high:
				left++
			case first && high:
				f.side[j] = 1
				left++
			default:
				f.side[j], moved = 0, true
			}
		}
		if left == 0 {
			return false
		}
		if !moved {
			break
		}
		first, moved = false, false
		switch s.lp.minimise(f.side) {
		case lost:
			s.lset, s.lp.ready = false, false
			return false
		case endless:
			for j, r := range s.lp.ray {
				if r > stuck && f.side[j] != 0 {
					f.side[j], moved = 0, true
				}
			}
		}
	}
	lo, hi := append(f.wide.lo[:0], s.lo...), append(f.wide.hi[:0], s.hi...)
	f.wide = s.scaled
	f.wide.lo, f.wide.hi = lo, hi
	s.lp.scaled = &f.wide
	for j, c := range f.side {
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
// a cost and a price of effort: the multipliers of a linear program that asks of
// each of those columns what it stands wrong by.
func (s *Solver) mended(price float64, c, x, y []float64) []float64 {
	f := &s.face
	if !f.narrowed {
		return y
	}
	f.y = append(f.y[:0], y...)
	f.cost = resize(f.cost, s.n)
	for j, side := range f.side {
		f.cost[j] = side * max(side*(price*s.w[j]*x[j]+c[j]-s.times(j, y)), 0)
	}
	if s.lp.ready && s.lp.minimise(f.cost) == least {
		add(f.y, 1, s.lp.y)
		if price > 0 { // x is where the search stands
			s.qp.free(price, c, x, f.y)
		}
	}
	return f.y
}

// free takes the rounding out of the multipliers of the columns that stand
// between their limits.
func (q *quadratic) free(price float64, c, x, y []float64) {
	q.refactor()
	for range 2 {
		clear(q.dy)
		for j, in := range q.in {
			if in && q.lo[j] < x[j] && x[j] < q.hi[j] {
				q.spread(j, (price*q.w[j]*x[j]+c[j]-q.times(j, y))/q.d[j], q.dy)
			}
		}
		back(q.l, q.dy, q.m)
		add(y, 1, q.dy)
	}
}

// limits is the program with the limits as they were.
func (s *Solver) limits() *scaled {
	if s.face.narrowed {
		return &s.face.wide
	}
	return &s.scaled
}
