package solve

import (
	"fmt"
	"math"
)

// Matrix is a matrix of fixed height, kept by columns without their zeros.
type Matrix struct {
	rows  int
	start []int // start[j]:start[j+1] are the entries of column j
	row   []int
	value []float64
}

// NewMatrix returns a matrix with the given number of rows and no columns.
func NewMatrix(rows int) *Matrix {
	if rows < 0 {
		panic("solve: a matrix of negative height")
	}
	return &Matrix{rows: rows, start: []int{0}}
}

// Append adds a column on the right. Its length is the number of rows; zeros
// are not stored.
func (a *Matrix) Append(column []float64) {
	if len(column) != a.rows {
		panic(fmt.Sprintf("solve: a column of %d in a matrix of %d rows", len(column), a.rows))
	}
	for i, v := range column {
		if v != 0 {
			a.row = append(a.row, i)
			a.value = append(a.value, v)
		}
	}
	a.start = append(a.start, len(a.row))
}

// Reset takes all columns away and sets the height, keeping the memory.
func (a *Matrix) Reset(rows int) {
	a.rows = rows
	a.start = append(a.start[:0], 0)
	a.row, a.value = a.row[:0], a.value[:0]
}

// Dims returns the numbers of rows and columns.
func (a *Matrix) Dims() (rows, columns int) { return a.rows, len(a.start) - 1 }

// Column returns the rows and values of column j. They must not be changed.
func (a *Matrix) Column(j int) (rows []int, values []float64) {
	from, to := a.start[j], a.start[j+1]
	return a.row[from:to], a.value[from:to]
}

// Program is: minimise 1/2 sum W_j x_j^2 + C·x where A x = B, Lo <= x <= Hi.
//
// Lo is finite; Hi may be +Inf. W is never negative. Miss is the price of one
// unit of shortfall in each row, above zero, used only when the program cannot
// be met; nil prices every row at one.
type Program struct {
	A      *Matrix
	B      []float64 // one per row
	C, W   []float64 // one per column
	Lo, Hi []float64 // one per column
	Miss   []float64 // one per row, or nil
}

// Effort is 1/2 sum W_j x_j^2.
func (p *Program) Effort(x []float64) float64 {
	sum := 0.0
	for j, w := range p.W {
		sum += w * x[j] * x[j]
	}
	return sum / 2
}

// check panics when the program breaks its own rules: the caller's bug.
func (p *Program) check() {
	m, n := p.A.Dims()
	if len(p.B) != m || (p.Miss != nil && len(p.Miss) != m) {
		panic(fmt.Sprintf("solve: %d rows but %d sides and %d prices", m, len(p.B), len(p.Miss)))
	}
	if len(p.C) != n || len(p.W) != n || len(p.Lo) != n || len(p.Hi) != n {
		panic(fmt.Sprintf("solve: %d columns but c, w, lo, hi of %d, %d, %d, %d", n, len(p.C), len(p.W), len(p.Lo), len(p.Hi)))
	}
	for j := range n {
		switch {
		case !finite(p.C[j]) || !finite(p.W[j]) || p.W[j] < 0:
			panic(fmt.Sprintf("solve: column %d has cost %g and weight %g", j, p.C[j], p.W[j]))
		case !finite(p.Lo[j]) || !(p.Lo[j] <= p.Hi[j]):
			panic(fmt.Sprintf("solve: column %d may not lie between %g and %g", j, p.Lo[j], p.Hi[j]))
		}
	}
	for i := range m {
		if !finite(p.B[i]) || (p.Miss != nil && !(finite(p.Miss[i]) && p.Miss[i] > 0)) {
			panic(fmt.Sprintf("solve: row %d has a side or a price that is no number", i))
		}
	}
	for k, v := range p.A.value {
		if !finite(v) {
			panic(fmt.Sprintf("solve: entry %g in row %d", v, p.A.row[k]))
		}
	}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
