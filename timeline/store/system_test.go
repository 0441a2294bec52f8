//go:build unix

package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

// What an acknowledged change rests on, seen from outside: before the writer
// prints that its mark is kept, the study is flushed, then the journal removed,
// then the folder flushed that held it.
func TestAChangeIsOnTheDiskBeforeItIsAcknowledged(t *testing.T) {
	strace := peer.Need(t, "strace")
	s := made(t, orchard())
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Dir(s.Path())
	log := filepath.Join(t.TempDir(), "calls")
	cmd := exec.Command(strace, "-f", "-y", "-o", log, "-e", "trace=fsync,fdatasync,unlink,unlinkat,write", os.Args[0])
	cmd.Env = append(os.Environ(), partVar+"=mark", pathVar+"="+s.Path(), nameVar+"=kept")
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	_, err = io.ReadFull(out, make([]byte, len("kept-0\nkept-1\nkept-2\n")))
	syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
	cmd.Wait()
	if err != nil {
		t.Fatalf("the writer under strace: %v", err)
	}
	calls, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	changes := 0
	var order []string
	for line := range strings.Lines(string(calls)) {
		switch {
		case strings.Contains(line, "sync(") && strings.Contains(line, "<"+s.Path()+">"):
			order = append(order, "flush study")
		case strings.Contains(line, "sync(") && strings.Contains(line, "<"+dir+">"):
			order = append(order, "flush folder")
		case strings.Contains(line, "unlink") && strings.Contains(line, `.study-journal"`):
			order = append(order, "remove journal")
		case strings.Contains(line, "write(1<") && strings.Contains(line, `"kept-`):
			if n := len(order); n < 3 || strings.Join(order[n-3:], ", ") != "flush study, remove journal, flush folder" {
				t.Errorf("acknowledged after %q", order)
			}
			changes, order = changes+1, nil
		}
	}
	if changes < 3 {
		t.Errorf("%d changes seen in\n%s", changes, calls)
	}
}

// becomeNobody gives up the rights of a superuser, whom no mode of a file stops.
func becomeNobody() error {
	const nobody = 65534
	if os.Getuid() != 0 {
		return nil
	}
	return errors.Join(syscall.Setgid(nobody), syscall.Setuid(nobody))
}

// readFile tries a study that may be read and not written.
func readFile() error {
	if err := becomeNobody(); err != nil {
		return err
	}
	ctx, path := context.Background(), os.Getenv(pathVar)
	if s, err := Open(ctx, path); !errors.Is(err, ErrReadOnly) {
		return fmt.Errorf("Open: %v, %v", s, err)
	}
	s, err := OpenReadOnly(ctx, path)
	if err != nil {
		return err
	}
	st, err := s.Load(ctx)
	if err == nil && len(st.Marks) != 2 {
		err = fmt.Errorf("%d marks", len(st.Marks))
	}
	return errors.Join(err, s.Copy(ctx, os.Getenv(nameVar)), s.Close())
}

// lockedFolder tries a study that may be written in a folder that may not, where
// it cannot have a journal.
func lockedFolder() error {
	if err := becomeNobody(); err != nil {
		return err
	}
	s, err := Open(context.Background(), os.Getenv(pathVar))
	if err != nil {
		return err
	}
	defer s.Close()
	if _, err := s.AddMark(context.Background(), timeline.Mark{At: 1}); !errors.Is(err, ErrReadOnly) {
		return fmt.Errorf("AddMark: %v", err)
	}
	return nil
}

func init() {
	parts["read"], parts["locked"] = readFile, lockedFolder
}

func TestWhatMayNotBeWrittenCanBeRead(t *testing.T) {
	for part, modes := range map[string][2]os.FileMode{"read": {0o444, 0o555}, "locked": {0o666, 0o555}} {
		t.Run(part, func(t *testing.T) {
			s := made(t, orchard())
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			dir, to := filepath.Dir(s.Path()), t.TempDir()
			for _, open := range []struct {
				path string
				mode os.FileMode
			}{{filepath.Dir(dir), 0o755}, {to, 0o777}, {s.Path(), modes[0]}, {dir, modes[1]}} {
				if err := os.Chmod(open.path, open.mode); err != nil {
					t.Fatal(err)
				}
			}
			defer os.Chmod(dir, 0o755)
			before, copied := hash(t, s.Path()), filepath.Join(to, "copy.study")
			cmd := exec.Command(os.Args[0])
			cmd.Env = append(os.Environ(), partVar+"="+part, pathVar+"="+s.Path(), nameVar+"="+copied)
			if out, err := cmd.CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, bytes.TrimSpace(out))
			}
			alone(t, s.Path())
			if hash(t, s.Path()) != before {
				t.Error("the file changed")
			}
			if part == "read" {
				c, err := OpenReadOnly(t.Context(), copied)
				if err != nil {
					t.Fatal(err)
				}
				defer c.Close()
				sound(t, c)
			}
		})
	}
}
