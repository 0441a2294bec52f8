package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"slices"
	"sync"
)

// applicationID marks a database as a study: "TAUT".
const applicationID = 0x54415554

// The parts of SQLite's file header that are read before SQLite is let near the
// file (sqlite.org/fileformat2.html, section 1.3). Opening a foreign database
// with SQLite could already change it, by rolling back its journal.
const (
	headerSize    = 100
	headerMagic   = "SQLite format 3\x00"
	atWriteMode   = 18 // 1: rollback journal, 2: write-ahead log
	atReadMode    = 19
	atUserVersion = 60
	atApplication = 68
)

// inUse lists the study files that this process has open. Their headers are not
// read again: closing the handle used for that would, on some systems, drop the
// locks which SQLite holds through another.
var inUse struct {
	sync.Mutex
	files []os.FileInfo
}

// claim makes sure that path is a study of a version this program knows and
// notes that it is in use; release ends that. It reads the header only. The
// version is that of the schema, or the newest when the file is in use already.
func claim(path string) (file os.FileInfo, version int, err error) {
	file, err = os.Stat(path)
	if err != nil {
		return nil, 0, err
	}
	if !file.Mode().IsRegular() {
		what := "not a file but a device or a pipe"
		if file.IsDir() {
			what = "a folder"
		}
		return nil, 0, fmt.Errorf("%s: %w: it is %s", path, ErrNotStudy, what)
	}
	inUse.Lock()
	defer inUse.Unlock()
	version = len(steps)
	if !slices.ContainsFunc(inUse.files, func(f os.FileInfo) bool { return os.SameFile(f, file) }) {
		if version, err = readHeader(path); err != nil {
			return nil, 0, explain(path, err)
		}
	}
	inUse.files = append(inUse.files, file)
	return file, version, nil
}

// release forgets one claim on a file.
func release(file os.FileInfo) {
	inUse.Lock()
	defer inUse.Unlock()
	if i := slices.Index(inUse.files, file); file != nil && i >= 0 {
		inUse.files = slices.Delete(inUse.files, i, i+1)
	}
}

func readHeader(path string) (version int, err error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	header := make([]byte, headerSize)
	n, err := io.ReadFull(f, header)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return 0, err
	}
	return studyVersion(header[:n])
}

// studyVersion tells the schema's version from the first bytes of a file.
func studyVersion(header []byte) (int, error) {
	switch {
	case len(header) == 0:
		return 0, fmt.Errorf("%w: the file is empty", ErrNotStudy)
	case !bytes.HasPrefix(header, []byte(headerMagic)):
		return 0, fmt.Errorf("%w: it is some other kind of file", ErrNotStudy)
	case len(header) < headerSize:
		return 0, fmt.Errorf("%w: it ends within its header", ErrDamaged)
	}
	if id := binary.BigEndian.Uint32(header[atApplication:]); id != applicationID {
		return 0, fmt.Errorf("%w: it is a database of another program", ErrNotStudy)
	}
	version := int32(binary.BigEndian.Uint32(header[atUserVersion:]))
	switch {
	case version > int32(len(steps)):
		return 0, newer(int(version))
	case version < 1:
		return 0, fmt.Errorf("%w: its version is %d", ErrDamaged, version)
	case header[atWriteMode] == 2 && header[atReadMode] == 2:
		return 0, fmt.Errorf("%w: another program has switched it to a write-ahead log; switch it back with PRAGMA journal_mode=DELETE", ErrNotStudy)
	case header[atWriteMode] != 1 || header[atReadMode] != 1:
		return 0, fmt.Errorf("%w: its header makes no sense", ErrDamaged)
	}
	return int(version), nil
}
