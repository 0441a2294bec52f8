package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// outbox writes files into one folder, each complete or not at all, and never
// over a file that it did not write itself. What it wrote it remembers by
// content in a small hidden list beside the files: a file that was edited since
// is somebody's work and counts as not ours.
type outbox struct {
	dir  string
	made map[string]string // name -> SHA-256 of what was written
}

// listName is the hidden list.
const listName = ".tautline-exports.json"

// newOutbox opens a folder, making it if need be.
func newOutbox(dir string) (*outbox, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("the folder %s cannot be made: %w", dir, cause(err))
	}
	return readOutbox(dir), nil
}

// readOutbox reads what was written into a folder.
func readOutbox(dir string) *outbox {
	o := &outbox{dir: dir, made: map[string]string{}}
	b, err := os.ReadFile(filepath.Join(dir, listName))
	if err == nil {
		// A damaged list only makes us more careful.
		if json.Unmarshal(b, &o.made) != nil || o.made == nil {
			o.made = map[string]string{}
		}
	}
	return o
}

// keptError names files that stand where others were to be written.
type keptError struct{ paths []string }

// Error says why they were kept and what writes over them.
func (e *keptError) Error() string {
	return "not written by tautline, or changed since, and so kept (--force writes over): " + joinWords(e.paths)
}

// write puts one file in place. The error is a *keptError where a file that is
// not ours stands there.
func (o *outbox) write(name string, content []byte, force bool) error {
	path := filepath.Join(o.dir, name)
	old, err := os.ReadFile(path)
	switch {
	case err == nil && !force && o.made[name] != sum(old):
		return &keptError{[]string{path}}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s cannot be looked at: %w", path, cause(err))
	}
	if err := writeWhole(path, content); err != nil {
		return err
	}
	o.made[name] = sum(content)
	list, err := json.MarshalIndent(o.made, "", " ")
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(o.dir, listName), append(list, '\n'))
}

// writeWhole writes a file beside its place and then moves it there.
func writeWhole(path string, content []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".tautline-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, cause(err))
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("%s cannot be written: %w", path, cause(err))
		}
	}()
	if _, err = f.Write(content); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

func sum(b []byte) string {
	h := sha256.Sum256(b)
	return hex.EncodeToString(h[:])
}
