package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tautline/testdata/doc"
)

// asked finds the programs that tests ask of a peer.
var asked = regexp.MustCompile(`peer\.(?:Need|Run)\(\w+, "([^"]+)"`)

// TestTheRunnerInstallsWhatTestsAsk: where .ci/run did not name a program, its
// checks would be skipped, and the run fail, on a bare machine only.
func TestTheRunnerInstallsWhatTestsAsk(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(doc.Root(), ".ci", "run"))
	if err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(filepath.Join(doc.Root(), ".ci", "run")); err != nil || info.Mode()&0o111 == 0 {
		t.Errorf(".ci/run cannot be run (%v)", err)
	}
	names := map[string]string{}
	for file, source := range read(t, ".go") {
		for _, m := range asked.FindAllSubmatch(source, -1) {
			names[string(m[1])] = file
		}
	}
	if len(names) < 5 {
		t.Errorf("only %v were found", names)
	}
	for name, file := range names {
		if !regexp.MustCompile(`missing ` + regexp.QuoteMeta(name) + ` `).Match(b) {
			t.Errorf("%s asks for %s, which .ci/run does not install", file, name)
		}
	}
	if !strings.Contains(string(b), "go test $*") || !strings.Contains(string(b), "run_tests ./...") {
		t.Error(".ci/run does not run the README's test command")
	}
}
