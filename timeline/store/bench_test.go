package store

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"tautline/timeline"
)

// large is a study of 10,000 marks with a full history.
func large(b *testing.B) *Store {
	b.Helper()
	st := orchard()
	st.Marks = nil
	for i := range 10_000 {
		st.Marks = append(st.Marks, timeline.Mark{
			At: timeline.Instant(i) * 1_000, Title: fmt.Sprint("overhead reach ", i),
			Words: "standing on toes; arms overhead; right elbow flexed 20", Note: "heels high, ribs down",
		})
	}
	s := made(b, st)
	d, err := (&delta{About: &swap[aboutRow]{ptr(aboutOf(&st)), ptr(aboutOf(&st))}}).encode()
	if err != nil {
		b.Fatal(err)
	}
	if _, err := s.write.Exec("WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 1000) INSERT INTO history SELECT i, 'as before', ? FROM n", d); err != nil {
		b.Fatal(err)
	}
	if _, err := s.write.Exec("UPDATE study SET last_change = 1000"); err != nil {
		b.Fatal(err)
	}
	return s
}

func BenchmarkOpen10000Marks(b *testing.B) {
	path := large(b).Path()
	for b.Loop() {
		s, err := Open(context.Background(), path)
		if err != nil {
			b.Fatal(err)
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLoad10000Marks(b *testing.B) {
	s := large(b)
	for b.Loop() {
		if st, err := s.Load(context.Background()); err != nil || len(st.Marks) != 10_000 {
			b.Fatal(len(st.Marks), err)
		}
	}
}

func BenchmarkAddMarkTo10000(b *testing.B) {
	s := large(b)
	for b.Loop() {
		if _, err := s.AddMark(context.Background(), timeline.Mark{At: 5_000, Title: "side reach", Words: "standing; right arm overhead"}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMoveMarkOf10000(b *testing.B) {
	s := large(b)
	for b.Loop() {
		edit(b, s, func(m *timeline.Mark) { m.At++ })
	}
}

// One narration's worth at once.
func BenchmarkAdd500MarksTo10000(b *testing.B) {
	s := large(b)
	marks := make([]timeline.Mark, 500)
	for b.Loop() {
		if _, err := s.AddMarks(context.Background(), "", marks); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChangeStudyOf10000Marks(b *testing.B) {
	s := large(b)
	for b.Loop() {
		_, err := s.ChangeStudy(context.Background(), "", func(st *timeline.Study) error { st.Title += "."; st.Title = st.Title[len(st.Title)%50:]; return nil })
		if err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRevision(b *testing.B) {
	s := large(b)
	for b.Loop() {
		if _, err := s.Revision(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCopy10000Marks(b *testing.B) {
	s := large(b)
	dir := b.TempDir()
	n := 0
	for b.Loop() {
		n++
		if err := s.Copy(context.Background(), filepath.Join(dir, fmt.Sprint(n, ".study"))); err != nil {
			b.Fatal(err)
		}
	}
}
