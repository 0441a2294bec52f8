package exports

import (
	"unicode"
	"unicode/utf8"
)

// width counts the characters of a line as a reader does: combining marks,
// joined emoji, flags and invisible marks do not count beside what they change.
// It follows the extended grapheme clusters of Unicode Annex 29 except for
// Hangul letters written apart, which it counts one by one.
func width(line string) int {
	n := 0
	for range clusters(line) {
		n++
	}
	return n
}

// clusterEnd returns the byte offset after the first n characters of a line,
// or its length when it has no more.
func clusterEnd(line string, n int) int {
	end := 0
	for at := range clusters(line) {
		if n <= 0 {
			return end
		}
		n--
		end = at
	}
	return end
}

// clusters gives the byte offset after each character of a line, in order.
func clusters(line string) func(yield func(end int) bool) {
	return func(yield func(int) bool) {
		open := false   // a character has begun
		joined := false // the next one belongs to it whatever it is
		flag := false   // it is half a flag
		for i, r := range line {
			regional := r >= 0x1F1E6 && r <= 0x1F1FF
			if open && !joined && !extends(r) && !(flag && regional) {
				if !yield(i) {
					return
				}
				flag = false
				open = false
			}
			flag = regional && !flag || flag && extends(r)
			joined = r == zeroWidthJoiner
			open = true
		}
		if open {
			yield(len(line))
		}
	}
}

const zeroWidthJoiner = '\u200D'

// extends reports whether a character only changes the one before it.
func extends(r rune) bool {
	if r < utf8.RuneSelf {
		return false
	}
	return unicode.In(r, unicode.Mn, unicode.Me, unicode.Mc, unicode.Cf) ||
		r >= 0x1F3FB && r <= 0x1F3FF // skin tones
}
