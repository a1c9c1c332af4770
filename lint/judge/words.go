package judge

import (
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/words"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// plain reports a name that needs no quotes or brackets anywhere in a rule.
func plain(s string) bool {
	for i, r := range s {
		switch {
		case r >= 'a' && r <= 'z':
		case i > 0 && (r == '_' || r >= '0' && r <= '9'):
		default:
			return false
		}
	}
	return s != ""
}

// nearest gives the name of a list that was probably meant, or "". Where only
// one name goes on from what was written it counts too: units end a fact's name.
func nearest(written string, list []string) string {
	w, more := words.Near(written, list), 0
	if w != "" {
		return w
	}
	for _, s := range list {
		if strings.HasPrefix(s, written+"_") {
			w, more = s, more+1
		}
	}
	if more != 1 {
		return ""
	}
	return w
}

// meant is nearest as the end of a sentence.
func meant(written string, list []string) string {
	if s := nearest(written, list); s != "" {
		return "; did you mean " + s + "?"
	}
	return ""
}
