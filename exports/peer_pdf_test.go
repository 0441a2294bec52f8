package exports

import (
	"bytes"
	"strings"
	"testing"
	"unicode"

	"tautline/testdata/peer"
)

// inQPDF has another program check the structure of every PDF.
func inQPDF(t *testing.T, files []sample) {
	for _, s := range files {
		if out := string(peer.Run(t, "qpdf", "--check", s.path)); !strings.Contains(out, "No syntax or stream encoding errors found") {
			t.Errorf("%s: %s", s, out)
		}
	}
}

// inPDFToText reads the words of every PDF back: each title that is short enough
// to stand uncut, in whatever script, and every font is embedded.
func inPDFToText(t *testing.T, files []sample) {
	for _, s := range files {
		got := string(peer.Run(t, "pdftotext", "-enc", "UTF-8", s.path, "-"))
		plain := func(text string) string {
			return strings.Map(func(r rune) rune {
				if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) {
					return -1
				}
				return r
			}, text)
		}
		all := plain(got)
		for i := range s.report().Phases {
			title := pictureTitle(&s.report().Phases[i])
			for word := range strings.FieldsSeq(title) { // lines may part them
				if len(title) < 60 && !strings.Contains(all, plain(word)) {
					t.Errorf("%s: %q of %q is lost", s, word, title)
				}
			}
			if i == 200 {
				break // of 10,000 the rest is the same
			}
		}
		if !strings.Contains(all, plain("Stop on pain, dizziness or numbness.")) {
			t.Errorf("%s: the caution is lost", s)
		}
		for _, line := range bytes.Split(bytes.TrimSpace(peer.Run(t, "pdffonts", s.path)), []byte("\n"))[2:] {
			// Name, type, encoding, embedded, subset, unicode, object.
			f := strings.Fields(string(line))
			if n := len(f); n < 6 || f[n-5] != "yes" || f[n-3] != "yes" {
				t.Errorf("%s: a font is not embedded or cannot be read: %s", s, line)
			}
		}
	}
}
