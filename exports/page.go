package exports

import (
	"bufio"
	"io"
	"strings"
)

// page lays out plain text in columns of a terminal: paragraphs and items are
// filled to the width, with hanging indents. It remembers the first error.
type page struct {
	b     *bufio.Writer
	width int
}

func newPage(w io.Writer, o Options) *page {
	return &page{bufio.NewWriter(w), max(40, o.Width)}
}

// blank leaves a line empty.
func (p *page) blank() { p.b.WriteByte('\n') }

// title writes a line of its own, cut to the width.
func (p *page) title(text string) {
	p.b.WriteString(cut(cleanLine(text), p.width))
	p.b.WriteByte('\n')
}

// section begins a titled block after an empty line.
func (p *page) section(title string) {
	p.blank()
	p.title(title)
}

// text fills a paragraph, every line indented.
func (p *page) text(indent int, text string) {
	p.fill(strings.Repeat(" ", indent), strings.Repeat(" ", indent), text)
}

// item fills a paragraph that hangs behind a label: "  May work  the calf …".
func (p *page) item(indent, column int, label, text string) {
	label = cleanLine(label)
	first := strings.Repeat(" ", indent) + label + strings.Repeat(" ", max(2, column-indent-width(label)))
	if label == "" {
		first = strings.Repeat(" ", column)
	}
	p.fill(first, strings.Repeat(" ", max(column, indent)), text)
}

// fill writes words into lines; a word longer than a line is left whole, for a
// terminal wraps it and a copied line stays one.
func (p *page) fill(first, rest, text string) {
	line, used := first, width(first)
	empty := true
	for word := range strings.SplitSeq(cleanLine(text), " ") {
		wide := width(word)
		if !empty && used+1+wide > p.width {
			p.b.WriteString(strings.TrimRight(line, " "))
			p.b.WriteByte('\n')
			line, used, empty = rest, width(rest), true
		}
		if !empty {
			line += " "
			used++
		}
		line += word
		used += wide
		empty = false
	}
	p.b.WriteString(strings.TrimRight(line, " "))
	p.b.WriteByte('\n')
}

// table writes rows in columns as wide as their widest cell. Columns whose
// first row begins with a space are set right.
func (p *page) table(indent int, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	widths := make([]int, len(rows[0]))
	right := make([]bool, len(rows[0]))
	for i, cell := range rows[0] {
		right[i] = strings.HasPrefix(cell, " ")
	}
	for _, row := range rows {
		for i := range row {
			row[i] = cleanLine(row[i])
			widths[i] = max(widths[i], width(row[i]))
		}
	}
	for _, row := range rows {
		line := strings.Repeat(" ", indent)
		for i, cell := range row {
			pad := strings.Repeat(" ", widths[i]-width(cell))
			if i > 0 {
				line += "  "
			}
			if right[i] {
				line += pad + cell
			} else {
				line += cell + pad
			}
		}
		p.b.WriteString(strings.TrimRight(line, " "))
		p.b.WriteByte('\n')
	}
}

// end flushes and returns the first error.
func (p *page) end() error { return p.b.Flush() }
