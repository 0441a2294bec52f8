package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// The words that scripts have besides testscript's own.

// ends runs tautline and asserts its exit code: ends CODE ARGUMENT...
func ends(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: ends CODE [ARGUMENT...]")
	}
	got := 0
	if err := ts.Exec("tautline", args[1:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("tautline did not run: %v", err)
		}
		got = exit.ExitCode()
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d, expected %s", got, args[0])
	}
}

// refuse runs tautline and asserts everything that every refusal promises: the
// exit code, nothing on standard output, one line of what was wrong, one line of
// what to try (after notes, if there are any), and that the second, typed into a
// shell in a copy of the folder, works. With -untried the hint is not run: it
// needs what a script has not.
func refuse(ts *testscript.TestScript, neg bool, args []string) {
	untried := len(args) > 0 && args[0] == "-untried"
	if untried {
		args = args[1:]
	}
	ends(ts, neg, args)
	if out := ts.ReadFile("stdout"); out != "" {
		ts.Fatalf("a refusal printed on standard output: %q", out)
	}
	lines := slices.DeleteFunc(strings.Split(ts.ReadFile("stderr"), "\n"), func(l string) bool { return strings.HasPrefix(l, "note: ") })
	if len(lines) != 3 || !strings.HasPrefix(lines[0], "tautline: ") || !strings.HasPrefix(lines[1], "try: tautline") || lines[2] != "" {
		ts.Fatalf("a refusal is one line of what was wrong and one of what to try, got %q", lines)
	}
	if !untried {
		try(ts, strings.TrimPrefix(lines[1], "try: "))
	}
}

// try runs a hint in a copy of the script's folder.
func try(ts *testscript.TestScript, hint string) {
	here := ts.MkAbs(".")
	there, err := os.MkdirTemp("", "hint-")
	ts.Check(err)
	defer os.RemoveAll(there)
	ts.Check(os.CopyFS(there, os.DirFS(here)))
	cmd := exec.Command("sh", "-c", hint)
	cmd.Dir = there
	cmd.Env = []string{"PATH=" + ts.Getenv("PATH"), "HOME=" + there, "TMPDIR=" + there}
	if out, err := cmd.CombinedOutput(); err != nil {
		ts.Fatalf("the hint %q does not work: %v\n%s", hint, err, out)
	}
}

// patch writes bytes into a file: patch FILE OFFSET HEX
func patch(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: patch FILE OFFSET HEX")
	}
	at, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	b, err := hex.DecodeString(args[2])
	ts.Check(err)
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_WRONLY, 0)
	ts.Check(err)
	_, err = f.WriteAt(b, at)
	ts.Check(err)
	ts.Check(f.Close())
}

// seals are the files that a script has sealed, with their content's sum.
type seals map[string]string

const sealKey = "seals"

// seal remembers what files hold; sealed asserts that they hold it still.
func seal(ts *testscript.TestScript, neg bool, args []string) {
	for _, name := range args {
		ts.Value(sealKey).(seals)[name] = fileSum(ts, name)
	}
}

func sealed(ts *testscript.TestScript, neg bool, args []string) {
	for _, name := range args {
		was, ok := ts.Value(sealKey).(seals)[name]
		if !ok {
			ts.Fatalf("%s was never sealed", name)
		}
		if same := fileSum(ts, name) == was; same == neg {
			ts.Fatalf("%s: unchanged is %v", name, same)
		}
	}
}

func fileSum(ts *testscript.TestScript, name string) string {
	f, err := os.Open(filepath.Clean(ts.MkAbs(name)))
	ts.Check(err)
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	ts.Check(err)
	return hex.EncodeToString(h.Sum(nil))
}
