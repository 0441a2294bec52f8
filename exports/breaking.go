package exports

import (
	"strings"
	"unicode/utf8"
)

// Screens cuts a text into screens of at most p.Lines lines. Lines are filled
// to p.Wrap and never exceed p.Line; they break after punctuation or before a
// conjunction or a preposition where they can, and not after an article.
func (p Pace) Screens(text string) []Screen {
	lines := p.lines(text)
	screens := make([]Screen, 0, (len(lines)+p.Lines-1)/p.Lines)
	for len(lines) > 0 {
		n := min(p.Lines, len(lines))
		screens = append(screens, Screen(lines[:n:n]))
		lines = lines[n:]
	}
	return screens
}

// lines finds the cheapest way to break a text. The cost of a way is that of
// its lines: each one costs a line, every character past p.Wrap, uneven filling
// and a break at a bad place cost extra.
func (p Pace) lines(text string) []string {
	words := p.words(text)
	if len(words) == 0 {
		return nil
	}
	widths := make([]int, len(words))
	for i, w := range words {
		widths[i] = width(w)
	}
	const never = 1 << 30
	best := make([]int, len(words)+1) // cost of breaking words[i:]
	next := make([]int, len(words))   // where its first line ends
	for i := len(words) - 1; i >= 0; i-- {
		best[i] = never
		wide := -1
		for j := i + 1; j <= len(words); j++ {
			wide += widths[j-1] + 1
			if wide > p.Line && j > i+1 {
				break
			}
			cost := best[j] + 100
			if over := wide - p.Wrap; over > 0 {
				cost += 8 * over
			}
			if j < len(words) {
				cost += 10 * breakCost(words[j-1], words[j])
				// A short line over a long one reads well; a long one over a
				// single left-over word does not.
				spare := max(0, p.Wrap-wide)
				cost += spare * spare / 40
			} else if i > 0 && wide < p.Wrap/4 {
				cost += 20
			}
			if cost < best[i] {
				best[i], next[i] = cost, j
			}
		}
	}
	var lines []string
	for i := 0; i < len(words); i = next[i] {
		lines = append(lines, strings.Join(words[i:next[i]], " "))
	}
	return lines
}

// words cuts a text at its spaces, and a word that is longer than a line into
// pieces that are not.
func (p Pace) words(text string) []string {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' })
	for i, w := range words {
		if len(w) > p.Line && width(w) > p.Line {
			return p.splitLong(words, i)
		}
	}
	return words
}

// splitLong does the cutting for words, from the first long one on.
func (p Pace) splitLong(words []string, first int) []string {
	short := append([]string(nil), words[:first]...)
	for _, w := range words[first:] {
		from, n, last := 0, 0, 0
		for end := range clusters(w) {
			if n == p.Line {
				short = append(short, w[from:last])
				from, n = last, 0
			}
			n++
			last = end
		}
		short = append(short, w[from:])
	}
	return short
}

// breakCost tells how badly a line break between two words reads: 0 after
// punctuation to 8 after an article.
func breakCost(before, after string) int {
	last, _ := utf8.DecodeLastRuneInString(before)
	switch {
	case strings.ContainsRune(".!?:;", last):
		return 0
	case strings.ContainsRune(",)—–", last):
		return 1
	case clings[strings.ToLower(before)]:
		return 8
	case leads[strings.ToLower(after)]:
		return 2
	}
	return 4
}

// leads are words that may well begin a line; clings are words that must not
// end one.
var (
	leads = set("and but or nor so for as because while when where which that whether if than " +
		"at by from in into of off on onto over past to toward under until up with without " +
		"is are may has have likely")
	clings = set("a an the this that its his her no not and or but nor " +
		"at by from in into of off on onto over to toward under with without " +
		"inner outer upper lower front middle left right both each every very " +
		"is are may be have has likely cannot")
)

func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}
