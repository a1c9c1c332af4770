package report

import (
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
)

// OpenSARIF writes what is open, as a code-scanning service reads SARIF: such a service opens an alert for each result of an upload
// and closes those that the upload has not, so what is waived or fixed is left out, and the run must be of everything (Whole).
//
// A service tells alerts by the rule, the file and the fingerprint named serviceKey, and shows a related location only where the
// message links to it (SARIF 3.11.6). It stores the gravest mostStored results; the rest is left out here, which a notification says.
// Source: GitHub Docs, "SARIF support for code scanning" and "SARIF results exceed one or more limits".
func OpenSARIF(w io.Writer, run *finding.Run, _ Options) error { return writeSARIF(w, run, true) }

const (
	serviceKey = "primaryLocationLineHash"
	mostStored = 5000
	// mostLinked is how many locations of a result a service keeps.
	mostLinked = 100
)

// Whole says why an upload of the run would close alerts that are still true, or nil.
func Whole(run *finding.Run) error {
	switch {
	case run.Part != "":
		return fmt.Errorf("a service that keeps alerts closes those that an upload has not, and this is part %s; write the parts with --output json=FILE, and sarif-open with kitmuster merge", run.Part)
	case run.Since != "":
		return fmt.Errorf("a service that keeps alerts closes those that an upload has not, and with --since only what a change touches is judged; write sarif-open without --since, and annotations or markdown for a change")
	case run.Partial != "":
		return fmt.Errorf("a service that keeps alerts closes those that an upload has not, and not all households were judged: %s", run.Partial)
	}
	return nil
}

// isOpen reports whether someone still has to do something about a finding.
func isOpen(f *finding.Finding) bool { return f.Waived == nil && f.State != finding.Mended }

// quota lets so many findings through, the gravest first, in whatever order they come.
type quota map[finding.Level]int

// newQuota shares out most by how many there are of each level.
func newQuota(s *finding.Summary, most int) quota {
	q := quota{}
	for _, l := range []struct {
		level finding.Level
		n     int
	}{{finding.Error, s.Errors}, {finding.Warning, s.Warnings}, {finding.Note, s.Notes}} {
		q[l.level] = min(l.n, most)
		most -= q[l.level]
	}
	return q
}

func (q quota) take(l finding.Level) bool {
	q[l]--
	return q[l] >= 0
}

// forService makes a result one that a service keeps: a fingerprint by its name, links to the related locations, and a place, without
// which it refuses the whole file.
func (r *sarifResult) forService(f *finding.Finding) {
	r.Baseline = ""
	r.Fingerprints[serviceKey] = r.Fingerprints[sarifKey] + ":1"
	if len(r.Related) > mostLinked {
		r.Related = r.Related[:mostLinked]
	}
	var links []string
	for _, l := range r.Related {
		links = append(links, fmt.Sprintf("[%s](%d)", linkText.Replace(l.Message.Text), l.ID))
	}
	if len(links) > 0 {
		r.Message.Text += "\n\n" + strings.Join(links, "\n")
	}
	if f.Remedy != "" {
		r.Message.Text += "\n\n" + sentence("To do: "+f.Remedy).Text
	}
	if len(r.Locations) == 0 || r.Locations[0].Physical == nil {
		at := f.Path
		if at == "" {
			at = "."
		}
		here := sarifLocation{Physical: &sarifPlace{Artifact: sarifArtifact{uri(at), sarifRoot}, Region: &sarifRegion{StartLine: 1}}}
		if len(r.Locations) > 0 {
			here.Logical = r.Locations[0].Logical
		}
		r.Locations = []sarifLocation{here}
	}
}

// In the text of a link, brackets and the backslash are escaped (3.11.6).
var linkText = strings.NewReplacer(`\`, `\\`, "[", `\[`, "]", `\]`)
