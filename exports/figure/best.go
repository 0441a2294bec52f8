package figure

import (
	"math"
	"slices"
)

// How large a picture is when views are only tried, px.
const tryWide, tryHigh = 90, 120

// BestView is the plain level view that shows most of the body and of what
// labels name, the first ones counting most; of views that show as much, the first.
func (a *Artist) BestView(s *Scene, labels []Label) View {
	best, most := Front, 0.0
	for _, v := range []View{Front, Back, Right, Left} {
		sg := a.Draw(s, v.Seen()).see(tryWide, tryHigh)
		bands := sg.bands
		// A movement shows where the body is broadest.
		broad := 0
		for _, d := range sg.relief.depth {
			if d != nothing {
				broad++
			}
		}
		sum := 0.0
		for i, l := range labels[:min(len(labels), 2*mostLabels)] {
			good := 0.0
			for k := range bands {
				if b := &bands[k]; b.Role == l.Role && slices.Contains(l.Muscles, b.Muscle) {
					good = max(good, b.shown()*min(1, b.long()/tryHigh*4))
				}
			}
			sum += good / float64(i+4)
		}
		along := foreshortened(s, sg.camera)
		sum *= float64(broad) / (sg.fine.scale * sg.fine.scale) * along * along * along * along
		// The front is what people look for: another view must show clearly more.
		if sum > most {
			best, most = v, sum*1.1
		}
	}
	return best
}

// foreshortened is how long the body's parts look together, as a share of how
// long they are.
func foreshortened(s *Scene, c camera) float64 {
	looks, is := 0.0, 1e-9
	for _, g := range s.Groups {
		for _, p := range g.Solids {
			d := p.B.Sub(p.A)
			looks += math.Hypot(d.Dot(c.right), d.Dot(c.up))
			is += d.Norm()
		}
	}
	return looks / is
}
