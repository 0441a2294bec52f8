package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"tautline/timeline"
)

func hash(t testing.TB, path string) [sha256.Size]byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return sha256.Sum256(b)
}

// studyBytes is the file of a closed study with enough marks for many pages.
func studyBytes(t testing.TB) []byte {
	t.Helper()
	st := orchard()
	for i := range 300 {
		st.Marks = append(st.Marks, timeline.Mark{At: timeline.Instant(i) * 100, Title: fmt.Sprint("reach ", i), Words: "standing; arms overhead"})
	}
	s, err := Create(context.Background(), filepath.Join(t.TempDir(), "whole.study"), st)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		if _, err := s.AddMark(context.Background(), timeline.Mark{At: timeline.Instant(i)}); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// database makes a database that is not a study with plain SQLite.
func database(t testing.TB, statements string) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "other.db")
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(statements); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestWhatIsNoSoundStudyIsRefusedAndNotTouched(t *testing.T) {
	whole := studyBytes(t)
	edited := func(edit func(b []byte)) []byte {
		b := append([]byte{}, whole...)
		edit(b)
		return b
	}
	flip := func(at int) []byte { return edited(func(b []byte) { b[at] ^= 0xff }) }
	page := func(n int) []byte {
		return edited(func(b []byte) {
			for i := range 4096 {
				b[(n-1)*4096+i] ^= 0x5a
			}
		})
	}
	cases := map[string]struct {
		content []byte
		want    error
	}{
		"empty":                      {nil, ErrNotStudy},
		"text":                       {[]byte("0:12 overhead reach\n"), ErrNotStudy},
		"long text":                  {[]byte(fmt.Sprintf("%09000d", 1)), ErrNotStudy},
		"another's database":         {database(t, "CREATE TABLE apples (a)"), ErrNotStudy},
		"another's with our tables":  {database(t, step1), ErrNotStudy},
		"another's log mode":         {database(t, "PRAGMA journal_mode=WAL; CREATE TABLE apples (a)"), ErrNotStudy},
		"switched to log mode":       {edited(func(b []byte) { b[18], b[19] = 2, 2 }), ErrNotStudy},
		"newer":                      {edited(func(b []byte) { binary.BigEndian.PutUint32(b[60:], uint32(len(steps)+1)) }), ErrNewer},
		"much newer":                 {edited(func(b []byte) { binary.BigEndian.PutUint32(b[60:], 1<<31-1) }), ErrNewer},
		"version 0":                  {edited(func(b []byte) { binary.BigEndian.PutUint32(b[60:], 0) }), ErrDamaged},
		"version below 0":            {edited(func(b []byte) { binary.BigEndian.PutUint32(b[60:], 1<<31) }), ErrDamaged},
		"our number, no tables":      {database(t, fmt.Sprintf("PRAGMA application_id=%d; PRAGMA user_version=1; CREATE TABLE apples (a)", applicationID)), ErrDamaged},
		"our number and a trigger":   {database(t, fmt.Sprintf("PRAGMA application_id=%d; PRAGMA user_version=1; %s; CREATE TRIGGER t AFTER INSERT ON mark BEGIN DELETE FROM mark; END", applicationID, step1)), ErrDamaged},
		"our tables, nothing in":     {database(t, fmt.Sprintf("PRAGMA application_id=%d; PRAGMA user_version=1; %s", applicationID, step1)), ErrDamaged},
		"version 2, half its tables": {database(t, fmt.Sprintf("PRAGMA application_id=%d; PRAGMA user_version=2; %s", applicationID, step1)), ErrDamaged},
		"cut in the header":          {whole[:60], ErrDamaged},
		"cut after the header":       {whole[:100], ErrDamaged},
		"cut in a page":              {whole[:len(whole)-1000], ErrDamaged},
		"cut by a page":              {whole[:len(whole)-4096], ErrDamaged},
		"cut to one page":            {whole[:4096], ErrDamaged},
		"magic flipped":              {flip(3), ErrNotStudy},
		"page size flipped":          {flip(16), ErrDamaged},
		"write version flipped":      {flip(18), ErrDamaged},
		"read version flipped":       {flip(19), ErrDamaged},
		"payload fraction flipped":   {flip(21), ErrDamaged},
		"schema format flipped":      {flip(47), ErrDamaged},
		"text encoding flipped":      {flip(59), ErrDamaged},
		"application flipped":        {flip(70), ErrNotStudy},
		"schema page flipped":        {flip(100), ErrDamaged},
		"schema text flipped":        {flip(4000), ErrDamaged},
	}
	for n := 2; n <= len(whole)/4096; n++ {
		cases[fmt.Sprintf("page %d flipped", n)] = struct {
			content []byte
			want    error
		}{page(n), ErrDamaged}
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "doubtful.study")
			if err := os.WriteFile(path, c.content, 0o644); err != nil {
				t.Fatal(err)
			}
			old := time.Now().Add(-time.Hour).Truncate(time.Second)
			if err := os.Chtimes(path, old, old); err != nil {
				t.Fatal(err)
			}
			before := hash(t, path)
			for _, open := range []func(context.Context, string) (*Store, error){Open, OpenReadOnly} {
				s, err := open(t.Context(), path)
				if err == nil {
					s.Close()
				}
				if !errors.Is(err, c.want) {
					t.Errorf("opened with %v, want %v", err, c.want)
				}
			}
			if hash(t, path) != before {
				t.Error("the file was changed")
			}
			if info, err := os.Stat(path); err != nil || !info.ModTime().Equal(old) {
				t.Error("the file was written to")
			}
			alone(t, path)
		})
	}
}

// A foreign database with a journal beside it would be changed by SQLite as soon
// as it is opened.
func TestAnothersUnfinishedDatabaseIsLeftUnfinished(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "other.study")
	for name, b := range map[string][]byte{path: database(t, "CREATE TABLE apples (a)"), path + "-journal": []byte("half a change"), path + "-wal": []byte("a log")} {
		if err := os.WriteFile(name, b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := [3][sha256.Size]byte{hash(t, path), hash(t, path+"-journal"), hash(t, path+"-wal")}
	if _, err := Open(t.Context(), path); !errors.Is(err, ErrNotStudy) {
		t.Error(err)
	}
	if _, err := OpenReadOnly(t.Context(), path); !errors.Is(err, ErrNotStudy) {
		t.Error(err)
	}
	if after := [3][sha256.Size]byte{hash(t, path), hash(t, path+"-journal"), hash(t, path+"-wal")}; after != before {
		t.Error("the files were changed")
	}
}

func TestAFolderIsNoStudy(t *testing.T) {
	if _, err := Open(t.Context(), t.TempDir()); !errors.Is(err, ErrNotStudy) {
		t.Error(err)
	}
}

// Any bytes at all are refused or opened; nothing panics and nothing hangs.
// What opens can be read or says that it is damaged, and can be closed.
func FuzzOpen(f *testing.F) {
	whole := studyBytes(f)
	f.Add(0, uint8(0), 0, uint8(0), len(whole))
	f.Add(70, uint8(1), 0, uint8(0), len(whole))
	f.Add(105, uint8(7), 4099, uint8(255), len(whole))
	f.Add(4100, uint8(3), 9000, uint8(9), len(whole)-4096)
	f.Add(28, uint8(1), 16, uint8(2), 4096)
	f.Fuzz(func(t *testing.T, at1 int, x1 uint8, at2 int, x2 uint8, size int) {
		b := append([]byte{}, whole...)
		b[uint(at1)%uint(len(b))] ^= x1
		b[uint(at2)%uint(len(b))] ^= x2
		b = b[:uint(size)%uint(len(b)+1)]
		path := filepath.Join(t.TempDir(), "mutated.study")
		if err := os.WriteFile(path, b, 0o644); err != nil {
			t.Fatal(err)
		}
		before := hash(t, path)
		ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
		defer cancel()
		s, err := Open(ctx, path)
		if ctx.Err() != nil {
			t.Fatal("opening took five seconds")
		}
		if hash(t, path) != before {
			t.Error("opening changed the file")
		}
		if err != nil {
			if !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNotStudy) && !errors.Is(err, ErrNewer) {
				t.Errorf("refused with %v", err)
			}
			return
		}
		defer s.Close()
		if _, err := s.Load(ctx); err != nil && !errors.Is(err, ErrDamaged) {
			t.Errorf("Load: %v", err)
		}
		if _, err := s.AddMark(ctx, timeline.Mark{At: 5}); err != nil && !errors.Is(err, ErrDamaged) {
			t.Errorf("AddMark: %v", err)
		}
		if _, err := s.Undo(ctx); err != nil && !errors.Is(err, ErrDamaged) {
			t.Errorf("Undo: %v", err)
		}
	})
}
