package exports

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tautline/analysis/body"
	"tautline/exports/draw"
	"tautline/timeline"
)

// SeriesPart is one study of a series and the files that were written of it,
// relative to the index.
type SeriesPart struct {
	Report *timeline.Report
	Files  []SeriesFile
}

// SeriesFile is one file of a study.
type SeriesFile struct{ Name, Help string }

// WriteSeries writes the index page of a series: every study with its phases and
// its files, what each adds to those before it, a table of which parts of the
// body work and are drawn long where, and the terms that all files use, plain
// beside technical.
func WriteSeries(w io.Writer, parts []SeriesPart, o Options) error {
	o = o.withDefaults()
	if len(parts) == 0 {
		panic("exports: a series has at least one study")
	}
	h := newHTML(w, seriesTitle, o.maker(parts[0].Report), pageFile("base.css")+pageFile("series.css"), "")
	h.put("<main>\n")
	h.element("h1", "", seriesTitle)
	h.caution()
	h.put("<ol class=\"contents\">\n")
	for i := range parts {
		fmt.Fprintf(h, "<li><a href=\"#study-%d\">%s</a></li>\n", i+1, draw.Escape(studyName(parts[i].Report)))
	}
	h.put("</ol>\n")
	all := make([]coverage, len(parts))
	var before coverage
	for i := range parts {
		all[i] = coverageOf(parts[i].Report, o)
		h.study(i, &parts[i], all[i].less(before), i == 0)
		before = before.with(all[i])
	}
	h.table(parts, all, before)
	h.terms(parts[0].Report, o, before)
	h.element("p", "class=\"quiet\"", o.maker(parts[0].Report)+".")
	h.put("</main>\n")
	return h.end()
}

func (h html) study(i int, p *SeriesPart, adds coverage, first bool) {
	fmt.Fprintf(h, "<section id=\"study-%d\">\n", i+1)
	h.element("h2", "", fmt.Sprintf("%d. %s", i+1, studyName(p.Report)))
	h.element("p", "class=\"quiet\"", seriesSpan(p.Report))
	h.put("<ol>\n")
	for k := range p.Report.Phases {
		if k == mostListed {
			h.element("li", "", fmt.Sprintf("and %d more", len(p.Report.Phases)-mostListed))
			break
		}
		h.element("li", "", phaseTitle(&p.Report.Phases[k]))
	}
	h.put("</ol>\n")
	title := "What it adds"
	if first {
		title = "What it begins with"
	}
	h.list(title, "", adds.words())
	if len(p.Files) > 0 {
		h.element("h3", "", "Files")
		h.put("<ul>\n")
		for _, f := range p.Files {
			fmt.Fprintf(h, "<li><a href=\"%s\">%s</a>: %s</li>\n", besidePage(f.Name), draw.Escape(f.Name), draw.Escape(f.Help))
		}
		h.put("</ul>\n")
	}
	h.put("</section>\n")
}

// mostListed is how many phases of a study the index names.
const mostListed = 40

// table says of every part of the body where it works and where it is drawn long.
func (h html) table(parts []SeriesPart, all []coverage, whole coverage) {
	names := append(slices.Clone(whole.works), without(whole.long, whole.works)...)
	if len(names) == 0 {
		return
	}
	slices.Sort(names)
	h.put("<section>\n<h2>Where each part works and is drawn long</h2>\n<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"Table of parts and studies\">\n<table>\n<thead>\n<tr><th scope=\"col\">Part</th>")
	for i := range parts {
		fmt.Fprintf(h, "<th scope=\"col\">%d. %s</th>", i+1, draw.Escape(cut(studyName(parts[i].Report), 40)))
	}
	h.put("</tr>\n</thead>\n<tbody>\n")
	for _, name := range names {
		fmt.Fprintf(h, "<tr><th scope=\"row\">%s</th>", draw.Escape(name))
		for i := range all {
			var does []string
			if slices.Contains(all[i].works, name) {
				does = append(does, "works")
			}
			if slices.Contains(all[i].long, name) {
				does = append(does, "long")
			}
			fmt.Fprintf(h, "<td>%s</td>", strings.Join(does, ", "))
		}
		h.put("</tr>\n")
	}
	h.put("</tbody>\n</table>\n</div>\n</section>\n")
}

// terms lists what the files call things, plain beside technical.
func (h html) terms(r *timeline.Report, o Options, whole coverage) {
	sp := newSpeaker(r.Model, o.Voice)
	h.put("<section>\n<h2>Terms</h2>\n<dl>\n")
	for _, name := range slices.Sorted(slices.Values(append(slices.Clone(whole.works), without(whole.long, whole.works)...))) {
		var trade []string
		for i := range r.Model.Muscles {
			if sp.partName(body.MuscleID(i)) == name {
				trade = appendNew(trade, MuscleNoun(r.Model, body.MuscleID(i), Technical))
			}
		}
		h.element("dt", "", upperFirst(name))
		h.element("dd", "", strings.Join(trade, "; "))
	}
	h.put("</dl>\n</section>\n")
}

// coverage is which parts of the body work, firmly, and which are drawn long in a
// study, each in the order in which it first does.
type coverage struct{ works, long []string }

func coverageOf(r *timeline.Report, o Options) coverage {
	rows, _ := newSpeaker(r.Model, o.Voice).scoreRows(r)
	var c coverage
	for k := range r.Phases {
		for _, row := range rows {
			d := row.Does[k]
			if d.Works && d.Firm {
				c.works = appendNew(c.works, row.Name)
			}
			if d.Long {
				c.long = appendNew(c.long, row.Name)
			}
		}
	}
	return c
}

func (c coverage) less(o coverage) coverage {
	return coverage{without(c.works, o.works), without(c.long, o.long)}
}

func (c coverage) with(o coverage) coverage {
	return coverage{append(slices.Clone(c.works), without(o.works, c.works)...), append(slices.Clone(c.long), without(o.long, c.long)...)}
}

func without(all, gone []string) []string {
	return slices.DeleteFunc(slices.Clone(all), func(s string) bool { return slices.Contains(gone, s) })
}
