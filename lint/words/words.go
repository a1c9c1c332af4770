// Package words holds how the program puts things for people: numbers with their nouns, lists, amounts, text that is safe to
// show, and the word that was probably meant.
package words

import (
	"fmt"
	"strings"
	"unicode"
)

// Count says a number with its noun, as in "1 error" and "2 errors".
func Count[N int | int64](n N, noun string) string { return fmt.Sprintf("%d %s", n, Noun(n, noun)) }

// Noun is the noun that goes with a number.
func Noun[N int | int64](n N, noun string) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

// And is "a", "a and b", "a, b and c".
func And(list []string) string {
	n := len(list) - 1
	if n < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:n], ", ") + " and " + list[n]
}

// List joins names by commas, or by semicolons where one of them holds a comma.
func List(names []string) string {
	for _, n := range names {
		if strings.Contains(n, ",") {
			return strings.Join(names, "; ")
		}
	}
	return strings.Join(names, ", ")
}

// Line puts a text on one line, with one blank between words.
func Line(s string) string { return strings.Join(strings.Fields(s), " ") }

// Shell is a word of a command line, quoted for a POSIX shell where it needs it.
func Shell(s string) string {
	plain := func(r rune) bool {
		return r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) || strings.ContainsRune("_@%+:,./-", r)
	}
	if s != "" && strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) < 0 {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}
