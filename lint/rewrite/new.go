package rewrite

import (
	"cuelang.org/go/cue/format"
	"cuelang.org/go/cue/literal"
)

// Format lays a new file out as `cue fmt` does.
func Format(b []byte) ([]byte, error) { return format.Source(b) }

// Quote is a text as it is written in CUE, in quotation marks.
func Quote(s string) string { return literal.String.Quote(s) }
