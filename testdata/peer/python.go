package peer

import (
	"encoding/json"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Python returns a python3 that has the named modules: the one on the PATH or
// the system's own. It skips the test, with what is missing, when neither has.
func Python(t testing.TB, modules ...string) string {
	t.Helper()
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		path, err := exec.LookPath(name)
		if err == nil && exec.Command(path, "-c", "import "+strings.Join(modules, ", ")).Run() == nil {
			return path
		}
	}
	t.Skipf("peer: python3 with %s is not installed", strings.Join(modules, " and "))
	return ""
}

// Programs asks established solvers for the answers to the convex programs in a
// JSON file, in the form that programs.py beside this file describes, and
// decodes what they print into value.
func Programs(t testing.TB, file string, value any) {
	t.Helper()
	python := Python(t, "numpy", "scipy", "cvxopt")
	out := run(t, python, []string{filepath.Join(folder(), "programs.py"), file}, nil)
	if err := json.Unmarshal(out, value); err != nil {
		t.Fatalf("peer: programs.py printed no JSON: %v\n%s", err, head(out))
	}
}

// Tables lets Python's csv module read tables and decodes what it found into
// value, in the form that tables.py beside this file describes.
func Tables(t testing.TB, value any, files ...string) {
	t.Helper()
	out := run(t, Python(t, "csv"), append([]string{filepath.Join(folder(), "tables.py")}, files...), nil)
	if err := json.Unmarshal(out, value); err != nil {
		t.Fatalf("peer: tables.py printed no JSON: %v\n%s", err, head(out))
	}
}
