package source

import (
	"strings"
	"unicode"
)

// Fold gives names that differ only in case the same text, by the simple case folding of the Unicode Character Database. Disks that
// do not tell such names apart keep one of the two files, and JSON's usual reader one of the two fields.
func Fold(name string) string {
	return strings.Map(func(r rune) rune {
		for {
			next := unicode.SimpleFold(r) // goes round all that fold alike, upwards and then back to the least
			if next <= r {
				return next
			}
			r = next
		}
	}, name)
}
