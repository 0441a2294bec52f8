package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"
)

// pause is how long a Store waits between two of its own changes. Waiting
// writers look again every few milliseconds; one that writes without a break
// would leave them no moment to find the file free. Measured with two programs
// that count as fast as they can: without a pause one may wait for the other to
// end, with two milliseconds they alternate and both are done sooner.
const pause = 2 * time.Millisecond

// change runs plan in a transaction that has the write lock, then does and
// records what it planned, as one revision and one step of undo. A plan that
// changes nothing leaves the revision and the history as they are.
func (s *Store) change(ctx context.Context, plan func(*sql.Tx) (label string, d *delta, err error)) error {
	return s.writing(ctx, func(tx *sql.Tx) error {
		label, d, err := plan(tx)
		if err != nil || d.empty() {
			return err
		}
		if err := d.apply(ctx, tx); err != nil {
			return err
		}
		return s.record(ctx, tx, label, d)
	})
}

// record adds a step to the history in place of the undone ones, forgets the
// oldest beyond those kept, and counts the revision.
func (s *Store) record(ctx context.Context, tx *sql.Tx, label string, d *delta) error {
	text, err := d.encode()
	if err != nil {
		return err
	}
	var at int64
	if err := tx.QueryRowContext(ctx, "SELECT last_change FROM study").Scan(&at); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM history WHERE change > ? OR change <= ?", at, at+1-s.keep); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "INSERT INTO history (change, label, delta) VALUES (?, ?, ?)", at+1, label, text); err != nil {
		return err
	}
	return stand(ctx, tx, at+1)
}

// stand notes which change is the last one done and counts the revision.
func stand(ctx context.Context, tx *sql.Tx, at int64) error {
	return one(tx.ExecContext(ctx, "UPDATE study SET revision = revision + 1, last_change = ?", at))
}

// Undo takes back the last change, whichever program made it, and returns its
// label. It is itself a new revision. ErrNothingToUndo when no change is left;
// the last 1,000 are kept.
func (s *Store) Undo(ctx context.Context) (label string, err error) {
	err = s.writing(ctx, func(tx *sql.Tx) error {
		at, err := lastChange(ctx, tx)
		if err != nil {
			return err
		}
		var d *delta
		label, d, err = readStep(ctx, tx, at)
		if errors.Is(err, sql.ErrNoRows) {
			return ErrNothingToUndo
		}
		if err != nil {
			return err
		}
		if err := d.back().apply(ctx, tx); err != nil {
			return err
		}
		return stand(ctx, tx, at-1)
	})
	return label, err
}

// Redo does again the change that Undo last took back and returns its label.
// ErrNothingToRedo when there is none: a new change forgets those undone.
func (s *Store) Redo(ctx context.Context) (label string, err error) {
	err = s.writing(ctx, func(tx *sql.Tx) error {
		at, err := lastChange(ctx, tx)
		if err != nil {
			return err
		}
		var d *delta
		label, d, err = readStep(ctx, tx, at+1)
		if errors.Is(err, sql.ErrNoRows) {
			return ErrNothingToRedo
		}
		if err != nil {
			return err
		}
		if err := d.apply(ctx, tx); err != nil {
			return err
		}
		return stand(ctx, tx, at+1)
	})
	return label, err
}

// Steps returns the labels of the changes that Undo and Redo would act on next,
// empty for none.
func (s *Store) Steps(ctx context.Context) (undo, redo string, err error) {
	err = s.reading(ctx, func(tx *sql.Tx) error {
		at, err := lastChange(ctx, tx)
		if err != nil {
			return err
		}
		for n, label := range map[int64]*string{at: &undo, at + 1: &redo} {
			err := tx.QueryRowContext(ctx, "SELECT label FROM history WHERE change = ?", n).Scan(label)
			if err != nil && !errors.Is(err, sql.ErrNoRows) {
				return err
			}
		}
		return nil
	})
	return undo, redo, explain(s.path, err)
}

func lastChange(ctx context.Context, tx *sql.Tx) (at int64, err error) {
	err = tx.QueryRowContext(ctx, "SELECT last_change FROM study").Scan(&at)
	return at, err
}

// readStep reads one step of the history; sql.ErrNoRows when there is none.
func readStep(ctx context.Context, tx *sql.Tx, n int64) (label string, d *delta, err error) {
	var text string
	if err = tx.QueryRowContext(ctx, "SELECT label, delta FROM history WHERE change = ?", n).Scan(&label, &text); err != nil {
		return "", nil, err
	}
	d, err = decodeDelta(text)
	if err != nil {
		err = fmt.Errorf("step %d: %w", n, err)
	}
	return label, d, err
}

// writing runs f in a transaction that holds the write lock from its start, so
// that what f reads is still true when it writes. Writers of this Store take
// turns here, where waiting ends with ctx.
func (s *Store) writing(ctx context.Context, f func(*sql.Tx) error) error {
	if s.write == nil {
		return fmt.Errorf("%s: %w", s.path, ErrReadOnly)
	}
	var last time.Time
	select {
	case last = <-s.turn:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { s.turn <- last }()
	time.Sleep(pause - time.Since(last))
	err := inTx(ctx, s.write, func(tx *sql.Tx) error {
		if err := known(ctx, tx); err != nil {
			return err
		}
		return f(tx)
	})
	last = time.Now()
	return explain(s.path, err)
}
