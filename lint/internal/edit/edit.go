// Package edit counts the edits that lead from one word to another.
package edit

// Distance is the least cost of insertions, deletions and substitutions, at one each, and of swaps of two neighbours that lead
// from a to b. Where a swap costs one it is the optimal string alignment distance (Damerau 1964, restricted to one swap of
// neighbours); where it costs two, which is what two substitutions cost, it is the Levenshtein distance.
func Distance(a, b []rune, swap int) int {
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
				next[j] = min(next[j], before[j-2]+swap)
			}
		}
		before, row = row, next
	}
	return row[len(b)]
}
