package draw

import (
	"math"
	"slices"
)

// straight is by how much a line may be off its points.
const straight = 0.16

// Thin leaves out the points of a ring that lie straight between others.
func Thin(r []Pt) []Pt {
	if len(r) < 4 {
		return r
	}
	far := 0
	for i, p := range r {
		if math.Hypot(p.X-r[0].X, p.Y-r[0].Y) > math.Hypot(r[far].X-r[0].X, r[far].Y-r[0].Y) {
			far = i
		}
	}
	out := append([]Pt{r[0]}, bends(r[:far+1])...)
	out = append(out, r[far])
	return append(out, bends(append(slices.Clone(r[far:]), r[0]))...)
}

// bends returns the points between the ends of a line that it cannot do without.
func bends(r []Pt) []Pt {
	if len(r) < 3 {
		return nil
	}
	a, b := r[0], r[len(r)-1]
	dx, dy := b.X-a.X, b.Y-a.Y
	l := max(1e-9, math.Hypot(dx, dy))
	at, most := 0, straight
	for i := 1; i < len(r)-1; i++ {
		if d := math.Abs((r[i].X-a.X)*dy-(r[i].Y-a.Y)*dx) / l; d > most {
			at, most = i, d
		}
	}
	if at == 0 {
		return nil
	}
	return append(append(bends(r[:at+1]), r[at]), bends(r[at:])...)
}
