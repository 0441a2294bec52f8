package solve

import "math"

// The careful way to the least effort, for programs that defeat the fast one:
// where the rows leave no room the fast one's multipliers grow without end, and
// where a weightless column has nothing to stop it, its x does. This one walks
// along the faces of the feasible set. Beside the basics, which meet the rows,
// some columns are loose between their limits. Each step goes to the least of
// effort plus cost over the loose columns, or to the first limit on the way,
// which then holds one column more; at the least over the loose columns, one
// that would gain by leaving its limit is let loose (Wolfe 1962, Murtagh and
// Saunders 1978). Every point on the way meets the rows, and the multipliers
// come from a basis, so that neither can run away.
const (
	// loose is the place of a column between its limits that is not basic.
	loose = -3
	// flat is the curvature, relative to that of the parts it is a difference
	// of, that counts as none.
	flat = 1e-11
	// minimal is the reduced cost at which a loose column is at its best,
	// relative to the largest force.
	minimal = 1e-13
	// idleShare is the share of the largest weight at x that costs and forces
	// count as at least: where effort vanishes, so do they.
	idleShare = 1e-4
	// enough is how many full steps in a row end the search over the loose columns:
	// the second takes out the rounding of the first.
	enough = 3
)

// walk is the workspace of the careful search. Its basis is its own.
type walk struct {
	simplex
	c     []float64 // the cost
	sup   []int     // the loose columns, in the order they were let loose
	alpha []float64 // B⁻¹ A_j of each of them, m at a time
	h, l  []float64 // the curvature over the loose columns, and its factor
	p     []float64 // their step
	due   []float64
	begun float64   // the size of x at the start
	step  []float64 // the step of the basics
	whole bool      // alpha and h fit the basis and the loose columns
	sound bool      // the last pivot of l stands out from rounding
}

// from starts at the corner where a simplex stands.
func (k *walk) from(s *simplex) {
	k.begin(s.scaled)
	copy(k.x, s.x)
	k.sup, k.whole = k.sup[:0], false
	k.step = resize(k.step, s.m)
	copy(k.head, s.head)
	copy(k.at, s.at)
	copy(k.xb, s.xb)
	copy(k.top, s.top)
	k.begun = max(s.size, 1e-6)
	k.open, k.plain = s.open, s.plain
	k.dim, k.stale = s.dim, s.stale
	k.inv = append(k.inv[:0], s.inv...)
}

// descend walks to the least of effort plus cost.
func (k *walk) descend(c []float64) outcome {
	k.c = append(k.c[:0], c...)
	k.still = 0
	for j := range k.weight {
		k.weight[j] = 1
	}
	full, cleaned := 0, false // full steps since the loose columns last changed
	for range 400 + 40*(k.m+k.n) {
		if k.stale >= renew && !k.refresh() {
			return lost
		}
		k.forces()
		if len(k.sup) > 0 && full < enough && !(full > 0 && k.atBest()) {
			k.curve()
			whole, got := k.stride()
			if got != least {
				return got
			}
			full++
			if !whole {
				full, cleaned = 0, false
			}
			continue
		}
		q, _ := k.choose()
		if q < 0 {
			if cleaned {
				k.forces()
				k.readAll()
				return least
			}
			cleaned = true
			if !k.refresh() {
				return lost
			}
			full = 0
			continue
		}
		full, cleaned = 0, false
		k.free(q)
	}
	return lost
}

// forces puts the point in order and finds multipliers and reduced costs there.
func (k *walk) forces() {
	k.remain()
	k.apply(k.xb, k.g)
	k.remain()
	clear(k.price[k.n:])
	k.idle = idleShare * largest(k.w) * max(k.size, k.begun)
	for j, x := range k.x {
		k.price[j] = k.w[j]*x + k.c[j]
	}
	k.prices()
	var one [1]int
	rest := k.step // what the basics still owe, taken out once
	for r, j := range k.head {
		row, value := k.entries(j, &one)
		rest[r] = k.price[j]
		for e, i := range row {
			rest[r] -= value[e] * k.y[i]
		}
	}
	k.applyT(k.y, rest)
	k.reduce()
}

// atBest reports whether no loose column would gain by moving.
func (k *walk) atBest() bool {
	worst := 0.0
	for _, j := range k.sup {
		worst = max(worst, math.Abs(k.d[j]))
	}
	return worst <= minimal/dear*k.floor
}

// free lets column q loose. One that was let loose for a way without end, which
// another cost does not want, goes back first.
func (k *walk) free(q int) {
	if a := len(k.sup) - 1; a >= 0 && k.whole && !k.sound {
		if j := k.sup[a]; k.x[j] == k.lo[j] || k.x[j] == k.hi[j] {
			k.hold(a, k.x[j] == k.hi[j])
		}
	}
	k.at[q] = loose
	k.sup = append(k.sup, q)
	k.whole = false
}
