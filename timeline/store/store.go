// Package store keeps a study in one file and is the only place with SQL.
//
// The file is an SQLite database used as a document, NAME.study. It holds what
// the teacher said and the history that undo needs; nothing that can be
// computed. Every change is one transaction: it adds one to the revision, is one
// step of undo, and is on the disk before the call returns.
//
// # One file
//
// The journal is SQLite's rollback journal, deleted at the end of every change,
// and not a write-ahead log. Teachers copy the file, keep it in synchronised
// folders and on network drives, and several programs may have it open. With a
// rollback journal the one file is complete whenever no change is being
// written; no shared memory is needed, which network drives do not give; and
// SQLite refuses to write when the file has been replaced behind its back, as
// synchronising programs do, where a write-ahead log would take the change and
// lose it. The price, about a millisecond for each change, is not felt at the
// pace of a person. synchronous is EXTRA: in this mode FULL does not flush the
// deletion of the journal, so that a power cut could still take back a change
// already acknowledged.
//
// # Several writers
//
// Command line and viewer may have the study open at once. Writers take turns
// and wait for each other up to ten seconds, then say ErrBusy. ChangeMark and
// ChangeStudy read, change and write under one lock, so no change of another
// program is lost. Watch tells of changes made elsewhere.
//
// Nothing else in this process should open the file while a Store has it open:
// on some systems closing any handle of a file gives up the locks that the
// process holds on it.
package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"tautline/timeline"
)

// Store is an open study file. Its methods may be called from any goroutine,
// but not from within a function that was given to ChangeMark or ChangeStudy.
type Store struct {
	path  string      // absolute
	file  os.FileInfo // the file that was opened, to notice another in its place
	read  *sql.DB
	write *sql.DB // nil when opened to read only
	turn  chan time.Time
	keep  int64 // number of changes that can be undone
}

const (
	// historyKept is how many changes can be undone; older ones are forgotten.
	historyKept = 1000
	// lockWait is how long a reader or writer waits for its turn.
	lockWait = 10 * time.Second
)

// Create makes a new study file holding st and opens it. It never writes over
// an existing file (ErrExists). An empty ID is chosen at random, an empty
// Language becomes "en", what has no ID is numbered in its order, and
// st.Revision is ignored: the file starts at revision 1 with nothing to undo.
// The file appears complete or not at all.
func Create(ctx context.Context, path string, st timeline.Study) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if st.ID == "" {
		var id [16]byte
		rand.Read(id[:])
		st.ID = hex.EncodeToString(id[:])
	}
	if st.Language == "" {
		st.Language = "en"
	}
	st = clone(st)
	numberSaid(&st)
	if err := validStudy(&st); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	err = placeNew(path, func(temporary string) error {
		return build(ctx, temporary, st)
	})
	if err != nil {
		return nil, explain(path, err)
	}
	return Open(ctx, path)
}

// build writes a whole study into an empty file.
func build(ctx context.Context, path string, st timeline.Study) error {
	db, err := connect(path, writing, lockWait)
	if err != nil {
		return err
	}
	err = migrate(ctx, db, steps)
	if err == nil {
		err = inTx(ctx, db, func(tx *sql.Tx) error { return insertStudy(ctx, tx, st) })
	}
	return errors.Join(err, db.Close())
}

// Open opens a study file to read and write, finishing what a killed program
// left half done and bringing a file of an earlier version up to date. A file
// that is not a study (ErrNotStudy), is newer than this program (ErrNewer) or
// damaged (ErrDamaged) is refused and not touched; one that may not be written
// gives ErrReadOnly; one that is not there, fs.ErrNotExist.
func Open(ctx context.Context, path string) (*Store, error) {
	return open(ctx, path, writing, lockWait)
}

// OpenReadOnly opens a study file to read only: every change gives ErrReadOnly.
// What the study says is never altered; where the file may be written, what a
// killed program left half done is finished and an earlier version brought up
// to date, as Open does.
func OpenReadOnly(ctx context.Context, path string) (*Store, error) {
	return open(ctx, path, reading, lockWait)
}

func open(ctx context.Context, path string, a access, wait time.Duration) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	file, version, err := claim(path)
	if err != nil {
		return nil, err
	}
	s := &Store{path: path, file: file, turn: make(chan time.Time, 1), keep: historyKept}
	s.turn <- time.Time{}
	if err := s.start(ctx, a, version, wait); err != nil {
		s.Close()
		return nil, explain(path, err)
	}
	return s, nil
}

// start opens the pools and looks the file over.
func (s *Store) start(ctx context.Context, a access, version int, wait time.Duration) (err error) {
	if s.read, err = connect(s.path, reading, wait); err != nil {
		return err
	}
	if err := whole(ctx, s.read); err != nil {
		return err
	}
	// Before anything is written: a file of an earlier version is brought up to
	// date only when it is sound.
	if _, err := s.revision(ctx); err != nil {
		return err
	}
	if err := s.sameSchema(ctx); err != nil {
		return err
	}
	if a == writing || version < len(steps) {
		if s.write, err = connect(s.path, writing, wait); err != nil {
			return err
		}
		if err := s.write.PingContext(ctx); err != nil {
			return err
		}
	}
	if version < len(steps) {
		if err := migrate(ctx, s.write, steps); err != nil {
			return err
		}
	}
	if a == writing {
		return tidy(ctx, s.path)
	}
	if s.write != nil {
		err = s.write.Close()
		s.write = nil
	}
	return err
}

// tidy removes the journal of a program that was killed before its change had
// begun to reach the file. SQLite passes over such a journal when it reads and
// deletes it with the next change, here one that changes nothing. When another
// program is writing, the journal is that program's and stays.
func tidy(ctx context.Context, path string) error {
	if _, err := os.Lstat(path + "-journal"); err != nil {
		return nil
	}
	db, err := connect(path, writing, 0)
	if err != nil {
		return err
	}
	err = inTx(ctx, db, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", len(steps)))
		return err
	})
	if errors.Is(explain(path, err), ErrBusy) {
		err = nil
	}
	return errors.Join(err, db.Close())
}

// Path is the absolute path of the file as it was opened.
func (s *Store) Path() string { return s.path }

// Close gives the file back. One file is left, with every change in it.
func (s *Store) Close() error {
	var errs []error
	for _, db := range []*sql.DB{s.write, s.read} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	release(s.file)
	s.file = nil
	return errors.Join(errs...)
}
