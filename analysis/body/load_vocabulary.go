package body

import (
	"slices"
	"strconv"
	"strings"

	"tautline/analysis/geom"
)

func (l *loader) movements() {
	t := l.table("movements.csv", "movement", "joint", "side", "toward", "away", "agents", "against",
		"agents_plain", "against_plain", "plain", "plain_away", "coordinates", "source")
	for _, r := range t.rows {
		key, src := r.word("movement"), l.source(r)
		for _, side := range sidesOf(r) {
			k := key + side.Suffix()
			if !once(r, "movement", k, l.m.index.movements) {
				continue
			}
			mv := Movement{Key: k, Joint: r.word("joint"), Side: side, Toward: r.word("toward"), Away: r.word("away"),
				Agents: r.word("agents"), Against: r.word("against"), AgentsPlain: r.word("agents_plain"), AgainstPlain: r.word("against_plain"), Plain: r.word("plain"), PlainAway: r.word("plain_away")}
			mv.Girdle = slices.Contains(girdleKeys.movements, key)
			mv.Lateral = side == Middle && strings.Contains(mv.Toward, "right")
			for _, item := range list(r.text("coordinates")) {
				name, factor, _ := strings.Cut(item, ":")
				f, err := strconv.ParseFloat(factor, 64)
				c, ok := l.m.index.coords[name]
				if !ok {
					c, ok = l.m.index.coords[name+side.Suffix()]
				}
				if !ok || err != nil || f == 0 || f < -1 || f > 1 {
					r.bad("coordinates", "%q, expected a coordinate, a colon and a factor from -1 to 1", item)
					continue
				}
				mv.Shares = append(mv.Shares, Share{c, f, src})
			}
			l.m.index.movements[k] = MovementID(len(l.m.Movements))
			l.m.Movements = append(l.m.Movements, mv)
		}
	}
	l.ranges()
	l.lumbopelvic()
}

func (l *loader) ranges() {
	t := l.table("ranges.csv", "movement", "whose", "toward_deg", "away_deg", "source")
	for _, r := range t.rows {
		key := r.word("movement")
		rg := Range{Hi: geom.Deg(r.number("toward_deg", 0, 200)), Lo: -geom.Deg(r.number("away_deg", -20, 200)),
			Whose: r.word("whose"), Source: l.source(r)}
		if rg.Lo >= rg.Hi {
			r.bad("toward_deg", "the range is empty")
		}
		found := false
		for _, k := range []string{key, key + "_r", key + "_l"} {
			if id, ok := l.m.index.movements[k]; ok {
				mv := &l.m.Movements[id]
				if len(mv.Ranges) == 0 {
					mv.Lo, mv.Hi, mv.Source = rg.Lo, rg.Hi, rg.Source
				}
				mv.Ranges = append(mv.Ranges, rg)
				found = true
			}
		}
		if !found {
			r.bad("movement", "there is no movement %q", key)
		}
	}
	for _, mv := range l.m.Movements {
		if len(mv.Ranges) == 0 && mv.Side != Left {
			t.add(0, 0, "movement %s has no range", mv.Key)
		}
	}
}

func (l *loader) lumbopelvic() {
	t := l.table("lumbopelvic.csv", "from_deg", "to_deg", "lumbar_share", "thoracic_per_lumbar", "source")
	end := 0.0
	for _, r := range t.rows {
		s := BendShare{From: geom.Deg(r.number("from_deg", 0, 180)), To: geom.Deg(r.number("to_deg", 0, 180)),
			Lumbar: r.number("lumbar_share", 0, 1), Thoracic: r.number("thoracic_per_lumbar", 0, 1), Source: l.source(r)}
		if s.From != end || s.To <= s.From {
			r.bad("from_deg", "the stretches must follow each other from 0")
		}
		end = s.To
		l.m.Bend = append(l.m.Bend, s)
	}
}

func (l *loader) patches() {
	t := l.table("patches.csv", "patch", "word", "side", "segment", "x_mm", "y_mm", "z_mm",
		"normal_x", "normal_y", "normal_z", "source")
	for _, r := range t.rows {
		key, word, src := r.word("patch"), r.word("word"), l.source(r)
		n := geom.V(r.number("normal_x", -1, 1), r.number("normal_y", -1, 1), r.number("normal_z", -1, 1))
		if n.Norm() < 0.9 || n.Norm() > 1.1 {
			r.bad("normal_x", "the normal has length %.2f, expected 1", n.Norm())
			continue
		}
		for _, side := range sidesOf(r) {
			k, name := sided(key, word, side)
			id, ok := l.segment(r, "segment", side)
			if !ok {
				continue
			}
			i, old := l.m.index.patches[k]
			if !old {
				i = len(l.m.Patches)
				l.m.index.patches[k] = i
				l.m.Patches = append(l.m.Patches, Patch{Key: k, Name: name, Word: word, Side: side,
					Segment: id, Normal: mirrored(n.Unit(), side), Source: src})
			}
			p := &l.m.Patches[i]
			if p.Segment != id || p.Word != word {
				r.bad("patch", "%q stood before with another segment or word", key)
			}
			p.Points = append(p.Points, mirrored(r.vec(""), side))
		}
	}
}

func (l *loader) stances() {
	t := l.table("stances.csv", "stance", "name", "kind", "item", "value", "source")
	for _, r := range t.rows {
		key, src := r.word("stance"), l.source(r)
		i, old := l.m.index.stances[key]
		if !old {
			i = len(l.m.Stances)
			l.m.index.stances[key] = i
			l.m.Stances = append(l.m.Stances, Stance{Key: key, Name: r.word("name"), Source: src})
		}
		s := &l.m.Stances[i]
		keys := []string{r.word("item")}
		if base, both := strings.CutPrefix(keys[0], "both:"); both {
			keys = []string{base + "_r", base + "_l"}
		}
		for _, k := range keys {
			switch r.oneOf("kind", "position", "support") {
			case "position":
				id, ok := l.m.index.movements[k]
				if !ok {
					r.bad("item", "there is no movement %q", k)
					continue
				}
				s.Positions = append(s.Positions, Position{id, geom.Deg(r.number("value", -180, 180))})
			case "support":
				if _, ok := l.m.index.patches[k]; !ok {
					r.bad("item", "there is no patch %q", k)
					continue
				}
				s.Supports = append(s.Supports, Support{k, r.oneOf("value", Floor, Seat, Wall, Bar)})
			}
		}
	}
}
