package viewer

import (
	"net/http"
	"os"
	"path/filepath"
	"testing"
)

// TestRecordingIsFoundAgain by its content: moved below the study's folder at
// once, elsewhere when the folder is named, and what a person drops where there
// is none yet.
func TestRecordingIsFoundAgain(t *testing.T) {
	dir, far := t.TempDir(), t.TempDir()
	t.Setenv("HOME", t.TempDir())
	x := serveIn(t, dir, withSound(t, dir, "warm-up.wav"))
	if r := read[apiReport](t, x, "/api/report").Recording; r.URL == "" || r.Problem != "" {
		t.Fatalf("the recording is %+v", r)
	}
	move := func(from, to string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.Rename(from, to); err != nil {
			t.Fatal(err)
		}
	}
	find := func(body any, want int) {
		t.Helper()
		if status, text, _ := x.do(t, "POST", "/api/recording", body); status != want {
			t.Fatalf("%v: %d, expected %d: %s", body, status, want, text)
		}
	}
	path := func() string {
		st, err := x.store.Load(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return st.Recording.Path
	}
	below := filepath.Join(dir, "takes", "second.wav")
	move(filepath.Join(dir, "warm-up.wav"), below)
	find(map[string]any{}, http.StatusOK)
	if path() != "takes/second.wav" {
		t.Errorf("it is at %q", path())
	}
	elsewhere := filepath.Join(far, "archive", "third.wav")
	move(below, elsewhere)
	before := x.revision(t)
	find(map[string]any{}, http.StatusNotFound)
	find(map[string]any{"folder": "archive"}, http.StatusBadRequest)
	find(map[string]any{"folder": elsewhere}, http.StatusBadRequest)
	find(map[string]any{"folder": filepath.Join(far, "none")}, http.StatusBadRequest)
	if x.revision(t) != before {
		t.Error("looking in vain changed the study")
	}
	find(map[string]any{"folder": far}, http.StatusOK)
	if path() != elsewhere {
		t.Errorf("it is at %q", path())
	}
	// Taken back like any change.
	if status, _, _ := x.do(t, "POST", "/api/undo", nil); status != http.StatusOK || path() != "takes/second.wav" {
		t.Errorf("after undo it is at %q", path())
	}
	// A study without a recording is given the one that was dropped.
	y := serve(t, warmUp())
	dropped := wav(t, filepath.Join(y.dir, "new.wav"), 3, 9)
	x = y
	find(map[string]any{}, http.StatusBadRequest)
	find(map[string]any{"fingerprint": dropped.Fingerprint, "bytes": dropped.Size}, http.StatusOK)
	if r := read[apiReport](t, y, "/api/report").Recording; path() != "new.wav" || r.URL == "" || r.Fingerprint != dropped.Fingerprint || r.DurationMS != 3000 {
		t.Errorf("the recording is %+v", r)
	}
}
