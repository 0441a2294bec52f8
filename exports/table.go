package exports

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"

	"tautline/analysis"
	"tautline/timeline"
)

// Tables are comma-separated values as RFC 4180 has them: CRLF, a header, the
// same number of fields in every row, UTF-8. Units stand in the header; times are
// seconds with three decimals; what there is no figure for is empty.

// table writes one file row by row.
type table struct {
	w     *csv.Writer
	guard bool
}

func newTable(w io.Writer, o Options, header ...string) *table {
	t := &table{csv.NewWriter(w), o.GuardCells}
	t.w.UseCRLF = true
	t.w.Write(header)
	return t
}

// row writes one row. Spreadsheets take a text that begins like a formula for
// one, whoever wrote it: where asked, such a cell gets an apostrophe in front.
func (t *table) row(cells ...any) {
	fields := make([]string, len(cells))
	for i, c := range cells {
		switch c := c.(type) {
		case Number:
			fields[i] = cellNumber(c)
		case timeline.Instant:
			fields[i] = strconv.FormatFloat(c.Seconds(), 'f', 3, 64)
		case int:
			fields[i] = strconv.Itoa(c)
		case int64:
			fields[i] = strconv.FormatInt(c, 10)
		case string:
			if fields[i] = cleanLine(c); t.guard && fields[i] != "" && strings.IndexByte("=+-@", fields[i][0]) >= 0 {
				fields[i] = "'" + fields[i]
			}
		case nil:
		default:
			panic("exports: a cell of another kind")
		}
	}
	t.w.Write(fields)
}

// end hands back the first error of all rows.
func (t *table) end() error {
	t.w.Flush()
	return t.w.Error()
}

// cellNumber writes a figure as JSON does, and nothing for what is none.
func cellNumber(n Number) string {
	text, _ := n.MarshalJSON()
	return strings.TrimSuffix(string(text), "null")
}

// writeFindingsTable writes a row for every finding about a group, every change
// over a movement, every caution and every doubt. The first rows say the care
// line and who made the table.
func writeFindingsTable(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	t := newTable(w, o, "kind", "phase", "mark_id", "from_s", "to_s", "title", "side", "movement", "group", "role", "grade",
		"place", "effort", "least", "near_best_lo", "near_best_hi", "place_change", "muscles", "text")
	note := func(kind, text string) {
		t.row(kind, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, text)
	}
	for _, care := range careText {
		note("care", care)
	}
	note("made by", o.maker(r)+".")
	sp := o.speaker(r.Model)
	for i := range r.Phases {
		p := &r.Phases[i]
		row := func(kind string, cells ...any) {
			t.row(append([]any{kind, p.Number, p.Mark.ID, p.From, p.To, p.Mark.Title}, cells...)...)
		}
		plain := func(kind, text string) {
			row(kind, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, text)
		}
		plain("posture", p.Reading.Canonical)
		if f := p.Findings; f != nil {
			said := sp.posture(f)
			for k := range f.Groups {
				g := &f.Groups[k]
				mv := &r.Model.Movements[g.Movement]
				b := boundsRecord(g.Bounds)
				row("finding", mv.Side.String(), mv.Key, groupName(mv, g.Toward), string(g.Role), string(g.Grade), share(g.Place), share(g.Effort),
					b.Least, b.NearBestLo, b.NearBestHi, nil, strings.Join(muscleKeys(r.Model, g.Muscles), " "), textOf(said, k))
			}
			for _, s := range said {
				if s.Kind == Untold && len(s.Groups) > 0 && f.Groups[s.Groups[0]].Grade != analysis.NotTold {
					plain("not told", s.Text)
				}
			}
			for _, c := range f.Cautions {
				plain("caution", cautionWords(c))
			}
			for _, d := range doubts(f) {
				plain("doubt", doubtWords(d))
			}
		}
		if mv := p.Movement; mv != nil {
			said := sp.movement(mv)
			for k, g := range mv.Groups {
				mo := &r.Model.Movements[g.Movement]
				row("change", mo.Side.String(), mo.Key, groupName(mo, g.Toward), nil, nil, nil, nil, nil, nil, nil,
					share(g.Change), strings.Join(muscleKeys(r.Model, g.Muscles), " "), textOf(said, k))
			}
			work := sp.wayWork(mv)
			for k, g := range mv.Work {
				mo := &r.Model.Movements[g.Movement]
				row("work", mo.Side.String(), mo.Key, groupName(mo, g.Toward), string(g.Contraction), string(analysis.May), nil, share(g.Peak), nil, nil, nil,
					nil, strings.Join(muscleKeys(r.Model, g.Muscles), " "), textOf(work, k))
			}
		}
	}
	return t.end()
}

// textOf finds the sentence that says a group; a group that is part of what
// another sentence says has none of its own.
func textOf(said []Statement, group int) string {
	for _, s := range said {
		if slices.Contains(s.Groups, group) {
			return s.Text
		}
	}
	return ""
}

// writeMuscleTable writes a row for every muscle in every phase. The last column
// says who made it and the care line, in every row: the format has no comments.
func writeMuscleTable(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	t := newTable(w, o, "phase", "mark_id", "from_s", "to_s", "muscle", "name", "latin", "side", "region", "length_mm", "place", "fibre_ratio", "state",
		"from_anatomical_mm", "from_previous_mm", "role", "grade", "best", "least", "near_best_lo", "near_best_hi", "made_by")
	made := o.maker(r) + ". " + careSaying.Forms[0]
	for i := range r.Phases {
		p := &r.Phases[i]
		if p.Findings == nil {
			continue
		}
		for k := range p.Findings.Muscles {
			f := &p.Findings.Muscles[k]
			mu := &r.Model.Muscles[f.Muscle]
			b := boundsRecord(f.Bounds)
			t.row(p.Number, p.Mark.ID, p.From, p.To, mu.Key, bareName(mu.Name, mu.Side), mu.Latin, mu.Side.String(), mu.Region,
				mm(f.Length), share(f.Place), share(f.Fibre), string(f.State), mm(f.FromAnatomical), mm(f.FromPrevious),
				string(f.Role), string(f.Grade), b.Best, b.Least, b.NearBestLo, b.NearBestHi, made)
		}
	}
	return t.end()
}
