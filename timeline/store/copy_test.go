package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"tautline/timeline"
)

func TestACopyTakenWhileOthersWriteIsComplete(t *testing.T) {
	s := made(t, timeline.Study{Person: orchard().Person})
	ctx := t.Context()
	cmd, out := start(t, "mark", s.Path(), "elsewhere")
	if _, err := out.Read(make([]byte, 1)); err != nil { // it has begun
		t.Fatal(err)
	}
	go io.Copy(io.Discard, out)
	dir := t.TempDir()
	var last int64
	for i := range 12 {
		before, err := s.Revision(ctx)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, fmt.Sprintf("copy %d.study", i))
		if err := s.Copy(ctx, path); err != nil {
			t.Fatal(err)
		}
		after, err := s.Revision(ctx)
		if err != nil {
			t.Fatal(err)
		}
		c, err := Open(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, c)
		got := loaded(t, c)
		if got.Revision < before || got.Revision > after || len(got.Marks) != int(got.Revision)-1 {
			t.Errorf("copy %d has revision %d with %d marks, taken between %d and %d", i, got.Revision, len(got.Marks), before, after)
		}
		if label, err := c.Undo(ctx); err != nil || !strings.HasPrefix(label, `add mark "elsewhere-`) {
			t.Errorf("undo in the copy: %q, %v", label, err)
		}
		if err := c.Close(); err != nil {
			t.Error(err)
		}
		last = got.Revision
	}
	cmd.Process.Kill()
	cmd.Wait()
	if last < 5 {
		t.Errorf("only %d revisions were made meanwhile", last)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 12 {
		t.Errorf("%d files for 12 copies (%v)", len(entries), err)
	}
	taken := filepath.Join(dir, "copy 0.study")
	if err := s.Copy(ctx, taken); !errors.Is(err, ErrExists) {
		t.Errorf("a copy over a file: %v", err)
	}
}

func TestAFileSystemWithoutLinksServesToo(t *testing.T) {
	dir := t.TempDir()
	noLinks := func(string, string) error { return errors.ErrUnsupported }
	old, name := filepath.Join(dir, "old"), filepath.Join(dir, "new")
	for i, want := range []error{nil, ErrExists} {
		if err := os.WriteFile(old, []byte{byte(i)}, 0o644); err != nil {
			t.Fatal(err)
		}
		if err := give(old, name, noLinks); !errors.Is(err, want) {
			t.Errorf("give: %v, want %v", err, want)
		}
	}
	if b, err := os.ReadFile(name); err != nil || len(b) != 1 || b[0] != 0 {
		t.Errorf("the file holds %v, %v", b, err)
	}
}

func TestACopyKeepsTheHistory(t *testing.T) {
	s := made(t, orchard())
	edit(t, s, func(m *timeline.Mark) { m.At = 5 })
	path := filepath.Join(t.TempDir(), "copy.study")
	if err := s.Copy(t.Context(), path); err != nil {
		t.Fatal(err)
	}
	alone(t, path)
	c, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if a, b := loaded(t, s), loaded(t, c); !reflect.DeepEqual(a, b) {
		t.Errorf("the copy says\n%+v\nthe study\n%+v", b, a)
	}
	if _, err := c.Undo(t.Context()); err != nil {
		t.Error(err)
	}
	if got := loaded(t, s); got.Revision != 2 {
		t.Error("undo in the copy reached the study")
	}
}
