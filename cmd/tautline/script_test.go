package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts, and tests that need a second process, run this test
// binary as the real program under its own name.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"tautline": main})
}

// TestStories runs every script of testdata/scripts: one story each, told as a
// person would type it, with both output streams asserted.
func TestStories(t *testing.T) {
	movie, err := filepath.Abs("../../testdata/demo/orchard-warm-up.mp4")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("MOVIE", movie)
			e.Values[sealKey] = seals{}
			home := filepath.Join(e.WorkDir, ".home")
			e.Setenv("HOME", home)
			return os.Mkdir(home, 0o777)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"ends":   ends,
			"refuse": refuse,
			"json":   checkJSON,
			"patch":  patch,
			"seal":   seal,
			"sealed": sealed,
		},
	})
}
