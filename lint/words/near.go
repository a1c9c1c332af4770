package words

import (
	"slices"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/internal/edit"
)

// Near gives the candidate within two edits of s (a swap of two neighbours is
// one edit, of case none), the nearest first and then the first in order; "" if there is none. In a word of three letters or fewer, one edit
// is the most: two lead from nearly any short word to any other.
func Near(s string, candidates []string) string {
	best, out := 3, ""
	if utf8.RuneCountInString(s) <= 3 {
		best = 2
	}
	for _, c := range candidates {
		if n := edit.Distance([]rune(strings.ToLower(s)), []rune(strings.ToLower(c)), 1); n < best && n < max(len(s), 2) && n < len(c) {
			best, out = n, c
		}
	}
	return out
}

// Suggest ends a complaint about word s: with the near candidate if there is
// one, otherwise with the whole list after the words given.
func Suggest(complaint, s string, candidates []string, list string) string {
	if w := Near(s, candidates); w != "" {
		return complaint + "; did you mean " + w + "?"
	}
	if len(candidates) == 0 {
		return complaint
	}
	c := slices.Clone(candidates)
	slices.Sort(c)
	return complaint + "; " + list + ": " + strings.Join(c, ", ")
}
