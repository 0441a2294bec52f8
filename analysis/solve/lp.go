package solve

import "math"

// The linear programs are solved by the simplex method with limits on the
// variables. Beside the n columns of A' there are two per row, +e_i and -e_i:
// what is still missing from the row. First their priced sum is minimised, then
// they are fixed at zero and the cost is minimised from the point reached.
// Another cost on the same rows starts from the last point.
const (
	// held is the play a limit is given, relative to the size of x.
	held = 1e-12
	// met is the part of a row that may be missing, relative to the size of x.
	met = 1e-10
	// dear is the reduced cost below which a column is worth nothing, relative
	// to the size of the costs.
	dear = 1e-12
	// renew is how many exchanges an inverse lives through.
	renew = 150
)

// simplex is the workspace of the linear programs.
type simplex struct {
	*scaled
	basis
	ready    bool      // the basis is feasible for the loaded program
	head     []int     // the column that is basic in each place
	at       []int     // per column: its place, or atLow or atHigh
	xb       []float64 // the values of the basics
	y        []float64
	price    []float64 // costs, n + 2m
	d        []float64 // reduced costs of the columns that are not basic, n + 2m
	top      []float64 // upper limits, n + 2m
	alpha, g []float64
	x        []float64
	weight   []float64 // reference weights of the pricing (devex)
	size     float64   // of x, for tolerances
	floor    float64   // reduced costs below it are worth nothing
	idle     float64   // what the largest cost counts as at least, for the floor
	still    int       // exchanges without progress
	open     int       // columns from here on are fixed and not looked at
	steps    int
	ray      []float64
	plain    bool // the first column that gains, always
}

const (
	atLow  = -1
	atHigh = -2
)

var unit = [2][1]float64{{1}, {-1}}

// entries are the rows and values of any column, own or added.
func (s *simplex) entries(j int, one *[1]int) ([]int, []float64) {
	if j < s.n {
		return s.column(j)
	}
	one[0] = (j - s.n) % s.m
	return one[:], unit[(j-s.n)/s.m][:]
}

func (s *simplex) low(j int) float64 {
	if j < s.n {
		return s.lo[j]
	}
	return 0
}

// begin takes a loaded program over and forgets the basis.
func (s *simplex) begin(f *scaled) {
	s.scaled, s.ready, s.idle = f, false, 0
	m, n := f.m, f.n
	s.head, s.at = resize(s.head, m), resize(s.at, n+2*m)
	for _, v := range []*[]float64{&s.price, &s.d, &s.top, &s.weight} {
		*v = resize(*v, n+2*m)
	}
	for _, v := range []*[]float64{&s.xb, &s.y, &s.alpha, &s.g} {
		*v = resize(*v, m)
	}
	s.x, s.ray = resize(s.x, n), resize(s.ray, n)
	copy(s.top, f.hi)
}

// outcome of a run of exchanges.
type outcome int

const (
	lost outcome = iota // rounding or a loop defeated the search
	least
	endless // along ray
)

// feasible finds a point that misses the rows least, at the prices of the
// program, and reports whether it misses nothing.
func (s *simplex) feasible() (outcome, bool) {
	for j := range s.at {
		s.at[j] = atLow
	}
	s.open = s.n // an added column that has left is not wanted back
	copy(s.x, s.lo)
	s.size = max(s.missing(s.g, s.x), math.SmallestNonzeroFloat64)
	clear(s.price)
	for i := range s.m {
		j := s.n + i
		if s.g[i] < 0 {
			j += s.m
		}
		s.head[i], s.at[j], s.xb[i] = j, i, math.Abs(s.g[i])
		s.price[s.n+i], s.price[s.n+s.m+i] = 1, 1
		s.top[s.n+i], s.top[s.n+s.m+i] = math.Inf(1), math.Inf(1)
	}
	s.identity(s.m, func(i int) float64 {
		if s.g[i] < 0 {
			return -1
		}
		return 1
	})
	got := s.exchangeAll()
	if got != least {
		return got, false
	}
	if s.missed() {
		// Out of reach. What counts now is the price of what is missed.
		s.open = s.n + 2*s.m
		copy(s.price[s.n:], s.miss)
		copy(s.price[s.n+s.m:], s.miss)
		return s.exchangeAll(), false
	}
	for j := s.n; j < s.n+2*s.m; j++ {
		s.top[j], s.price[j] = 0, 0
	}
	s.open = s.n
	s.ready = true
	return least, true
}

// missed reports whether the rows are not met by the point.
func (s *simplex) missed() bool {
	for r, j := range s.head {
		if j >= s.n && s.xb[r] > met*s.size {
			return true
		}
	}
	return false
}

// resume tries the basis of the last program on a loaded one of the same shape
// and reports whether it is feasible there.
func (s *simplex) resume(f *scaled) bool {
	if !s.ready || len(s.head) != f.m || len(s.at) != f.n+2*f.m {
		return false
	}
	s.begin(f)
	for j, place := range s.at {
		if j >= f.n {
			s.top[j], s.price[j] = 0, 0
		} else if place == atHigh && math.IsInf(f.hi[j], 1) {
			s.at[j] = atLow
		}
	}
	s.open = s.n
	if !s.refresh() {
		return false
	}
	for r, j := range s.head {
		if s.xb[r] < s.low(j)-held*s.size || s.xb[r] > s.top[j]+held*s.size {
			return false
		}
	}
	s.ready = true
	return true
}

// minimise finds the least value of a cost, from a feasible basis.
func (s *simplex) minimise(c []float64) outcome {
	copy(s.price, c)
	clear(s.price[s.n:])
	return s.exchangeAll()
}

// read puts the point into x, within its limits.
func (s *simplex) read() {
	for j := range s.x {
		switch place := s.at[j]; place {
		case atLow:
			s.x[j] = s.lo[j]
		case atHigh:
			s.x[j] = s.hi[j]
		case loose: // where it is
		default:
			s.x[j] = min(max(s.xb[place], s.lo[j]), s.hi[j])
		}
	}
}

// remain puts into g what the rows still miss, own and added columns counted.
func (s *simplex) remain() {
	s.read()
	for r, j := range s.head {
		if j < s.n {
			s.x[j] = s.xb[r] // unclipped
		}
	}
	s.size = max(s.missing(s.g, s.x), math.SmallestNonzeroFloat64)
	for r, j := range s.head {
		if j >= s.n {
			s.g[(j-s.n)%s.m] -= s.xb[r] * unit[(j-s.n)/s.m][0]
		}
	}
}

// tidy takes the rounding of the exchanges out of x and y, one step of iterative
// refinement each. It reports false when that is too much to trust the inverse.
func (s *simplex) tidy() bool {
	s.remain()
	off := largest(s.g)
	s.apply(s.xb, s.g)
	ok := off <= 1e-9*s.size
	for r, j := range s.head {
		over := max(s.low(j)-s.xb[r], s.xb[r]-s.top[j])
		ok = ok && over <= 1e-10*s.size
	}
	var one [1]int
	for r, j := range s.head {
		row, value := s.entries(j, &one)
		sum := s.price[j]
		for k, i := range row {
			sum -= value[k] * s.y[i]
		}
		s.alpha[r] = sum
	}
	ok = ok && largest(s.alpha) <= 1e-9*max(largest(s.price), largest(s.y))
	s.applyT(s.y, s.alpha)
	s.reduce()
	q, _ := s.choose()
	return ok && q < 0
}

// refresh computes the inverse, x and y anew.
func (s *simplex) refresh() bool {
	var one [1]int
	if !s.compute(s.m, func(r int, column []float64) {
		row, value := s.entries(s.head[r], &one)
		for k, i := range row {
			column[i] += value[k]
		}
	}) {
		return false
	}
	clear(s.xb)
	s.remain()
	s.apply(s.xb, s.g)
	s.prices()
	return true
}
