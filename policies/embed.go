// Package policies holds the base standard: its rules, its limits, the official lists, and the list
// of built-in functions that any standard may call. The folder is at the same
// time a bundle that the stock policy engine reads.
package policies

import (
	"embed"
	"io/fs"
)

//go:embed all:rules all:limits all:lists all:lib .manifest capabilities.json facts.schema.json
var files embed.FS

//go:embed capabilities.json
var capabilities string

// FS is the base standard, its tests included.
func FS() fs.FS { return files }

// Capabilities is the allow-list of built-in functions in the engine's own JSON form.
func Capabilities() string { return capabilities }
