package exports

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tautline/testdata/peer"
	"tautline/timeline"
)

func TestFilesNameTheLanguageThatTheirTextHas(t *testing.T) {
	for _, c := range []struct{ study, titles, sentences string }{
		{"en", "en", "en"}, {"en-GB", "en-GB", "en-GB"}, {"sv", "sv", "en"}, {"sr-Latn-RS", "sr-Latn-RS", "en"},
		{"", "und", "en"}, {"not a tag", "und", "en"},
	} {
		r := &timeline.Report{Study: timeline.Study{Language: c.study}}
		if got := titleLanguage(r, Options{}); got != c.titles {
			t.Errorf("titles of a study in %q: %q, want %q", c.study, got, c.titles)
		}
		if got := sentenceLanguage(r); got != c.sentences {
			t.Errorf("sentences of a study in %q: %q, want %q", c.study, got, c.sentences)
		}
	}
}

// TestMatroskaToolsKnowEveryLanguage: they refuse a file for one tag that they
// do not know.
func TestMatroskaToolsKnowEveryLanguage(t *testing.T) {
	var b strings.Builder
	b.WriteString("<?xml version=\"1.0\"?>\n<Chapters><EditionEntry>")
	for i, code := range strings.Fields(twoLetters) {
		letters, tag := matroskaLanguage(code + "-Latn-XX")
		if tag != code {
			t.Fatalf("%q gives %q", code, tag)
		}
		fmt.Fprintf(&b, "<ChapterAtom><ChapterTimeStart>00:00:00</ChapterTimeStart><ChapterUID>%d</ChapterUID><ChapterDisplay><ChapterString>x</ChapterString>"+
			"<ChapterLanguage>%s</ChapterLanguage><ChapLanguageIETF>%s</ChapLanguageIETF></ChapterDisplay></ChapterAtom>", i+1, letters, tag)
	}
	b.WriteString("</EditionEntry></Chapters>")
	if n := len(strings.Fields(twoLetters)); n != 183 {
		t.Errorf("%d languages", n)
	}
	for _, other := range []string{"xx", "und", "not a tag", "i-klingon"} {
		if letters, tag := matroskaLanguage(other); letters != "und" || tag != "" {
			t.Errorf("%q gives %q, %q", other, letters, tag)
		}
	}
	file := filepath.Join(t.TempDir(), "languages.xml")
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	peer.Run(t, "mkvmerge", "-q", "-o", file+".mkv", "--chapters", file)
}
