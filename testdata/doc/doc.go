// Package doc holds the generated parts of README.md and DEVELOPERS.md to the
// code. A part stands between two comments,
//
//	<!-- generated:NAME -->
//	<!-- end -->
//
// and belongs to the one test that calls Part with its name.
package doc

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the generated parts of README.md and DEVELOPERS.md")

// Root is the folder of the whole module.
func Root() string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Dir(filepath.Dir(filepath.Dir(file)))
}

// Part fails the test unless the named part of a file is want, or rewrites it
// under -update.
func Part(t testing.TB, file, name, want string) {
	t.Helper()
	path := filepath.Join(Root(), file)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	begin, end := "<!-- generated:"+name+" -->\n", "<!-- end -->"
	before, rest, ok := strings.Cut(string(b), begin)
	got, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("%s has no part %q", file, name)
	}
	want = "\n" + strings.TrimSpace(want) + "\n\n"
	if got == want {
		return
	}
	if !*update {
		t.Errorf("%s: the part %q is not what the code says; go test -update in this package rewrites it", file, name)
		return
	}
	if err := os.WriteFile(path, []byte(before+begin+want+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

var begins = regexp.MustCompile(`(?m)^<!-- generated:(\S+) -->$`)

// Names lists the parts of a file, for a test that every one has its maker.
func Names(t testing.TB, file string) []string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(Root(), file))
	if err != nil {
		t.Fatal(err)
	}
	names := []string{}
	for _, m := range begins.FindAllStringSubmatch(string(b), -1) {
		names = append(names, m[1])
	}
	return names
}

// Table writes rows as a Markdown table under a header.
func Table(header []string, rows [][]string) string {
	var b strings.Builder
	line := func(cells []string) {
		escaped := make([]string, len(cells))
		for i, c := range cells {
			escaped[i] = strings.ReplaceAll(c, "|", `\|`)
		}
		b.WriteString("| " + strings.Join(escaped, " | ") + " |\n")
	}
	line(header)
	b.WriteString(strings.Repeat("| --- ", len(header)) + "|\n")
	for _, r := range rows {
		line(r)
	}
	return b.String()
}
