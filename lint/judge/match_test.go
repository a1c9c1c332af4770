package judge

import (
	"regexp"
	"slices"
)

// matches reports whether one of the lines matches the pattern.
func matches(pattern string, lines []string) bool {
	re := regexp.MustCompile(`(?s)^(?:` + pattern + `)`)
	return slices.ContainsFunc(lines, re.MatchString)
}
