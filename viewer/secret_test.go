package viewer

import (
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// begun starts a server that keeps its secret in dir.
func begun(t *testing.T, x *site, dir, addr string) *Server {
	t.Helper()
	srv, err := New(Options{Store: x.store, SecretDir: dir})
	if err != nil {
		t.Fatal(err)
	}
	if err := srv.Listen(addr); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { srv.listener.Close() })
	return srv
}

// TestPageOutlivesARestart: a server started anew on the same study has the port
// and the secret that its pages know.
func TestPageOutlivesARestart(t *testing.T) {
	x, other := serve(t, warmUp()), serve(t, warmUp())
	dir := filepath.Join(t.TempDir(), "pages")
	one := begun(t, x, dir, "")
	for path, want := range map[string]os.FileMode{keptPath(dir, x.store.Path()): 0o600, dir: 0o700} {
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v", path, info, err)
		}
	}
	// A second one beside the first does not take its place.
	beside := begun(t, x, dir, "")
	if beside.token != one.token || beside.port == one.port {
		t.Errorf("beside it: port %s, own secret %v", beside.port, beside.token != one.token)
	}
	if neighbour := begun(t, other, dir, ""); neighbour.token == one.token {
		t.Error("two studies share a secret")
	}
	beside.listener.Close()
	one.listener.Close()
	if again := begun(t, x, dir, ""); again.token != one.token || again.port != one.port {
		t.Errorf("started anew: port %s after %s, own secret %v", again.port, one.port, again.token != one.token)
	}
	// With another address the secret stays and the address is remembered.
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	addr := free.Addr().String()
	free.Close()
	if moved := begun(t, x, dir, addr); moved.token != one.token || recall(dir, x.store.Path(), time.Now()).Port != moved.kept.Port {
		t.Errorf("moved to %s: %+v", addr, moved.kept)
	}
}

// TestSecretsThatAreNotSoundAreMadeAnew: what others could read or write, what
// is old, what is damaged.
func TestSecretsThatAreNotSoundAreMadeAnew(t *testing.T) {
	now := time.Date(2030, 4, 1, 8, 0, 0, 0, time.UTC)
	study := filepath.Join(t.TempDir(), "warm-up.study")
	good := kept{Secret: newSecret(), Port: 4000, Made: now.Add(-time.Hour)}
	for name, c := range map[string]struct {
		spoil func(path string) error
		kept  bool
	}{
		"sound":           {func(string) error { return nil }, true},
		"read by others":  {func(p string) error { return os.Chmod(p, 0o644) }, false},
		"written by some": {func(p string) error { return os.Chmod(p, 0o620) }, false},
		"empty":           {func(p string) error { return os.WriteFile(p, nil, 0o600) }, false},
		"cut":             {func(p string) error { return os.WriteFile(p, []byte(`{"secret":"00`), 0o600) }, false},
		"short secret": {func(p string) error {
			return os.WriteFile(p, []byte(`{"secret":"00","made":"2030-04-01T07:00:00Z"}`), 0o600)
		}, false},
		"a link": {func(p string) error {
			if err := os.Rename(p, p+".other"); err != nil {
				return err
			}
			return os.Symlink(p+".other", p)
		}, false},
		"a folder": {func(p string) error {
			if err := os.Remove(p); err != nil {
				return err
			}
			return os.Mkdir(p, 0o700)
		}, false},
	} {
		dir := filepath.Join(t.TempDir(), "pages")
		if err := keep(dir, study, good); err != nil {
			t.Fatal(err)
		}
		if err := c.spoil(keptPath(dir, study)); err != nil {
			t.Fatal(err)
		}
		got := recall(dir, study, now)
		if (got.Secret == good.Secret) != c.kept || len(got.Secret) != 2*tokenBytes || !c.kept && got.Port != 0 {
			t.Errorf("%s: recalled %+v", name, got)
		}
	}
	dir := t.TempDir()
	if err := keep(dir, study, good); err != nil {
		t.Fatal(err)
	}
	for age, young := range map[time.Duration]bool{secretAge: true, secretAge + time.Minute: false, -time.Minute: false} {
		if got := recall(dir, study, good.Made.Add(age)); (got.Secret == good.Secret) != young {
			t.Errorf("after %v it is kept: %v", age, !young)
		}
	}
	if a, b := recall("", study, now), recall("", study, now); a.Secret == b.Secret {
		t.Error("without a folder two starts share a secret")
	}
}
