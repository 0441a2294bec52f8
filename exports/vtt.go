package exports

import (
	"bufio"
	"io"
	"strconv"

	"tautline/timeline"
)

// track is one WebVTT file in the profile that every reader we know takes: no
// byte order mark, LF, an id on every cue, and neither STYLE nor REGION.
//
// It is ours because the subtitle package cannot write ids of our choosing,
// leaves the timing arrow in text and refuses a file without cues.
type track struct {
	notes    []string // clean lines, in one NOTE at the head
	cues     []Cue
	settings string // of every cue: "line:0"; may be empty
	data     bool   // the lines of cues are data, and written as they are
}

func (t track) write(w io.Writer) error {
	b := bufio.NewWriter(w)
	b.WriteString("WEBVTT\n")
	if len(t.notes) > 0 {
		b.WriteString("\nNOTE\n")
		for _, line := range t.notes {
			b.WriteString(vttNote(line))
			b.WriteByte('\n')
		}
	}
	for _, c := range t.cues {
		b.WriteString("\n" + c.ID + "\n")
		b.Write(appendTiming(b.AvailableBuffer(), c, '.'))
		if t.settings != "" {
			b.WriteString(" " + t.settings)
		}
		b.WriteByte('\n')
		for _, line := range c.Lines {
			if t.data {
				b.WriteString(line)
			} else {
				vttEscapes.WriteString(b, line)
			}
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
	notes := careNotes(r, o)
	if title := cleanLine(r.Study.Title); title != "" {
		notes = append([]string{cut(title, longTitle)}, notes...)
	}
	return notes
}

// careNotes is the care line and the maker.
func careNotes(r *timeline.Report, o Options) []string {
	return append(CareText(), o.maker(r)+".")
}

// silenceNotes is what captions had no room for, with the cautions in full.
func silenceNotes(r *timeline.Report, silent Silence) []string {
	notes := append(sentences(silent.words()), sentences(foreign(r))...)
	for _, c := range silent.Cautions {
		notes = append(notes, cautionWords(c))
	}
	return notes
}

// writeCaptionsVTT writes the captions as WebVTT. Where the picture is shared,
// every cue names the first line of the picture as its own: captions that name
// none, as a teacher's do, stand at the bottom.
func writeCaptionsVTT(w io.Writer, r *timeline.Report, o Options) error {
	cues, silent, err := Captions(r, o)
	if err != nil {
		return err
	}
	o.tell(append(silent.words(), foreign(r)...))
	t := track{notes: append(headNotes(r, o), silenceNotes(r, silent)...), cues: cues}
	if o.Share {
		t.settings = "line:0"
	}
	return t.write(w)
}
