package media

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
)

// Reasons. An *Error unwraps to one of these, or to the operating system's own
// error (fs.ErrNotExist and the like).
var (
	// ErrNotRecording: the content is not of a kind that is read here.
	ErrNotRecording = errors.New("not a recording that can be read")
	// ErrTruncated: the file ends before the part needed to know its times.
	ErrTruncated = errors.New("the recording is cut off")
	// ErrDamaged: the file contradicts itself.
	ErrDamaged = errors.New("the recording is damaged")
	// ErrNotFound: no file under the folders given has the fingerprint.
	ErrNotFound = errors.New("the recording was not found")
)

// Error says what was wrong with a file, and where in it.
type Error struct {
	Reason error  // one of the reasons above, or the system's error
	Path   string // the file, when known
	Where  string // the part of the file: a box, element or chunk name
	Offset int64  // the byte at which that part starts; -1 when none
	What   string // what was wrong, in a few words
}

// Error gives one line: the file, the reason, what was wrong, and the place.
func (e *Error) Error() string {
	var b strings.Builder
	if e.Path != "" {
		b.WriteString(e.Path + ": ")
	}
	b.WriteString(e.Reason.Error())
	if e.What != "" {
		b.WriteString(": " + e.What)
	}
	switch {
	case e.Where != "" && e.Offset >= 0:
		fmt.Fprintf(&b, " (%s at byte %d)", e.Where, e.Offset)
	case e.Where != "":
		fmt.Fprintf(&b, " (%s)", e.Where)
	case e.Offset >= 0:
		fmt.Fprintf(&b, " (at byte %d)", e.Offset)
	}
	return b.String()
}

// Unwrap gives the reason, for errors.Is.
func (e *Error) Unwrap() error { return e.Reason }

func damaged(where string, off int64, format string, args ...any) error {
	return &Error{Reason: ErrDamaged, Where: where, Offset: off, What: fmt.Sprintf(format, args...)}
}

func truncated(where string, off int64, format string, args ...any) error {
	return &Error{Reason: ErrTruncated, Where: where, Offset: off, What: fmt.Sprintf(format, args...)}
}

func notRecording(format string, args ...any) error {
	return &Error{Reason: ErrNotRecording, Offset: -1, What: fmt.Sprintf(format, args...)}
}

// outside wraps an error of the file system, whose own text names the path
// again: only its cause is kept.
func outside(path string, err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return &Error{Reason: err, Path: path, Offset: -1}
}
