package posture

import (
	"slices"
	"strconv"
	"strings"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// forwardBend begins the meaning of a phrase that is shared between hips and
// lumbar spine by the model's table, followed by degrees.
const forwardBend = "forward bend "

// hanging is what arms that hang are called, and the meaning of the phrases that
// let them.
const hanging = "arms hanging"

// later is a phrase that waits until the rest of the text is known.
type later struct {
	at     atom
	amount string
	sides  []body.Side
	said   bool
	around []atom
}

// phrase reads a phrase or stance with the sides around it.
func (r *reader) phrase(a atom, rest, around []atom) {
	if t, ok := a.has("stance"); ok {
		if slices.ContainsFunc(rest, func(a atom) bool { return a.is("side") }) {
			r.fail(around, "a stance takes no side; say for example “half kneeling with the left knee down”")
			return
		}
		r.add(around, item{stance: t.means})
		return
	}
	var words []string
	for _, s := range rest {
		if t, ok := s.has("side"); ok {
			words = append(words, t.means)
		}
	}
	l := &later{at: a, amount: r.x.amountText(a), around: around}
	l.sides, l.said = chosen(words)
	t, _ := a.has("phrase")
	if slices.ContainsFunc(t.row, func(p phrase) bool { return p.when.movement != "" }) {
		r.add(around, item{later: l})
		return
	}
	items, why := r.expand(t.row[0], l)
	if why == "" && len(words) > 0 && !slices.ContainsFunc(items, r.sided) {
		why = "that has no left and right"
	}
	if why != "" {
		r.fail(around, why)
		return
	}
	for _, it := range items {
		r.add(around, it)
	}
}

// sided tells whether an item belongs to one side.
func (r *reader) sided(it item) bool { return r.side(it) != body.Middle }

// side gives the side an item belongs to.
func (r *reader) side(it item) body.Side {
	switch {
	case it.position != nil:
		return r.x.m.Movements[it.position.Movement].Side
	case it.hang != body.Middle:
		return it.hang
	case it.support != nil:
		p, _ := r.x.m.Patch(it.support.Patch)
		return p.Side
	}
	return body.Middle
}

// expand reads a phrase's meaning and keeps what belongs to the sides.
func (r *reader) expand(p phrase, l *later) (items []item, why string) {
	means := strings.NewReplacer("#", l.amount, "@", l.amount).Replace(p.means)
	if deg, ok := strings.CutPrefix(means, forwardBend); ok {
		items, why = r.bend(deg)
	} else if means == hanging {
		items = []item{{hang: body.Right}, {hang: body.Left}}
	} else {
		inner := reader{x: r.x, text: means}
		inner.statements()
		if len(inner.unknown) > 0 {
			return nil, inner.unknown[0].Why
		}
		items = inner.items
	}
	var kept []item
	for _, it := range items {
		if s := r.side(it); s == body.Middle || slices.Contains(l.sides, s) {
			it.rank = 0
			if l.said && s != body.Middle {
				it.rank = oneSide
			}
			kept = append(kept, it)
		}
	}
	return kept, why
}

// bend shares a forward bend between the lumbar spine and the hips; the thoracic
// spine rounds with it.
func (r *reader) bend(text string) (items []item, why string) {
	m := r.x.m
	total, err := strconv.ParseFloat(text, 64)
	if err != nil || total < 0 || len(m.Bend) == 0 || geom.Deg(total) > m.Bend[len(m.Bend)-1].To {
		return nil, "how far is not said in degrees that a person can bend"
	}
	bent, rounded, _ := m.ForwardBend(geom.Deg(total))
	lumbar := round(geom.Degrees(bent), 1)
	at := func(key string, deg float64) {
		items = append(items, item{position: &body.Position{Movement: m.MustMovement(key), Value: geom.Deg(deg)}})
	}
	at("lumbar_flexion", lumbar)
	at("thoracic_flexion", round(geom.Degrees(rounded), 1))
	at("hip_flexion_r", round(total-lumbar, 1))
	at("hip_flexion_l", round(total-lumbar, 1))
	return items, ""
}

// resolveLater gives the phrases whose meaning depends on other positions the
// first of their meanings that fits, side by side.
func (r *reader) resolveLater() {
	var waiting []item
	r.items = slices.DeleteFunc(r.items, func(it item) bool {
		if it.later != nil {
			waiting = append(waiting, it)
		}
		return it.later != nil
	})
	if len(waiting) == 0 {
		return
	}
	p, _ := r.posture(r.items)
	value := map[body.MovementID]float64{}
	if st, ok := r.x.m.Stance(p.Stance); ok {
		for _, pos := range st.Positions {
			value[pos.Movement] = pos.Value
		}
	}
	for _, pos := range p.Positions {
		value[pos.Movement] = pos.Value
	}
	for _, it := range waiting {
		t, _ := it.later.at.has("phrase")
		for _, side := range it.later.sides {
			i := slices.IndexFunc(t.row, func(p phrase) bool {
				return p.when.movement == "" ||
					geom.Degrees(value[r.x.m.MustMovement(p.when.movement+side.Suffix())]) > p.when.degrees
			})
			one := *it.later
			one.sides = []body.Side{side}
			items, why := r.expand(t.row[i], &one)
			r.part = it.part
			if why != "" {
				r.fail(it.later.around, why)
				break
			}
			for _, got := range items {
				r.add(it.later.around, got)
			}
		}
	}
}
