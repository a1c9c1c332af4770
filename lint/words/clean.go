package words

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Unseen reports whether a character would act on a terminal or a reader without being seen: a control character, an
// invisible mark, one that reorders text (Unicode Bidirectional Algorithm, UAX #9), or what stands for a byte that is no text.
func Unseen(r rune) bool {
	if r >= ' ' && r <= '~' { // most text, soon told
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Other_Default_Ignorable_Code_Point) || r == utf8.RuneError || r == 0x2800 // the empty Braille pattern
}

// Clean makes text from a kit safe to print: what nobody would see is shown as an escape.
func Clean(s string) string {
	if !strings.ContainsFunc(s, Unseen) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case Unseen(r) && r > 0xFFFF:
			fmt.Fprintf(&b, `\U%08x`, r)
		case Unseen(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plainKey is a name as entries of a kit have it.
var plainKey = regexp.MustCompile(`^[a-z][a-z0-9-]*(?:_[a-z0-9-]*)+$`)

// OnPaper is a name as people read it: of an entry that has no name but its key, with blanks for _, as in "first aid kit".
func OnPaper(name string) string {
	if !plainKey.MatchString(name) {
		return name
	}
	return strings.TrimSpace(strings.ReplaceAll(name, "_", " "))
}
