package exports

import (
	"bufio"
	"errors"
	"io"
	"strconv"
	"strings"

	"tautline/timeline"
)

// writeCaptionsSRT writes the captions as SRT: CRLF, counters from 1, no byte
// order mark, an empty line between cues. The format has no comments: the care
// line stands among the captions, the maker nowhere, and phases without a
// caption are told to Warn alone.
//
// It is ours because the subtitle package escapes text as if it were HTML,
// which SRT is not, and writes a byte order mark.
func writeCaptionsSRT(w io.Writer, r *timeline.Report, o Options) error {
	cues, silent, err := Captions(r, o)
	if err != nil {
		return err
	}
	told := append(silent.words(), foreign(r)...)
	if o.Share {
		told = append(told, "SRT has no place for positions: beside captions of your own, publish the WebVTT or the TTML")
	}
	o.tell(told)
	if n := len(cues); n > 0 && cues[n-1].To >= srtEnd {
		return errors.New("SRT cannot hold times of 100 hours and more; WebVTT can")
	}
	b := bufio.NewWriter(w)
	for i, c := range cues {
		if i > 0 {
			b.WriteString("\r\n")
		}
		line := append(strconv.AppendInt(b.AvailableBuffer(), int64(i+1), 10), "\r\n"...)
		b.Write(append(appendTiming(line, c, ','), "\r\n"...))
		for _, line := range srtLines(c.Lines) {
			b.WriteString(line)
			b.WriteString("\r\n")
		}
	}
	return b.Flush()
}

// srtEnd is the first time that does not fit the two digits for hours.
const srtEnd timeline.Instant = 100 * 3600_000

// srtLines makes the lines of a cue safe. A line that is only a number could be
// taken for the next cue's counter: it takes a full stop.
func srtLines(lines []string) []string {
	safe := make([]string, len(lines))
	for i, line := range lines {
		safe[i] = srtText(line)
		if strings.Trim(line, "0123456789") == "" {
			safe[i] += "."
		}
	}
	return safe
}
