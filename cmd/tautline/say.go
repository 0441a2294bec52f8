package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"tautline/timeline/media"
)

// plainWord is a word that every shell takes as it stands.
var plainWord = regexp.MustCompile(`^[A-Za-z0-9_@%+=:,./][A-Za-z0-9_@%+=:,./-]*$`)

// word writes one argument as it can be typed into a shell.
func word(s string) string {
	if plainWord.MatchString(s) {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

// file writes a path as an argument that is not taken for a flag.
func file(path string) string {
	if strings.HasPrefix(path, "-") {
		path = "." + string(filepath.Separator) + path
	}
	return word(path)
}

// retype writes the command line that c was given once more, with the first of
// its arguments that is wrong replaced.
func retype(c *cobra.Command, wrong, right string) string {
	words := []string{c.CommandPath()}
	for i, a := range c.Flags().Args() {
		if i > 0 && a == wrong {
			a, wrong = right, "\x00"
		}
		words = append(words, file(a))
	}
	return strings.Join(words, " ")
}

// free gives the first of NAME, NAME-2, NAME-3 and so on that nothing is called
// by yet.
func free(path string) string {
	ext := filepath.Ext(path)
	name := strings.TrimSuffix(path, ext)
	for n := 2; ; n++ {
		if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) || n > 999 {
			return path
		}
		path = fmt.Sprintf("%s-%d%s", name, n, ext)
	}
}

// instead gives the command that opens or makes the study that somebody may
// have meant by a path that is none.
func instead(path string) string {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		if list := studiesIn(path); len(list) > 0 {
			return "tautline list " + file(list[0])
		}
	case err == nil:
		if _, err := media.Open(path); err == nil {
			made := strings.TrimSuffix(path, filepath.Ext(path)) + ".study"
			if isFile(made) {
				return "tautline list " + file(made)
			}
			return "tautline new " + file(made) + " " + file(path)
		}
	case isFile(path + ".study"):
		return "tautline list " + file(path+".study")
	default:
		// A slip of the pen changes a few letters of the name.
		want := fold(studyName(path))
		for _, there := range studiesIn(filepath.Dir(path)) {
			if distance(want, fold(studyName(there))) <= 2 {
				return "tautline list " + file(there)
			}
		}
	}
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		path = filepath.Base(path)
	}
	return "tautline new " + file(free(studyName(path)+".study"))
}

// studyName is a study's path without the ending that names its kind.
func studyName(path string) string { return strings.TrimSuffix(path, ".study") }

// studiesIn lists the study files of a folder by name.
func studiesIn(folder string) (list []string) {
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		if !e.IsDir() && strings.HasSuffix(e.Name(), ".study") {
			list = append(list, filepath.Join(folder, e.Name()))
		}
	}
	return list
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

// cause leaves only the reason of an error of the file system, whose own text
// names the path again.
func cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}
