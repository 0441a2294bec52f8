package solve

import "math"

// curve finds the curvature over the loose columns and factors it.
func (k *walk) curve() {
	if k.whole {
		return
	}
	k.whole = true
	m, n := k.m, len(k.sup)
	k.alpha = resize(k.alpha, n*m)
	k.h, k.l, k.p = resize(k.h, n*n), resize(k.l, n*n), resize(k.p, n)
	weighed := k.step
	size := 0.0
	for a, j := range k.sup {
		row, value := k.column(j)
		k.ahead(k.alpha[a*m:a*m+m], row, value)
		for r, v := range k.alpha[a*m : a*m+m] {
			weighed[r] = 0
			if b := k.head[r]; b < k.n {
				weighed[r] = k.w[b] * v
			}
		}
		for b := range a {
			k.h[a*n+b] = dot(weighed, k.alpha[b*m:b*m+m])
		}
		k.h[a*n+a] = k.w[j] + dot(weighed, k.alpha[a*m:a*m+m])
		size = max(size, k.h[a*n+a])
	}
	floor := max(flat*k.h[n*n-1], 1e-30*size, 1e-100)
	cholesky(k.l, k.h, n, floor)
	last := k.l[n*n-1]
	k.sound = !(1/(last*last) <= 2*floor)
}

// stride moves the loose columns to their least, or to the first limit on the
// way, and reports whether it came all the way.
func (k *walk) stride() (full bool, got outcome) {
	n := len(k.sup)
	for a, j := range k.sup {
		k.p[a] = -k.d[j]
	}
	end := 1.0
	switch {
	case k.sound:
		back(k.l, k.p, n)
	case math.Abs(k.gain()) > k.floor:
		// Along the last column there is gain without curvature, and no end.
		k.p[n-1] = k.gain()
		clear(k.p[:n-1])
		back(k.l, k.p, n)
		end = math.Inf(1)
	default:
		k.pinned(k.p)
	}
	clear(k.step)
	for a, p := range k.p {
		add(k.step, -p, k.alpha[a*k.m:a*k.m+k.m])
	}
	a, r, t := k.stop(end)
	if a < 0 && r < 0 && k.sound && largest(k.p) > endlessly*max(k.size, 1) {
		k.sound = false // the curvature was only rounding
		return k.stride()
	}
	if math.IsInf(t, 1) {
		k.way()
		return false, endless
	}
	most := 0.0
	for i, j := range k.sup {
		k.x[j] += t * k.p[i]
		most = max(most, t*math.Abs(k.p[i]))
	}
	add(k.xb, t, k.step)
	if most > held*k.size {
		k.still = 0
	} else {
		k.still++
	}
	k.steps++
	switch {
	case a >= 0:
		k.hold(a, k.p[a] > 0)
	case r >= 0:
		k.swap(r)
	default:
		return true, least
	}
	return false, least
}

// gain is what p asks of the last loose column once the others have answered.
func (k *walk) gain() float64 {
	n := len(k.sup)
	k.due = append(k.due[:0], k.p...)
	for i := range n - 1 {
		li := k.l[i*n : i*n+i+1]
		k.due[i] = (k.due[i] - dot(li[:i], k.due[:i])) * li[i]
	}
	return k.due[n-1] - dot(k.l[n*n-n:n*n-1], k.due[:n-1])
}

// pinned solves for a step of the loose columns in which the last one stays.
func (k *walk) pinned(p []float64) {
	last := len(k.l) - 1
	pivot := k.l[last]
	k.l[last] = 0
	back(k.l, p, len(p))
	k.l[last] = pivot
}

// stop finds which loose column or which basic is the first to meet a limit, or
// neither before the end.
func (k *walk) stop(end float64) (a, r int, t float64) {
	play := held * k.size
	room := func(x, lo, hi, step float64) float64 {
		if step > 0 {
			return max(hi-x, 0)
		}
		return max(x-lo, 0)
	}
	top := max(largest(k.p), largest(k.step))
	small := func(step float64) bool { return math.Abs(step) <= smallPivot*top }
	reach := end
	for i, j := range k.sup {
		if p := k.p[i]; !small(p) {
			reach = min(reach, (room(k.x[j], k.lo[j], k.hi[j], p)+play)/math.Abs(p))
		}
	}
	for i, j := range k.head {
		if p := k.step[i]; !small(p) {
			reach = min(reach, (room(k.xb[i], k.low(j), k.top[j], p)+play)/math.Abs(p))
		}
	}
	a, r, t = -1, -1, reach
	if reach >= end {
		return a, r, end
	}
	big, first := 0.0, k.patience()
	at := k.n + 2*k.m
	better := func(j int, step float64) bool {
		if first {
			return j < at
		}
		return math.Abs(step) > big
	}
	for i, j := range k.sup {
		if p := k.p[i]; !small(p) {
			if to := room(k.x[j], k.lo[j], k.hi[j], p) / math.Abs(p); to <= reach && better(j, p) {
				a, r, t, big, at = i, -1, to, math.Abs(p), j
			}
		}
	}
	for i, j := range k.head {
		if p := k.step[i]; !small(p) {
			if to := room(k.xb[i], k.low(j), k.top[j], p) / math.Abs(p); to <= reach && better(j, p) {
				a, r, t, big, at = -1, i, to, math.Abs(p), j
			}
		}
	}
	return a, r, t
}

// hold puts loose column a to a limit.
func (k *walk) hold(a int, high bool) {
	j := k.sup[a]
	k.at[j] = atLow
	if high {
		k.at[j] = atHigh
	}
	k.sup = append(k.sup[:a], k.sup[a+1:]...)
	k.whole = false
}

// swap puts basic r to the limit that it met and a loose column into its place:
// the one that moves it most.
func (k *walk) swap(r int) {
	best := -1
	for a := range k.sup {
		if best < 0 || math.Abs(k.alpha[a*k.m+r]) > math.Abs(k.alpha[best*k.m+r]) {
			best = a
		}
	}
	out, in := k.head[r], k.sup[best]
	k.at[out] = atLow
	if k.step[r] > 0 {
		k.at[out] = atHigh
	}
	k.exchange(r, k.alpha[best*k.m:best*k.m+k.m])
	k.head[r], k.at[in], k.xb[r] = in, r, k.x[in]
	k.sup = append(k.sup[:best], k.sup[best+1:]...)
	k.whole = false
}

// way records the direction without end.
func (k *walk) way() {
	k.readAll()
	clear(k.ray)
	top := max(largest(k.p), largest(k.step))
	clean := func(step float64) float64 {
		if step <= smallPivot {
			return 0
		}
		return step
	}
	clear(k.ray)
	for a, j := range k.sup {
		k.ray[j] = clean(k.p[a] / top)
	}
	for r, j := range k.head {
		if j < k.n {
			k.ray[j] = clean(k.step[r] / top)
		}
	}
}

// readAll puts the point into x, within its limits.
func (k *walk) readAll() {
	k.read()
	for _, j := range k.sup {
		k.x[j] = min(max(k.x[j], k.lo[j]), k.hi[j])
	}
}
