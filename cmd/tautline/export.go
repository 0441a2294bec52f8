package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tautline/exports"
	"tautline/timeline"
)

func exportCommand() *cobra.Command {
	var to string
	var force, schema, check bool
	c := &cobra.Command{
		Use:   "export STUDY [FORMAT...]",
		Short: "Write captions, chapters, notes, pictures and pages to publish",
		Long: "Writes the named formats, or all, beside the study or into a folder. A file that\n" +
			"tautline did not write, or that was changed since, is kept unless --force is said.\n\nFormats:\n" + formatHelp(),
		Example: `  tautline export warm-up.study
  tautline export warm-up.study captions chapters --to publish
  tautline export warm-up.study notes --to -
  tautline export warm-up.study --check --to publish`,
		Args: func(c *cobra.Command, a []string) error {
			if schema && len(a) == 0 {
				return nil
			}
			return args("STUDY", "FORMAT...")(c, a)
		},
		ValidArgsFunction: func(_ *cobra.Command, a []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(a) == 0 {
				return []string{"study"}, cobra.ShellCompDirectiveFilterFileExt
			}
			var names []string
			for _, f := range exports.Formats() {
				names = append(names, f.Name+"\t"+f.Help)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
	}
	asJSON, voice, choose := jsonFlag(c), voiceFlag(c), exportFlags(c)
	c.Flags().StringVar(&to, "to", "", "folder to write into (default: beside the study); - writes one format to standard output")
	c.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of the format json, and write nothing")
	c.Flags().BoolVar(&check, "check", false, "read back what was written, given the same choices, and write nothing")
	c.Flags().BoolVar(&force, "force", false, "write over files that tautline did not make")
	c.RunE = func(c *cobra.Command, a []string) error {
		if schema {
			_, err := io.WriteString(c.OutOrStdout(), exports.ReportSchema)
			return err
		}
		o, err := options(c, *voice)
		if err != nil {
			return err
		}
		if err := choose(&o); err != nil {
			return err
		}
		formats := exports.Formats()
		if len(a) > 1 {
			formats = formats[:0:0]
			for _, name := range a[1:] {
				f, err := exports.FormatNamed(name)
				if err != nil {
					return err
				}
				formats = append(formats, f)
			}
		}
		r, err := assess(c, a[0])
		if err != nil {
			return err
		}
		if check && to == "-" {
			return wrongLine(c, "--check reads files: --to names their folder")
		}
		if to == "-" {
			if len(formats) != 1 {
				return wrongLine(c, "--to - takes one format")
			}
			return formats[0].Write(c.OutOrStdout(), r, o)
		}
		if to == "" {
			to = filepath.Dir(a[0])
		}
		if check {
			checked, err := checkExports(r, formats, o, to, stem(a[0]), len(a) > 1)
			if err != nil {
				return err
			}
			return withHint(tellChecked(c.OutOrStdout(), checked, *asJSON), "tautline export %s --to %s", file(a[0]), file(to))
		}
		written, err := exportAll(r, formats, o, to, stem(a[0]), force, len(a) > 1)
		if chapters := (*exports.ChapterListError)(nil); err != nil && !errors.As(err, &chapters) {
			err = withHint(err, "tautline export %s --to %s", file(a[0]), file(free("published")))
		}
		if *asJSON {
			if e := printJSON(c.OutOrStdout(), written); e != nil {
				return e
			}
		} else {
			for _, w := range written {
				fmt.Fprintf(c.OutOrStdout(), "%s  %s\n", w.File, w.Help)
			}
		}
		return err
	}
	return c
}

// writtenFile is one file that export wrote.
type writtenFile struct {
	Format string `json:"format"`
	File   string `json:"file"`
	Bytes  int    `json:"bytes"`
	Help   string `json:"holds"`
}

// exportAll writes formats into a folder. A format whose own rules the study
// does not meet fails the command when it was asked for by name, and is told and
// left out when everything was asked for. Where somebody else's file stands in
// the way the others are written all the same, and the error names it.
func exportAll(r *timeline.Report, formats []exports.Format, o exports.Options, dir, stem string, force, named bool) ([]writtenFile, error) {
	written := []writtenFile{}
	out, err := newOutbox(dir)
	if err != nil {
		return written, err
	}
	var kept keptError
	for _, f := range formats {
		var b bytes.Buffer
		told := o
		told.Warn = func(s string) { o.Warn(f.Name + ": " + s) }
		if err := f.Write(&b, r, told); err != nil {
			if !named {
				o.Warn(f.Name + " was left out: " + err.Error())
				continue
			}
			return written, err
		}
		name := stem + "." + f.File
		err := out.write(name, b.Bytes(), force)
		if other := (*keptError)(nil); errors.As(err, &other) {
			kept.paths = append(kept.paths, other.paths...)
			continue
		}
		if err != nil {
			return written, err
		}
		written = append(written, writtenFile{f.Name, filepath.Join(dir, name), b.Len(), f.Help})
	}
	if len(kept.paths) > 0 {
		return written, &kept
	}
	return written, nil
}

// stem is the name that exported files begin with.
func stem(studyPath string) string { return strings.TrimSuffix(filepath.Base(studyPath), ".study") }

func formatNames() (names []string) {
	for _, f := range exports.Formats() {
		names = append(names, f.Name)
	}
	return names
}

// formatHelp lists the formats, a line each.
func formatHelp() string {
	var b strings.Builder
	for _, f := range exports.Formats() {
		fmt.Fprintf(&b, "  %-18s %s\n", f.Name, f.Help)
	}
	return b.String()
}
