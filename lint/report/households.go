package report

import (
	"iter"
	"strconv"
	"strings"

	"kitmuster/lint/finding"
)

// groups walks the shown findings household by household: what is said of one
// path stands together in a run. One household at a time is in memory.
func groups(run *finding.Run) iter.Seq2[[]finding.Finding, error] {
	return func(yield func([]finding.Finding, error) bool) {
		var group []finding.Finding
		for f, err := range run.Shown() {
			if err != nil {
				yield(nil, err)
				return
			}
			if len(group) > 0 && group[0].Path != f.Path {
				if !yield(group, nil) {
					return
				}
				group = nil
			}
			group = append(group, *f)
		}
		if len(group) > 0 {
			yield(group, nil)
		}
	}
}

// unjudgeable reports whether a finding says that something could not be judged.
func unjudgeable(f *finding.Finding) bool {
	return area(f.Rule) == "input" && f.State != finding.Mended
}

// title is how a page calls a household: by its name, else by its path.
func title(name, path string) string {
	for _, s := range []string{name, path} {
		if s = finding.Clean(s); strings.TrimSpace(s) != "" {
			return s
		}
	}
	return strconv.Quote(path)
}
