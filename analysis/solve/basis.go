package solve

import "math"

// basis is the inverse of a square choice of columns, kept dense by rows and
// carried from exchange to exchange.
type basis struct {
	dim   int
	inv   []float64 // row r gives basic variable r
	work  []float64
	stale int // exchanges since the inverse was computed
}

// smallPivot is the size, relative to entries of about one, below which a
// column counts as dependent on the others.
const smallPivot = 1e-9

// identity starts with one column of sign ±1 per row.
func (b *basis) identity(m int, sign func(i int) float64) {
	b.dim = m
	b.inv = resize(b.inv, m*m)
	clear(b.inv)
	for i := range m {
		b.inv[i*m+i] = sign(i)
	}
	b.stale = 0
}

// ahead puts B⁻¹ a into alpha, for a column given by its entries.
func (b *basis) ahead(alpha []float64, row []int, value []float64) {
	m := b.dim
	for r := range alpha {
		br := b.inv[r*m : r*m+m]
		sum := 0.0
		for k, i := range row {
			sum += br[i] * value[k]
		}
		alpha[r] = sum
	}
}

// apply adds B⁻¹ g to x.
func (b *basis) apply(x, g []float64) {
	for r := range x {
		x[r] += dot(b.inv[r*b.dim:r*b.dim+b.dim], g)
	}
}

// applyT adds B⁻ᵀ c to y.
func (b *basis) applyT(y, c []float64) {
	for r, v := range c {
		if v != 0 {
			add(y, v, b.inv[r*b.dim:r*b.dim+b.dim])
		}
	}
}

// exchange brings the column with B⁻¹ a = alpha into place r.
func (b *basis) exchange(r int, alpha []float64) {
	m := b.dim
	br := b.inv[r*m : r*m+m]
	f := 1 / alpha[r]
	for k := range br {
		br[k] *= f
	}
	for i, a := range alpha {
		if i != r && a != 0 {
			add(b.inv[i*m:i*m+m], -a, br)
		}
	}
	b.stale++
}

// compute inverts the matrix whose columns are given by put, by elimination
// with row exchanges. It reports false when the columns are dependent.
func (b *basis) compute(m int, put func(r int, column []float64)) bool {
	b.dim, b.stale = m, 0
	b.inv, b.work = resize(b.inv, m*m), resize(b.work, 2*m*m+m)
	full, column := b.work[:2*m*m], b.work[2*m*m:]
	clear(full)
	w := 2 * m
	for r := range m {
		clear(column)
		put(r, column)
		for i, v := range column {
			full[i*w+r] = v
		}
		full[r*w+m+r] = 1
	}
	for c := range m {
		best := c
		for i := c + 1; i < m; i++ {
			if math.Abs(full[i*w+c]) > math.Abs(full[best*w+c]) {
				best = i
			}
		}
		if math.Abs(full[best*w+c]) < smallPivot {
			return false
		}
		rc, rb := full[c*w:c*w+w], full[best*w:best*w+w]
		if best != c {
			for k := range rc {
				rc[k], rb[k] = rb[k], rc[k]
			}
		}
		f := 1 / rc[c]
		for k := c; k < w; k++ {
			rc[k] *= f
		}
		for i := range m {
			if ri := full[i*w : i*w+w]; i != c && ri[c] != 0 {
				add(ri[c:], -ri[c], rc[c:])
			}
		}
	}
	for i := range m {
		copy(b.inv[i*m:i*m+m], full[i*w+m:i*w+w])
	}
	return true
}
