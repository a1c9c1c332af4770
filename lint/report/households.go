package report

import (
	"strconv"
	"strings"

	"kitmuster/lint/finding"
)

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
