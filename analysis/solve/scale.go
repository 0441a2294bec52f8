package solve

import "math"

// scaled is a program with its rows and columns brought to one size, by powers
// of two so that nothing is rounded: A' = R A S, b' = R b, x = S x', y = R y'.
type scaled struct {
	m, n   int
	start  []int
	row    []int
	value  []float64
	b      []float64
	c, w   []float64
	lo, hi []float64
	miss   []float64
	r, s   []float64 // the diagonals of R and S
}

// load takes a program over.
func (f *scaled) load(p *Program) {
	m, n := p.A.Dims()
	f.m, f.n = m, n
	f.start = append(f.start[:0], p.A.start...)
	f.row = append(f.row[:0], p.A.row...)
	f.value = append(f.value[:0], p.A.value...)
	f.r, f.s = resize(f.r, m), resize(f.s, n)
	clear(f.r)
	for k, v := range f.value {
		f.r[f.row[k]] = max(f.r[f.row[k]], math.Abs(v))
	}
	for i, v := range f.r {
		f.r[i] = reciprocal(v)
	}
	for k, i := range f.row {
		f.value[k] *= f.r[i]
	}
	for j := range n {
		_, value := f.column(j)
		f.s[j] = reciprocal(largest(value))
		for k := range value {
			value[k] *= f.s[j]
		}
	}
	f.lo, f.hi, f.c, f.w = resize(f.lo, n), resize(f.hi, n), resize(f.c, n), resize(f.w, n)
	for j, s := range f.s {
		f.lo[j], f.hi[j], f.c[j], f.w[j] = p.Lo[j]/s, p.Hi[j]/s, p.C[j]*s, p.W[j]*s*s
	}
	f.b, f.miss = resize(f.b, m), resize(f.miss, m)
	for i, r := range f.r {
		f.b[i] = p.B[i] * r
		f.miss[i] = 1 / r
		if p.Miss != nil {
			f.miss[i] = p.Miss[i] / r
		}
	}
}

// column returns the entries of column j of A'.
func (f *scaled) column(j int) ([]int, []float64) {
	from, to := f.start[j], f.start[j+1]
	return f.row[from:to], f.value[from:to]
}

// times is the inner product of column j with a vector of rows.
func (f *scaled) times(j int, y []float64) float64 {
	from, to := f.start[j], f.start[j+1]
	row, value := f.row[from:to], f.value[from:to:to]
	sum := 0.0
	for k, i := range row {
		sum += value[k] * y[i]
	}
	return sum
}

// spread adds f times column j to a vector of rows.
func (f *scaled) spread(j int, by float64, y []float64) {
	from, to := f.start[j], f.start[j+1]
	row, value := f.row[from:to], f.value[from:to:to]
	for k, i := range row {
		y[i] += by * value[k]
	}
}

// missing puts b' - A' x into r and returns the size that its rounding errors
// are to be measured by.
func (f *scaled) missing(r, x []float64) float64 {
	copy(r, f.b)
	size := largest(f.b)
	for j, v := range x {
		if v != 0 {
			f.spread(j, -v, r)
			size = max(size, math.Abs(v)) // columns have largest entry about one
		}
	}
	return size
}

// reciprocal is the power of two nearest below 1/v, and 1 for zero.
func reciprocal(v float64) float64 {
	if v == 0 {
		return 1
	}
	_, e := math.Frexp(v)
	return math.Ldexp(1, 1-e)
}
