package solve

// drop forgets the stiffness, so that the next step builds it anew.
func (q *quadratic) drop() {
	clear(q.in)
	clear(q.k)
	for i := range q.m {
		q.k[i*q.m+i] = q.delta
	}
	q.drift, q.fresh = 0, false
}

// move takes column j into k's set or out of it.
func (q *quadratic) move(j int, in bool) {
	f := 1 / q.d[j]
	if !in {
		f = -f
	}
	q.in[j] = in
	q.stiffen(j, f)
	q.drift++
	q.fresh = false
}

// stiffen adds f A_j A_jᵀ to the lower triangle of k.
func (q *quadratic) stiffen(j int, f float64) {
	row, value := q.column(j)
	for a, i := range row {
		ki, fa := q.k[i*q.m:], f*value[a]
		for b, h := range row[:a+1] {
			ki[h] += fa * value[b]
		}
	}
}

// rebuild sums k anew, which rids it of the rounding that changes leave.
func (q *quadratic) rebuild() {
	clear(q.k)
	for i := range q.m {
		q.k[i*q.m+i] = q.delta
	}
	for j, in := range q.in {
		if in {
			q.stiffen(j, 1/q.d[j])
		}
	}
	q.drift, q.fresh = 0, false
}

func (q *quadratic) refactor() {
	if !q.fresh {
		cholesky(q.l, q.k, q.m, q.delta/2)
		q.fresh = true
	}
}

// loosen weakens the pull that holds the rounds up: on y, where few columns are
// free to meet the rows and must be stiffer than the pull; on x, where weightless
// columns have far to go for little.
func (q *quadratic) loosen(met bool) {
	if !met && q.delta > 1e-14*q.sigma {
		q.pull(q.delta/30, q.ease)
	}
	if met && q.ease > 1e-6 {
		q.pull(q.delta, q.ease/10)
	}
}

// pull sets the weight on y and the share of the full weight on x.
func (q *quadratic) pull(delta, ease float64) {
	if q.delta == delta && q.ease == ease {
		return
	}
	q.delta = delta
	if q.ease != ease {
		for j, w := range q.w {
			q.rho[j] = ease * q.full[j]
			q.d[j] = w + q.rho[j]
		}
	}
	q.ease = ease
	q.rebuild()
}
