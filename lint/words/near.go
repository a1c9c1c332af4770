package words

import (
	"slices"
	"strings"

	"kitmuster/lint/internal/edit"
)

// Near gives the candidate within two edits of s (a swap of two neighbours is
// one edit), the nearest first and then the first in order; "" if there is none.
func Near(s string, candidates []string) string {
	best, out := 3, ""
	for _, c := range candidates {
		if n := edit.Distance([]rune(s), []rune(c), 1); n < best && n < max(len(s), 2) && n < len(c) {
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
