package solve

// A point that meets the rows and limits and stands, in every column that a cost
// asks about, at the limit that suits the cost, is least for that cost without
// any search, and y = 0 proves it: a muscle that rests in any known way of
// holding needs no work in all of them. Points are cheap to keep, as each search
// ends at one.

// witnesses are points of the loaded program.
type witnesses struct {
	kept  []witness
	count int // of those in use
	next  int // the one to replace
}

type witness struct {
	x      []float64 // in scaled columns
	effort float64
}

// mostWitnesses bounds the time that looking through them takes.
const mostWitnesses = 48

func (k *witnesses) forget() { k.count, k.next = 0, 0 }

// keep adds a point.
func (k *witnesses) keep(x []float64, effort float64) {
	if k.next == len(k.kept) && k.next < mostWitnesses {
		k.kept = append(k.kept, witness{})
	}
	w := &k.kept[k.next]
	w.x, w.effort = append(w.x[:0], x...), effort
	k.count = max(k.count, k.next+1)
	k.next = (k.next + 1) % mostWitnesses
}

// find returns a point of no more than the given effort that needs no search for
// cost c, if there is one.
func (k *witnesses) find(f *scaled, c []float64, effort float64) ([]float64, bool) {
points:
	for _, w := range k.kept[:k.count] {
		if w.effort > effort {
			continue
		}
		for j, v := range c {
			if v > 0 && w.x[j] != f.lo[j] || v < 0 && w.x[j] != f.hi[j] {
				continue points
			}
		}
		return w.x, true
	}
	return nil, false
}

// known answers a cost from the witnesses, if it can.
func (s *Solver) known(c []float64, effort float64, sol *Solution) bool {
	x, ok := s.seen.find(&s.scaled, c, effort)
	if !ok {
		return false
	}
	clear(sol.Y)
	s.take(sol, Optimal, x, sol.Y)
	return true
}

// witness keeps a point of the program.
func (s *Solver) witness(x []float64) {
	sum := 0.0
	for j, w := range s.w {
		sum += w * x[j] * x[j]
	}
	s.seen.keep(x, sum/2)
}
