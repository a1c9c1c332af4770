package report

import "kitmuster/lint/finding"

// unjudgeable reports whether a finding says that something could not be judged.
func unjudgeable(f *finding.Finding) bool {
	return f.OfInput() && f.State != finding.Mended
}
