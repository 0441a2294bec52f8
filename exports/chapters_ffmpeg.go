package exports

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"tautline/timeline"
)

// writeChaptersFFmpeg writes the chapters as FFmpeg's metadata file, to be put
// into a recording without coding it anew. The care line and the maker stand in
// the comment, which goes into the recording with the chapters.
func writeChaptersFFmpeg(w io.Writer, r *timeline.Report, o Options) error {
	chapters, said := Chapters(r, o)
	chapters, more := fromZero(chapters)
	o.tell(append(said, more...))
	b := bufio.NewWriter(w)
	b.WriteString(";FFMETADATA1\n")
	if title := cleanLine(r.Study.Title); title != "" {
		b.WriteString("title=" + ffmpegText(cut(title, longTitle)) + "\n")
	}
	b.WriteString("comment=" + ffmpegText(strings.Join(careNotes(r, o), " ")) + "\n")
	for _, c := range chapters {
		fmt.Fprintf(b, "\n[CHAPTER]\nTIMEBASE=1/1000\nSTART=%d\nEND=%d\ntitle=%s\n", c.From, c.To, ffmpegText(c.Title))
	}
	return b.Flush()
}

// longTitle is where a study's title is cut at the head of a file, in
// characters as a reader counts them.
const longTitle = 200

// fromZero lets the first chapter begin with the recording: an MP4 file has no
// place for a stretch before it, and FFmpeg would move the chapter there without
// a word. What was changed is said.
func fromZero(chapters []Chapter) ([]Chapter, []string) {
	if len(chapters) == 0 || chapters[0].From == 0 {
		return chapters, nil
	}
	first := chapters[0]
	if first.From < 1000 {
		chapters = slices.Clone(chapters)
		chapters[0].From = 0
		return chapters, []string{fmt.Sprintf("%q starts at 0:00 instead of %s, because chapters in a recording start there", first.Title, first.From.Short())}
	}
	start := Chapter{To: first.From, Title: listStart}
	return append([]Chapter{start}, chapters...), []string{fmt.Sprintf("added %q at 0:00, because chapters in a recording start there and the first mark is at %s", listStart, first.From.Short())}
}

// ffmpegText escapes what the format takes for its own.
func ffmpegText(line string) string { return ffmpegEscapes.Replace(ffmpegLine(line)) }

// ffmpegLine replaces a backslash at the end by its nearest likeness: escaped or
// not, FFmpeg joins such a line with the next one.
func ffmpegLine(line string) string {
	if bare, ok := strings.CutSuffix(line, `\`); ok {
		return bare + "/"
	}
	return line
}

var ffmpegEscapes = strings.NewReplacer(`\`, `\\`, "=", `\=`, ";", `\;`, "#", `\#`)
