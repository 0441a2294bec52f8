package store

import (
	"context"
	"database/sql"
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"modernc.org/sqlite"
)

//go:embed steps/1.sql
var step1 string

//go:embed steps/2.sql
var step2 string

// steps make the schema, one version after the other: a file whose user_version
// is n has had the first n. A step that has been released is never edited.
var steps = []string{step1, step2}

// migrate brings a file to the last of steps, each step in a transaction of its
// own together with its number. Programs that do it at once take turns.
func migrate(ctx context.Context, db *sql.DB, steps []string) error {
	for done := false; !done; {
		err := inTx(ctx, db, func(tx *sql.Tx) error {
			version, err := versionOf(ctx, tx)
			if err != nil {
				return err
			}
			if version >= len(steps) {
				done = true
				return nil
			}
			if _, err := tx.ExecContext(ctx, steps[version]); err != nil {
				return fmt.Errorf("bringing the file to version %d: %w", version+1, err)
			}
			_, err = tx.ExecContext(ctx, fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, version+1))
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// known gives ErrNewer when the file has become one of a newer version: a newer
// program may bring it up to date while this one has it open.
func known(ctx context.Context, tx *sql.Tx) error {
	version, err := versionOf(ctx, tx)
	if err == nil && version > len(steps) {
		err = newer(version)
	}
	return err
}

func newer(version int) error {
	return fmt.Errorf("%w: its version is %d, the newest known here is %d", ErrNewer, version, len(steps))
}

func versionOf(ctx context.Context, tx *sql.Tx) (version int, err error) {
	err = tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version)
	return version, err
}

// schemaOf lists a database's tables, indexes, views and triggers as written.
func schemaOf(ctx context.Context, tx *sql.Tx) (string, error) {
	rows, err := tx.QueryContext(ctx, "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name")
	if err != nil {
		return "", err
	}
	defer rows.Close()
	var b strings.Builder
	for rows.Next() {
		var row [4]string
		if err := rows.Scan(&row[0], &row[1], &row[2], &row[3]); err != nil {
			return "", err
		}
		b.WriteString(strings.Join(row[:], "\x00") + "\x00")
	}
	return b.String(), rows.Err()
}

// ownSchemas are what the steps give, version by version from 1, learned by
// running them in memory.
var ownSchemas = sync.OnceValues(func() ([]string, error) {
	inner, err := sqlite.NewConnector(":memory:")
	if err != nil {
		return nil, err
	}
	db := sql.OpenDB(inner)
	defer db.Close()
	db.SetMaxOpenConns(1) // each connection has a memory of its own
	ctx := context.Background()
	list := make([]string, len(steps))
	for i := range steps {
		if err := migrate(ctx, db, steps[:i+1]); err != nil {
			return nil, err
		}
		err := inTx(ctx, db, func(tx *sql.Tx) (err error) {
			list[i], err = schemaOf(ctx, tx)
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return list, nil
})

// sameSchema refuses a file with other tables than ours of its version, or with
// triggers and views, which would run as part of our statements.
func (s *Store) sameSchema(ctx context.Context) error {
	own, err := ownSchemas()
	if err != nil {
		return err
	}
	return s.reading(ctx, func(tx *sql.Tx) error {
		version, err := versionOf(ctx, tx)
		if err != nil {
			return err
		}
		got, err := schemaOf(ctx, tx)
		if err == nil && (version < 1 || got != own[version-1]) {
			err = fmt.Errorf("%w: its tables are not those of a study", ErrDamaged)
		}
		return err
	})
}

// inTx runs f in a transaction of its own and keeps what it did unless f fails
// or panics.
func inTx(ctx context.Context, db *sql.DB, f func(*sql.Tx) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after Commit
	if err := f(tx); err != nil {
		return err
	}
	return tx.Commit()
}
