// Package schema holds what a household may write in its kit, and a group in its standard, in CUE.
package schema

import _ "embed"

// Kit is the text of the schema of kits, kit.cue.
//
//go:embed kit.cue
var Kit []byte

// Standard is the text of the schema of standards, standard.cue.
//
//go:embed standard.cue
var Standard []byte
