package viewer

import (
	"io/fs"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tautline/testdata/peer"
)

const (
	longestModule = 300        // lines
	heaviestPage  = 250 * 1000 // bytes, all files as they are served, before compression
)

// TestPageIsOursAndLight: no script, style or address but our own, no module
// over the limit, the whole page under its weight.
func TestPageIsOursAndLight(t *testing.T) {
	weight, modules := 0, 0
	outside := regexp.MustCompile(`(?i)(?:https?:)?//[a-z0-9.-]+\.[a-z]{2,}`)
	inline := regexp.MustCompile(`(?i)<script(?:\s+[^>]*)?>\s*[^<\s]|<style|\sstyle=|\son[a-z]+=|javascript:`)
	err := fs.WalkDir(builtIn(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(builtIn(), name)
		if err != nil {
			return err
		}
		weight += len(lean(name, text))
		if found := outside.FindString(strings.ReplaceAll(string(text), "http://www.w3.org/2000/svg", "")); found != "" {
			t.Errorf("%s names %s", name, found)
		}
		switch path.Ext(name) {
		case ".html":
			if found := inline.FindString(string(text)); found != "" {
				t.Errorf("%s holds %q", name, found)
			}
		case ".js":
			modules++
			if lines := strings.Count(string(text), "\n"); lines > longestModule {
				t.Errorf("%s has %d lines", name, lines)
			}
			for _, bad := range []string{"innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "new Function"} {
				if strings.Contains(string(text), bad) {
					t.Errorf("%s uses %s", name, bad)
				}
			}
			if !strings.HasPrefix(string(text), "// @ts-check\n//") {
				t.Errorf("%s does not say what it is", name)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if modules < 10 {
		t.Errorf("only %d modules were looked at", modules)
	}
	if weight > heaviestPage {
		t.Errorf("the page weighs %d bytes", weight)
	}
	t.Logf("%d modules, %d bytes in all", modules, weight)
}

// TestEveryFileOfThePageIsServed with its type, and every one that is named
// exists.
func TestEveryFileOfThePageIsServed(t *testing.T) {
	x := serve(t, warmUp())
	_, page := x.get(t, "/")
	named := regexp.MustCompile(`/web/[\w./-]+`).FindAllString(page, -1)
	for _, m := range regexp.MustCompile(`from '\./([\w.]+)'`).FindAllStringSubmatch(everything(t), -1) {
		named = append(named, "/web/"+m[1])
	}
	if len(named) < 20 {
		t.Errorf("only %d names were found", len(named))
	}
	for _, name := range named {
		status, _, h := x.do(t, "GET", name, nil)
		if status != http.StatusOK || h.Get("Content-Type") != types[path.Ext(name)] {
			t.Errorf("%s: %d %s", name, status, h.Get("Content-Type"))
		}
	}
}

// TestCommentsAreNotServed, and nothing else is left out: what is served is
// still a module, with every line in its place.
func TestCommentsAreNotServed(t *testing.T) {
	all, err := fs.Glob(builtIn(), "*.js")
	if err != nil || len(all) == 0 {
		t.Fatal("no modules", err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "package.json"), []byte(`{"type":"module"}`), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range all {
		text, err := fs.ReadFile(builtIn(), name)
		if err != nil {
			t.Fatal(err)
		}
		served := lean(name, text)
		if strings.Count(string(served), "\n") != strings.Count(string(text), "\n") {
			t.Errorf("%s: lines are not in their place", name)
		}
		if strings.Contains(string(served), "// @ts-check") || len(served) >= len(text) {
			t.Errorf("%s is served with its comments", name)
		}
		for n, line := range strings.Split(string(served), "\n") {
			if strings.Count(line, "`")%2 != 0 {
				t.Errorf("%s:%d: a text over several lines may hold what looks like a comment", name, n+1)
			}
		}
		if err := os.WriteFile(filepath.Join(dir, name), served, 0o644); err != nil {
			t.Fatal(err)
		}
		peer.Run(t, "node", "--check", filepath.Join(dir, name))
	}
}

func everything(t *testing.T) string {
	t.Helper()
	var all strings.Builder
	names, err := fs.Glob(builtIn(), "*.js")
	if err != nil || len(names) == 0 {
		t.Fatal("no modules", err)
	}
	for _, n := range names {
		text, err := fs.ReadFile(builtIn(), n)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(text)
	}
	return all.String()
}

// TestFolderInsteadOfBuiltIn: files are read anew, and no link leads out.
func TestFolderInsteadOfBuiltIn(t *testing.T) {
	x := serve(t, warmUp())
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("index.html", "<!doctype html><title>one</title>")
	srv, err := New(Options{Store: x.store, WebDir: dir})
	if err != nil {
		t.Fatal(err)
	}
	write("index.html", "<!doctype html><title>two</title>")
	secret := filepath.Join(t.TempDir(), "secret.js")
	os.WriteFile(secret, []byte("secret"), 0o644)
	if err := os.Symlink(secret, filepath.Join(dir, "link.js")); err != nil {
		peer.Lacks(t, "symbolic links", err)
	}
	for name, want := range map[string]int{"index.html": 200, "link.js": 404, "../secret.js": 404, "none.js": 404} {
		w := &answer{header: http.Header{}}
		r, _ := http.NewRequest("GET", "/", nil)
		srv.web.serve(w, r, name)
		if w.status != want || strings.Contains(w.text.String(), "secret") {
			t.Errorf("%s: %d %q", name, w.status, w.text.String())
		}
		if want == 200 && !strings.Contains(w.text.String(), "two") {
			t.Errorf("%s is not read anew", name)
		}
	}
	if _, err := New(Options{Store: x.store, WebDir: filepath.Join(dir, "none")}); err == nil {
		t.Error("a folder that is not there is taken")
	}
}

// answer keeps what a handler writes.
type answer struct {
	header http.Header
	status int
	text   strings.Builder
}

func (a *answer) Header() http.Header { return a.header }
func (a *answer) WriteHeader(s int)   { a.status = s }
func (a *answer) Write(b []byte) (int, error) {
	if a.status == 0 {
		a.status = 200
	}
	return a.text.Write(b)
}
