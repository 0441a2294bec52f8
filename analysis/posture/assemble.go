package posture

import (
	"cmp"
	"fmt"
	"slices"

	"tautline/analysis/body"
)

// clash is an item that says something else than one that stands.
type clash struct{ stands, against item }

// assemble makes one posture of everything understood and reports what was
// said twice.
func (r *reader) assemble() body.Posture {
	p, clashes := r.posture(r.items)
	told := map[span]bool{}
	for _, c := range clashes {
		at := span{c.against.from, c.against.to}
		if told[at] {
			continue
		}
		told[at] = true
		one, _ := r.posture([]item{c.stands})
		r.unknown = append(r.unknown, Unknown{From: at.from, To: at.to, Text: r.text[at.from:at.to],
			Why: "said twice, and differently: “" + Write(r.x.m, one) + "” stands", Near: []string{}})
	}
	return p
}

// posture makes a posture of items, each list in the model's order and each
// thing once. Slices are never nil.
func (r *reader) posture(items []item) (body.Posture, []clash) {
	stands := map[string]item{}
	var keys []string
	var clashes []clash
	for _, it := range items {
		key := r.key(it)
		old, twice := stands[key]
		switch {
		case !twice:
			keys = append(keys, key)
			stands[key] = it
		case it.same(old):
			if it.rank > old.rank {
				stands[key] = it
			}
		case it.rank > old.rank:
			stands[key] = it
		case it.rank == old.rank:
			clashes = append(clashes, clash{old, it})
		}
	}
	p := body.Posture{Positions: []body.Position{}, Supports: []body.Support{}, Loads: []body.Load{}, Cues: []body.Cue{}}
	for _, k := range keys {
		switch it := stands[k]; {
		case it.stance != "":
			p.Stance = it.stance
		case it.position != nil:
			p.Positions = append(p.Positions, *it.position)
		case it.support != nil:
			p.Supports = append(p.Supports, *it.support)
		case it.load != nil:
			p.Loads = append(p.Loads, *it.load)
		case it.cue != nil:
			p.Cues = append(p.Cues, *it.cue)
		case it.hang != body.Middle:
			p.Hanging = p.Hanging.With(it.hang, true)
		}
	}
	if st, ok := r.x.m.Stance(p.Stance); ok {
		p.Supports = slices.DeleteFunc(p.Supports, func(s body.Support) bool { return slices.Contains(st.Supports, s) })
	}
	Sort(r.x.m, &p)
	return p, clashes
}

// key is what an item speaks about: two items of one key cannot both stand.
func (r *reader) key(it item) string {
	switch {
	case it.stance != "":
		return "stance"
	case it.position != nil:
		return fmt.Sprint("position ", it.position.Movement)
	case it.hang != body.Middle:
		return fmt.Sprint("position ", r.x.m.MustMovement("shoulder_flexion"+it.hang.Suffix()))
	case it.support != nil:
		return fmt.Sprint("support ", it.support.Patch, it.support.On)
	case it.load != nil:
		return fmt.Sprint("load ", it.load.Kind, it.load.Patch, it.load.Direction)
	case it.cue != nil:
		return fmt.Sprint("cue ", it.cue.Kind, it.cue.Movement, it.cue.Patch)
	}
	return "later " + fmt.Sprint(it.from)
}

// same tells whether two items of one key say the same.
func (it item) same(o item) bool {
	switch {
	case it.hang != o.hang:
		return false
	case it.position != nil:
		return *it.position == *o.position
	case it.load != nil:
		return *it.load == *o.load
	case it.cue != nil:
		return *it.cue == *o.cue
	}
	return it.stance == o.stance
}

// Sort puts the lists of a posture in the order of the model, so that equal
// postures are equal values.
func Sort(m *body.Model, p *body.Posture) {
	patch := func(key string) int {
		return slices.IndexFunc(m.Patches, func(q body.Patch) bool { return q.Key == key })
	}
	slices.SortStableFunc(p.Positions, func(a, b body.Position) int { return cmp.Compare(a.Movement, b.Movement) })
	slices.SortStableFunc(p.Supports, func(a, b body.Support) int {
		return cmp.Or(cmp.Compare(patch(a.Patch), patch(b.Patch)), cmp.Compare(a.On, b.On))
	})
	slices.SortStableFunc(p.Loads, func(a, b body.Load) int {
		return cmp.Or(cmp.Compare(patch(a.Patch), patch(b.Patch)), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Direction, b.Direction))
	})
	slices.SortStableFunc(p.Cues, func(a, b body.Cue) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Movement, b.Movement), cmp.Compare(patch(a.Patch), patch(b.Patch)))
	})
}
