// Command render makes the demo's pictures anew from the demo's own words: the
// recording (the model's figure performing the warm-up in an orchard) and the
// README's picture of the overhead reach.
//
// From the top of the repository:
//
//	go run ./testdata/demo/render
//
// It takes about a minute and needs ffmpeg with libx264 on the PATH. Both files
// are written to testdata/demo. The same model, words and ffmpeg give the same
// bytes; with -stills FOLDER only one picture of each mark is made, for looking at.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/testdata/demo"
	"tautline/timeline"
)

func main() {
	out := flag.String("out", "testdata/demo", "the folder to write to")
	stills := flag.String("stills", "", "write only a picture of each mark, to this folder")
	flag.Parse()
	if err := run(*out, *stills); err != nil {
		fmt.Fprintln(os.Stderr, "render:", err)
		os.Exit(1)
	}
}

func run(out, stills string) error {
	if _, err := os.Stat(out); err != nil {
		return fmt.Errorf("no folder to write to: %w\ntry: run it from the top of the repository, or name a folder with -out", err)
	}
	ffmpeg, err := exec.LookPath("ffmpeg")
	if err != nil {
		return errors.New("ffmpeg is not on the PATH\ntry: install ffmpeg with libx264, then run this again")
	}
	m := body.Adult()
	report, err := timeline.Assess(context.Background(), analysis.New(m), demo.Study(), nil)
	if err != nil {
		return err
	}
	for _, p := range report.Phases {
		if len(p.Reading.Unknown) > 0 {
			return fmt.Errorf("mark %q: %q was not understood", p.Mark.Title, p.Reading.Unknown[0].Text)
		}
	}
	set := newStage(report)
	if stills != "" {
		return set.stills(stills)
	}
	if err := picture(m, report, filepath.Join(out, "overhead-reach.png")); err != nil {
		return err
	}
	return film(ffmpeg, set, filepath.Join(out, demo.Name+".mp4"))
}
