package body

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"

	"tautline/analysis/geom"
)

// Problem is one thing wrong with a table, at its place.
type Problem struct {
	File      string
	Line, Col int // from 1; 0 when the whole file or row is meant
	What      string
}

// String gives file:line:column: what.
func (p Problem) String() string {
	switch {
	case p.Line == 0:
		return p.File + ": " + p.What
	case p.Col == 0:
		return fmt.Sprintf("%s:%d: %s", p.File, p.Line, p.What)
	}
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Col, p.What)
}

// TableError lists every problem found in a set of tables.
type TableError struct{ Problems []Problem }

// Error gives one problem a line.
func (e *TableError) Error() string {
	lines := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// maxTable bounds the bytes read of one table; ours are under 200 kB.
const maxTable = 8 << 20

// table is one CSV file being read: rows of named cells, and the list that all
// problems of all tables go to.
type table struct {
	file     string
	columns  []string
	rows     []row
	problems *[]Problem
}

// row is one record with the place of each of its cells.
type row struct {
	t     *table
	line  int
	cells []string
	cols  []int
}

// readTable reads a CSV file whose header must be exactly columns. A missing or
// malformed file is a problem, not an error: everything wrong is told at once.
func readTable(fsys fs.FS, file string, problems *[]Problem, columns ...string) *table {
	t := &table{file: file, columns: columns, problems: problems}
	f, err := fsys.Open(file)
	if err != nil {
		t.add(0, 0, "cannot be read: %v", err)
		return t
	}
	defer f.Close()
	limited := &io.LimitedReader{R: f, N: maxTable}
	r := csv.NewReader(limited)
	r.FieldsPerRecord = -1
	header, err := r.Read()
	if err != nil {
		t.add(1, 0, "has no header; expected %s", strings.Join(columns, ","))
		return t
	}
	if !slices.Equal(header, columns) {
		t.add(1, 0, "header is %q, expected %q", strings.Join(header, ","), strings.Join(columns, ","))
		return t
	}
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			t.add(parse.Line, parse.Column, "%v", parse.Err)
			if len(cells) == 0 {
				break
			}
		} else if err != nil {
			t.add(0, 0, "cannot be read: %v", err)
			break
		}
		line, _ := r.FieldPos(0)
		if len(cells) != len(columns) {
			t.add(line, 0, "%d cells, expected %d (%s)", len(cells), len(columns), strings.Join(columns, ","))
			continue
		}
		cols := make([]int, len(cells))
		for i := range cells {
			_, cols[i] = r.FieldPos(i)
		}
		t.rows = append(t.rows, row{t, line, cells, cols})
	}
	if limited.N == 0 {
		t.add(0, 0, "is longer than %d bytes", maxTable)
	}
	return t
}

func (t *table) add(line, col int, format string, a ...any) {
	*t.problems = append(*t.problems, Problem{t.file, line, col, fmt.Sprintf(format, a...)})
}

// at finds the cell of a named column; an unknown name is our own bug.
func (r row) at(column string) (string, int) {
	i := slices.Index(r.t.columns, column)
	if i < 0 {
		panic("body: " + r.t.file + " has no column " + column)
	}
	return r.cells[i], r.cols[i]
}

// bad reports a problem with one cell.
func (r row) bad(column, format string, a ...any) {
	_, col := r.at(column)
	r.t.add(r.line, col, "%s: %s", column, fmt.Sprintf(format, a...))
}

// text gives a cell that may be empty.
func (r row) text(column string) string {
	s, _ := r.at(column)
	if s != strings.TrimSpace(s) {
		r.bad(column, "%q has blanks at its ends", s)
	}
	return strings.TrimSpace(s)
}

// word gives a cell that must not be empty.
func (r row) word(column string) string {
	s := r.text(column)
	if s == "" {
		r.bad(column, "is empty")
	}
	return s
}

// oneOf gives a cell that must be one of a few words.
func (r row) oneOf(column string, words ...string) string {
	s := r.text(column)
	if !slices.Contains(words, s) {
		r.bad(column, "%q, expected one of %s", s, strings.Join(words, ", "))
		return words[0]
	}
	return s
}

// number gives a finite number within [lo, hi]; the bounds are the ones outside
// which the unit must be wrong.
func (r row) number(column string, lo, hi float64) float64 {
	s := r.text(column)
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		r.bad(column, "%q is not a number", s)
		return lo
	}
	if v < lo || v > hi {
		r.bad(column, "%s is outside %g to %g: is the unit right?", s, lo, hi)
		return lo
	}
	return v
}

// vec gives three cells prefix_x_mm, prefix_y_mm, prefix_z_mm in metres.
func (r row) vec(prefix string) geom.Vec {
	const limit = 1200 // mm; no point of a segment lies farther from its origin
	return geom.V(
		r.number(prefix+"x_mm", -limit, limit)/1000,
		r.number(prefix+"y_mm", -limit, limit)/1000,
		r.number(prefix+"z_mm", -limit, limit)/1000,
	)
}

// axis gives three cells axis_x, axis_y, axis_z as a unit vector.
func (r row) axis() geom.Vec {
	v := geom.V(r.number("axis_x", -1, 1), r.number("axis_y", -1, 1), r.number("axis_z", -1, 1))
	n := v.Norm()
	if math.Abs(n-1) > 0.01 {
		r.bad("axis_x", "the axis has length %.3f, expected 1", n)
		return geom.V(0, 0, 1)
	}
	return v.Scale(1 / n)
}
