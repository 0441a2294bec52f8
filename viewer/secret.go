package viewer

import (
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"time"
)

// A page that is open must find its server again after a restart. So the secret
// and the port of a study are kept from start to start, for whoever runs this
// program and nobody else: in a file of mode 0600 in a folder of mode 0700, one
// for each study file, never beside the study, which people pass on. A secret
// older than secretAge is made anew.

// secretAge is how long a page may be left open over restarts.
const secretAge = 14 * 24 * time.Hour

// kept is what a study's file of secrets holds.
type kept struct {
	Secret string    `json:"secret"`
	Port   int       `json:"port"`
	Made   time.Time `json:"made"`
}

// newSecret makes a secret.
func newSecret() string {
	var b [tokenBytes]byte
	rand.Read(b[:])
	return hex.EncodeToString(b[:])
}

// keptPath is where the secret of a study file is kept.
func keptPath(dir, studyPath string) string {
	return filepath.Join(dir, digest("secret", studyPath)+".json")
}

// recall gives what was kept for a study, when it is sound, young, and readable
// by nobody else; otherwise a new secret and no port.
func recall(dir, studyPath string, now time.Time) kept {
	fresh := kept{Secret: newSecret(), Made: now}
	path := keptPath(dir, studyPath)
	info, err := os.Lstat(path)
	if dir == "" || err != nil || !info.Mode().IsRegular() || info.Mode().Perm()&0o077 != 0 && os.PathSeparator == '/' {
		return fresh
	}
	text, err := os.ReadFile(path)
	var k kept
	if err != nil || json.Unmarshal(text, &k) != nil {
		return fresh
	}
	age := now.Sub(k.Made)
	if b, err := hex.DecodeString(k.Secret); err != nil || len(b) != tokenBytes || age < 0 || age > secretAge || k.Port < 0 || k.Port > 65535 {
		return fresh
	}
	return k
}

// keep writes what recall reads. Where it cannot, the page has to be opened
// anew after a restart, and that is all.
func keep(dir, studyPath string, k kept) error {
	if dir == "" {
		return nil
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	text, err := json.Marshal(k)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, ".new-*") // of mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(text)
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return fmt.Errorf("the page's secret: %w", err)
	}
	return os.Rename(f.Name(), keptPath(dir, studyPath))
}

// portOf is the address on loopback that a study had before, or any free one.
func portOf(k kept) string { return "127.0.0.1:" + strconv.Itoa(k.Port) }
