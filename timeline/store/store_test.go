package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// orchard is a study of an orchard picker's warm-up.
func orchard() timeline.Study {
	return timeline.Study{
		Title:    "Orchard warm-up",
		Language: "en",
		Person:   timeline.Person{StatureM: 1.5, MassKg: 50, Sex: "female"},
		Recording: &timeline.Recording{
			Path: "warm-up.mp4", Fingerprint: "f00d", Size: 123_456, Duration: 40_040, Kind: "video",
			FrameRate: 30000.0 / 1001, Variable: true, Frames: 1200, Width: 640, Height: 360,
		},
		Marks: []timeline.Mark{
			{At: 12_000, Title: "overhead reach", Words: "standing on toes; arms overhead", Note: "heels high"},
			{At: 1_500, Title: "quiet stand", Words: "standing"},
		},
	}
}

// made creates a study for a test and closes it at the end.
func made(t testing.TB, st timeline.Study) *Store {
	t.Helper()
	s, err := Create(t.Context(), filepath.Join(t.TempDir(), "warm-up.study"), st)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// loaded is the study as the store reads it now.
func loaded(t testing.TB, s *Store) timeline.Study {
	t.Helper()
	st, err := s.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// sound fails the test when Check finds anything.
func sound(t testing.TB, s *Store) {
	t.Helper()
	if problems, err := s.Check(context.Background()); err != nil || len(problems) > 0 {
		t.Fatalf("Check: %v %v", problems, err)
	}
}

// alone fails the test unless the study is the only file in its folder.
func alone(t testing.TB, path string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(path) {
			t.Errorf("%q stands beside the study", e.Name())
		}
	}
}

func TestAStudyComesBackAsItWasGiven(t *testing.T) {
	want := orchard()
	s := made(t, want)
	got := loaded(t, s)
	if len(got.ID) != 32 || got.Revision != 1 {
		t.Errorf("ID %q, revision %d", got.ID, got.Revision)
	}
	want.ID, want.Revision = got.ID, 1
	want.Marks[0].ID, want.Marks[1].ID = 1, 2
	want.Remarks, want.Postures, want.Angles = []timeline.Remark{}, []timeline.NamedPosture{}, []timeline.PictureAngle{}
	want.Sort()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("loaded\n%+v\nwant\n%+v", got, want)
	}
	sound(t, s)
	alone(t, s.Path())
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	alone(t, s.Path())
	again, err := OpenReadOnly(t.Context(), s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if got := loaded(t, again); !reflect.DeepEqual(got, want) {
		t.Errorf("after reopening\n%+v\nwant\n%+v", got, want)
	}
}

func TestAStudyMayExistBeforeItsRecordingAndMarks(t *testing.T) {
	st := orchard()
	st.Recording, st.Marks, st.Language = nil, nil, ""
	got := loaded(t, made(t, st))
	if got.Recording != nil || got.Marks == nil || len(got.Marks) != 0 || got.Language != "en" {
		t.Errorf("loaded %+v", got)
	}
}

func TestCreateNeverWritesOverAFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notes.study")
	if err := os.WriteFile(path, []byte("my notes"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Create(t.Context(), path, orchard()); !errors.Is(err, ErrExists) || !strings.Contains(err.Error(), path) {
		t.Errorf("Create over a file: %v", err)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != "my notes" {
		t.Errorf("the file is now %q, %v", b, err)
	}
	alone(t, path)
	dangling := filepath.Join(t.TempDir(), "link.study")
	if err := os.Symlink("nowhere", dangling); err != nil {
		peer.Lacks(t, "symbolic links", err)
	}
	if _, err := Create(t.Context(), dangling, orchard()); !errors.Is(err, ErrExists) {
		t.Errorf("Create over a dangling link: %v", err)
	}
}

func TestOfManyWhoCreateOneFileOneSucceeds(t *testing.T) {
	path := filepath.Join(t.TempDir(), "one.study")
	results := make(chan error)
	for range 8 {
		go func() {
			s, err := Create(context.Background(), path, orchard())
			if err == nil {
				err = s.Close()
			}
			results <- err
		}()
	}
	won := 0
	for range 8 {
		if err := <-results; err == nil {
			won++
		} else if !errors.Is(err, ErrExists) {
			t.Error(err)
		}
	}
	if won != 1 {
		t.Errorf("%d created it", won)
	}
	alone(t, path)
}

func TestAnyFileNameServes(t *testing.T) {
	dir := t.TempDir()
	names := []string{
		"why?.study", "a#b.study", "pct%41.study", "two  words.study", "échauffement – 体操 🍎.study", "a&_query_only=1.study",
		"mode=ro.study", "quote'\".study", "no-ending", ":memory:", strings.Repeat("n", 240) + ".study",
	}
	for _, name := range names {
		path := filepath.Join(dir, name)
		s, err := Create(t.Context(), path, orchard())
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if _, err := s.AddMark(t.Context(), timeline.Mark{At: 1}); err != nil {
			t.Errorf("%q: %v", name, err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		s, err = Open(t.Context(), path)
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if got := loaded(t, s); len(got.Marks) != 3 {
			t.Errorf("%q: %d marks", name, len(got.Marks))
		}
		s.Close()
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != len(names) {
		t.Errorf("%d files of %d names, %v: %v", len(entries), len(names), err, entries)
	}
}

func TestANameTooLongForItsJournalIsRefusedAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), strings.Repeat("n", 250))
	if _, err := Create(t.Context(), path, orchard()); !errors.Is(err, ErrInvalid) {
		t.Errorf("Create: %v", err)
	}
}

func TestAPathMayBeRelative(t *testing.T) {
	t.Chdir(t.TempDir())
	s, err := Create(t.Context(), "here.study", orchard())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if !filepath.IsAbs(s.Path()) {
		t.Errorf("Path() = %q", s.Path())
	}
	if err := s.Copy(t.Context(), "there.study"); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat("there.study"); err != nil {
		t.Error(err)
	}
}

func TestAMissingFileIsNotMade(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none.study")
	for _, open := range []func(context.Context, string) (*Store, error){Open, OpenReadOnly} {
		if _, err := open(t.Context(), path); !errors.Is(err, fs.ErrNotExist) || strings.Count(err.Error(), path) != 1 {
			t.Errorf("Open: %v", err)
		}
	}
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Error("the file is there now")
	}
}

func TestAReadOnlyStoreChangesNothing(t *testing.T) {
	s := made(t, orchard())
	before := hash(t, s.Path())
	ro, err := OpenReadOnly(t.Context(), s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer ro.Close()
	if _, err := ro.AddMark(t.Context(), timeline.Mark{At: 1}); !errors.Is(err, ErrReadOnly) {
		t.Errorf("AddMark: %v", err)
	}
	if _, err := ro.Undo(t.Context()); !errors.Is(err, ErrReadOnly) {
		t.Errorf("Undo: %v", err)
	}
	copied := filepath.Join(t.TempDir(), "copy.study")
	if err := ro.Copy(t.Context(), copied); err != nil {
		t.Errorf("a study that may only be read can be copied: %v", err)
	}
	if hash(t, s.Path()) != before {
		t.Error("the file changed")
	}
}

func TestAClosedStoreGivesErrors(t *testing.T) {
	s := made(t, orchard())
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Errorf("closing again: %v", err)
	}
	if _, err := s.Load(t.Context()); err == nil {
		t.Error("Load of a closed store")
	}
	if _, err := s.AddMark(t.Context(), timeline.Mark{}); err == nil {
		t.Error("AddMark to a closed store")
	}
}
