package solve

import "math"

// sure follows x(t) by the careful search, which stands at a point of the
// program.
type sure struct{ s *Solver }

func (f sure) at(t float64, c []float64) outcome {
	q, k := &f.s.qp, &f.s.slow
	cost := resize(f.s.side, len(c))
	f.s.side = cost
	for j, v := range c {
		cost[j] = t * v
	}
	if got := k.descend(cost); got != least {
		return got
	}
	copy(q.x, k.x)
	copy(q.y, k.y)
	for j := range q.in {
		q.in[j] = k.at[j] != atLow && k.at[j] != atHigh
	}
	q.rebuild()
	return least
}

// turn moves the loose columns so that none of them comes to gain by more, and
// the basics with them.
func (f sure) turn(c []float64, b *capped) bool {
	k := &f.s.slow
	clear(b.dx)
	clear(b.dy)
	if len(k.sup) > 0 {
		k.curve()
	}
	due := k.step // what c asks of each basic
	for r, j := range k.head {
		due[r] = 0
		if j < k.n {
			due[r] = c[j]
		}
	}
	for a, j := range k.sup {
		k.p[a] = dot(due, k.alpha[a*k.m:a*k.m+k.m]) - c[j]
	}
	if n := len(k.sup); n > 0 {
		if k.sound {
			back(k.l, k.p, n)
		} else if math.Abs(k.gain()) > dear*largest(c) {
			return false
		} else { // nothing asks for the way without end
			k.pinned(k.p)
		}
	}
	clear(k.step)
	for a, j := range k.sup {
		p := k.p[a]
		b.dx[j] = p
		add(k.step, -p, k.alpha[a*k.m:a*k.m+k.m])
	}
	for r, j := range k.head {
		if j < k.n {
			b.dx[j] = k.step[r]
			k.step[r] = k.w[j]*b.dx[j] + c[j]
		}
	}
	k.applyT(b.dy, k.step)
	return !math.IsNaN(dot(b.dy, b.dy))
}
