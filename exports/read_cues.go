package exports

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"tautline/timeline"
)

// The readers here are strict where real players are lenient: they take only
// the profile that we promise, and share no code with the writers. ReadBack and
// the tests read by them; a teacher's own captions are never read this way.

var (
	vttTiming = regexp.MustCompile(`^(\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3}) --> (\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3})(?: line:0)?$`)
	srtTiming = regexp.MustCompile(`^(\d\d):([0-5]\d):([0-5]\d),(\d{3}) --> (\d\d):([0-5]\d):([0-5]\d),(\d{3})$`)
	reference = regexp.MustCompile(`&(amp|lt|gt);`)
)

// readVTT reads WebVTT of our profile and the text of its notes; of a data track
// the lines as they stand.
func readVTT(file string, data bool) (cues []Cue, notes []string, err error) {
	switch {
	case !utf8.ValidString(file):
		return nil, nil, fmt.Errorf("not UTF-8")
	case strings.HasPrefix(file, "\ufeff"):
		return nil, nil, fmt.Errorf("byte order mark")
	case strings.ContainsAny(file, "\r\x00"):
		return nil, nil, fmt.Errorf("carriage return or NUL")
	case !strings.HasSuffix(file, "\n") || strings.Contains(file, "\n\n\n") || strings.HasSuffix(file, "\n\n"):
		return nil, nil, fmt.Errorf("blocks are not parted by single empty lines")
	}
	blocks := strings.Split(strings.TrimSuffix(file, "\n"), "\n\n")
	if blocks[0] != "WEBVTT" {
		return nil, nil, fmt.Errorf("first block %q", blocks[0])
	}
	ids := map[string]bool{}
	for i, block := range blocks[1:] {
		lines := strings.Split(block, "\n")
		if lines[0] == "NOTE" {
			if strings.Contains(block, "-->") {
				return nil, nil, fmt.Errorf("arrow in a note: %q", block)
			}
			notes = append(notes, lines[1:]...)
			continue
		}
		if len(lines) < 3 {
			return nil, nil, fmt.Errorf("block %d has %d lines: %q", i, len(lines), block)
		}
		if ids[lines[0]] || strings.Contains(lines[0], "-->") || lines[0] == "" {
			return nil, nil, fmt.Errorf("id %q", lines[0])
		}
		ids[lines[0]] = true
		from, to, err := times(vttTiming, lines[1])
		if err != nil {
			return nil, nil, err
		}
		cue := Cue{ID: lines[0], From: from, To: to}
		for _, line := range lines[2:] {
			if data {
				cue.Lines = append(cue.Lines, line)
				continue
			}
			bare := reference.ReplaceAllString(line, "")
			if strings.ContainsAny(bare, "<>&") || line != strings.TrimSpace(line) || line == "" {
				return nil, nil, fmt.Errorf("payload %q", line)
			}
			line = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(line)
			cue.Lines = append(cue.Lines, line)
		}
		cues = append(cues, cue)
	}
	return cues, notes, inOrder(cues)
}

// readSRT reads SRT of our profile.
func readSRT(file string) ([]Cue, error) {
	if file == "" {
		return nil, nil
	}
	if !utf8.ValidString(file) || strings.HasPrefix(file, "\ufeff") || !strings.HasSuffix(file, "\r\n") || strings.HasSuffix(file, "\r\n\r\n") {
		return nil, fmt.Errorf("not UTF-8, a byte order mark, or an empty line at the end")
	}
	if strings.Count(file, "\r") != strings.Count(file, "\n") || strings.Count(file, "\r\n") != strings.Count(file, "\n") {
		return nil, fmt.Errorf("line ends other than CRLF")
	}
	var cues []Cue
	for i, block := range strings.Split(strings.TrimSuffix(file, "\r\n"), "\r\n\r\n") {
		lines := strings.Split(block, "\r\n")
		if len(lines) < 3 || lines[0] != strconv.Itoa(i+1) {
			return nil, fmt.Errorf("block %d: %q", i+1, block)
		}
		from, to, err := times(srtTiming, lines[1])
		if err != nil {
			return nil, err
		}
		for _, line := range lines[2:] {
			if strings.ContainsAny(line, `<>{}\`) || line != strings.TrimSpace(line) || strings.Trim(line, "0123456789") == "" {
				return nil, fmt.Errorf("text %q", line)
			}
		}
		cues = append(cues, Cue{From: from, To: to, Lines: lines[2:]})
	}
	return cues, inOrder(cues)
}

// times reads a timing line of eight numbers.
func times(form *regexp.Regexp, line string) (from, to timeline.Instant, err error) {
	m := form.FindStringSubmatch(line)
	if m == nil {
		return 0, 0, fmt.Errorf("timing %q", line)
	}
	var n [8]timeline.Instant
	for i := range n {
		v, _ := strconv.Atoi(m[i+1])
		n[i] = timeline.Instant(v)
	}
	from = ((n[0]*60+n[1])*60+n[2])*1000 + n[3]
	to = ((n[4]*60+n[5])*60+n[6])*1000 + n[7]
	return from, to, nil
}

// inOrder holds cues to some length each, in order, without overlap.
func inOrder(cues []Cue) error {
	for i, c := range cues {
		if c.To <= c.From {
			return fmt.Errorf("cue %d has no length", i+1)
		}
		if i > 0 && c.From < cues[i-1].To {
			return fmt.Errorf("cue %d overlaps the one before", i+1)
		}
	}
	return nil
}
