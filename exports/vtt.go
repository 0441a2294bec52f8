package exports

import (
	"bufio"
	"fmt"
	"io"

	"tautline/timeline"
)

// writeVTT writes WebVTT in the profile that every reader we know takes: no
// byte order mark, LF, an id on every cue, and neither STYLE nor REGION. The
// notes, clean lines each, go into one NOTE at the head.
//
// It is ours because the subtitle package cannot write ids of our choosing,
// leaves the timing arrow in text and refuses a file without cues.
func writeVTT(w io.Writer, notes []string, cues []Cue) error {
	b := bufio.NewWriter(w)
	b.WriteString("WEBVTT\n")
	if len(notes) > 0 {
		b.WriteString("\nNOTE\n")
		for _, line := range notes {
			b.WriteString(vttNote(line))
			b.WriteByte('\n')
		}
	}
	for _, c := range cues {
		fmt.Fprintf(b, "\n%s\n%s --> %s\n", c.ID, clock(c.From, '.'), clock(c.To, '.'))
		for _, line := range c.Lines {
			b.WriteString(vttText(line))
			b.WriteByte('\n')
		}
	}
	return b.Flush()
}

// clock writes a time as both caption formats do, 00:00:00 and milliseconds
// after the given mark; more hours take more digits.
func clock(t timeline.Instant, mark byte) string {
	return fmt.Sprintf("%02d:%02d:%02d%c%03d", t/3600_000, t/60_000%60, t/1000%60, mark, t%1000)
}

// headNotes is what stands at the head of a track: title, care, maker.
func headNotes(r *timeline.Report, o Options) []string {
	var notes []string
	if title := cleanLine(r.Study.Title); title != "" {
		notes = append(notes, cut(title, 200))
	}
	return append(append(notes, careText...), o.maker(r)+".")
}

// writeCaptionsVTT writes the captions as WebVTT.
func writeCaptionsVTT(w io.Writer, r *timeline.Report, o Options) error {
	cues, silent, err := Captions(r, o)
	if err != nil {
		return err
	}
	notes := headNotes(r, o)
	if said := silence(silent); said != "" {
		notes = append(notes, sentence(said))
		o.tell([]string{said})
	}
	return writeVTT(w, notes, cues)
}
