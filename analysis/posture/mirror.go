package posture

import (
	"slices"
	"strings"

	"tautline/analysis/body"
)

// Mirror gives the mirror image of a posture: what the left does the right does,
// and what bends, turns or pushes to one side goes to the other.
func Mirror(m *body.Model, p body.Posture) body.Posture {
	out := body.Posture{Stance: p.Stance, Positions: slices.Clone(p.Positions), Supports: slices.Clone(p.Supports),
		Loads: slices.Clone(p.Loads), Cues: slices.Clone(p.Cues), Hanging: body.Arms{Right: p.Hanging.Left, Left: p.Hanging.Right}}
	if st, ok := m.Stance(turned(p.Stance)); ok {
		out.Stance = st.Key
	}
	for i := range out.Positions {
		id, lateral := mirrored(m, out.Positions[i].Movement)
		out.Positions[i].Movement = id
		if lateral {
			out.Positions[i].Value = -out.Positions[i].Value
		}
	}
	for i := range out.Supports {
		out.Supports[i].Patch = opposed(out.Supports[i].Patch)
	}
	for i := range out.Loads {
		out.Loads[i].Patch, out.Loads[i].Direction = opposed(out.Loads[i].Patch), turned(out.Loads[i].Direction)
	}
	for i := range out.Cues {
		c := &out.Cues[i]
		c.Patch = opposed(c.Patch)
		if c.Movement >= 0 {
			id, lateral := mirrored(m, c.Movement)
			c.Movement = id
			if lateral && c.Kind == body.PullIn {
				c.Toward = !c.Toward
			}
		}
	}
	Sort(m, &out)
	return out
}

// mirrored is the same movement on the other side; a lateral movement is its own
// and goes the other way.
func mirrored(m *body.Model, id body.MovementID) (body.MovementID, bool) {
	mv := &m.Movements[id]
	return m.MustMovement(opposed(mv.Key)), mv.Lateral
}

// opposed is a key's own on the other side; a key without a side stays.
func opposed(key string) string {
	bare := body.Bare(key)
	switch {
	case strings.HasSuffix(key, body.Right.Suffix()) && bare != key:
		return bare + body.Left.Suffix()
	case strings.HasSuffix(key, body.Left.Suffix()) && bare != key:
		return bare + body.Right.Suffix()
	}
	return key
}

// turned puts left for right and right for left in the name of a direction or a
// stance.
func turned(name string) string {
	words := strings.Split(name, "_")
	for i, w := range words {
		switch w {
		case body.Right.String():
			words[i] = body.Left.String()
		case body.Left.String():
			words[i] = body.Right.String()
		}
	}
	return strings.Join(words, "_")
}
