package exports

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"tautline/timeline"
)

// ReadBack reads a written file as a program that knows nothing but its format
// would, and holds what it finds to the report that the file should say: times
// and texts of captions and chapters, one by one; of other formats that they are
// whole. It returns what was found, "9 cues". The readers share no code with the
// writers.
func ReadBack(f Format, content []byte, r *timeline.Report, o Options) (found string, err error) {
	o = o.withDefaults()
	switch f.Name {
	case "captions", "srt", "ttml":
		want, _, err := Captions(r, o)
		if err != nil {
			return "", err
		}
		got, err := readCaptions(f.Name, content)
		if f.Name == "srt" {
			for i := range want {
				want[i].Lines = srtLines(want[i].Lines)
			}
		}
		return sameCues(got, want, err)
	case "chapters", "metadata":
		got, _, err := readVTT(string(content), f.Name == "metadata")
		chapters, _ := Chapters(r, o)
		want := make([]Cue, len(chapters))
		for i, c := range chapters {
			want[i] = Cue{From: c.From, To: c.To, Lines: []string{c.Title}}
			if f.Name == "metadata" && i < len(got) {
				if !json.Valid([]byte(got[i].Lines[0])) {
					return "", fmt.Errorf("cue %d is not JSON", i+1)
				}
				want[i].Lines = got[i].Lines
			}
		}
		return sameCues(got, want, err)
	}
	switch f.Extension {
	case ".json", ".jsonld":
		if !json.Valid(content) {
			return "", fmt.Errorf("not JSON")
		}
		return "JSON", nil
	case ".csv":
		rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll()
		return fmt.Sprintf("%d rows", max(0, len(rows)-1)), err
	case ".xml", ".svg":
		n, err := elements(content)
		return fmt.Sprintf("%d elements", n), err
	}
	return fmt.Sprintf("%d bytes", len(content)), nil
}

// readCaptions reads captions of one of three formats.
func readCaptions(format string, content []byte) ([]Cue, error) {
	switch format {
	case "srt":
		return readSRT(string(content))
	case "ttml":
		return readTTML(content)
	}
	cues, _, err := readVTT(string(content), false)
	return cues, err
}

// sameCues holds cues that were read to those that were meant.
func sameCues(got, want []Cue, err error) (string, error) {
	switch {
	case err != nil:
		return "", err
	case len(got) != len(want):
		return "", fmt.Errorf("%d cues are read, and %d were meant", len(got), len(want))
	}
	for i, g := range got {
		if g.From != want[i].From || g.To != want[i].To || !slices.Equal(g.Lines, want[i].Lines) {
			return "", fmt.Errorf("cue %d is read as %q from %v to %v", i+1, strings.Join(g.Lines, " / "), g.From, g.To)
		}
	}
	return count(len(got), "cue", "cues"), nil
}

// readTTML reads the paragraphs of our profile.
func readTTML(content []byte) ([]Cue, error) {
	var doc struct {
		Paragraphs []struct {
			ID   string `xml:"id,attr"`
			From string `xml:"begin,attr"`
			To   string `xml:"end,attr"`
			Span struct {
				Inner string `xml:",innerxml"`
			} `xml:"span"`
		} `xml:"body>div>p"`
	}
	if err := xml.Unmarshal(content, &doc); err != nil {
		return nil, err
	}
	cues := make([]Cue, len(doc.Paragraphs))
	for i, p := range doc.Paragraphs {
		from, to, err := times(vttTiming, p.From+" --> "+p.To)
		if err != nil {
			return nil, err
		}
		cues[i] = Cue{ID: p.ID, From: from, To: to}
		for line := range strings.SplitSeq(p.Span.Inner, "<br/>") {
			var text string
			if err := xml.Unmarshal([]byte("<x>"+line+"</x>"), &text); err != nil {
				return nil, err
			}
			cues[i].Lines = append(cues[i].Lines, text)
		}
	}
	return cues, inOrder(cues)
}

// elements counts the elements of an XML file, to its end.
func elements(content []byte) (n int, err error) {
	d := xml.NewDecoder(bytes.NewReader(content))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return n, nil
		}
		if err != nil {
			return n, err
		}
		if _, ok := token.(xml.StartElement); ok {
			n++
		}
	}
}
