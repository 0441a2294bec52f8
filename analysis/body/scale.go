package body

import (
	"fmt"
	"maps"
	"slices"
)

// PersonError refuses a person whom the model cannot stand for.
type PersonError struct{ What string }

// Error says which size is out of range and what the range is.
func (e *PersonError) Error() string { return e.What }

// Limits gives the smallest and the largest person the model stands for.
func (m *Model) Limits() (smallest, largest Person) { return m.smallest, m.largest }

// Scaled returns the body of a person: every length grows with stature, masses
// follow the person's mass and the sex's published fractions, and muscles keep
// their share of the body's volume (PCSA grows with mass over stature). The
// skeleton's proportions are those of the reference man for both sexes.
//
// A size outside the limits, or a sex without a column in the anthropometric
// table, is a *PersonError.
func (m *Model) Scaled(p Person) (*Model, error) {
	lo, hi := m.Limits()
	switch {
	case !(p.Stature >= lo.Stature && p.Stature <= hi.Stature):
		return nil, &PersonError{fmt.Sprintf("a stature of %g m is outside %g to %g m, the adults that the model stands for", p.Stature, lo.Stature, hi.Stature)}
	case !(p.Mass >= lo.Mass && p.Mass <= hi.Mass):
		return nil, &PersonError{fmt.Sprintf("a mass of %g kg is outside %g to %g kg, the adults that the model stands for", p.Mass, lo.Mass, hi.Mass)}
	case p.Sex != Male && p.Sex != Female:
		return nil, &PersonError{fmt.Sprintf("%q is not a row of the anthropometric table; it has %q and %q", p.Sex, Female, Male)}
	}
	s := p.Stature / m.Person.Stature
	area := p.Mass / m.Person.Mass / s
	c := *m
	c.Person = p
	c.Segments = slices.Clone(m.Segments)
	for i := range c.Segments {
		g := &c.Segments[i]
		g.From, g.To, g.Length = g.From.Scale(s), g.To.Scale(s), g.Length*s
	}
	c.anthropometry = maps.Clone(m.anthropometry)
	c.setInertia(p.Sex, p.Mass)
	c.Joints = slices.Clone(m.Joints)
	for i := range c.Joints {
		j := &c.Joints[i]
		j.InParent, j.InChild = j.InParent.Scale(s), j.InChild.Scale(s)
	}
	c.Surfaces = slices.Clone(m.Surfaces)
	for i := range c.Surfaces {
		f := &c.Surfaces[i]
		f.Centre, f.Radius = f.Centre.Scale(s), f.Radius*s
	}
	c.Muscles = slices.Clone(m.Muscles)
	for i := range c.Muscles {
		mu := &c.Muscles[i]
		mu.Fibre, mu.PCSA = mu.Fibre*s, mu.PCSA*area
		mu.Path = slices.Clone(mu.Path)
		for k := range mu.Path {
			mu.Path[k].At = mu.Path[k].At.Scale(s)
		}
	}
	c.Ribs = slices.Clone(m.Ribs)
	for i := range c.Ribs {
		c.Ribs[i].At = c.Ribs[i].At.Scale(s)
	}
	c.Patches = slices.Clone(m.Patches)
	for i := range c.Patches {
		pt := &c.Patches[i]
		pt.Points = slices.Clone(pt.Points)
		for k := range pt.Points {
			pt.Points[k] = pt.Points[k].Scale(s)
		}
	}
	return &c, nil
}
