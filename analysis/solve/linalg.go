package solve

import "math"

// dot is the inner product of two slices of one length.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	k := 0
	for ; k+4 <= len(a); k += 4 {
		x, y := a[k:k+4:k+4], b[k:k+4:k+4]
		s0 += x[0] * y[0]
		s1 += x[1] * y[1]
		s2 += x[2] * y[2]
		s3 += x[3] * y[3]
	}
	for ; k < len(a); k++ {
		s0 += a[k] * b[k]
	}
	return (s0 + s1) + (s2 + s3)
}

// add puts y + f x into y.
func add(y []float64, f float64, x []float64) {
	x = x[:len(y)]
	k := 0
	for ; k+4 <= len(y); k += 4 {
		u, v := y[k:k+4:k+4], x[k:k+4:k+4]
		u[0] += f * v[0]
		u[1] += f * v[1]
		u[2] += f * v[2]
		u[3] += f * v[3]
	}
	for ; k < len(y); k++ {
		y[k] += f * x[k]
	}
}

// largest is the greatest absolute value in x, zero when there is none.
func largest(x []float64) float64 {
	top := 0.0
	for _, v := range x {
		top = max(top, math.Abs(v))
	}
	return top
}

// cholesky puts the lower factor of the symmetric m x m matrix k, of which only
// the lower triangle is read, into l. A pivot below the floor is raised to it,
// so that the factor always exists; the diagonal of l holds reciprocals.
func cholesky(l, k []float64, m int, floor float64) {
	for i := range m {
		li := l[i*m : i*m+i+1]
		copy(li, k[i*m:i*m+i+1])
		for j := range i {
			lj := l[j*m : j*m+j+1]
			li[j] = (li[j] - dot(li[:j], lj[:j])) * lj[j]
		}
		pivot := li[i] - dot(li[:i], li[:i])
		li[i] = 1 / math.Sqrt(max(pivot, floor))
	}
}

// back solves l lᵀ x = x in place for a factor from cholesky.
func back(l, x []float64, m int) {
	for i := range m {
		li := l[i*m : i*m+i+1]
		x[i] = (x[i] - dot(li[:i], x[:i])) * li[i]
	}
	for i := m - 1; i >= 0; i-- {
		li := l[i*m : i*m+i+1]
		x[i] *= li[i]
		add(x[:i], -x[i], li[:i])
	}
}
