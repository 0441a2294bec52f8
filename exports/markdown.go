package exports

import (
	"regexp"
	"strings"
)

// markdownInline writes a text so that Markdown shows it as it is, in one line
// and behind other text: nothing in it becomes emphasis, a link, markup or HTML.
// It escapes what CommonMark and its common extensions take for markup; a
// backslash before ASCII punctuation is always only that punctuation.
func markdownInline(text string) string {
	line := markdownEscapes.Replace(cleanLine(text))
	if !strings.Contains(line, ":") && !strings.Contains(strings.ToLower(line), "www") {
		return line
	}
	return autolinks.ReplaceAllStringFunc(line, func(s string) string {
		// http://, www. and their like become links by themselves.
		return strings.NewReplacer(":", `\:`, ".", `\.`).Replace(s)
	})
}

// markdownText is markdownInline for a text that begins a line or an item: it
// does not become a list or the underline of a heading either.
func markdownText(text string) string {
	line := markdownInline(text)
	digits := len(line) - len(strings.TrimLeft(line, "0123456789"))
	if digits < len(line) {
		switch c := line[digits]; {
		case digits == 0 && (c == '-' || c == '+' || c == '='), digits > 0 && (c == '.' || c == ')'):
			return line[:digits] + `\` + line[digits:]
		}
	}
	return line
}

var markdownEscapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", `\<`, ">", `\>`,
	"|", `\|`, "#", `\#`, "~", `\~`, "&", `\&`, "$", `\$`, "@", `\@`, "^", `\^`,
)

var autolinks = regexp.MustCompile(`(?i)\b[a-z][a-z0-9+.-]*://|\bwww\.|\b(?:mailto|xmpp):`)
