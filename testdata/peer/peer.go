// Package peer lets tests ask programs that are not ours: media tools on the
// PATH, a browser, and parsers from npm that are driven by the small node
// scripts beside this file.
//
// Where a program is missing the test is skipped by name, so that a run on a
// full machine can fail on every skip. The npm packages are pinned in
// package.json; install them once with "npm ci" in this folder, or name a
// node_modules folder that has them in TAUTLINE_PEER_MODULES.
package peer

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// patience is how long one outside program may take.
const patience = 3 * time.Minute

// Need returns the path of a program, or skips the test with the program's name.
func Need(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		t.Skipf("peer: %s is not installed", program)
	}
	return path
}

// Run runs a program and returns what it printed. It skips the test when the
// program is missing and fails it when the program ends with an error.
func Run(t testing.TB, program string, args ...string) []byte {
	t.Helper()
	return run(t, Need(t, program), args, nil)
}

// Chromium returns the path of a Chromium: $CHROMIUM, or the first of the usual
// names on the PATH. It skips the test when there is none.
func Chromium(t testing.TB) string {
	t.Helper()
	if path := os.Getenv("CHROMIUM"); path != "" {
		return path
	}
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("peer: chromium is not installed")
	return ""
}

// Node runs a script of this folder and returns what it printed. It skips the
// test when node or the npm packages are missing.
func Node(t testing.TB, script string, args ...string) []byte {
	t.Helper()
	node := Need(t, "node")
	modules, err := modules()
	if err != nil {
		t.Skipf("peer: npm packages are not installed (%v)", err)
	}
	env := append(os.Environ(), "TAUTLINE_PEER_MODULES="+modules)
	if path, err := exec.LookPath("chromium"); err == nil && os.Getenv("CHROMIUM") == "" {
		env = append(env, "CHROMIUM="+path)
	}
	return run(t, node, append([]string{filepath.Join(folder(), script)}, args...), env)
}

// File skips the test when a file that comes with a program is not there.
func File(t testing.TB, path string) string {
	t.Helper()
	if _, err := os.Stat(path); err != nil {
		t.Skipf("peer: %s is not installed", path)
	}
	return path
}

// Package skips the test when an npm package that a script needs is not among
// those installed.
func Package(t testing.TB, name string) {
	t.Helper()
	dir, err := modules()
	if err == nil {
		_, err = os.Stat(filepath.Join(dir, filepath.FromSlash(name)))
	}
	if err != nil {
		t.Skipf("peer: the npm package %s is not installed (%v)", name, err)
	}
}

// Read runs a script of this folder that prints JSON and decodes it into value.
func Read(t testing.TB, value any, script string, args ...string) {
	t.Helper()
	out := Node(t, script, args...)
	if err := json.Unmarshal(out, value); err != nil {
		t.Fatalf("peer: %s printed no JSON: %v\n%s", script, err, head(out))
	}
}

func run(t testing.TB, path string, args, env []string) []byte {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.Env = env
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("peer: %s %s: %v\n%s%s", filepath.Base(path), strings.Join(args, " "), err, head(errs.Bytes()), head(out.Bytes()))
	}
	return out.Bytes()
}

// modules finds the node_modules folder to use.
func modules() (string, error) {
	dir := os.Getenv("TAUTLINE_PEER_MODULES")
	if dir == "" {
		dir = filepath.Join(folder(), "node_modules")
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	if filepath.Base(dir) != "node_modules" {
		return "", errors.New("the folder's name must be node_modules")
	}
	if _, err := os.Stat(filepath.Join(dir, "webvtt-parser")); err != nil {
		return "", errors.New("run npm ci in testdata/peer")
	}
	return dir, nil
}

// folder is where this file, and so the scripts, are.
func folder() string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Dir(file)
}

// head cuts a long output for a message.
func head(b []byte) []byte {
	if len(b) > 4000 {
		return append(b[:4000:4000], "…\n"...)
	}
	return b
}
