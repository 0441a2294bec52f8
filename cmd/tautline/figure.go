package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tautline/exports"
	"tautline/timeline"
)

func figureCommand() *cobra.Command {
	var to string
	var force, png bool
	var look exports.Look
	c := &cobra.Command{
		Use:   "figure STUDY [PHASE...]",
		Short: "Draw the body at the start of phases, from any side, whole or near",
		Long: "Draws each named phase, or all, with its muscles, what bears and loads the body, labels\n" +
			"and a legend. Views: " + strings.Join(exports.Views(), ", ") + ". Close-ups: " + strings.Join(exports.CloseUps(), ", ") + ".",
		Example: `  tautline figure warm-up.study
  tautline figure warm-up.study 3 --view back --close-up shoulder --png
  tautline figure warm-up.study 5 --view right --to -`,
		Args: args("STUDY", "PHASE..."),
	}
	asJSON, voice := jsonFlag(c), voiceFlag(c)
	c.Flags().StringVar(&look.View, "view", "front", "where the eye stands")
	c.Flags().StringVar(&look.CloseUp, "close-up", "", "the part of the body to draw from near")
	c.Flags().BoolVar(&png, "png", false, "write PNG in place of SVG")
	c.Flags().StringVar(&to, "to", "", "folder to write into (default: beside the study); - writes one figure to standard output")
	c.Flags().BoolVar(&force, "force", false, "write over files that tautline did not make")
	for flag, names := range map[string][]string{"view": exports.Views(), "close-up": exports.CloseUps()} {
		_ = c.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(names, cobra.ShellCompDirectiveNoFileComp))
	}
	c.RunE = func(c *cobra.Command, a []string) error {
		o, err := options(c, *voice)
		if err != nil {
			return err
		}
		r, err := assess(c, a[0])
		if err != nil {
			return err
		}
		phases, err := phasesNamed(r, a[0], a[1:])
		if err != nil {
			return err
		}
		draw := func(phase int) ([]byte, error) {
			var b bytes.Buffer
			err := exports.WriteFigure(&b, r, phase, look, png, o)
			return b.Bytes(), err
		}
		if to == "-" {
			if len(phases) != 1 {
				return wrongLine(c, "--to - takes one phase")
			}
			b, err := draw(phases[0])
			if err != nil {
				return err
			}
			_, err = c.OutOrStdout().Write(b)
			return err
		}
		if to == "" {
			to = filepath.Dir(a[0])
		}
		out, err := newOutbox(to)
		if err != nil {
			return err
		}
		written := []writtenFile{}
		var kept keptError
		for _, n := range phases {
			b, err := draw(n)
			if err != nil {
				return err
			}
			name := stem(a[0]) + "." + figureFile(n, look, png)
			if err := out.write(name, b, force); errors.As(err, new(*keptError)) {
				kept.paths = append(kept.paths, filepath.Join(to, name))
				continue
			} else if err != nil {
				return err
			}
			written = append(written, writtenFile{"figure", filepath.Join(to, name), len(b), fmt.Sprintf("the figure of phase %d", n)})
		}
		if len(kept.paths) > 0 {
			err = withHint(&kept, "tautline figure %s --to %s", file(a[0]), file(free("published")))
		}
		if *asJSON {
			if e := printJSON(c.OutOrStdout(), written); e != nil {
				return e
			}
			return err
		}
		for _, w := range written {
			fmt.Fprintf(c.OutOrStdout(), "%s  %s\n", w.File, w.Help)
		}
		return err
	}
	return c
}

// phasesNamed reads phase numbers; none are all.
func phasesNamed(r *timeline.Report, study string, words []string) ([]int, error) {
	var out []int
	for _, w := range words {
		n, err := strconv.Atoi(w)
		if err != nil {
			return nil, withHint(fmt.Errorf("%q is not the number of a phase", w), "tautline list %s", file(study))
		}
		if _, err := phaseIndex(r, n, study); err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	if len(words) == 0 {
		for i := range r.Phases {
			out = append(out, i+1)
		}
	}
	return out, nil
}

// figureFile names a figure's file by what it shows.
func figureFile(phase int, l exports.Look, png bool) string {
	name := fmt.Sprintf("figure-%d-%s", phase, l.View)
	if l.CloseUp != "" {
		name += "-" + l.CloseUp
	}
	ending := ".svg"
	if png {
		ending = ".png"
	}
	return strings.ReplaceAll(name, " ", "-") + ending
}
