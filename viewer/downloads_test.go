package viewer

import (
	"bytes"
	"mime"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"tautline/exports"
)

// TestEveryFormatIsSentAsItIsWritten: by the table of formats, byte for byte,
// under the study's own name, as data and never as a page.
func TestEveryFormatIsSentAsItIsWritten(t *testing.T) {
	x := serve(t, warmUp())
	list := read[[]apiExport](t, x, "/api/exports")
	snap, err := x.current(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != len(exports.Formats()) || len(list) == 0 {
		t.Fatalf("%d formats are listed", len(list))
	}
	sent := 0
	for i, f := range exports.Formats() {
		for _, v := range []exports.Voice{exports.Plain, exports.Technical} {
			var want bytes.Buffer
			var notes []string
			err := f.Write(&want, snap.report, exports.Options{Tool: "test", Voice: v, Warn: func(s string) { notes = append(notes, s) }})
			status, got, h := x.do(t, "GET", "/api/exports/"+f.Name+"?voice="+string(v), nil)
			if err != nil {
				if status != http.StatusUnprocessableEntity || !strings.Contains(got, `"error"`) {
					t.Errorf("%s cannot be written and is answered with %d %s", f.Name, status, got)
				}
				continue
			}
			sent++
			if status != http.StatusOK || got != want.String() {
				t.Errorf("%s, %s: %d, %d bytes of %d", f.Name, v, status, len(got), want.Len())
			}
			kind, about, err := mime.ParseMediaType(h.Get("Content-Disposition"))
			if err != nil || kind != "attachment" || about["filename"] != list[i].File || about["filename"] != "warm-up."+f.File {
				t.Errorf("%s is sent as %q", f.Name, h.Get("Content-Disposition"))
			}
			if kind, _, err := mime.ParseMediaType(h.Get("Content-Type")); err != nil || kind != f.Media {
				t.Errorf("%s has the type %q", f.Name, h.Get("Content-Type"))
			}
			if csp := h.Get("Content-Security-Policy"); csp != "default-src 'none'; sandbox" {
				t.Errorf("%s: policy %q", f.Name, csp)
			}
			if told, err := url.PathUnescape(h.Get(notesHeader)); err != nil || told != strings.Join(notes, "\n") {
				t.Errorf("%s: notes %q, want %q", f.Name, told, notes)
			}
		}
	}
	if sent < 10 {
		t.Errorf("only %d files were sent", sent)
	}
	if _, _, h := x.do(t, "GET", "/api/exports/captions?show", nil); h.Get("Content-Disposition") != "" {
		t.Error("what the page shows itself is sent as a file to keep")
	}
	if status, body, _ := x.do(t, "GET", "/api/exports/spreadsheet", nil); status != http.StatusNotFound || !strings.Contains(body, "captions") {
		t.Errorf("an unknown format: %d %s", status, body)
	}
}
