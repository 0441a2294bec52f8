package analysis

import (
	"slices"

	"tautline/analysis/body"
)

// In a posture that is its own mirror image both sides are taken to do alike.
// Otherwise one foot could push forward and the other back, the floor's friction
// holding the twist, and no muscle of either leg would have to work although the
// two together must. Any way of holding such a posture and its mirror image make
// one between them that is alike on both sides, so that a bound on the mean of
// the sides is the bound on either. This holds for groups, of which people say
// that they work; which muscle of a group does stays open to either side.

// alike gives the use of some activations on the two sides together, half each;
// the use itself where the sides differ or the use takes in both already.
func (a *Analyser) alike(use []share, both bool) []share {
	oneSided := func(u share) bool {
		return a.Model.Muscles[u.muscle].Side == a.Model.Muscles[use[0].muscle].Side && a.Model.Muscles[u.muscle].Mirror != u.muscle
	}
	if !both || len(use) == 0 || slices.ContainsFunc(use, func(u share) bool { return !oneSided(u) }) {
		return use
	}
	list := make([]share, 0, 2*len(use))
	for _, u := range use {
		list = append(list, share{u.muscle, u.part / 2}, share{a.Model.Muscles[u.muscle].Mirror, u.part / 2})
	}
	return list
}

// bothSides adds the same coordinates of the other side.
func (a *Analyser) bothSides(coords []body.CoordID, both bool) []body.CoordID {
	if !both {
		return coords
	}
	list := slices.Clone(coords)
	for _, c := range coords {
		if other, ok := a.Model.Coord(otherSide(a.Model.Coords[c].Key)); ok && !slices.Contains(list, other) {
			list = append(list, other)
		}
	}
	return list
}
