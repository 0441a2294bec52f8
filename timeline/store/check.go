package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// whole refuses a file that SQLite's quick check finds fault with. Indexes
// aside, it reads everything, so that a damaged file is never written to.
func whole(ctx context.Context, db *sql.DB) error {
	found, err := texts(ctx, db, "PRAGMA quick_check(1)")
	if err != nil {
		return err
	}
	if len(found) != 1 || found[0] != "ok" {
		return fmt.Errorf("%w: %s", ErrDamaged, first(found))
	}
	return nil
}

// Check looks the open file over and lists what is wrong with it; an empty list
// is a sound file. It runs SQLite's integrity and foreign key checks and reads
// every value and every step of the history.
func (s *Store) Check(ctx context.Context) ([]string, error) {
	problems := []string{}
	found, err := texts(ctx, s.read, "PRAGMA integrity_check")
	if err != nil {
		return nil, explain(s.path, err)
	}
	if len(found) != 1 || found[0] != "ok" {
		problems = append(problems, found...)
	}
	found, err = texts(ctx, s.read, "SELECT 'a row of ' || \"table\" || ' refers to a missing row of ' || parent FROM pragma_foreign_key_check")
	if err != nil {
		return nil, explain(s.path, err)
	}
	problems = append(problems, found...)
	for _, look := range []func(context.Context, *sql.Tx) error{checkValues, checkHistory} {
		err := s.reading(ctx, func(tx *sql.Tx) error { return look(ctx, tx) })
		if errors.Is(err, ErrDamaged) {
			problems = append(problems, err.Error())
		} else if err != nil {
			return nil, explain(s.path, err)
		}
	}
	return problems, nil
}

// checkValues reads every value that Load reads, which refuses what could not
// have been kept.
func checkValues(ctx context.Context, tx *sql.Tx) error {
	_, err := readStudy(ctx, tx)
	return err
}

// checkHistory reads every step of the history and sees that none is missing.
func checkHistory(ctx context.Context, tx *sql.Tx) error {
	var at, count, low, high int64
	err := tx.QueryRowContext(ctx, "SELECT last_change, (SELECT count(*) FROM history), (SELECT coalesce(min(change), 1) FROM history), (SELECT coalesce(max(change), 0) FROM history) FROM study").
		Scan(&at, &count, &low, &high)
	if err != nil {
		return err
	}
	if high-low+1 != count || at < low-1 || at > high {
		return fmt.Errorf("%w: steps are missing from the history", ErrDamaged)
	}
	for n := low; n <= high; n++ {
		if _, _, err := readStep(ctx, tx, n); err != nil {
			return err
		}
	}
	return nil
}

// texts runs a query whose rows are one text each.
func texts(ctx context.Context, db *sql.DB, query string) ([]string, error) {
	rows, err := db.QueryContext(ctx, query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []string
	for rows.Next() {
		var t string
		if err := rows.Scan(&t); err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	return all, rows.Err()
}

func first(list []string) string {
	if len(list) == 0 {
		return "the check said nothing"
	}
	return list[0]
}
