package pose

import (
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"

	"gonum.org/v1/gonum/mat"
)

// Limits of the search for rest. Lengths in m, angles in rad.
const (
	placeSteps = 40    // iterations at most; four to eight are usual
	placeDone  = 1e-10 // stop when no unknown moves farther
	probeStep  = 1e-6  // of the difference quotients
	longStep   = 0.5   // rad or m an unknown may move at once
	placeGrain = 1e-9  // to which the result is rounded
	// softBelow parts what contact decides from what it leaves open, as the sum
	// over contact points of squared height per squared radian [m2]. Rolling
	// one flat foot 4 cm wide gives 0.0016; turning about the nearly straight
	// line under the balls of the feet gives 0.0001.
	softBelow = 6e-4
	// keepWeight holds what neither contact nor balance decides where it was.
	keepWeight = 1e-4
)

// heights lists how far every contact point is from its surface: the floor is
// at zero, and the height of a seat or bar and the place of a wall are the mean
// of what rests there.
func (s *settle) heights(dst []float64) []float64 {
	s.p.Set(s.q)
	for _, on := range []string{body.Floor, body.Seat, body.Bar, body.Wall} {
		from := len(dst)
		sum := 0.0
		for _, c := range s.contacts {
			if c.On != on {
				continue
			}
			for _, pt := range c.Patch.Points {
				w := s.p.Frames[c.Patch.Segment].Point(pt)
				v := w.Y
				if on == body.Wall {
					v = w.X
				}
				dst = append(dst, v)
				sum += v
			}
		}
		if n := len(dst) - from; n > 0 && on != body.Floor {
			for i := from; i < len(dst); i++ {
				dst[i] -= sum / float64(n)
			}
		}
	}
	return dst
}

// balance is how far the centre of mass is from where it should be, seen from
// above: outside the base or, on the feet alone, off the middle of them.
func (s *settle) balance() geom.Vec {
	com := s.p.CentreOfMass()
	var mid geom.Vec
	n := 0.0
	if s.hangs() { // a body that hangs still comes to rest right under its bar
		for _, c := range s.contacts {
			mid = mid.Add(s.middle(c))
		}
		d := com.Sub(mid.Scale(1 / float64(len(s.contacts))))
		return geom.V(d.X, 0, d.Z)
	}
	for _, c := range s.contacts {
		switch key := body.Bare(c.Patch.Key); {
		case c.On == body.Wall:
			return geom.Vec{}
		case c.On == body.Floor && (key == "heel" || key == "ball"):
			mid = mid.Add(s.middle(c))
			n++
		case c.On == body.Floor && key == "toes":
		default:
			return s.base().outside(com)
		}
	}
	if n == 0 {
		return s.base().outside(com)
	}
	d := com.Sub(mid.Scale(1 / n))
	return geom.V(d.X, 0, d.Z)
}

// hangs reports whether a bar carries all of the body.
func (s *settle) hangs() bool {
	for _, c := range s.contacts {
		if c.On != body.Bar {
			return false
		}
	}
	return true
}

// base is the base of support at the present pose.
func (s *settle) base() base {
	s.points = s.points[:0]
	for _, c := range s.contacts {
		if c.On != body.Wall {
			for _, pt := range c.Patch.Points {
				s.points = append(s.points, s.p.Frames[c.Patch.Segment].Point(pt))
			}
		}
	}
	return baseOf(s.points)
}

// middle is where the middle of a contact's patch is at the present pose.
func (s *settle) middle(c Contact) geom.Vec {
	var sum geom.Vec
	for _, pt := range c.Patch.Points {
		sum = sum.Add(s.p.Frames[c.Patch.Segment].Point(pt))
	}
	return sum.Scale(1 / float64(len(c.Patch.Points)))
}

// solve takes Gauss-Newton steps on the unknowns in two ranks: along the
// directions that contact decides the heights are brought to zero, and along
// the others the balance, as far as it can be.
func (s *settle) solve() {
	s.origin = s.origin[:0]
	for _, c := range s.unknowns {
		s.origin = append(s.origin, s.q[c])
	}
	n := len(s.unknowns)
	for range placeSteps {
		h := s.heights(nil)
		bal := s.balance()
		jh := mat.NewDense(len(h), n, nil)
		jb := mat.NewDense(2, n, nil)
		for k, c := range s.unknowns {
			old := s.q[c]
			s.q[c] = old + probeStep
			for i, v := range s.heights(nil) {
				jh.Set(i, k, (v-h[i])/probeStep)
			}
			d := s.balance().Sub(bal).Scale(1 / probeStep)
			jb.Set(0, k, d.X)
			jb.Set(1, k, d.Z)
			s.q[c] = old
		}
		step := s.step(h, bal, jh, jb)
		most := 0.0
		for k, c := range s.unknowns {
			d := max(-longStep, min(longStep, step.AtVec(k)))
			s.q[c] += d
			most = max(most, math.Abs(d))
		}
		if most < placeDone {
			break
		}
	}
	// The linear algebra's last bits depend on where its memory lies; rounding
	// them away makes the same posture the same in every run.
	for _, c := range s.unknowns {
		s.q[c] = math.Round(s.q[c]/placeGrain) * placeGrain
	}
	s.p.Set(s.q)
}

// step gives one move of the unknowns from heights h and balance bal and their
// derivatives.
func (s *settle) step(h []float64, bal geom.Vec, jh, jb *mat.Dense) *mat.VecDense {
	n := len(s.unknowns)
	var jtj mat.Dense
	jtj.Mul(jh.T(), jh)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, jtj.At(i, j))
		}
	}
	var eig mat.EigenSym
	step := mat.NewVecDense(n, nil)
	if !eig.Factorize(sym, true) {
		return step // not reached for finite numbers; no move is the safe answer
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	var grad mat.VecDense
	grad.MulVec(jh.T(), mat.NewVecDense(len(h), h))
	soft := 0
	for k, lambda := range eig.Values(nil) { // ascending
		if lambda < softBelow {
			soft = k + 1
			continue
		}
		step.AddScaledVec(step, -mat.Dot(v.ColView(k), &grad)/lambda, v.ColView(k))
	}
	if soft == 0 {
		return step
	}
	// Along the soft directions: least squares of the balance after the stiff
	// step, and of the way back to the start.
	open := v.Slice(0, n, 0, soft)
	var jo, lhs mat.Dense
	jo.Mul(jb, open)
	lhs.Mul(jo.T(), &jo)
	var after mat.VecDense
	after.MulVec(jb, step)
	after.AddVec(&after, mat.NewVecDense(2, []float64{bal.X, bal.Z}))
	var rhs, back, z mat.VecDense
	rhs.MulVec(jo.T(), &after)
	away := mat.NewVecDense(n, nil)
	for k, c := range s.unknowns {
		away.SetVec(k, s.q[c]-s.origin[k]+step.AtVec(k))
	}
	back.MulVec(open.T(), away)
	rhs.AddScaledVec(&rhs, keepWeight*keepWeight, &back)
	for k := range soft {
		lhs.Set(k, k, lhs.At(k, k)+keepWeight*keepWeight)
	}
	if err := z.SolveVec(&lhs, &rhs); err != nil && z.Len() == 0 {
		return step
	}
	var move mat.VecDense
	move.MulVec(open, &z)
	step.SubVec(step, &move)
	return step
}
