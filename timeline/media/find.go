package media

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Bounds of one search, so that being pointed at a whole disk ends soon.
const (
	findDepth   = 8       // folders below each one given
	findEntries = 200_000 // names looked at
	findHashes  = 200     // files of the right size opened
)

// NotFoundError says where a recording was looked for in vain. It unwraps to
// ErrNotFound.
type NotFoundError struct {
	Dirs    []string // the folders given
	Entries int      // how many names were looked at
	Limited bool     // the search stopped at a bound with folders left over
}

// Error says how far the search went.
func (e *NotFoundError) Error() string {
	end := ""
	if e.Limited {
		end = ", and the search stopped at its limit"
	}
	return fmt.Sprintf("%v under %s: %d names were looked at%s", ErrNotFound, strings.Join(e.Dirs, ", "), e.Entries, end)
}

// Unwrap gives ErrNotFound.
func (e *NotFoundError) Unwrap() error { return ErrNotFound }

// Find gives the path of a file with the fingerprint and size, under the
// folders given: a recording that was moved or renamed. Nearer folders are
// searched first, and in the order of their names, so the same folders give the
// same answer. Folders that are hidden, linked to or unreadable are passed
// over; the folders given may be links. Without a match the error is a
// *NotFoundError.
func Find(fp string, size int64, dirs ...string) (string, error) {
	s := search{fp: fp, size: size, seen: map[string]bool{}}
	level := []string{}
	for _, dir := range dirs {
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			level = append(level, real)
		}
	}
	for depth := 0; depth <= findDepth && len(level) > 0; depth++ {
		below := []string{}
		for _, dir := range level {
			path, folders, err := s.folder(dir)
			if err == nil && path != "" {
				return path, nil
			}
			below = append(below, folders...)
		}
		level = below
	}
	limited := s.limited || len(level) > 0
	return "", &NotFoundError{Dirs: dirs, Entries: s.entries, Limited: limited}
}

type search struct {
	fp              string
	size            int64
	seen            map[string]bool // folders, for those given inside one another
	entries, hashes int
	limited         bool
}

// folder looks at the files of one folder, and gives its folders.
func (s *search) folder(dir string) (path string, folders []string, err error) {
	key, err := filepath.Abs(dir)
	if err != nil || s.seen[key] {
		return "", nil, err
	}
	s.seen[key] = true
	f, err := os.Open(dir)
	if err != nil {
		return "", nil, err
	}
	defer f.Close()
	left := findEntries - s.entries
	if left <= 0 {
		s.limited = true
		return "", nil, nil
	}
	entries, err := f.ReadDir(left)
	if err != nil && !errors.Is(err, io.EOF) && len(entries) == 0 {
		return "", nil, err
	}
	s.entries += len(entries)
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	for _, entry := range entries {
		name := filepath.Join(dir, entry.Name())
		switch {
		case entry.IsDir():
			if !strings.HasPrefix(entry.Name(), ".") {
				folders = append(folders, name)
			}
		case s.matches(name):
			return name, nil, nil
		}
	}
	return "", folders, nil
}

// matches opens only files of the right size.
func (s *search) matches(path string) bool {
	info, err := os.Stat(path) // through a link to a file, if it is one
	if err != nil || !info.Mode().IsRegular() || info.Size() != s.size {
		return false
	}
	if s.hashes == findHashes {
		s.limited = true
		return false
	}
	s.hashes++
	fp, _, err := Fingerprint(path)
	return err == nil && fp == s.fp
}
