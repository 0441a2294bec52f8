package store

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// Copy writes a complete copy of the study, history included, as it stands at
// one moment, while others may go on writing. It never writes over an existing
// file (ErrExists). The copy appears complete or not at all, and is on the disk
// before Copy returns.
func (s *Store) Copy(ctx context.Context, dst string) error {
	dst, err := filepath.Abs(dst)
	if err != nil {
		return err
	}
	if err := s.inPlace(); err != nil {
		return explain(s.path, err)
	}
	return explain(dst, placeNew(dst, func(temporary string) error {
		db, err := connect(s.path, copying, lockWait) // so that nobody else waits
		if err != nil {
			return err
		}
		_, err = db.ExecContext(ctx, "VACUUM INTO ?", temporary)
		return errors.Join(err, db.Close())
	}))
}

// placeNew lets build fill an empty file beside path, flushes it and gives it
// its name, which must be free then (ErrExists).
func placeNew(path string, build func(temporary string) error) error {
	if _, err := os.Lstat(path); err == nil {
		return ErrExists
	}
	if name := filepath.Base(path); len(name+"-journal") > 255 {
		return fmt.Errorf("the file's name %w: it is too long for its journal to stand beside it", ErrInvalid)
	}
	temporary := filepath.Join(filepath.Dir(path), ".new-"+rand.Text()+".study")
	f, err := os.OpenFile(temporary, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
	if err != nil {
		return err
	}
	defer os.Remove(temporary)
	if err := f.Close(); err != nil {
		return err
	}
	if err := build(temporary); err != nil {
		return err
	}
	if err := flush(temporary, os.O_RDWR); err != nil {
		return err
	}
	if err := give(temporary, path, os.Link); err != nil {
		return err
	}
	if runtime.GOOS == "windows" { // folders cannot be flushed there
		return nil
	}
	return flush(filepath.Dir(path), os.O_RDONLY)
}

// give gives a file its name without ever taking the name from another: by a
// second link, or where the file system has no links by reserving the name with
// an empty file first.
func give(temporary, path string, link func(old, new string) error) error {
	err := link(temporary, path)
	if err == nil {
		return nil
	}
	if errors.Is(err, fs.ErrExist) {
		return ErrExists
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return ErrExists
	}
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := os.Rename(temporary, path); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}

// flush sends what the system still holds of a file or folder to the disk.
func flush(path string, flag int) error {
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
