package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"tautline/exports"
	"tautline/testdata/demo"
	"tautline/timeline"
	"tautline/timeline/store"
	"tautline/viewer"
)

func demoCommand() *cobra.Command {
	var show, noOpen bool
	c := &cobra.Command{
		Use:   "demo [FOLDER]",
		Short: "Make a study of the bundled recording, with everything that leaves it",
		Long: `Makes a folder with a study of the bundled recording, an orchard picker's warm-up
in six marks, analyses it and writes captions, chapters and notes.`,
		Args: args("", "FOLDER"),
	}
	asJSON := jsonFlag(c)
	c.Flags().BoolVar(&show, "view", false, "then open the page")
	c.Flags().BoolVar(&noOpen, "no-open", false, "with --view: print the address and do not open a browser")
	c.RunE = func(c *cobra.Command, a []string) error {
		if show && *asJSON {
			return wrongLine(c, "say one of --view and --json")
		}
		dir := "orchard-warm-up"
		if len(a) > 0 {
			dir = a[0]
		}
		path := filepath.Join(dir, demo.Name+".study")
		made, err := makeDemo(c, dir, path)
		if err != nil {
			return err
		}
		r, err := assess(c, path)
		if err != nil {
			return err
		}
		o, err := options(c, string(exports.Plain))
		if err != nil {
			return err
		}
		written, err := exportAll(r, exports.Formats(), o, dir, demo.Name, false, false)
		if err != nil {
			return withHint(err, "tautline demo %s", file(free(dir)))
		}
		out := c.OutOrStdout()
		if *asJSON {
			return printJSON(out, demoJSON{path, filepath.Join(dir, demo.Name+".mp4"), written})
		}
		fmt.Fprintf(out, "%s: %s %s, %d marks\n", dir, made, filepath.Base(path), len(r.Phases))
		fmt.Fprintf(out, "recording: %s\n", line(r.Study.Recording))
		fmt.Fprintf(out, "written: %d files to publish and to hand out, from %s to %s\n", len(written), filepath.Base(written[0].File), filepath.Base(written[len(written)-1].File))
		fmt.Fprintf(out, "look: tautline view %s\n", file(path))
		fmt.Fprintf(out, "ask:  tautline explain %s --phase 3 --joint shoulder\n", file(path))
		if show {
			return view(c.Context(), out, path, "", "", !noOpen, false)
		}
		return nil
	}
	return c
}

// demoJSON is what demo --json prints.
type demoJSON struct {
	Study     string        `json:"study"`
	Recording string        `json:"recording"`
	Written   []writtenFile `json:"written"`
}

// makeDemo writes the recording and the study into dir. A study that is there
// already is kept as it is: it may have been worked on.
func makeDemo(c *cobra.Command, dir, path string) (string, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return "", withHint(fmt.Errorf("the folder %s cannot be made: %w", dir, cause(err)), "tautline demo %s", file(free(demo.Name)))
	}
	movie := filepath.Join(dir, demo.Name+".mp4")
	if _, err := os.Stat(movie); errors.Is(err, fs.ErrNotExist) {
		if err := writeWhole(movie, demo.Recording()); err != nil {
			return "", err
		}
	}
	if _, err := os.Stat(path); err == nil {
		return "kept the study", nil
	}
	rec, err := viewer.Describe(path, movie)
	if err != nil {
		return "", err
	}
	st := demo.Study()
	st.Recording = rec
	m, err := timeline.ModelFor(st)
	if err != nil {
		return "", err
	}
	st.Person = timeline.Person{StatureM: m.Person.Stature, MassKg: m.Person.Mass, Sex: string(m.Person.Sex)}
	s, err := store.Create(c.Context(), path, st)
	if err != nil {
		return "", err
	}
	return "made the study", s.Close()
}
