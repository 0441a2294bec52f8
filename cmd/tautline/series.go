package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"tautline/exports"
)

// seriesIndex is the page that a series begins with.
const seriesIndex = "index.html"

func seriesCommand() *cobra.Command {
	var to string
	var force bool
	var names []string
	c := &cobra.Command{
		Use:   "series STUDY [STUDY...]",
		Short: "Write several studies as one set, with an index of what each adds",
		Long: "Writes the same formats of every study, in the same words, into one folder with an\n" +
			"index page: what each study adds to those before it, where each part of the body works\n" +
			"and is drawn long, and the terms that the files use.",
		Example: `  tautline series warm-up.study cool-down.study --to publish
  tautline series warm-up.study cool-down.study --to publish --format handout --format review`,
		Args: args("STUDY", "STUDY..."),
	}
	asJSON, voice, choose := jsonFlag(c), voiceFlag(c), exportFlags(c)
	c.Flags().StringVar(&to, "to", "series", "folder to write into")
	c.Flags().StringArrayVar(&names, "format", []string{"notes-html", "handout", "score", "review"}, "a format to write of each study; may be said again")
	c.Flags().BoolVar(&force, "force", false, "write over files that tautline did not make")
	_ = c.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(formatNames(), cobra.ShellCompDirectiveNoFileComp))
	c.RunE = func(c *cobra.Command, a []string) error {
		o, err := options(c, *voice)
		if err != nil {
			return err
		}
		if err := choose(&o); err != nil {
			return err
		}
		var formats []exports.Format
		for _, name := range names {
			f, err := exports.FormatNamed(name)
			if err != nil {
				return err
			}
			formats = append(formats, f)
		}
		var stems []string
		for _, path := range a {
			if slices.Contains(stems, stem(path)) {
				return wrongLine(c, "two studies are called %s: their files would be the same", stem(path))
			}
			stems = append(stems, stem(path))
		}
		var parts []exports.SeriesPart
		written := []writtenFile{}
		var kept keptError
		for i, path := range a {
			r, err := assess(c, path)
			if err != nil {
				return err
			}
			files, err := exportAll(r, formats, o, to, stems[i], force, true)
			if other := (*keptError)(nil); errors.As(err, &other) {
				kept.paths = append(kept.paths, other.paths...)
			} else if err != nil {
				return err
			}
			part := exports.SeriesPart{Report: r}
			for _, f := range formats {
				part.Files = append(part.Files, exports.SeriesFile{Name: stems[i] + "." + f.File, Help: f.Help})
			}
			parts, written = append(parts, part), append(written, files...)
		}
		var b bytes.Buffer
		if err := exports.WriteSeries(&b, parts, o); err != nil {
			return err
		}
		out, err := newOutbox(to)
		if err != nil {
			return err
		}
		if err := out.write(seriesIndex, b.Bytes(), force); errors.As(err, new(*keptError)) {
			kept.paths = append(kept.paths, filepath.Join(to, seriesIndex))
		} else if err != nil {
			return err
		} else {
			written = append(written, writtenFile{"series", filepath.Join(to, seriesIndex), b.Len(), "the index of the series"})
		}
		var end error
		if len(kept.paths) > 0 {
			end = withHint(&kept, "tautline series %s --to %s", file(a[0]), file(free("published")))
		}
		if *asJSON {
			if e := printJSON(c.OutOrStdout(), written); e != nil {
				return e
			}
			return end
		}
		for _, w := range written {
			fmt.Fprintf(c.OutOrStdout(), "%s  %s\n", w.File, w.Help)
		}
		return end
	}
	return c
}
