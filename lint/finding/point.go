package finding

import (
	"fmt"
	"strings"

	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
)

// Loss is a capability and who no longer has it; nobody in the drill has it where All is set.
type Loss struct {
	Capability kinds.Capability
	All        bool
	Who        []string
}

// Point is one item whose loss takes capabilities from someone.
type Point struct {
	Item, Name string
	At         source.Span
	Losses     []Loss
}

// Words say whose and what only means the item is, first what everyone loses. They hold names as written: clean them before they are shown.
func (x *Point) Words() string {
	var all, some []string
	for _, l := range x.Losses {
		if l.All {
			all = append(all, l.Capability.Row().Only)
		} else {
			some = append(some, fmt.Sprintf("for %s alone the only %s", ListOf(l.Who), l.Capability.Row().Only))
		}
	}
	if len(all) > 0 {
		words := all[len(all)-1]
		if n := len(all) - 1; n > 0 {
			words = strings.Join(all[:n], ", ") + " and " + words
		}
		some = append([]string{"the household's only " + words}, some...)
	}
	return strings.Join(some, "; ")
}

// ListOf joins names, by semicolons where one of them holds a comma.
func ListOf(names []string) string {
	for _, n := range names {
		if strings.Contains(n, ",") {
			return strings.Join(names, "; ")
		}
	}
	return strings.Join(names, ", ")
}
