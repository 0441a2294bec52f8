package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tautline/testdata/doc"
)

// The gates that look at the whole tree.

// tree lists the files of the module, with slashes, below its root: what git
// keeps or would, or where there is no git, everything but node_modules.
func tree(t *testing.T) (files []string) {
	t.Helper()
	if out, err := exec.Command("git", "-C", doc.Root(), "ls-files", "-z", "--cached", "--others", "--exclude-standard").Output(); err == nil {
		for _, f := range strings.Split(strings.TrimRight(string(out), "\x00"), "\x00") {
			if _, err := os.Stat(filepath.Join(doc.Root(), f)); err == nil {
				files = append(files, f)
			}
		}
	} else {
		err := fs.WalkDir(os.DirFS(doc.Root()), ".", func(path string, d fs.DirEntry, err error) error {
			if d != nil && d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git") {
				return fs.SkipDir
			}
			if err == nil && d.Type().IsRegular() {
				files = append(files, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(files) < 100 {
		t.Fatalf("only %d files were found under %s", len(files), doc.Root())
	}
	return files
}

// read gives the files with one of the endings, by name.
func read(t *testing.T, endings ...string) map[string][]byte {
	t.Helper()
	found := map[string][]byte{}
	for _, f := range tree(t) {
		if slices.Contains(endings, filepath.Ext(f)) {
			b, err := os.ReadFile(filepath.Join(doc.Root(), f))
			if err != nil {
				t.Fatal(err)
			}
			found[f] = b
		}
	}
	if len(found) == 0 {
		t.Fatalf("there are no files ending in %v", endings)
	}
	return found
}

func TestGoFilesAreFormatted(t *testing.T) {
	for name, b := range read(t, ".go") {
		if pretty, err := format.Source(b); err != nil {
			t.Errorf("%s: %v", name, err)
		} else if !bytes.Equal(pretty, b) {
			t.Errorf("%s: not as gofmt writes it", name)
		}
	}
}

func TestVetHasNothingToSay(t *testing.T) {
	args := []string{"vet"}
	for _, p := range packages(t) {
		args = append(args, p.ImportPath)
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = doc.Root()
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("go vet: %v\n%s", err, out)
	}
}

// A file holds one idea; past the first bound somebody looks whether it holds
// two, past the second it does.
const (
	longFile    = 300
	tooLongFile = 600
)

func TestNoFileIsTooLong(t *testing.T) {
	for name, b := range read(t, ".go", ".js", ".mjs", ".css", ".html") {
		switch n := bytes.Count(b, []byte("\n")); {
		case n > tooLongFile:
			t.Errorf("%s has %d lines, more than %d: split it", name, n, tooLongFile)
		case n > longFile:
			t.Logf("%s has %d lines: does it hold one idea?", name, n)
		}
	}
}

func TestTopLevelHoldsTheRoomsAndNothingElse(t *testing.T) {
	allowed := strings.Fields("analysis cmd exports timeline testdata viewer README.md DEVELOPERS.md go.mod go.sum .ci .gitattributes .gitignore")
	found := map[string]bool{}
	for _, f := range tree(t) {
		first, _, _ := strings.Cut(f, "/")
		found[first] = true
	}
	for _, name := range sortedKeys(found) {
		if !slices.Contains(allowed, name) {
			t.Errorf("%s does not belong at the top level", name)
		}
	}
	for _, name := range allowed {
		if !found[name] {
			t.Errorf("%s is missing", name)
		}
	}
}

// unfinished finds words of unfinished work. They are put together here so that
// this file does not hold them.
var unfinished = regexp.MustCompile(`\b(TO` + `DO|FIX` + `ME|XX` + `X)\b|(?i)not[ ]implemented|place` + `holder`)

// domWord is the one honest use: an attribute of a form field in the page.
var domWord = regexp.MustCompile(`(?i)(\.|::| )place` + `holder( *=|\b *\{)`)

// machine finds paths of one machine.
var machine = regexp.MustCompile(`(^|[\s"'=:(` + "`" + `])/(work|root|tmp|home)/[\w.]`)

// wordProblems looks at one file.
func wordProblems(name string, b []byte) (problems []string) {
	for i, line := range strings.Split(string(b), "\n") {
		plain := line
		if strings.HasPrefix(name, "viewer/web/") {
			plain = domWord.ReplaceAllString(line, "")
		}
		if m := unfinished.FindString(plain); m != "" {
			problems = append(problems, fmt.Sprintf("%s:%d: %q: finish it or leave it out", name, i+1, m))
		}
		if m := machine.FindString(line); m != "" {
			problems = append(problems, fmt.Sprintf("%s:%d: %q is a path of one machine", name, i+1, m))
		}
	}
	return problems
}

func TestNothingIsLeftUnfinishedAndNoMachineIsNamed(t *testing.T) {
	for name, b := range read(t, ".go", ".js", ".mjs", ".css", ".html", ".md", ".csv", ".sql", ".txtar", ".svg", ".sh", "") {
		if strings.HasPrefix(name, ".git") || bytes.IndexByte(b, 0) >= 0 {
			continue
		}
		for _, p := range wordProblems(name, b) {
			t.Error(p)
		}
	}
	planted := "a := 1 // TO" + "DO\npath := \"/ro" + "ot/x\"\nfield.place" + "holder = 1\n"
	if got := len(wordProblems("x.go", []byte(planted))); got != 3 {
		t.Errorf("of 3 planted slips %d were found", got)
	}
	if got := len(wordProblems("viewer/web/x.js", []byte(planted))); got != 2 {
		t.Errorf("of 2 planted slips %d were found", got)
	}
}

// skipping finds tests that skip themselves. Only testdata/peer does that, by
// name, so that a run on a full machine can fail on every skip.
func skipping(name string, b []byte) (problems []string) {
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, name, b, 0)
	if err != nil {
		return []string{err.Error()}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok && slices.Contains([]string{"Skip", "Skipf", "SkipNow"}, s.Sel.Name) {
			if x, ok := s.X.(*ast.Ident); ok && slices.Contains([]string{"t", "b", "f", "tb"}, x.Name) {
				problems = append(problems, fmt.Sprintf("%s: a test skips by itself; let testdata/peer do it by name", files.Position(s.Pos())))
			}
		}
		return true
	})
	return problems
}

func TestOnlyPeerChecksSkip(t *testing.T) {
	for name, b := range read(t, ".go") {
		if strings.HasPrefix(name, "testdata/peer/") {
			continue
		}
		for _, p := range skipping(name, b) {
			t.Error(p)
		}
	}
	for name, b := range read(t, ".txtar") {
		if regexp.MustCompile(`(?m)^(\[[^]]*\] *)?(skip|stop)\b`).Match(b) {
			t.Errorf("%s: a script skips or stops early", name)
		}
	}
	planted := "package x\nfunc f(t *testing.T) { if testing.Short() { t.Skip() } }"
	if got := len(skipping("x.go", []byte(planted))); got != 1 {
		t.Errorf("of 1 planted skip %d were found", got)
	}
}
