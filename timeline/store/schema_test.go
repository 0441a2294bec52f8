package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"modernc.org/sqlite"

	"tautline/testdata/peer"
	"tautline/timeline"
)

func TestEveryPragmaIsInForceOnEveryConnection(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	for name, pool := range map[string]struct {
		db        *sql.DB
		n         int
		queryOnly string
	}{"reading": {s.read, readers, "1"}, "writing": {s.write, 1, "0"}} {
		// All at once, and again after each connection has been dropped.
		for range 2 {
			conns := make([]*sql.Conn, pool.n)
			for i := range conns {
				conn, err := pool.db.Conn(ctx)
				if err != nil {
					t.Fatal(err)
				}
				conns[i] = conn
				for pragma, want := range map[string]string{
					"journal_mode": "delete", "synchronous": "3", "foreign_keys": "1", "busy_timeout": "10000", "trusted_schema": "0",
					"cell_size_check": "1", "query_only": pool.queryOnly, "application_id": fmt.Sprint(0x54415554), "user_version": fmt.Sprint(len(steps)),
				} {
					var got string
					if err := conn.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
						t.Errorf("%s connection %d: %s is %q, %v; want %q", name, i, pragma, got, err, want)
					}
				}
				if _, err := conn.ExecContext(ctx, `SELECT "no such column" FROM study`); err == nil {
					t.Errorf("%s connection %d takes a misspelled name for a text", name, i)
				}
			}
			if open := pool.db.Stats().OpenConnections; open != pool.n {
				t.Errorf("%s: %d connections", name, open)
			}
			for _, conn := range conns {
				conn.Raw(func(any) error { return driver.ErrBadConn })
			}
		}
	}
	if _, err := s.read.ExecContext(ctx, "DELETE FROM mark"); err == nil {
		t.Error("a reading connection can write")
	}
}

func TestAConnectionWithAPragmaNotInForceIsRefused(t *testing.T) {
	s := made(t, orchard())
	for _, wrong := range []setting{{"synchronous", "", "", "1"}, {"no_such_pragma", "", "", "1"}} {
		inner, err := sqlite.NewConnector(sourceName(s.path, reading, lockWait))
		if err != nil {
			t.Fatal(err)
		}
		db := sql.OpenDB(connector{inner, reading, []setting{wrong}})
		defer db.Close()
		if err := db.PingContext(t.Context()); err == nil || !strings.Contains(err.Error(), wrong.pragma) {
			t.Errorf("%s: %v", wrong.pragma, err)
		}
	}
}

func TestAStepIsTakenWholeOrNotAtAll(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	with := func(step string) []string { return append(append([]string{}, steps...), step) }
	version := func() (v int) {
		if err := s.read.QueryRowContext(ctx, "PRAGMA user_version").Scan(&v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	if err := migrate(ctx, s.write, with("CREATE TABLE basket (id INTEGER) STRICT; CREATE TABLE mark (id INTEGER) STRICT")); err == nil || version() != len(steps) {
		t.Errorf("a failing step: %v, version %d", err, version())
	}
	if err := s.sameSchema(ctx); err != nil {
		t.Errorf("half a step was taken: %v", err)
	}
	sound(t, s)
	next := with("CREATE TABLE basket (id INTEGER) STRICT")
	errs := make(chan error)
	for range 2 { // two programs at once
		go func() {
			db, err := connect(s.path, writing, lockWait)
			errs <- errors.Join(err, migrate(ctx, db, next), db.Close())
		}()
	}
	if err := errors.Join(<-errs, <-errs); err != nil || version() != len(next) {
		t.Errorf("a step: %v, version %d", err, version())
	}
	// For this program the file is now one of a newer version, though it was
	// open before.
	if _, err := s.Load(ctx); !errors.Is(err, ErrNewer) {
		t.Errorf("Load: %v", err)
	}
	if _, err := s.AddMark(ctx, timeline.Mark{}); !errors.Is(err, ErrNewer) {
		t.Errorf("AddMark: %v", err)
	}
	if _, err := Open(ctx, s.path); !errors.Is(err, ErrNewer) {
		t.Errorf("Open: %v", err)
	}
}

// writeFixture makes the study that testdata/schema1.study holds. That file was
// written by the first version of the schema and is never written again.

func writeFixture(t *testing.T, path string) {
	ctx := context.Background()
	st := orchard()
	st.ID = "0123456789abcdef0123456789abcdef"
	s, err := Create(ctx, path, st)
	if err != nil {
		t.Fatal(err)
	}
	do := func(_ any, err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	do(s.AddMark(ctx, timeline.Mark{At: 18_000, Title: "one-arm side reach – 体操 🍎", Words: "standing; right arm overhead", Note: "two\nlines"}))
	do(s.AddMarks(ctx, "take two drafted marks", []timeline.Mark{{At: 24_000, Title: "crate hinge"}, {At: 33_000, Title: "rest"}}))
	do(s.ChangeMark(ctx, 1, func(m *timeline.Mark) error { m.At = 12_500; return nil }))
	do(s.RemoveMark(ctx, 2))
	do(s.ChangeStudy(ctx, "", func(st *timeline.Study) error {
		st.Language, st.Recording.Path = "en-GB", "media/warm-up.mp4"
		return nil
	}))
	do(s.ChangeMark(ctx, 3, func(m *timeline.Mark) error { m.Title = "side reach"; return nil }))
	do(s.Undo(ctx))
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestAFileOfSchema1OpensForever(t *testing.T) {
	fixture := filepath.Join("testdata", "schema1.study")
	b, err := os.ReadFile(fixture)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "old.study")
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	fresh := filepath.Join(t.TempDir(), "fresh.study")
	writeFixture(t, fresh)
	var got [2]timeline.Study
	for i, path := range []string{path, fresh} {
		s, err := Open(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		sound(t, s)
		got[i] = loaded(t, s)
		if undo, redo, err := s.Steps(t.Context()); err != nil || undo != "change the study" || redo != `retitle mark "one-arm side reach – 体操 🍎" as "side reach"` {
			t.Errorf("%s: undo %q, redo %q, %v", path, undo, redo, err)
		}
		if _, err := s.Redo(t.Context()); err != nil {
			t.Error(err)
		}
		for range 6 {
			if _, err := s.Undo(t.Context()); err != nil {
				t.Error(err)
			}
		}
		if m, err := s.AddMark(t.Context(), timeline.Mark{At: 40_000}); err != nil || m.ID != 6 {
			t.Errorf("%s: added %+v, %v", path, m, err)
		}
		sound(t, s)
	}
	if !reflect.DeepEqual(got[0], got[1]) {
		t.Errorf("the file of schema 1 says\n%+v\nits study is\n%+v", got[0], got[1])
	}
	if got := got[0]; got.Revision != 8 || len(got.Marks) != 4 || got.Marks[0].At != 12_500 || got.Recording.Path != "media/warm-up.mp4" || got.Language != "en-GB" {
		t.Errorf("the file of schema 1 says\n%+v", got)
	}
}

func TestCheckFindsWhatIsWrong(t *testing.T) {
	for name, c := range map[string]struct{ damage, says string }{
		"a step missing":       {"DELETE FROM history WHERE change = 2", "steps are missing"},
		"a step past the last": {"UPDATE study SET last_change = 9", "steps are missing"},
		"a step unreadable":    {"UPDATE history SET delta = '[1]' WHERE change = 2", "cannot be read"},
		"an orphan recording":  {"PRAGMA foreign_keys = 0; PRAGMA ignore_check_constraints = 1; UPDATE recording SET one = 2", "refers to a missing row"},
		"a value out of range": {"PRAGMA ignore_check_constraints = 1; UPDATE mark SET at_ms = -5", "CHECK"},
		"a value we refuse":    {"UPDATE mark SET title = char(10)", "control character"},
	} {
		t.Run(name, func(t *testing.T) {
			s := made(t, orchard())
			for i := range 3 {
				edit(t, s, func(m *timeline.Mark) { m.At = timeline.Instant(i) })
			}
			if _, err := s.write.ExecContext(t.Context(), c.damage); err != nil {
				t.Fatal(err)
			}
			problems, err := s.Check(t.Context())
			if err != nil || !strings.Contains(strings.Join(problems, "\n"), c.says) {
				t.Errorf("Check: %q, %v; want %q", problems, err, c.says)
			}
		})
	}
}

// A history that does not fit the marks must not be applied by halves.
func TestUndoOfAHistoryThatDoesNotFitChangesNothing(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	if _, err := s.RemoveMark(ctx, 2); err != nil {
		t.Fatal(err)
	}
	edit(t, s, func(m *timeline.Mark) { m.At = 5 })
	if _, err := s.write.ExecContext(ctx, "DELETE FROM mark WHERE id = 1"); err != nil {
		t.Fatal(err)
	}
	before := loaded(t, s)
	if _, err := s.Undo(ctx); !errors.Is(err, ErrDamaged) {
		t.Errorf("Undo: %v", err)
	}
	if after := loaded(t, s); !reflect.DeepEqual(after, before) {
		t.Errorf("the study is now %+v", after)
	}
}

// SQLite's own shell, of another version and built by others, finds the file sound.
func TestSQLitesShellReadsTheFile(t *testing.T) {
	s := made(t, orchard())
	edit(t, s, func(m *timeline.Mark) { m.Title = "體操 🍎" })
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	got := string(peer.Run(t, "sqlite3", s.Path(), "PRAGMA integrity_check; PRAGMA application_id; PRAGMA user_version; PRAGMA journal_mode; SELECT at_ms, title FROM mark ORDER BY at_ms; SELECT label FROM history"))
	want := "ok\n1413567828\n2\ndelete\n1500|quiet stand\n12000|體操 🍎\nretitle mark \"overhead reach\" as \"體操 🍎\"\n"
	if got != want {
		t.Errorf("the shell says\n%s\nwant\n%s", got, want)
	}
}
