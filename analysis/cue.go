package analysis

import (
	"math"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
	"tautline/analysis/solve"
)

// cueRow asks for at least so much of one measure, whatever gravity asks: a
// group's share of its strength, or the force at a contact in body weights. The
// effort goes against a stop, the other side or a support, as the equations find
// it; no outside force is made up for it.
type cueRow struct {
	cue     body.Cue
	group   group    // PullIn and Brace
	patches []string // PushAway and DrawIn: all that are asked alike, together
	use     []share
	least   float64
}

// Unmet is a cue that nothing resists, or not as much as is asked.
type Unmet struct {
	Cue     body.Cue
	Patches []string // of a contact cue, all that it was asked of; never nil
	// Toward is the group it was asked of, for Brace.
	Toward bool
	// Most is what can be met at most, in the measure of Asked: a share of the
	// group's strength, or body weights at the contact.
	Most, Asked float64
	// Together is true when the cue can be met alone, but not with the others.
	Together bool
}

// leastPress is the force at a contact below which there is nothing to push
// against, body weights.
const leastPress = 0.01

// cueRows collects what the cues ask. What a contact cue asks is known only
// once the posture is solved without it.
func (a *Analyser) cueRows(p *pose.Pose, cues []body.Cue) []cueRow {
	var rows []cueRow
	for _, c := range cues {
		switch c.Kind {
		case body.PushAway, body.DrawIn:
			same := slices.IndexFunc(rows, func(r cueRow) bool { return r.cue.Kind == c.Kind && r.cue.Intensity == c.Intensity })
			if same >= 0 {
				rows[same].patches = append(rows[same].patches, c.Patch)
			} else {
				rows = append(rows, cueRow{cue: c, patches: []string{c.Patch}})
			}
		default:
			for _, g := range a.groups {
				if g.movement == c.Movement && (c.Kind == body.PullIn && c.Toward == g.toward || c.Kind == body.Brace) {
					rows = append(rows, cueRow{cue: c, group: g, least: c.Intensity * a.braced(p, c, g)})
				}
			}
		}
	}
	return rows
}

// braced is the part of a group's strength that the group on the other side can
// stand against: bracing a joint, the stronger side works no harder than the
// weaker one can hold. One for other cues, and where nothing is on the other side.
func (a *Analyser) braced(p *pose.Pose, c body.Cue, g group) float64 {
	if c.Kind != body.Brace {
		return 1
	}
	i := slices.IndexFunc(a.groups, func(o group) bool { return o.movement == g.movement && o.toward != g.toward })
	own := g.capacity(a, p)
	if i < 0 || own == 0 {
		return 1
	}
	other := a.groups[i].capacity(a, p)
	if other == 0 {
		return 1
	}
	return math.Min(1, other/own)
}

// at gives the rows for a pose: how much each muscle does for its group there.
func (b *balance) at(rows []cueRow) {
	b.cues = slices.Clone(rows)
	for i := range b.cues {
		if c := &b.cues[i]; c.patches == nil {
			c.use = c.group.use(b.a, b.p)
		}
	}
}

// presses is how much one unit of a contact column does for a contact cue, body
// weights: pushing away counts the force along the surface's normal, drawing in
// the force that keeps the part from sliding toward the body's middle.
func (c *cueRow) presses(p *pose.Pose, patch *body.Patch, at, normal, force geom.Vec) float64 {
	if !slices.Contains(c.patches, patch.Key) {
		return 0
	}
	way := normal
	if c.cue.Kind == body.DrawIn {
		way = at.Sub(p.CentreOfMass())
		way = way.Sub(normal.Scale(way.Dot(normal)))
		if way.Norm() == 0 {
			return 0
		}
		way = way.Scale(1 / way.Norm())
	}
	return force.Dot(way)
}

// measureCue writes a cue's measure into a cost, times a factor.
func (b *balance) measureCue(c *cueRow, cost []float64, factor float64) {
	clear(cost)
	for _, u := range c.use {
		cost[u.muscle] = factor * u.part
	}
	for k, f := range b.force {
		if f.patch != nil {
			cost[len(b.a.Model.Muscles)+k] = factor * c.presses(b.p, f.patch, f.at, f.normal, f.dir.Scale(1/b.weight))
		}
	}
}

// unmet says that a cue is not met.
func (c *cueRow) unmet(most float64, together bool) Unmet {
	return Unmet{Cue: c.cue, Patches: append([]string{}, c.patches...), Toward: c.group.toward, Most: most, Asked: c.least, Together: together}
}

// heed solves the posture with what its cues ask. What cannot be met is left
// out and told; the rest stands.
func (e *effort) heed(build func([]cueRow) *balance, rows []cueRow) {
	contact := slices.ContainsFunc(rows, func(c cueRow) bool { return c.patches != nil })
	if !contact {
		if e.b = build(rows); e.solve() || len(rows) == 0 {
			return
		}
	}
	e.b = build(nil)
	if !e.solve() {
		return // it cannot be held at all
	}
	e.b.at(rows)
	var kept []cueRow
	cost := make([]float64, len(e.b.prog.C))
	for i := range e.b.cues {
		c := &e.b.cues[i]
		e.b.measureCue(c, cost, -1)
		now := 0.0
		for j, v := range cost {
			now -= v * e.best.X[j]
		}
		e.solver.Bound(cost, &e.bound)
		most := now
		if e.bound.Status == solve.Optimal {
			most = math.Max(now, -e.bound.Objective)
		}
		if c.patches != nil {
			c.least = now + c.cue.Intensity*(most-now)
		}
		if most < c.least-1e-9 || c.patches != nil && most-now < leastPress {
			e.out.Unmet = append(e.out.Unmet, c.unmet(most, false))
			continue
		}
		c.least = math.Min(c.least, most)
		kept = append(kept, *c)
	}
	if len(kept) == 0 {
		return // solved without cues, and it stays so
	}
	if e.b = build(kept); e.solve() {
		return
	}
	for _, c := range kept {
		e.out.Unmet = append(e.out.Unmet, c.unmet(c.least, true))
	}
	e.b = build(nil)
	e.solve()
}
