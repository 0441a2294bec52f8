package exports

import (
	"bufio"
	"io"
	"strconv"

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
		b.WriteString("\n" + c.ID + "\n")
		b.Write(append(appendTiming(b.AvailableBuffer(), c, '.'), '\n'))
		for _, line := range c.Lines {
			vttEscapes.WriteString(b, line)
			b.WriteByte('\n')
		}
	}
	return b.Flush()
}

// appendClock writes a time as both caption formats do, 00:00:00 and
// milliseconds after the given mark; more hours take more digits.
func appendClock(b []byte, t timeline.Instant, mark byte) []byte {
	if t < 10*3600_000 {
		b = append(b, '0')
	}
	b = strconv.AppendInt(b, int64(t/3600_000), 10)
	m, s, ms := t/60_000%60, t/1000%60, t%1000
	return append(b, ':', digit(m/10), digit(m%10), ':', digit(s/10), digit(s%10), mark, digit(ms/100), digit(ms/10%10), digit(ms%10))
}

func digit(n timeline.Instant) byte { return byte('0' + n) }

// appendTiming writes the line of a cue's times.
func appendTiming(b []byte, c Cue, mark byte) []byte {
	return appendClock(append(appendClock(b, c.From, mark), " --> "...), c.To, mark)
}

// headNotes is what stands at the head of a track: title, care, maker.
func headNotes(r *timeline.Report, o Options) []string {
	var notes []string
	if title := cleanLine(r.Study.Title); title != "" {
		notes = append(notes, cut(title, longTitle))
	}
	return append(append(notes, careText...), o.maker(r)+".")
}

// writeCaptionsVTT writes the captions as WebVTT.
func writeCaptionsVTT(w io.Writer, r *timeline.Report, o Options) error {
	cues, silent, err := Captions(r, o)
	if err != nil {
		return err
	}
	notes := append(headNotes(r, o), sentences(silent.words())...)
	for _, c := range silent.Cautions {
		notes = append(notes, cautionWords(c))
	}
	o.tell(silent.words())
	return writeVTT(w, notes, cues)
}
