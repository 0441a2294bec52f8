package solve

import "math"

// exchangeAll brings columns into the basis until none is worth it.
func (s *simplex) exchangeAll() outcome {
	s.still = 0
	s.prices()
	for j := range s.weight {
		s.weight[j] = 1
	}
	cleaned := false
	for range 200 + 40*(s.m+s.n) {
		q, d := s.choose()
		if q < 0 {
			if cleaned || s.tidy() {
				s.read()
				return least
			}
			cleaned = true // once more, from a fresh inverse
			if !s.refresh() {
				return lost
			}
			continue
		}
		cleaned = false
		if got := s.enter(q, d); got != least {
			return got
		}
		if s.stale >= renew && !s.refresh() {
			return lost
		}
	}
	return lost
}

// prices computes y from the costs of the basics.
func (s *simplex) prices() {
	clear(s.y)
	for r, j := range s.head {
		s.alpha[r] = s.price[j]
	}
	s.applyT(s.y, s.alpha)
	s.reduce()
}

// reduce computes the reduced costs from y.
func (s *simplex) reduce() {
	s.floor = dear * max(largest(s.y), largest(s.price), s.idle)
	for j := range s.n {
		s.d[j] = s.price[j] - s.times(j, s.y)
	}
	for i, y := range s.y {
		s.d[s.n+i] = s.price[s.n+i] - y
		s.d[s.n+s.m+i] = s.price[s.n+s.m+i] + y
	}
}

// choose returns the column to bring in and its reduced cost, or -1. After many
// exchanges without progress it takes the first that is worth anything, which
// cannot go in circles (Bland 1977).
func (s *simplex) choose() (int, float64) {
	best, at, cost := 0.0, -1, 0.0
	bland := s.patience()
	for j, place := range s.at[:s.open] {
		if place >= 0 {
			continue
		}
		d := s.d[j]
		if math.Abs(d) <= s.floor || s.top[j] == s.low(j) {
			continue
		}
		if place == atHigh && d > 0 || place == atLow && d < 0 {
			if bland {
				return j, d
			}
			if worth := d * d / s.weight[j]; worth > best {
				best, at, cost = worth, j, d
			}
		}
	}
	return at, cost
}

func (s *simplex) patience() bool { return s.plain || s.still > 30+s.m/2 }

// enter moves column q from its limit until it or a basic meets another limit.
func (s *simplex) enter(q int, d float64) outcome {
	var one [1]int
	row, value := s.entries(q, &one)
	s.ahead(s.alpha, row, value)
	s.steps++
	way := 1.0
	if s.at[q] == atHigh {
		way = -1
	}
	span := s.top[q] - s.low(q)
	r, t := s.block(way, span)
	if math.IsInf(t, 1) {
		s.endless(q, way)
		return endless
	}
	if t > held*s.size {
		s.still = 0
	} else {
		s.still++
	}
	if t != 0 {
		add(s.xb, -way*t, s.alpha)
	}
	if r < 0 { // q goes to its other limit
		s.at[q] = atLow + atHigh - s.at[q]
		return least
	}
	out := s.head[r]
	if way*s.alpha[r] > 0 {
		s.at[out] = atLow
	} else {
		s.at[out] = atHigh
	}
	from := s.low(q)
	if way < 0 {
		from = s.top[q]
	}
	s.exchange(r, s.alpha)
	s.head[r], s.at[q], s.xb[r] = q, r, from+way*t
	s.update(q, out, r, d)
	return least
}

// update brings multipliers, reduced costs and pricing up to date after q took
// place r of out. A devex weight stands for the squared length of the edge that
// its column moves along (Harris 1973).
func (s *simplex) update(q, out, r int, d float64) {
	pivot := s.inv[r*s.m : r*s.m+s.m]
	add(s.y, d, pivot)
	wq := s.weight[q]
	for j, place := range s.at[:s.open] {
		if place >= 0 || s.top[j] == s.low(j) {
			continue
		}
		var a float64
		switch {
		case j < s.n:
			a = s.times(j, pivot)
		case j < s.n+s.m:
			a = pivot[j-s.n]
		default:
			a = -pivot[j-s.n-s.m]
		}
		if a != 0 {
			s.d[j] -= d * a
			s.weight[j] = max(s.weight[j], a*a*wq)
		}
	}
	a := s.alpha[r]
	s.weight[out] = max(wq/(a*a), 1)
	s.d[q] = 0
}

// block returns the place of the basic that stops the entering column, or -1,
// and how far that is. Among basics that stop it at about the same point the
// one with the largest entry goes, in the manner of Harris (1973); when going
// in circles is feared, the first column.
func (s *simplex) block(way, span float64) (int, float64) {
	play := held * s.size
	reach := math.Inf(1)
	for r, a := range s.alpha {
		if a = way * a; math.Abs(a) > smallPivot {
			reach = min(reach, (s.room(r, a)+play)/math.Abs(a))
		}
	}
	if span <= reach {
		return -1, span
	}
	at, t, big := -1, reach, 0.0
	bland := s.patience()
	for r, a := range s.alpha {
		a = way * a
		if math.Abs(a) <= smallPivot {
			continue
		}
		if room := s.room(r, a) / math.Abs(a); room <= reach {
			better := math.Abs(a) > big
			if bland {
				better = at < 0 || s.head[r] < s.head[at]
			}
			if better {
				at, t, big = r, room, math.Abs(a)
			}
		}
	}
	return at, max(t, 0)
}

// room is how far basic r may fall (a > 0) or rise (a < 0).
func (s *simplex) room(r int, a float64) float64 {
	if j := s.head[r]; a > 0 {
		return max(s.xb[r]-s.low(j), 0)
	} else {
		return max(s.top[j]-s.xb[r], 0)
	}
}

// endless records the direction of q.
func (s *simplex) endless(q int, way float64) {
	s.read()
	clear(s.ray)
	if q < s.n {
		s.ray[q] = way
	}
	for r, j := range s.head {
		if j < s.n && math.Abs(s.alpha[r]) > smallPivot {
			s.ray[j] = -way * s.alpha[r]
		}
	}
}
