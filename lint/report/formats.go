package report

import (
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// Format is one way to write a check.
type Format struct {
	Name  string
	Write func(w io.Writer, run *finding.Run, o Options) error
	// NeedsRules reports whether the format uses what may be found, the run's Rules, for such a run; nil is never.
	NeedsRules func(run *finding.Run) bool
	// Commands says that it writes commands for a CI service, at the beginning of lines and with all of a kit escaped.
	Commands bool
	// Fits says why a run cannot be written so; nil where every run can.
	Fits func(run *finding.Run) error
}

// Formats lists every way to write a check; the first is the usual one.
var Formats = []Format{
	{Name: "text", Write: Text, NeedsRules: choosy},
	{Name: "lines", Write: Lines},
	{Name: "json", Write: JSON},
	{Name: "sarif", Write: SARIF, NeedsRules: always},
	{Name: "sarif-open", Write: OpenSARIF, NeedsRules: always, Fits: Whole},
	{Name: "junit", Write: JUnit},
	{Name: "annotations", Write: Annotations, Commands: true},
	{Name: "markdown", Write: Markdown},
}

func always(*finding.Run) bool { return true }

// choosy reports whether some household of the run may have steps to begin with.
func choosy(run *finding.Run) bool {
	s := &run.Summary
	return s.Errors > 0 && s.Errors+s.Warnings+s.Notes > fewFindings && run.Shared == "" && run.Since == ""
}

// Names lists the names of the formats.
func Names() (names []string) {
	for _, f := range Formats {
		names = append(names, f.Name)
	}
	return names
}

// Named finds a format; the error offers a near one, or lists the names.
func Named(name string) (Format, error) {
	for _, f := range Formats {
		if f.Name == name {
			return f, nil
		}
	}
	complaint := fmt.Sprintf("%q is not a format", name)
	if near := words.Near(name, Names()); near != "" {
		return Format{}, fmt.Errorf("%s; did you mean %s?", complaint, near)
	}
	return Format{}, fmt.Errorf("%s; write one of %s", complaint, strings.Join(Names(), ", "))
}
