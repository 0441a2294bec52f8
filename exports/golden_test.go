package exports

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestGolden holds every word of one made-up study in both voices. The files are
// there to be read as prose when they change:
//
//	go test ./exports -run Golden -update
func TestGolden(t *testing.T) {
	for _, f := range Formats() {
		for _, v := range []Voice{Plain, Technical} {
			if f.Binary() {
				continue // read back by other programs
			}
			r := sampleStudies()["plain"]
			switch f.Name {
			case "srt":
				continue // the words of the WebVTT in other clothes
			case "json", "table", "muscle-table", "annotations":
				if r = sampleStudies()["one mark"]; v == Technical {
					continue // long, and the same but for its sentences
				}
			}
			var b bytes.Buffer
			if err := f.Write(&b, r, Options{Tool: "1.2.3", Voice: v, TitleGroups: v == Technical}); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join("testdata", "golden", string(v)+"."+f.File)
			if *update {
				if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(b.Bytes(), want) {
				t.Errorf("%s says something else now; read it, then run with -update:\n%s", path, firstChange(string(want), b.String()))
			}
		}
	}
}

// firstChange shows where two texts part.
func firstChange(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return "was: " + w[i] + "\nnow: " + g[i]
		}
	}
	return "one is longer than the other"
}
