package store

import (
	"context"
	"errors"
	"os"
	"testing"
	"time"

	"tautline/timeline"
)

func TestAWriterWaitsForItsTurnOnlySoLong(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	other, err := open(ctx, s.Path(), writing, 50*time.Millisecond)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	edit(t, s, func(m *timeline.Mark) {
		began := time.Now()
		if _, err := other.AddMark(ctx, timeline.Mark{}); !errors.Is(err, ErrBusy) || time.Since(began) > 5*time.Second {
			t.Errorf("after %v: %v", time.Since(began), err)
		}
		short, cancel := context.WithTimeout(ctx, 20*time.Millisecond)
		defer cancel()
		if _, err := s.AddMark(short, timeline.Mark{}); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("within the same Store: %v", err)
		}
		if got := loaded(t, other); got.Revision != 1 {
			t.Errorf("a reader meanwhile sees revision %d", got.Revision)
		}
		m.At = 77
	})
	if got := loaded(t, other); got.Revision != 2 {
		t.Errorf("the revision is %d", got.Revision)
	}
}

func TestWatchTellsOfEveryonesChanges(t *testing.T) {
	s := made(t, orchard())
	other, err := Open(t.Context(), s.Path())
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	ctx, cancel := context.WithCancel(t.Context())
	revisions := s.Watch(ctx)
	next := func() int64 {
		select {
		case r := <-revisions:
			return r
		case <-time.After(10 * time.Second):
			t.Fatal("nothing came")
			return 0
		}
	}
	if r := next(); r != 1 {
		t.Errorf("first came %d", r)
	}
	for i, by := range []*Store{s, other} {
		edit(t, by, func(m *timeline.Mark) { m.At++ })
		if r := next(); r != int64(i+2) {
			t.Errorf("after change %d came %d", i+1, r)
		}
	}
	for range 5 {
		edit(t, other, func(m *timeline.Mark) { m.At++ })
	}
	for r := next(); r != 8; r = next() {
		if r < 4 || r > 7 {
			t.Errorf("revision %d came", r)
		}
	}
	cancel()
	for range revisions { // ends
	}
}

func TestAReplacedFileIsNoticedBeforeAnythingIsLost(t *testing.T) {
	s := made(t, orchard())
	revisions := s.Watch(t.Context())
	<-revisions
	other := made(t, orchard())
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(other.Path(), s.Path()); err != nil { // as synchronising programs do
		t.Fatal(err)
	}
	before := hash(t, s.Path())
	if _, err := s.AddMark(t.Context(), timeline.Mark{At: 1}); !errors.Is(err, ErrMoved) {
		t.Errorf("AddMark: %v", err)
	}
	if _, err := s.Load(t.Context()); !errors.Is(err, ErrMoved) {
		t.Errorf("Load: %v", err)
	}
	if err := s.Copy(t.Context(), s.Path()+".copy"); !errors.Is(err, ErrMoved) {
		t.Errorf("Copy: %v", err)
	}
	select {
	case _, open := <-revisions:
		if open {
			t.Error("Watch sent a revision of a file that is gone")
		}
	case <-time.After(5 * time.Second):
		t.Error("Watch goes on")
	}
	if hash(t, s.Path()) != before {
		t.Error("the file that took its place was written to")
	}
}
