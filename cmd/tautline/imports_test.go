package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/doc"
)

// room is one package and what it may lean on.
type room struct {
	name    string // below the module; "" is none
	imports string // packages of ours, below the module
	outside string // modules and packages that are neither ours nor Go's
	core    bool   // pure computing: see barred
	why     string
}

// rooms is the import graph: the whole of it, one row for each package.
var rooms = []room{
	{"analysis/geom", "", "", true, "vectors and angles; leans on nothing"},
	{"analysis/solve", "", "", true, "convex programs; knows nothing of bodies, so that textbook problems test it"},
	{"analysis/body", "analysis/geom", "", true, "the model owns the vocabulary: a position means nothing without it"},
	{"analysis/pose", "analysis/body analysis/geom", "gonum.org/v1/gonum/mat", true, "where everything is; least squares from gonum"},
	{"analysis/posture", "analysis/body analysis/geom", "", true, "words; needs the model's names and not its geometry"},
	{"analysis", "analysis/body analysis/geom analysis/pose analysis/solve", "", true, "findings; never the timeline, so that the numbers build and run without it"},
	{"timeline", "analysis analysis/body analysis/posture", "", false, "the one place where time and body are joined"},
	{"timeline/store", "timeline", "modernc.org/sqlite modernc.org/sqlite/lib", false, "the only SQL"},
	{"timeline/media", "", "", false, "a leaf: what a recording is, without knowing what a study is"},
	{"exports", "analysis analysis/body analysis/geom analysis/posture exports/draw exports/figure timeline", "", false, "a finished report to files; computes nothing"},
	{"exports/draw", "", "golang.org/x/image/font golang.org/x/image/font/gofont/gobold golang.org/x/image/font/gofont/goregular golang.org/x/image/font/sfnt golang.org/x/image/math/fixed golang.org/x/text/unicode/bidi golang.org/x/text/unicode/norm", false, "flat pictures to files; knows nothing of what they show"},
	{"exports/figure", "analysis analysis/body analysis/geom analysis/pose exports/draw", "", false, "draws findings on a pose; knows no study"},
	{"viewer", "analysis analysis/body analysis/geom analysis/pose analysis/posture exports exports/figure timeline timeline/media timeline/store", "github.com/gorilla/websocket", false, "the page; joins them all but the command line"},
	{"cmd/tautline", "analysis analysis/body analysis/geom analysis/pose analysis/posture exports testdata/demo timeline timeline/media timeline/store viewer", "github.com/mattn/go-isatty github.com/spf13/cobra", false, "parse, make one call, print"},
	{"testdata/demo", "timeline", "", false, "the bundled study, for the demo command and for tests"},
	{"testdata/demo/render", "analysis analysis/body analysis/geom analysis/pose exports/figure testdata/demo timeline", "", false, "the program that films the bundled recording"},
	{"testdata/doc", "", "", false, "generated parts of the documents, for tests"},
	{"testdata/peer", "", "", false, "programs that are not ours, for tests"},
}

// barred is what pure computing may not import: nothing that reads a file, a
// network, a database or a clock.
var barred = []string{"os", "os/exec", "net", "net/http", "database/sql", "time", "log", "math/rand", "math/rand/v2"}

// barredElsewhere is what only the named rooms may import.
var barredElsewhere = map[string][]string{
	"database/sql": {"timeline/store"},
	"net/http":     {"viewer"},
	"net":          {"viewer"},
	"os/exec":      {"cmd/tautline", "testdata/peer", "testdata/demo/render"},
}

// ours is a package as the go command sees it.
type ours struct {
	ImportPath, Dir                    string
	Imports, TestImports, XTestImports []string
}

const module = "tautline/"

// packages lists all packages of ours, those below testdata too.
func packages(t *testing.T) []ours {
	t.Helper()
	args := []string{"list", "-json=ImportPath,Dir,Imports,TestImports,XTestImports", "./..."}
	seen := map[string]bool{}
	for _, f := range tree(t) {
		if dir := filepath.ToSlash(filepath.Dir(f)); strings.HasSuffix(f, ".go") && strings.HasPrefix(dir, "testdata/") && !seen[dir] {
			seen[dir] = true
			args = append(args, "./"+dir)
		}
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = doc.Root()
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var list []ours
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p ours
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}

// kinds parts imports into ours (below the module), others' and Go's own.
func kinds(imports []string) (mine, others, std []string) {
	for _, i := range imports {
		switch first, _, _ := strings.Cut(i, "/"); {
		case strings.HasPrefix(i, module):
			mine = append(mine, strings.TrimPrefix(i, module))
		case strings.Contains(first, "."):
			others = append(others, i)
		default:
			std = append(std, i)
		}
	}
	return mine, others, std
}

// graphProblems holds packages to the table and the table to the packages.
func graphProblems(table []room, list []ours) (problems []string) {
	say := func(words ...string) { problems = append(problems, strings.Join(words, " ")) }
	left := map[string]room{}
	for _, r := range table {
		left[r.name] = r
	}
	for _, p := range list {
		name := strings.TrimPrefix(p.ImportPath, module)
		r, ok := left[name]
		if !ok {
			say(name, "has no row in the table of imports")
			continue
		}
		delete(left, name)
		mine, others, std := kinds(p.Imports)
		compare := func(got []string, want, what string) {
			for _, g := range got {
				if !slices.Contains(strings.Fields(want), g) {
					say(name, "imports", g+what)
				}
			}
			for _, w := range strings.Fields(want) {
				if !slices.Contains(got, w) {
					say("the table says that", name, "imports", w+", which it does not")
				}
			}
		}
		compare(mine, r.imports, ", which the table does not allow: "+r.why)
		compare(others, r.outside, ", which the table does not name")
		for _, s := range std {
			if r.core && slices.Contains(barred, s) {
				say(name, "is pure computing and imports", s)
			}
			if rooms, ok := barredElsewhere[s]; ok && !slices.Contains(rooms, name) {
				say(name, "imports", s+", which belongs to", strings.Join(rooms, " and "))
			}
		}
		// A test may lean on what its package leans on, and on test fixtures.
		tests, _, _ := kinds(append(slices.Clone(p.TestImports), p.XTestImports...))
		for _, i := range tests {
			if strings.HasPrefix(i, "timeline") && strings.HasPrefix(name, "analysis") || strings.HasPrefix(i, "viewer") && name != "viewer" && !strings.HasPrefix(name, "cmd") {
				say("a test of", name, "imports", i+", which stands above it")
			}
		}
	}
	for name := range left {
		say("the table has a row for", name+", which is not there")
	}
	return problems
}

func TestImportsRunOneWay(t *testing.T) {
	for _, p := range graphProblems(rooms, packages(t)) {
		t.Error(p)
	}
}

func TestABrokenImportGraphIsNoticed(t *testing.T) {
	table := []room{{"low", "", "", true, ""}, {"high", "low", "", false, ""}, {"gone", "", "", false, ""}}
	problems := graphProblems(table, []ours{
		{ImportPath: module + "low", Imports: []string{module + "high", "os", "example.org/x"}, TestImports: []string{module + "high"}},
		{ImportPath: module + "high", Imports: []string{"net/http"}},
		{ImportPath: module + "new"},
	})
	slices.Sort(problems)
	want := []string{
		"high imports net/http, which belongs to viewer",
		"low imports example.org/x, which the table does not name",
		"low imports high, which the table does not allow: ",
		"low is pure computing and imports os",
		"new has no row in the table of imports",
		"the table has a row for gone, which is not there",
		"the table says that high imports low, which it does not",
	}
	if !slices.Equal(problems, want) {
		t.Errorf("found\n%s\nexpected\n%s", strings.Join(problems, "\n"), strings.Join(want, "\n"))
	}
}

// importTable is the part of DEVELOPERS.md that shows the graph.
func importTable() string {
	rows := [][]string{}
	for _, r := range rooms {
		list := func(s string) string {
			if s == "" {
				return "nothing"
			}
			return "`" + strings.Join(strings.Fields(s), "`, `") + "`"
		}
		what := list(r.imports)
		if r.outside != "" {
			what += "; outside: " + list(r.outside)
		}
		if r.core {
			what += "; pure"
		}
		rows = append(rows, []string{"`" + r.name + "`", what, r.why})
	}
	return doc.Table([]string{"package", "imports", "why"}, rows) +
		"\nPure: no `" + strings.Join(barred, "`, `") + "`."
}
