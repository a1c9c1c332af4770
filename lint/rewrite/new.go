package rewrite

import (
	"slices"
	"strings"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/format"
	"cuelang.org/go/cue/literal"
)

// Format lays a new file out as `cue fmt` does.
func Format(b []byte) ([]byte, error) { return format.Source(b) }

// Quote is a text as it is written in CUE, in quotation marks.
func Quote(s string) string { return literal.String.Quote(s) }

// Label is a key as the name of a field, in quotation marks where it needs them.
func Label(key string) string {
	if ast.IsValidIdent(key) && !strings.HasPrefix(key, "_") && !strings.HasPrefix(key, "#") && !slices.Contains(reserved, key) {
		return key
	}
	return literal.Label.Quote(key)
}

// reserved are words that CUE takes for something else than a name: of try, a clause.
var reserved = []string{"true", "false", "null", "try"}
