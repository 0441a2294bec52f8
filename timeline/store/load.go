package store

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"time"

	"tautline/timeline"
)

// Load reads the whole study as it stood at one moment, marks in the order of
// time and never nil.
func (s *Store) Load(ctx context.Context) (st timeline.Study, err error) {
	err = s.reading(ctx, func(tx *sql.Tx) (err error) {
		st, err = readStudy(ctx, tx)
		return err
	})
	return st, explain(s.path, err)
}

// Revision reads the number of the latest change, made by any program. It is
// cheap: equal numbers mean that Load would give the same study.
func (s *Store) Revision(ctx context.Context) (int64, error) {
	revision, err := s.revision(ctx)
	return revision, explain(s.path, err)
}

func (s *Store) revision(ctx context.Context) (revision int64, err error) {
	err = s.reading(ctx, func(tx *sql.Tx) error {
		return tx.QueryRowContext(ctx, "SELECT revision FROM study").Scan(&revision)
	})
	return revision, err
}

// reading runs f in one read transaction, in which nothing changes.
func (s *Store) reading(ctx context.Context, f func(*sql.Tx) error) error {
	if err := s.inPlace(); err != nil {
		return err
	}
	tx, err := s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := known(ctx, tx); err != nil {
		return err
	}
	return f(tx)
}

// inPlace gives ErrMoved when another file, or none, stands where the open one
// stood. SQLite sees to this itself before it writes.
func (s *Store) inPlace() error {
	now, err := os.Stat(s.path)
	if err != nil || !os.SameFile(now, s.file) {
		return ErrMoved
	}
	return nil
}

// watchEvery is how often Watch looks: a mark made on the command line shows in
// the viewer at once to the eye, and one look costs some microseconds.
const watchEvery = 100 * time.Millisecond

// Watch sends the revision now and then whenever it has changed, whoever
// changed it. A receiver that is slow gets the newest only. The channel is
// closed when ctx ends, the Store is closed, or the file can no longer be read;
// Load then says why.
func (s *Store) Watch(ctx context.Context) <-chan int64 {
	revisions := make(chan int64, 1)
	go func() {
		defer close(revisions)
		s.watch(ctx, revisions)
	}()
	return revisions
}

// watch asks one connection for its data_version, which is cheaper than a
// transaction and changes when any other connection has written.
func (s *Store) watch(ctx context.Context, revisions chan int64) error {
	conn, err := s.read.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	var seen, version, sent int64
	for ; ; seen = version {
		if err := s.inPlace(); err != nil {
			return err
		}
		if err := conn.QueryRowContext(ctx, "PRAGMA data_version").Scan(&version); err != nil {
			return fmt.Errorf("watching: %w", err)
		}
		if version != seen {
			revision, err := s.revision(ctx)
			if err != nil {
				return err
			}
			if revision != sent {
				select {
				case <-revisions: // one that nobody took
				default:
				}
				revisions <- revision
				sent = revision
			}
		}
		select {
		case <-tick.C:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}
