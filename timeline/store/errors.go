package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// What can go wrong, for errors.Is. The error that comes back names the file
// and says more.
var (
	ErrExists   = errors.New("a file of this name exists already")
	ErrNotStudy = errors.New("not a study")
	ErrNewer    = errors.New("made by a newer version of this program")
	ErrDamaged  = errors.New("the study file is damaged")
	ErrNoMark   = errors.New("no such mark")
	ErrNoRemark = errors.New("no such remark")
	// ErrNoPosture: no posture is kept by that ID.
	ErrNoPosture = errors.New("no such named posture")
	// ErrNoAngle: no angle read off the picture has that ID.
	ErrNoAngle = errors.New("no such picture angle")
	// ErrBusy: another program held the file longer than a writer waits.
	ErrBusy = errors.New("another program is busy with the study")
	// ErrInvalid: a value that cannot be kept, such as a time before zero.
	ErrInvalid = errors.New("cannot be kept")
	// ErrReadOnly: a change of a study that was opened to read only, or whose
	// file or folder may not be written.
	ErrReadOnly = errors.New("the study may only be read")
	// ErrMoved: the file was moved, removed or replaced while it was open, as a
	// synchronising program may do. Close the Store and open the path again.
	ErrMoved         = errors.New("the study file was moved or replaced by another program while open")
	ErrNothingToUndo = errors.New("nothing to undo")
	ErrNothingToRedo = errors.New("nothing to redo")
)

// own lists the errors above, which need no explaining.
var own = []error{ErrExists, ErrNotStudy, ErrNewer, ErrDamaged, ErrNoMark, ErrNoRemark, ErrNoPosture, ErrNoAngle, ErrBusy, ErrInvalid, ErrReadOnly, ErrMoved, ErrNothingToUndo, ErrNothingToRedo}

// explain turns what SQLite says into the errors above and names the file once.
func explain(path string, err error) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	for _, known := range own {
		if errors.Is(err, known) {
			return fmt.Errorf("%s: %w", path, err)
		}
	}
	if e := new(fs.PathError); errors.As(err, &e) {
		return err
	}
	if errors.Is(err, sql.ErrNoRows) {
		return fmt.Errorf("%s: %w: it says nothing about itself", path, ErrDamaged)
	}
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return fmt.Errorf("%s: %w", path, err)
	}
	what := err
	switch code := e.Code(); {
	case code == lib.SQLITE_READONLY_DBMOVED:
		what = ErrMoved
	case code == lib.SQLITE_READONLY_ROLLBACK || code == lib.SQLITE_READONLY_RECOVERY:
		what = fmt.Errorf("%w, and a killed program left a change in it half done: copy it, with the -journal file beside it, to where it may be written", ErrReadOnly)
	case code&0xff == lib.SQLITE_READONLY:
		what = ErrReadOnly
	case code&0xff == lib.SQLITE_BUSY, code&0xff == lib.SQLITE_LOCKED:
		what = ErrBusy
	case code&0xff == lib.SQLITE_CORRUPT, code&0xff == lib.SQLITE_NOTADB:
		what = ErrDamaged
	case code&0xff == lib.SQLITE_ERROR, code&0xff == lib.SQLITE_CONSTRAINT, code&0xff == lib.SQLITE_MISMATCH:
		// Values are looked at before they are written and the tables when the
		// file is opened: a statement that fails now met something else.
		what = fmt.Errorf("%w (%v)", ErrDamaged, err)
	case code&0xff == lib.SQLITE_FULL:
		what = fmt.Errorf("the disk is full, nothing was changed (%w)", err)
	case code&0xff == lib.SQLITE_CANTOPEN:
		what = fmt.Errorf("the file, or its journal in the same folder, cannot be opened (%w)", err)
	}
	return fmt.Errorf("%s: %w", path, what)
}
