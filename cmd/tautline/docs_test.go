package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"tautline/analysis/body"
	"tautline/exports"
	"tautline/testdata/demo"
	"tautline/testdata/doc"
	"tautline/testdata/peer"
)

// parts are the generated parts of the documents and where their makers are:
// those of this package, and the test of another package that holds one.
var parts = map[string]map[string]func() string{
	"README.md":     {"usage": usage},
	"DEVELOPERS.md": {"imports": importTable, "published": nil}, // published: analysis/pose
}

func TestGeneratedPartsOfTheDocumentsAreWhatTheCodeSays(t *testing.T) {
	for file, makers := range parts {
		names := doc.Names(t, file)
		for _, name := range names {
			if _, ok := makers[name]; !ok {
				t.Errorf("%s: nobody makes the part %q", file, name)
			}
		}
		for name, make := range makers {
			if !slices.Contains(names, name) {
				t.Errorf("%s: the part %q is missing", file, name)
			} else if make != nil {
				doc.Part(t, file, name, make())
			}
		}
	}
}

// usage is every command with its arguments in one line each, and the formats.
func usage() string {
	var b strings.Builder
	b.WriteString("```\n")
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		if c.Hidden || c.Name() == "help" || c.Parent() != nil && c.Parent().Name() == "completion" {
			return
		}
		if subs := c.Commands(); len(subs) > 0 && c.Name() != "completion" {
			if c.Name() == "body" {
				writeUsage(&b, c)
			}
			for _, sub := range subs {
				walk(sub)
			}
			return
		}
		writeUsage(&b, c)
	}
	walk(newRoot())
	b.WriteString("\nformats of export:\n")
	for _, f := range exports.Formats() {
		fmt.Fprintf(&b, "  %-18s %s\n", f.Name, f.Help)
	}
	return b.String() + "```"
}

func writeUsage(b *strings.Builder, c *cobra.Command) {
	line := c.CommandPath()
	if _, takes, ok := strings.Cut(c.Use, " "); ok {
		line += " " + takes
	}
	fmt.Fprintf(b, "%-40s %s\n", line, c.Short)
}

// TestTheReadmesRealStudyWorksAsWritten types the ten lines of the README into a
// shell, but for those that install the program and serve the page, with the
// bundled recording under the name that they use.
func TestTheReadmesRealStudyWorksAsWritten(t *testing.T) {
	readme := read(t, ".md")["README.md"]
	_, rest, ok := strings.Cut(string(readme), "## A real study in ten lines\n\n```\n")
	lines, _, closed := strings.Cut(rest, "```")
	if !ok || !closed {
		t.Fatal("the README has no real study")
	}
	script := []string{}
	for _, line := range strings.Split(strings.TrimSpace(lines), "\n") {
		if !strings.HasPrefix(line, "go install ") && !strings.HasPrefix(line, "tautline view ") {
			script = append(script, line)
		}
	}
	if len(script) < 8 {
		t.Fatalf("only %d lines were found", len(script))
	}
	dir, program := t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "warm-up.mp4"), demo.Recording(), 0o644); err != nil {
		t.Fatal(err)
	}
	self, err := os.Executable()
	if err == nil {
		err = os.Symlink(self, filepath.Join(program, "tautline"))
	}
	if err != nil {
		peer.Lacks(t, "symbolic links", err)
	}
	cmd := exec.Command("sh", "-e", "-c", strings.Join(script, "\n"))
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "PATH="+program+string(os.PathListSeparator)+os.Getenv("PATH"))
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	if strings.Contains(string(out), "not understood") {
		t.Errorf("the README's postures are not understood:\n%s", out)
	}
	if _, err := os.Stat(filepath.Join(dir, "publish", "warm-up.captions.vtt")); err != nil {
		t.Error(err)
	}
}

func TestTheReadmeCountsTheMusclesRight(t *testing.T) {
	want := fmt.Sprintf("%d muscle parts a side", len(body.Adult().Muscles)/2)
	if !strings.Contains(string(read(t, ".md")["README.md"]), want) {
		t.Errorf("the README does not say %q", want)
	}
}

// TestLinksOfTheDocumentsLeadSomewhere: to files of this tree; and their room
// lists name folders that are there.
func TestLinksOfTheDocumentsLeadSomewhere(t *testing.T) {
	n := 0
	for file := range parts {
		text := string(read(t, ".md")[file])
		for _, m := range regexp.MustCompile(`\]\(([^)\s]+)\)`).FindAllStringSubmatch(text, -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			n++
			if _, err := os.Stat(filepath.Join(doc.Root(), filepath.Dir(file), m[1])); err != nil {
				t.Errorf("%s: %v", file, err)
			}
		}
		for _, m := range regexp.MustCompile("`((?:analysis|timeline|exports|viewer|testdata|cmd)/[\\w./-]*)`").FindAllStringSubmatch(text, -1) {
			if n++; regexp.MustCompile(`[A-Z]{2,}_`).MatchString(m[1]) {
				continue // REGION_muscles.csv stands for several
			}
			if _, err := os.Stat(filepath.Join(doc.Root(), m[1])); err != nil {
				t.Errorf("%s names a place that is not there: %v", file, err)
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d links and places were found", n)
	}
}
