package main

import (
	"sort"
	"strings"
)

// fold makes names comparable: lower case, underscores and commas as blanks,
// single blanks.
func fold(s string) string {
	s = strings.ToLower(strings.NewReplacer("_", " ", ",", " ", "-", " ").Replace(s))
	return strings.Join(strings.Fields(s), " ")
}

// nearest gives the n different names closest to a text, best first: names that
// hold it come before names that are a few letters away.
func nearest(text string, names []string, n int) []string {
	type scored struct {
		name  string
		score int
	}
	var all []scored
	seen := map[string]bool{}
	for _, name := range names {
		if seen[name] {
			continue
		}
		seen[name] = true
		f := fold(name)
		score := distance(text, f)
		if strings.Contains(f, text) || strings.Contains(text, f) {
			score = score/8 - 100
		}
		all = append(all, scored{name, score})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].score < all[j].score })
	best := []string{}
	for i := 0; i < len(all) && i < n; i++ {
		best = append(best, all[i].name)
	}
	return best
}

// distance counts the letters to insert, delete or replace (Levenshtein).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		last := row[0]
		row[0] = i + 1
		for j := range y {
			cost := last
			if x[i] != y[j] {
				cost++
			}
			last = row[j+1]
			row[j+1] = min(cost, row[j]+1, last+1)
		}
	}
	return row[len(y)]
}
