package exports

import (
	"fmt"
	"io"
	"strings"

	"tautline/timeline"
)

// Format is one way out of a study.
type Format struct {
	Name      string // what a person types: "captions"
	File      string // the name of the file beside the study's: "captions.vtt"
	Extension string // with its dot
	Media     string // media type
	Help      string // one line, without a full stop
	// Write writes the whole file. Only writing can fail, except for formats
	// whose own rules a study may not meet: their errors say which.
	Write func(io.Writer, *timeline.Report, Options) error
}

// Binary reports whether the file is not text.
func (f Format) Binary() bool { return f.Media == "image/png" || f.Media == "application/pdf" }

// formats is the one table of formats; everything that lists them reads it.
var formats = []Format{
	{"captions", "captions.vtt", ".vtt", "text/vtt", "captions as WebVTT, for web players", writeCaptionsVTT},
	{"srt", "captions.srt", ".srt", "application/x-subrip", "captions as SRT, for editors and other players", writeCaptionsSRT},
	{"ttml", "captions.ttml", ".ttml", "application/ttml+xml", "captions as TTML, for broadcast and streaming", writeCaptionsTTML},
	{"metadata", "findings.vtt", ".vtt", "text/vtt", "findings as a WebVTT metadata track, for players and scripts", writeMetadataVTT},
	{"chapters", "chapters.vtt", ".vtt", "text/vtt", "chapters as WebVTT, for web players", writeChaptersVTT},
	{"chapter-list", "chapters.txt", ".txt", "text/plain", "chapters as lines to paste into a video's description", writeChapterList},
	{"chapters-ffmpeg", "chapters.ffmeta", ".ffmeta", "text/plain", "chapters to put into a recording with FFmpeg", writeChaptersFFmpeg},
	{"chapters-matroska", "chapters.xml", ".xml", "text/xml", "chapters to put into a Matroska recording", writeChaptersMatroska},
	{"chapters-podcast", "chapters.json", ".json", "application/json+chapters", "chapters as podcast players read them", writeChaptersPodcast},
	{"score", "score.svg", ".svg", "image/svg+xml", "the whole study in one picture: what works and what is drawn long, along time", writeScore},
	{"sheet", "sheet.svg", ".svg", "image/svg+xml", "the figures of all phases on one sheet, to scale and print", writeSheet},
	{"sheet-png", "sheet.png", ".png", "image/png", "the same sheet as a ready picture", writeSheetPNG},
	{"handout", "handout.pdf", ".pdf", "application/pdf", "a page for the wall of a class, A4, one phase to a panel", writeHandoutA4},
	{"handout-letter", "handout-letter.pdf", ".pdf", "application/pdf", "the same on paper of letter size", writeHandoutLetter},
	{"notes", "notes.md", ".md", "text/markdown", "class notes by phase, as Markdown", WriteNotes},
	{"notes-html", "notes.html", ".html", "text/html", "class notes by phase with pictures, one page to open or print", writeNotesHTML},
	{"review", "review.html", ".html", "text/html", "the study to scrub through on one page, offline, with nothing installed", writeReview},
	{"text", "report.txt", ".txt", "text/plain", "the analysis as plain text", WriteText},
	{"json", "report.json", ".json", "application/json", "everything that was computed, as JSON", WriteJSON},
	{"table", "findings.csv", ".csv", "text/csv", "findings as a table, one row each", writeFindingsTable},
	{"muscle-table", "muscles.csv", ".csv", "text/csv", "every muscle in every phase as a table", writeMuscleTable},
	{"annotations", "annotations.jsonld", ".jsonld", "application/ld+json", "phases as W3C Web Annotations of the recording", writeAnnotations},
	{"clips", "clips.jsonld", ".jsonld", "application/ld+json", "phases as schema.org clips, for a page that shows the recording", writeClips},
}

// Formats lists every format in the order in which people want them.
func Formats() []Format { return append([]Format(nil), formats...) }

// FormatError says that there is no format of a name.
type FormatError struct{ Name string }

// Error names the formats that there are.
func (e *FormatError) Error() string {
	names := make([]string, len(formats))
	for i, f := range formats {
		names[i] = f.Name
	}
	return fmt.Sprintf("there is no format %q: the formats are %s", e.Name, strings.Join(names, ", "))
}

// FormatNamed finds a format by its name or by the name of its file. The error
// is a *FormatError.
func FormatNamed(name string) (Format, error) {
	for _, f := range formats {
		if f.Name == name || f.File == name {
			return f, nil
		}
	}
	return Format{}, &FormatError{name}
}
