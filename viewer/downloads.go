package viewer

import (
	"bytes"
	"errors"
	"fmt"
	"mime"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"

	"tautline/exports"
)

// errNoFormat: a page asks for a file that is not written.
var errNoFormat = errors.New("there is no such format")

// apiExport is one file that can be taken out of the study.
type apiExport struct {
	Name string `json:"name"`
	File string `json:"file"`
	Help string `json:"help"`
}

// notesHeader carries, percent-encoded and a line each, what a file leaves out
// or what was changed to make it valid.
const notesHeader = "Tautline-Notes"

// listExports answers with every file that can be taken out.
func (s *Server) listExports(w http.ResponseWriter, r *http.Request) {
	list := []apiExport{}
	for _, f := range exports.Formats() {
		list = append(list, apiExport{f.Name, s.exportName(f), f.Help})
	}
	send(w, http.StatusOK, list)
}

// exportName is what a file is called beside the study's own.
func (s *Server) exportName(f exports.Format) string {
	return strings.TrimSuffix(filepath.Base(s.opt.Store.Path()), ".study") + "." + f.File
}

// getExport sends one file: to keep, or with ?show for the page's own use.
func (s *Server) getExport(w http.ResponseWriter, r *http.Request) {
	snap, err := s.current(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	f, err := exports.FormatNamed(r.PathValue("format"))
	if err != nil {
		fail(w, fmt.Errorf("%w: %w", errNoFormat, err))
		return
	}
	var b bytes.Buffer
	var notes []string
	o := exports.Options{Tool: s.opt.ToolVersion, Voice: voice(r), Share: r.URL.Query().Has("share"),
		Warn: func(line string) { notes = append(notes, line) }}
	if err := f.Write(&b, snap.report, o); err != nil {
		fail(w, fmt.Errorf("%w: %w", errUnwritten, err))
		return
	}
	kind := f.Media
	if strings.HasPrefix(kind, "text/") && !strings.Contains(kind, "charset") {
		kind += "; charset=utf-8"
	}
	w.Header().Set("Content-Type", kind)
	if !r.URL.Query().Has("show") {
		w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": s.exportName(f)}))
	}
	if len(notes) > 0 {
		w.Header().Set(notesHeader, url.PathEscape(strings.Join(notes, "\n")))
	}
	// A file is data and never a page of this server, whatever is in it.
	w.Header().Set("Content-Security-Policy", "default-src 'none'; sandbox")
	w.Write(b.Bytes())
}

// errUnwritten: a format whose own rules the study does not meet.
var errUnwritten = errors.New("this file cannot be written")
