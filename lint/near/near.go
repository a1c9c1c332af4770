// Package near finds the word that somebody probably meant.
package near

import (
	"slices"
	"strings"
)

// Word gives the candidate within two edits of s (a swap of two neighbours is
// one edit), the nearest first and then the first in order; "" if there is none.
func Word(s string, candidates []string) string {
	best, out := 3, ""
	for _, c := range candidates {
		if n := edits([]rune(s), []rune(c)); n < best && n < max(len(s), 2) && n < len(c) {
			best, out = n, c
		}
	}
	return out
}

// Suggest ends a complaint about word s: with the near candidate if there is
// one, otherwise with the whole list after the words given.
func Suggest(complaint, s string, candidates []string, list string) string {
	if w := Word(s, candidates); w != "" {
		return complaint + "; did you mean " + w + "?"
	}
	if len(candidates) == 0 {
		return complaint
	}
	c := slices.Clone(candidates)
	slices.Sort(c)
	return complaint + "; " + list + ": " + strings.Join(c, ", ")
}

// edits is the optimal string alignment distance (Damerau 1964, restricted to
// one swap of neighbours).
func edits(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	var before []int
	for i := 1; i <= len(a); i++ {
		next := make([]int, len(b)+1)
		next[0] = i
		for j := 1; j <= len(b); j++ {
			c := 1
			if a[i-1] == b[j-1] {
				c = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+c)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(b)]
}
