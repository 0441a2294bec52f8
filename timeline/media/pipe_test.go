//go:build unix

package media

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func TestOpenRefusesWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	// Opening the pipe would wait for a writer that never comes.
	for _, path := range []string{dir, pipe} {
		if _, err := Open(path); !errors.Is(err, ErrNotRecording) || !strings.HasPrefix(err.Error(), path+": ") {
			t.Errorf("%v", err)
		}
	}
	gone := filepath.Join(dir, "gone.mp4")
	if _, err := Open(gone); !errors.Is(err, fs.ErrNotExist) || strings.Count(err.Error(), gone) != 1 {
		t.Errorf("%v", err)
	}
}
