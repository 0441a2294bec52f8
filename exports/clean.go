package exports

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// cleanLines makes a text safe for every format and cuts it into lines that are
// neither empty nor padded: valid UTF-8, one kind of line break, one kind of
// space, no control characters, no byte order mark, and no overriding of the
// reading direction, which would turn over whatever follows it. Joiners,
// direction marks and isolates stay: scripts need them.
func cleanLines(text string) []string {
	var lines []string
	for line := range strings.SplitSeq(strings.Map(cleanRune, breaks.Replace(strings.ToValidUTF8(text, "\uFFFD"))), "\n") {
		words := strings.FieldsFunc(line, func(r rune) bool { return r == ' ' })
		if len(words) > 0 {
			lines = append(lines, thin(strings.Join(words, " ")))
		}
	}
	return lines
}

// mostPiled is how many code points one character may pile up. The longest emoji
// in use has eleven; piles of hundreds hide the text around them, and players
// cut the line that holds them.
const mostPiled = 16

// thin takes from each character of a line what is piled past mostPiled.
func thin(line string) string {
	if len(line) <= mostPiled {
		return line
	}
	var b strings.Builder
	from := 0
	for end := range clusters(line) {
		kept, n := end, 0
		for i := range line[from:end] {
			if n == mostPiled {
				kept = from + i
				break
			}
			n++
		}
		b.WriteString(line[from:kept])
		from = end
	}
	return b.String()
}

// cleanLine is cleanLines in one line.
func cleanLine(text string) string {
	if tidy(text) {
		return text
	}
	return strings.Join(cleanLines(text), " ")
}

// tidy reports whether a text is plain ASCII that cleaning would not change:
// nearly every text is, and looking is cheaper than rewriting.
func tidy(text string) bool {
	for i := range len(text) {
		c := text[i]
		if c < ' ' || c >= 0x7F || c == ' ' && (i == 0 || i+1 == len(text) || text[i+1] == ' ') {
			return false
		}
	}
	return true
}

// breaks makes every line break of Unicode a line feed.
var breaks = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\v", "\n", "\f", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n")

// cleanRune maps one character of a text to what is kept of it; -1 drops it.
func cleanRune(r rune) rune {
	switch {
	case r == '\n' || r == '\u00A0' || r == '\u202F':
		return r
	case r == '\t' || unicode.Is(unicode.Zs, r):
		return ' '
	case unicode.Is(unicode.Cc, r), r == '\uFEFF', r == '\u202D', r == '\u202E', noncharacter(r):
		return -1
	}
	return r
}

// noncharacter reports the code points that never stand for a character.
func noncharacter(r rune) bool {
	return r&0xFFFE == 0xFFFE || r >= 0xFDD0 && r <= 0xFDEF
}

// vttEscapes makes one clean line safe in the payload of a WebVTT cue. With
// every > escaped the timing arrow cannot occur. Only these three references are
// used: players in the field leave numeric ones undecoded.
var vttEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// vttNote makes one clean line safe in a NOTE, where nothing is escaped and
// the timing arrow is forbidden.
func vttNote(line string) string { return strings.ReplaceAll(line, "-->", "→") }

// srtText makes one clean line safe for SRT, which has no escapes: what players
// take for markup is replaced by its nearest likeness.
func srtText(line string) string { return srtLikeness.Replace(line) }

var srtLikeness = strings.NewReplacer("-->", "→", "<", "‹", ">", "›", "{", "(", "}", ")", `\`, "/")

// cut shortens a clean line to at most limit characters as a reader counts
// them, at the end of a word where there is one, with an ellipsis in place of
// what is gone.
func cut(line string, limit int) string {
	end := clusterEnd(line, limit)
	if end == len(line) {
		return line
	}
	end = clusterEnd(line, limit-1)
	if line[end] != ' ' {
		if space := strings.LastIndexByte(line[:end], ' '); space > end/2 {
			end = space
		}
	}
	return strings.TrimRight(line[:end], " ,;:–—-") + "…"
}

// upperFirst starts a sentence.
func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
