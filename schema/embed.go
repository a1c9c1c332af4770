// Package schema holds what a household may write, in CUE.
package schema

import _ "embed"

// Kit is the text of the schema, kit.cue.
//
//go:embed kit.cue
var Kit []byte
