package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"modernc.org/sqlite"
)

// access is what a pool of connections may do.
type access int

const (
	reading access = iota
	writing
	copying // reads only, but SQLite counts VACUUM INTO as writing
)

// readers is how many reads can run at once.
const readers = 4

// setting is a pragma, how the data source name asks for it, and what SQLite
// answers when it is in force.
type setting struct{ pragma, key, value, answer string }

// settings lists the pragmas of every connection. They stand in the data source
// name because a statement run once on a pool reaches one connection only.
func settings(a access, wait time.Duration) []setting {
	ms := strconv.FormatInt(wait.Milliseconds(), 10)
	queryOnly := map[access]string{reading: "1", writing: "0", copying: "0"}[a]
	return []setting{
		{"busy_timeout", "_busy_timeout", ms, ms},
		{"foreign_keys", "_foreign_keys", "1", "1"},
		{"journal_mode", "_journal_mode", "DELETE", "delete"},
		{"synchronous", "_synchronous", "EXTRA", "3"},
		{"query_only", "_query_only", queryOnly, queryOnly},
		{"trusted_schema", "_pragma", "trusted_schema(0)", "0"},
		{"cell_size_check", "_pragma", "cell_size_check(1)", "1"},
	}
}

// sourceName builds the data source name. The path goes through url.URL, which
// escapes the characters that would end it early. mode=rw never makes a file,
// and falls back to reading where the file may not be written.
func sourceName(path string, a access, wait time.Duration) string {
	q := url.Values{"mode": {"rw"}, "_txlock": {"immediate"}, "_dqs": {"0"}, "_defensive": {"1"}, "_error_rc": {"1"}}
	for _, s := range settings(a, wait) {
		q.Add(s.key, s.value)
	}
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // a drive letter
	}
	u := url.URL{Scheme: "file", Path: p, RawQuery: q.Encode()}
	return u.String()
}

// ownLocks asks for locks that stay with their file handle, where the system
// has them, so that code elsewhere in the process which opens and closes the
// study file does not drop them. Where it has none, SQLite's usual ones serve.
var ownLocks = sync.OnceFunc(func() { sqlite.OFDLocking(true) })

// connect makes a pool: one connection to write, several to read. It opens
// nothing yet.
func connect(path string, a access, wait time.Duration) (*sql.DB, error) {
	ownLocks()
	inner, err := sqlite.NewConnector(sourceName(path, a, wait))
	if err != nil {
		return nil, err
	}
	db := sql.OpenDB(connector{inner, a, settings(a, wait)})
	n := map[access]int{reading: readers, writing: 1, copying: 1}[a]
	db.SetMaxOpenConns(n)
	db.SetMaxIdleConns(n)
	return db, nil
}

// connector reads every pragma back on each connection that the pool makes, now
// or later: SQLite ignores a pragma that it does not know without a word.
type connector struct {
	driver.Connector
	access   access
	settings []setting
}

// Connect opens one connection and refuses it when a pragma is not in force.
func (c connector) Connect(ctx context.Context) (driver.Conn, error) {
	conn, err := c.Connector.Connect(ctx)
	if err != nil {
		return nil, err
	}
	if err := c.verify(ctx, conn); err != nil {
		conn.Close()
		return nil, err
	}
	return conn, nil
}

func (c connector) verify(ctx context.Context, conn driver.Conn) error {
	if c.access == writing {
		readOnly, err := conn.(interface{ IsReadOnly(string) (bool, error) }).IsReadOnly("main")
		if err != nil {
			return err
		}
		if readOnly {
			return ErrReadOnly
		}
	}
	for _, s := range c.settings {
		got, err := askPragma(ctx, conn, s.pragma)
		if err != nil {
			return err
		}
		if got != s.answer {
			return fmt.Errorf("SQLite says %s is %q and not %q", s.pragma, got, s.answer)
		}
	}
	return nil
}

// askPragma reads the value of a pragma on one connection.
func askPragma(ctx context.Context, conn driver.Conn, pragma string) (string, error) {
	rows, err := conn.(driver.QueryerContext).QueryContext(ctx, "PRAGMA "+pragma, nil)
	if err != nil {
		return "", err
	}
	defer rows.Close()
	value := make([]driver.Value, len(rows.Columns()))
	if err := rows.Next(value); err == io.EOF {
		return "", nil
	} else if err != nil {
		return "", err
	}
	return fmt.Sprint(value[0]), nil
}
