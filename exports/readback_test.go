package exports

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// TestEveryFileReadsBack: each format of each study, as it was written.
func TestEveryFileReadsBack(t *testing.T) {
	for name, r := range sampleStudies() {
		if name == "crowd" {
			continue // other programs read it
		}
		for _, f := range Formats() {
			if f.Extension == ".png" && name != "plain" {
				continue // a second or more each, and only their size is told
			}
			o := Options{Tool: "1.2.3"}
			var b bytes.Buffer
			if err := f.Write(&b, r, o); errors.As(err, new(*ChapterListError)) {
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			if found, err := ReadBack(f, b.Bytes(), r, o); err != nil || found == "" {
				t.Errorf("%s, %s: %q, %v", name, f.Name, found, err)
			}
		}
	}
}

// TestDamageIsFoundWhenReadBack: what a slip of an editor or a torn copy does.
func TestDamageIsFoundWhenReadBack(t *testing.T) {
	r := sampleStudies()["plain"]
	for _, c := range []struct{ format, old, new string }{
		{"captions", "The calf is", "The shin is"}, {"captions", "00:00:12.500 -->", "00:00:12.501 -->"}, {"captions", "\nm2-1\n", "\n"}, {"captions", "\n\nm1-2", "\nm1-2"},
		{"srt", "The calf is", "The <b>calf</b> is"}, {"srt", "\r\n", "\n"}, {"ttml", "The calf is", "The &calf is"}, {"ttml", "</tt>", ""},
		{"chapters", "Quiet stand", "Quiet"}, {"metadata", `"number":1,`, `"number":1`}, {"metadata", "00:00:12.500 -->", "00:00:12.600 -->"},
		{"chapters-matroska", "</Chapters>", ""}, {"chapters-podcast", `"version"`, `version"`}, {"json", "}", ""}, {"table", "\r\n", ",x\r\n"}, {"annotations", "]", ""},
	} {
		f, err := FormatNamed(c.format)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := f.Write(&b, r, Options{}); err != nil {
			t.Fatal(err)
		}
		bad := strings.Replace(b.String(), c.old, c.new, 1)
		if bad == b.String() {
			t.Fatalf("%s has no %q", c.format, c.old)
		}
		if found, err := ReadBack(f, []byte(bad), r, Options{}); err == nil {
			t.Errorf("%s with %q for %q reads back as %q", c.format, c.new, c.old, found)
		}
	}
}
