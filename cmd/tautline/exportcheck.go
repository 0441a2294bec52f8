package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"tautline/exports"
	"tautline/timeline"
)

// checkedFile is one written file that was read back.
type checkedFile struct {
	Format  string `json:"format"`
	File    string `json:"file"`
	Found   string `json:"found"`   // "9 cues"; "" where it is not as it should be
	Problem string `json:"problem"` // "" where it is
}

// checkExports reads back what export wrote: each file must be there, be read as
// a program that knows its format would, and say byte by byte what the study
// gives now. Formats that were never written are passed over unless named.
func checkExports(r *timeline.Report, formats []exports.Format, o exports.Options, dir, stem string, named bool) ([]checkedFile, error) {
	checked := []checkedFile{}
	out := readOutbox(dir)
	o.Warn = nil
	for _, f := range formats {
		name := stem + "." + f.File
		c := checkedFile{Format: f.Name, File: filepath.Join(dir, name)}
		content, err := os.ReadFile(c.File)
		ours := out.made[name] != ""
		switch {
		case errors.Is(err, fs.ErrNotExist) && !ours && !named:
			continue
		case errors.Is(err, fs.ErrNotExist):
			c.Problem = "it is not there"
		case err != nil:
			return checked, fmt.Errorf("%s cannot be looked at: %w", c.File, cause(err))
		default:
			var now bytes.Buffer
			if err := f.Write(&now, r, o); err != nil {
				c.Problem = err.Error()
				break
			}
			found, err := exports.ReadBack(f, content, r, o)
			switch {
			case bytes.Equal(now.Bytes(), content) && err == nil:
				c.Found = found
			case out.made[name] == sum(content):
				err = nil // what is read differs, as it must
				c.Problem = "the study has changed since it was written, or other choices were made"
			case ours:
				c.Problem = "it was changed since it was written"
			default:
				c.Problem = "tautline did not write it"
			}
			if err != nil {
				c.Problem += "; " + err.Error()
			}
		}
		checked = append(checked, c)
	}
	return checked, nil
}

// tellChecked prints what was found, and gives the error of files that are not
// as they should be.
func tellChecked(w io.Writer, checked []checkedFile, asJSON bool) error {
	wrong := 0
	for _, c := range checked {
		if c.Problem != "" {
			wrong++
		}
		if asJSON {
			continue
		}
		if c.Problem != "" {
			fmt.Fprintf(w, "%s  wrong: %s\n", c.File, c.Problem)
		} else {
			fmt.Fprintf(w, "%s  right: %s\n", c.File, c.Found)
		}
	}
	if asJSON {
		if err := printJSON(w, checked); err != nil {
			return err
		}
	}
	switch {
	case len(checked) == 0:
		return errors.New("there are no exported files here to check")
	case wrong > 0:
		return fmt.Errorf("%d of %d files do not say what the study says now", wrong, len(checked))
	}
	return nil
}
