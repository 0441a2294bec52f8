package exports

import (
	"regexp"
	"strings"
)

// markdownText writes a text so that Markdown shows it as it is, in one line:
// nothing in it becomes a heading, a list, a link, markup or HTML. It escapes
// what CommonMark and its common extensions take for markup; a backslash before
// ASCII punctuation is always only that punctuation.
func markdownText(text string) string {
	line := markdownEscapes.Replace(cleanLine(text))
	line = autolinks.ReplaceAllStringFunc(line, func(s string) string {
		// http://, www. and their like become links by themselves.
		return strings.NewReplacer(":", `\:`, ".", `\.`).Replace(s)
	})
	return markers.ReplaceAllString(line, `$1\$2$3`)
}

var markdownEscapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", `\<`, ">", `\>`,
	"|", `\|`, "#", `\#`, "~", `\~`, "&", `\&`, "$", `\$`, "@", `\@`, "^", `\^`,
)

var (
	autolinks = regexp.MustCompile(`(?i)\b[a-z][a-z0-9+.-]*://|\bwww\.|\b(?:mailto|xmpp):`)
	// What makes a block of a line: list markers, numbered or not, and the
	// underlines of headings.
	markers = regexp.MustCompile(`^(\d*)([-+=.):])(.?)`)
)
