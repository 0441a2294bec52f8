package viewer

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"regexp"
	"strconv"
)

//go:embed web
var embedded embed.FS

// builtIn is the page's folder as it was when the program was built.
func builtIn() fs.FS {
	sub, err := fs.Sub(embedded, "web")
	if err != nil {
		panic(err)
	}
	return sub
}

// types are the media types of the page's files. A file of another kind is a
// mistake and is refused at the start.
var types = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".svg":  "image/svg+xml",
}

// assets are the page's files.
type assets struct {
	files map[string]asset
	fresh fs.FS // where to read them anew each time; nil for what was built in
}

type asset struct {
	text []byte
	kind string
	tag  string
}

// loadAssets reads the page's files; with fresh they are read again for every
// request.
func loadAssets(files fs.FS, fresh bool) (*assets, error) {
	a := &assets{files: map[string]asset{}}
	if fresh {
		a.fresh = files
	}
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		one, err := loadAsset(files, name)
		if !fresh {
			one.text = lean(name, one.text)
		}
		a.files[name] = one
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("the page's files: %w", err)
	}
	if _, ok := a.files["index.html"]; !ok {
		return nil, fmt.Errorf("the page's files: there is no index.html")
	}
	return a, nil
}

func loadAsset(files fs.FS, name string) (asset, error) {
	kind, ok := types[path.Ext(name)]
	if !ok {
		return asset{}, fmt.Errorf("%s is of no known kind", name)
	}
	text, err := fs.ReadFile(files, name)
	return asset{text, kind, digest(string(text))}, err
}

// Comments that have whole lines to themselves.
var (
	blocks = regexp.MustCompile(`(?m)^[ \t]*/\*(?:[^*]|\*+[^*/])*\*+/[ \t]*$`)
	lines  = regexp.MustCompile(`(?m)^[ \t]*//.*$`)
)

// lean leaves out the comments that have whole lines to themselves: a browser
// reads none. Lines keep their numbers. No string of the page begins a line like
// a comment; a test holds the page to that.
func lean(name string, text []byte) []byte {
	switch path.Ext(name) {
	case ".js":
		text = lines.ReplaceAll(text, nil)
	case ".css":
	default:
		return text
	}
	return blocks.ReplaceAllFunc(text, func(c []byte) []byte {
		return bytes.Repeat([]byte("\n"), bytes.Count(c, []byte("\n")))
	})
}

func (a *assets) page(w http.ResponseWriter, r *http.Request) { a.serve(w, r, "index.html") }

func (a *assets) file(w http.ResponseWriter, r *http.Request) { a.serve(w, r, r.PathValue("file")) }

// serve sends one file of the page, and no other: what was built in has only
// those names, and a folder is read through fs.FS, which knows no way out.
func (a *assets) serve(w http.ResponseWriter, r *http.Request, name string) {
	one, ok := a.files[name]
	if a.fresh != nil {
		var err error
		one, err = loadAsset(a.fresh, name)
		ok = err == nil
	}
	if !ok {
		http.NotFound(w, r)
		return
	}
	tag := `"` + one.tag + `"`
	w.Header().Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Header().Set("Content-Type", one.kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(one.text)))
	w.Write(one.text)
}
