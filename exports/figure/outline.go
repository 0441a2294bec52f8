// Package figure draws the body: its soft outline, and its muscles as bands.
package figure

import (
	"bytes"
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

//go:embed outline.csv features.csv
var tables embed.FS

// Capsule is one rounded piece of the body's outline: everything within RA of A,
// RB of B, and the straight taper between them.
type Capsule struct {
	Segment body.SegmentID
	Part    string   // "upper arm"; names repeat
	A, B    geom.Vec // m, in the segment's frame
	RA, RB  float64  // m
}

// columns is the header that the table must have.
var columns = []string{"segment", "side", "part", "a_x_mm", "a_y_mm", "a_z_mm",
	"b_x_mm", "b_y_mm", "b_z_mm", "a_radius_mm", "b_radius_mm", "source"}

// row is one line of the table, in metres, for the reference adult.
type row struct {
	segment, part string
	both          bool
	a, b          geom.Vec
	ra, rb        float64
}

// builtIn reads a table of this folder once.
func builtIn(file string) func() []row {
	return sync.OnceValue(func() []row {
		text, err := tables.ReadFile(file)
		if err != nil {
			panic(err)
		}
		rows, err := readOutline(file, text, body.Adult())
		if err != nil {
			panic("figure: the built-in outline is broken:\n" + err.Error())
		}
		return rows
	})
}

var outlineRows, featureRows = builtIn("outline.csv"), builtIn("features.csv")

// Outline returns the capsules of a body, both sides, scaled with its stature.
// They are for drawing only: nothing is computed from them.
func Outline(m *body.Model) []Capsule { return capsules(m, outlineRows()) }

// features returns what makes the outline a person: eyes.
func features(m *body.Model) []Capsule { return capsules(m, featureRows()) }

func capsules(m *body.Model, rows []row) []Capsule {
	scale := m.Person.Stature / body.Adult().Person.Stature
	var out []Capsule
	add := func(r row, key string, place func(geom.Vec) geom.Vec) {
		id, ok := m.Segment(key)
		if !ok {
			panic("figure: the model has no segment " + key)
		}
		out = append(out, Capsule{id, r.part, place(r.a).Scale(scale), place(r.b).Scale(scale), r.ra * scale, r.rb * scale})
	}
	same := func(v geom.Vec) geom.Vec { return v }
	for _, r := range rows {
		if _, middle := m.Segment(r.segment); middle {
			add(r, r.segment, same)
			if r.both {
				add(r, r.segment, geom.Vec.Mirror)
			}
			continue
		}
		add(r, r.segment+body.Right.Suffix(), same)
		add(r, r.segment+body.Left.Suffix(), geom.Vec.Mirror)
	}
	return out
}

// readOutline reads the table and reports everything wrong with it at once, by
// file:line:column. The comment lines at its top say what each source key means.
func readOutline(file string, text []byte, m *body.Model) ([]row, error) {
	var problems []error
	r := csv.NewReader(bytes.NewReader(text))
	r.Comment = '#'
	bad := func(line, col int, format string, a ...any) {
		problems = append(problems, fmt.Errorf("%s:%d:%d: %s", file, line, col, fmt.Sprintf(format, a...)))
	}
	header, err := r.Read()
	if err != nil || !slices.Equal(header, columns) {
		bad(1, 1, "header is %q, expected %q", strings.Join(header, ","), strings.Join(columns, ","))
		return nil, errors.Join(problems...)
	}
	keys := legend(text)
	var rows []row
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			problems = append(problems, fmt.Errorf("%s: %w", file, err))
			break
		}
		at := func(i int) (int, int) { return r.FieldPos(i) }
		number := func(i int, lo, hi float64) float64 {
			v, err := strconv.ParseFloat(cells[i], 64)
			if err != nil || math.IsNaN(v) || v < lo || v > hi {
				line, col := at(i)
				bad(line, col, "%s: %q, expected %g to %g", columns[i], cells[i], lo, hi)
			}
			return v / 1000
		}
		const reach, thick = 500, 120 // mm; more is a slip of the unit
		vec := func(i int) geom.Vec {
			return geom.V(number(i, -reach, reach), number(i+1, -reach, reach), number(i+2, -reach, reach))
		}
		line, _ := at(0)
		_, middle := m.Segment(cells[0])
		_, sided := m.Segment(cells[0] + body.Right.Suffix())
		switch side := cells[1]; {
		case !middle && !sided:
			bad(line, 1, "the model has no segment %q", cells[0])
		case side != "both" && side != "middle", side == "middle" && !middle:
			_, col := at(1)
			bad(line, col, "side: %q does not suit %s", side, cells[0])
		}
		if cells[2] == "" {
			_, col := at(2)
			bad(line, col, "part is empty")
		}
		if !keys[cells[11]] {
			_, col := at(11)
			bad(line, col, "source: %q is not told in the legend at the top", cells[11])
		}
		rows = append(rows, row{cells[0], cells[2], cells[1] == "both",
			vec(3), vec(6), number(9, 1, thick), number(10, 1, thick)})
	}
	if len(rows) == 0 {
		bad(1, 1, "has no rows")
	}
	return rows, errors.Join(problems...)
}

// legend gives the source keys that the comment lines "# key = meaning" explain.
func legend(text []byte) map[string]bool {
	keys := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		said, comment := strings.CutPrefix(line, "# ")
		key, meaning, told := strings.Cut(said, " = ")
		if comment && told && strings.TrimSpace(meaning) != "" && !strings.Contains(key, " ") {
			keys[key] = true
		}
	}
	return keys
}
