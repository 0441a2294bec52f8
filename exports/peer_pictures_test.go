package exports

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"strings"
	"testing"

	"tautline/testdata/peer"
)

// inRSVG draws every picture with a program that is not ours: it must find
// nothing wrong and come to the size that the file says.
func inRSVG(t *testing.T, files []sample) {
	for _, s := range files {
		out := s.path + ".png"
		peer.Run(t, "rsvg-convert", "--zoom", "0.2", "-o", out, s.path)
		w, h := pixels(t, out)
		text, err := os.ReadFile(s.path)
		if err != nil {
			t.Fatal(err)
		}
		var root struct {
			ViewBox string `xml:"viewBox,attr"`
			Title   string `xml:"title"`
		}
		if err := xml.Unmarshal(text, &root); err != nil {
			t.Fatal(err)
		}
		if root.Title == "" || root.ViewBox == "" || w < 10 || h < 10 {
			t.Errorf("%s: %q, %q, %d by %d", s, root.Title, root.ViewBox, w, h)
		}
	}
}

// inPictureReader has ffprobe read the size of every picture.
func inPictureReader(t *testing.T, files []sample) {
	for _, s := range files {
		if w, h := pixels(t, s.path); w < 100 || h < 100 {
			t.Errorf("%s: %d by %d", s, w, h)
		}
	}
}

// pixels is the size of an image as ffprobe reads it.
func pixels(t *testing.T, path string) (w, h int) {
	var out struct {
		Streams []struct {
			Width  int `json:"width"`
			Height int `json:"height"`
		} `json:"streams"`
	}
	if err := json.Unmarshal(peer.Run(t, "ffprobe", "-v", "error", "-show_streams", "-of", "json", path), &out); err != nil || len(out.Streams) != 1 {
		t.Fatalf("%s: %v, %d streams", path, err, len(out.Streams))
	}
	return out.Streams[0].Width, out.Streams[0].Height
}

// asScore reads the words of a score back: what is not cut stands in the order
// of the study.
func asScore(t *testing.T, files []sample) {
	for _, s := range files {
		f, err := os.Open(s.path)
		if err != nil {
			t.Fatal(err)
		}
		said := svgWords(t, f)
		f.Close()
		if s.study == "plain" {
			last := -1
			for i, m := range s.report().Study.Marks {
				at := strings.Index(said, m.Title)
				if at < last {
					t.Errorf("%s: phase %d, %q, stands at %d after %d", s, i+1, m.Title, at, last)
				}
				last = at
			}
		}
		if !strings.Contains(said, "Time runs from left to right") {
			t.Errorf("%s: the score does not say how it is read: %q", s, said)
		}
	}
}

// svgWords joins the character data of all text elements.
func svgWords(t *testing.T, r io.Reader) string {
	d := xml.NewDecoder(r)
	var said []string
	in := false
	for {
		token, err := d.Token()
		if err == io.EOF {
			return strings.Join(said, " ")
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			in = e.Name.Local == "text"
		case xml.EndElement:
			in = false
		case xml.CharData:
			if in {
				said = append(said, string(e))
			}
		}
	}
}
