package solve

// Status says what an answer is.
type Status int

const (
	// Unsolved is an answer that no proof stands behind: the search ended
	// without settling the question. Its numbers must not be used.
	Unsolved Status = iota
	// Optimal: X is a least solution and Y proves it.
	Optimal
	// Infeasible: no x meets the rows within the limits. Y proves it, X is a
	// way that misses least, Shortfall says what is missing.
	Infeasible
	// Unbounded: the cost falls for ever along Ray, starting from X.
	Unbounded
)

func (s Status) String() string {
	switch s {
	case Optimal:
		return "optimal"
	case Infeasible:
		return "infeasible"
	case Unbounded:
		return "unbounded"
	}
	return "unsolved"
}

// Solution is an answer with its proof. Slices are reused when the same
// Solution is handed in again.
type Solution struct {
	Status    Status
	X         []float64 // one per column
	Y         []float64 // one multiplier per row; when Infeasible the proof of it
	Objective float64   // the cost that was minimised, at X

	// Price is the multiplier of the cap in BoundWithin, else zero: the fall
	// of the bound per unit of effort allowed. It is zero where the cap does
	// not bind.
	Price float64

	// Shortfall is B - A X when Infeasible, one per row; else empty. It is the
	// least possible in the sum of its parts priced by Miss.
	Shortfall []float64

	// Ray is a direction of endless gain when Unbounded; else empty.
	Ray []float64

	// Steps counts the linear systems solved on the way.
	Steps int
}

// shape sizes the slices for m rows and n columns and clears the findings.
func (s *Solution) shape(m, n int) {
	s.X, s.Y = resize(s.X, n), resize(s.Y, m)
	s.Shortfall, s.Ray = s.Shortfall[:0], s.Ray[:0]
	s.Status, s.Objective, s.Price, s.Steps = Unsolved, 0, 0, 0
}

// resize returns a slice of length n, keeping the memory and what it holds.
func resize[T any](s []T, n int) []T {
	if cap(s) >= n {
		return s[:n]
	}
	return make([]T, n)
}
