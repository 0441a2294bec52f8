package exports

import "strings"

// xmlEscapes makes a clean line safe as the text of an XML element and within
// double quotes; cleaning took out what XML cannot hold at all.
var xmlEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

func xmlText(line string) string { return xmlEscapes.Replace(line) }

// xmlComment makes a clean line safe in a comment, where nothing is escaped and
// two hyphens are forbidden.
func xmlComment(line string) string {
	line = strings.ReplaceAll(line, "--", "–")
	return strings.TrimSuffix(strings.ReplaceAll(line, "–-", "–"), "-")
}
