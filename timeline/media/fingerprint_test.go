package media

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// noise is size bytes that differ by seed.
func noise(size int, seed uint64) []byte {
	out := make([]byte, size)
	rng := rand.NewChaCha8([32]byte{byte(seed), byte(seed >> 8)})
	_, _ = rng.Read(out)
	return out
}

func write(t *testing.T, path string, data []byte) string {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func printOf(t *testing.T, path string) (string, int64) {
	t.Helper()
	fp, size, err := Fingerprint(path)
	if err != nil {
		t.Fatal(err)
	}
	return fp, size
}

// The recipe is in study files: it may not change under its prefix.
func TestFingerprintRecipeStays(t *testing.T) {
	sum := sha256.Sum256([]byte("\x00\x00\x00\x00\x00\x00\x00\x05apple"))
	path := write(t, filepath.Join(t.TempDir(), "a"), []byte("apple"))
	if fp, size := printOf(t, path); fp != "rec1-"+hex.EncodeToString(sum[:]) || size != 5 {
		t.Errorf("%s, %d", fp, size)
	}
	// Past the whole-file size: 32 blocks of 64 KiB, the first at the start and
	// the last at the end.
	large := noise(5<<20, 1)
	h := sha256.New()
	h.Write([]byte{0, 0, 0, 0, 0, 0x50, 0, 0})
	for i := range 32 {
		off := (2*(len(large)-65536)*i + 31) / 62
		h.Write(large[off : off+65536])
	}
	path = write(t, filepath.Join(t.TempDir(), "b"), large)
	if fp, _ := printOf(t, path); fp != "rec1-"+hex.EncodeToString(h.Sum(nil)) {
		t.Errorf("large file: %s", fp)
	}
}

func TestFingerprintTellsContentsApart(t *testing.T) {
	dir := t.TempDir()
	for _, size := range []int{1000, 6 << 20} {
		base := noise(size, 9)
		seen := map[string]string{}
		for name, change := range map[string]func([]byte) []byte{
			"itself":      func(b []byte) []byte { return b },
			"first byte":  func(b []byte) []byte { b[0]++; return b },
			"last byte":   func(b []byte) []byte { b[len(b)-1]++; return b },
			"a bit more":  func(b []byte) []byte { return append(b, 0) },
			"a bit less":  func(b []byte) []byte { return b[:len(b)-1] },
			"moved along": func(b []byte) []byte { return append(b[1:], b[0]) },
		} {
			fp, _ := printOf(t, write(t, filepath.Join(dir, name), change(append([]byte{}, base...))))
			if other := seen[fp]; other != "" {
				t.Errorf("%d bytes: %s and %s have one fingerprint", size, name, other)
			}
			seen[fp] = name
		}
	}
}

func TestRecordingIsSameChangedOrMissing(t *testing.T) {
	dir := t.TempDir()
	path := write(t, filepath.Join(dir, "warm-up.wav"), wavFile(wavFormat(), chunk("data", noise(4000, 1))))
	fp, size := printOf(t, path)
	state := func(want State) {
		t.Helper()
		if got, err := Compare(path, fp, size); err != nil || got != want {
			t.Errorf("%v, %v; want %v", got, err, want)
		}
	}
	state(Same)
	write(t, path, wavFile(wavFormat(), chunk("data", noise(4000, 2)))) // same length
	state(Changed)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	state(Missing)
	if err := os.Mkdir(path, 0o700); err != nil {
		t.Fatal(err)
	}
	state(Changed)
}

func TestFindFollowsAMovedAndRenamedRecording(t *testing.T) {
	root := t.TempDir()
	data := noise(5000, 4)
	fp, size := printOf(t, write(t, filepath.Join(root, "old", "take.mp4"), data))
	want := filepath.Join(root, "shelf", "2", "kept")
	if err := os.MkdirAll(filepath.Dir(want), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(root, "old", "take.mp4"), want); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(root, "shelf", "decoy"), noise(5000, 5)) // same size
	write(t, filepath.Join(root, "shelf", ".hidden", "copy"), data)
	if err := os.Symlink(root, filepath.Join(root, "shelf", "round")); err != nil {
		t.Fatal(err)
	}
	got, err := Find(fp, size, filepath.Join(root, "old"), filepath.Join(root, "gone"), root)
	if err != nil || !sameFile(t, got, want) {
		t.Errorf("found %q, %v; want %q", got, err, want)
	}
	// Nearer wins over earlier in the alphabet.
	near := write(t, filepath.Join(root, "zz"), data)
	if got, err = Find(fp, size, root); err != nil || !sameFile(t, got, near) {
		t.Errorf("found %q, %v; want %q", got, err, near)
	}
	// A folder given as a link is searched.
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(filepath.Join(root, "shelf"), link); err != nil {
		t.Fatal(err)
	}
	if got, err = Find(fp, size, link); err != nil || !sameFile(t, got, want) {
		t.Errorf("found %q, %v; want %q", got, err, want)
	}
}

func TestFindOpensOnlyFilesOfTheRightSize(t *testing.T) {
	root := t.TempDir()
	for i := range findHashes + 1 {
		write(t, filepath.Join(root, fmt.Sprintf("a%d", i)), make([]byte, i))
	}
	want := write(t, filepath.Join(root, "z"), noise(3000, 6))
	fp, size := printOf(t, want)
	if got, err := Find(fp, size, root); err != nil || !sameFile(t, got, want) {
		t.Errorf("found %q, %v", got, err)
	}
}

func sameFile(t *testing.T, a, b string) bool {
	t.Helper()
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

func TestFindSaysHowFarItLooked(t *testing.T) {
	root := t.TempDir()
	write(t, filepath.Join(root, "a", "one"), noise(10, 1))
	_, err := Find("rec1-00", 10, root)
	var lost *NotFoundError
	if !errors.Is(err, ErrNotFound) || !errors.As(err, &lost) || lost.Entries != 2 || lost.Limited {
		t.Errorf("%v", err)
	}
	// Too deep to be searched.
	deep := filepath.Join(root, strings.Repeat("d/", findDepth+2), "file")
	fp, size := printOf(t, write(t, deep, noise(77, 3)))
	if _, err = Find(fp, size, root); !errors.As(err, &lost) || !lost.Limited || !strings.Contains(err.Error(), "limit") {
		t.Errorf("%v", err)
	}
}

func TestOpeningLeavesTheFileAlone(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "a.wav"), wavFile(wavFormat(), chunk("data", noise(4000, 1))))
	if err := os.Chmod(path, 0o400); err != nil {
		t.Fatal(err)
	}
	before, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path); err != nil {
		t.Error(err)
	}
	printOf(t, path)
	if after, err := os.Stat(path); err != nil || !after.ModTime().Equal(before.ModTime()) || after.Size() != before.Size() {
		t.Errorf("%v, %v", after, err)
	}
}
