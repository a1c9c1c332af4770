package source

import (
	"strings"
	"testing"
)

func TestFold(t *testing.T) {
	for _, c := range []struct{ a, b string }{
		{"bulk.rego", "BULK.rego"}, {"é", "É"}, {"σ", "ς"}, {"k", "\u212a"}, {"ſ", "S"}, {"", ""}, {"a/b", "A/B"}, {"ǆ", "ǅ"},
		{"ß", "ss"}, {"a", "b"}, {"i", "ı"}, {"ab", "abc"}, {"e\u0301", "É"},
	} {
		if got, want := Fold(c.a) == Fold(c.b), strings.EqualFold(c.a, c.b); got != want {
			t.Errorf("%q and %q fold alike: %v; by the library: %v", c.a, c.b, got, want)
		}
	}
}
