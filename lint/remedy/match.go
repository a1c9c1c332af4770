package remedy

import (
	"slices"
	"strings"

	"kitmuster/lint/kit"
)

// said is a finding as far as it is known again when things have moved.
type said struct {
	rule, spot string
	// scope is the pack or the person where the thing of the spot lies: a rule that speaks of a whole pack names its heaviest thing, say, and
	// names the next once that one is gone.
	scope string
	rank  int
	lack  int64 // by how much it misses; 0 where the rule does not say
}

// scopes gives the pack, or the person, that a spot lies in; else the spot itself.
func scopes(h *kit.Household) func(spot string) string {
	of := map[string]string{}
	for _, t := range things(h) {
		of[t.Spot] = t.at.spot
		if t.at.pack != nil {
			of[t.Spot] = t.at.pack.Spot
		}
	}
	return func(spot string) string {
		for at := spot; ; {
			if scope, ok := of[at]; ok {
				return scope
			}
			i := strings.LastIndexByte(at, '/')
			if i < 0 {
				return spot
			}
			at = at[:i]
		}
	}
}

// fresh are the findings of now that were not there before: neither about the same thing, nor, of the same rule, about another
// thing of the same pack about which nothing is said any more. A finding that is graver than it was, or misses by more, counts as fresh.
func fresh(before, now []said) (out []int) {
	before = slices.Clone(before)
	match := func(s said, same func(b said) bool) bool {
		i := slices.IndexFunc(before, func(b said) bool { return b.rule == s.rule && b.rank >= s.rank && b.lack >= s.lack && same(b) })
		if i >= 0 {
			before = slices.Delete(before, i, i+1)
		}
		return i >= 0
	}
	var left []int
	for i, s := range now {
		if !match(s, func(b said) bool { return b.spot == s.spot }) {
			left = append(left, i)
		}
	}
	for _, i := range left {
		if !match(now[i], func(b said) bool { return b.scope == now[i].scope }) {
			out = append(out, i)
		}
	}
	return out
}
