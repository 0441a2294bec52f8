package exports

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"tautline/timeline"
)

// Every file that leaves the house is read here by programs that are not ours,
// and what they read is compared: most of them never fail by themselves.

// readers names for every format the programs that read it back. A format that
// has none fails the suite: whoever adds one finds a program for it.
var readers = map[string]map[string]func(*testing.T, []sample){
	"captions":          {"validator": inValidator, "web player": inWebPlayer, "browser": inBrowser, "media tools": inMediaTools, "timed text": inTimedText},
	"srt":               {"media tools": inMediaTools, "timed text": inTimedText},
	"ttml":              {"xmllint": asXML, "imscJS": inIMSC, "ids": asTTML},
	"metadata":          {"validator": inValidator, "web player": inWebPlayer, "browser": inBrowser, "media tools": inMediaTools, "scripts": asTrackData},
	"chapters":          {"validator": inValidator, "web player": inWebPlayer, "browser": inBrowser, "media tools": inMediaTools},
	"chapter-list":      {"pattern": asListLines},
	"chapters-ffmpeg":   {"ffprobe": chaptersInFFprobe, "ffmpeg": chaptersIntoRecording},
	"chapters-matroska": {"xmllint": inChapterDTD, "mkvmerge": chaptersInMkvmerge},
	"chapters-podcast":  {"ajv": inSchema, "cues": asPodcast},
	"score":             {"xmllint": asXML, "rsvg-convert": inRSVG, "words": asScore},
	"sheet":             {"xmllint": asXML, "rsvg-convert": inRSVG},
	"sheet-png":         {"ffprobe": inPictureReader},
	"handout":           {"qpdf": inQPDF, "pdftotext": inPDFToText},
	"handout-letter":    {"qpdf": inQPDF, "pdftotext": inPDFToText},
	"notes-html":        {"browser": inPage},
	"review":            {"browser": inPage, "keys": underKeys},
	"json":              {"ajv": inSchema, "phases": asReport},
	"table":             {"Python": inPythonTable},
	"muscle-table":      {"Python": inPythonTable},
	"annotations":       {"ajv": inSchema, "fragments": asAnnotations},
	"clips":             {"ajv": inSchema, "clips": asClips},
}

// unread are formats that no program but a person reads: they are compared with
// their golden files.
var unread = map[string]bool{"notes": true, "text": true}

// sample is one file of one study.
type sample struct {
	study, format, path string
	o                   Options
}

func (s sample) String() string { return s.study + ", " + s.format }

// report is the study that the file was written from.
func (s sample) report() *timeline.Report { return sampleStudies()[s.study] }

// faces are the options that every format is written with: as they come, and
// with everything asked for at once.
var faces = map[string]Options{
	"":     {Tool: "1.2.3"},
	" all": {Tool: "1.2.3", Voice: Technical, TitleGroups: true, Title: 100, Share: true, URL: "https://example.org/warm-up?x=1&y=2"},
}

// samples writes one format of every sample study. A study that has too few
// chapters for a list gives no file.
func samples(t *testing.T, f Format) []sample {
	t.Helper()
	var files []sample
	dir := t.TempDir()
	for study, r := range sampleStudies() {
		for face, o := range faces {
			if face != "" && study != "plain" && study != "hostile" || study == "crowd" && f.Name == "json" {
				continue // once is enough; 10,000 phases of JSON have their own test
			}
			var b bytes.Buffer
			if err := f.Write(&b, r, o); errors.As(err, new(*ChapterListError)) {
				continue
			} else if err != nil {
				t.Fatalf("%s, %s: %v", study, f.Name, err)
			}
			s := sample{study, f.Name, filepath.Join(dir, study+face+f.Extension), o}
			if err := os.WriteFile(s.path, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			files = append(files, s)
		}
	}
	return files
}

// TestEveryFormatIsReadByOtherPrograms gives each format of every sample study
// to programs that are not ours.
func TestEveryFormatIsReadByOtherPrograms(t *testing.T) {
	for _, f := range Formats() {
		if len(readers[f.Name]) == 0 && !unread[f.Name] {
			t.Errorf("no program reads %q back: name one among the readers", f.Name)
		}
		files := samples(t, f)
		for name, read := range readers[f.Name] {
			t.Run(f.Name+" "+name, func(t *testing.T) { read(t, files) })
		}
	}
}

// cues is what a file must give, as cues.
func (s sample) cues(t *testing.T) []Cue {
	t.Helper()
	r := s.report()
	switch s.format {
	case "captions", "srt", "ttml":
		cues, _, err := Captions(r, s.o)
		if err != nil {
			t.Fatal(err)
		}
		if s.format == "srt" {
			for i := range cues {
				cues[i].Lines = srtLines(cues[i].Lines)
			}
		}
		return cues
	}
	chapters, _ := Chapters(r, s.o)
	if s.format == "chapters-ffmpeg" {
		chapters, _ = fromZero(chapters)
	}
	cues := make([]Cue, len(chapters))
	for i, c := range chapters {
		cues[i] = Cue{fmt.Sprintf("m%d", c.Mark), c.From, c.To, []string{c.Title}}
		switch s.format {
		case "metadata":
			payload, err := json.Marshal(recordTrack(r.Model, phaseOf(r, c.Mark), s.o.withDefaults().Voice))
			if err != nil {
				t.Fatal(err)
			}
			cues[i].Lines[0] = string(payload)
		case "chapters-ffmpeg":
			cues[i].Lines[0] = ffmpegLine(c.Title)
		}
	}
	return cues
}

// phaseOf finds the phase of a mark.
func phaseOf(r *timeline.Report, mark int64) *timeline.PhaseReport {
	for i := range r.Phases {
		if r.Phases[i].Mark.ID == mark {
			return &r.Phases[i]
		}
	}
	panic("no such mark")
}
