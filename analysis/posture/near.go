package posture

import (
	"cmp"
	"slices"
	"strings"
)

const (
	maxNear     = 32 // unknown stretches that get near matches
	nearest     = 3  // near matches of one stretch
	longestNear = 40 // runes of a stretch that is compared
)

// near gives the known words or, for more than one word, phrases that are
// written most like a text, best first. Never nil.
func (x *lexicon) near(text string) []string {
	said := []rune(strings.ToLower(strings.TrimSpace(text)))
	out := []string{}
	if len(said) == 0 || len(said) > longestNear {
		return out
	}
	from := x.nearWords
	if strings.ContainsRune(string(said), ' ') {
		from = x.phrases
	}
	type match struct {
		word string
		far  int
	}
	var found []match
	most := max(1, len(said)/3)
	for _, w := range from {
		if d := distance(said, []rune(w), most); d <= most && d > 0 {
			found = append(found, match{w, d})
		}
	}
	slices.SortStableFunc(found, func(a, b match) int { return cmp.Compare(a.far, b.far) })
	for _, f := range found[:min(len(found), nearest)] {
		out = append(out, f.word)
	}
	return out
}

// distance is the number of letters to insert, remove, change or swap with a
// neighbour to make one word of the other; most+1 when it is more than most.
func distance(a, b []rune, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return most + 1
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := last[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			row[j] = min(change, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
