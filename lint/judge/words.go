package judge

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// plain reports a name that needs no quotes or brackets anywhere in a rule.
func plain(s string) bool {
	for i, r := range s {
		switch {
		case r >= 'a' && r <= 'z':
		case i > 0 && (r == '_' || r >= '0' && r <= '9'):
		default:
			return false
		}
	}
	return s != ""
}

// near gives the name of the list that is closest to what was written, or "".
func near(written string, list []string) string {
	best, least := "", max(2, len(written)/3)+1
	for _, s := range slices.Sorted(slices.Values(list)) {
		if d := distance(written, s); d < least {
			best, least = s, d
		}
	}
	if best == "" && len(written) >= 3 {
		for _, s := range slices.SortedFunc(slices.Values(list), func(a, b string) int { return cmp.Or(len(a)-len(b), strings.Compare(a, b)) }) {
			if strings.HasPrefix(s, written) || strings.HasSuffix(s, written) {
				return s
			}
		}
	}
	return best
}

// meant is near as the end of a sentence.
func meant(written string, list []string) string {
	if s := near(written, list); s != "" {
		return "; did you mean " + s + "?"
	}
	return ""
}

// distance counts single-byte insertions, deletions, replacements and swaps of
// neighbours (optimal string alignment).
func distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			swap := 1
			if a[i-1] == b[j-1] {
				swap = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+swap)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
