package exports

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"tautline/testdata/peer"
)

// asXML: well-formed, without asking the network for anything.
func asXML(t *testing.T, files []sample) {
	args := []string{"--nonet", "--noout"}
	for _, f := range files {
		args = append(args, f.path)
	}
	peer.Run(t, "xmllint", args...)
}

// inIMSC lets imscJS read the files and lay out their first screens.
func inIMSC(t *testing.T, files []sample) {
	peer.Package(t, "imsc")
	args := make([]string, len(files))
	for i, f := range files {
		args[i] = f.path
	}
	var results []struct {
		Cues            []peerCue
		Language        string
		Align, Problems []string
	}
	peer.Read(t, &results, "ttml.mjs", args...)
	if len(results) != len(files) {
		t.Fatalf("%d results for %d files", len(results), len(files))
	}
	for i, got := range results {
		f := files[i]
		for _, p := range got.Problems {
			t.Errorf("%s: %s", f, p)
		}
		compareCues(t, f.String(), got.Cues, f.cues(t), false)
		if want := ttmlAlign(f.o); got.Language != "en" || strings.Join(got.Align, " ") != want {
			t.Errorf("%s: in %q, aligned %q, want %q", f, got.Language, got.Align, want)
		}
	}
}

// asTTML holds what neither of those does: ids as they were given and once each,
// and every reference to a style or a region defined.
func asTTML(t *testing.T, files []sample) {
	for _, f := range files {
		text, err := os.ReadFile(f.path)
		if err != nil {
			t.Fatal(err)
		}
		ids, refers := map[string]int{}, []string{}
		d := xml.NewDecoder(strings.NewReader(string(text)))
		for {
			token, _ := d.Token()
			if token == nil {
				break
			}
			if e, ok := token.(xml.StartElement); ok {
				for _, a := range e.Attr {
					switch {
					case a.Name.Local == "id":
						ids[a.Value]++
					case a.Name.Local == "style" || a.Name.Local == "region":
						refers = append(refers, a.Value)
					}
				}
			}
		}
		for _, c := range f.cues(t) {
			if ids[c.ID] != 1 {
				t.Errorf("%s: %d paragraphs %q", f, ids[c.ID], c.ID)
			}
		}
		for _, id := range refers {
			if ids[id] != 1 {
				t.Errorf("%s: %q is not defined once", f, id)
			}
		}
		if len(refers) == 0 {
			t.Errorf("%s: no region is referred to", f)
		}
	}
}

// asTrackData reads the payloads of a metadata track as a script would.
func asTrackData(t *testing.T, files []sample) {
	for _, f := range files {
		for _, c := range f.cues(t) {
			var data TrackRecord
			d := json.NewDecoder(strings.NewReader(c.Lines[0]))
			d.DisallowUnknownFields()
			if err := d.Decode(&data); err != nil {
				t.Fatalf("%s, %s: %v", f, c.ID, err)
			}
			p := phaseOf(f.report(), data.MarkID)
			if data.Format != TrackFormat || data.Number != p.Number || data.Title != p.Mark.Title && utf8.ValidString(p.Mark.Title) || len(data.Statements) == 0 {
				t.Errorf("%s, %s: %.200s", f, c.ID, c.Lines[0])
			}
		}
	}
}
