package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// table lines words up: the first column to the left, the others to the right.
type table struct {
	head     []string
	rows     [][]string
	lastLeft bool // the last column goes to the left too
	left     bool // all columns do
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

func (t *table) write(w io.Writer, indent string) {
	all := t.rows
	if t.head != nil {
		all = append([][]string{t.head}, t.rows...)
	}
	if len(all) == 0 {
		return
	}
	wide := make([]int, len(all[0]))
	for _, r := range all {
		for i, c := range r {
			wide[i] = max(wide[i], utf8.RuneCountInString(c))
		}
	}
	for _, r := range all {
		var b strings.Builder
		for i, c := range r {
			pad := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(c))
			if i > 0 {
				b.WriteString("  ")
			}
			if i == 0 || t.left || t.lastLeft && i == len(r)-1 {
				b.WriteString(c + pad)
			} else {
				b.WriteString(pad + c)
			}
		}
		fmt.Fprintf(w, "%s%s\n", indent, strings.TrimRight(b.String(), " "))
	}
}
