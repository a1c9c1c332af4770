package report

import (
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
)

// Format is one way to write a check.
type Format struct {
	Name  string
	Write func(w io.Writer, run *finding.Run, o Options) error
	// NeedsRules says that the format lists what may be found: the run's Rules.
	NeedsRules bool
}

// Formats lists every way to write a check; the first is the usual one.
var Formats = []Format{{Name: "text", Write: Text}, {Name: "lines", Write: Lines}, {Name: "json", Write: JSON}, {Name: "sarif", Write: SARIF, NeedsRules: true}, {Name: "junit", Write: JUnit}}

// Names lists the names of the formats.
func Names() (names []string) {
	for _, f := range Formats {
		names = append(names, f.Name)
	}
	return names
}

// Named finds a format; the error lists the names.
func Named(name string) (Format, error) {
	for _, f := range Formats {
		if f.Name == name {
			return f, nil
		}
	}
	return Format{}, fmt.Errorf("%q is not a format; write one of %s", name, strings.Join(Names(), ", "))
}
