package judge

import (
	"fmt"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// NotRecorded is the rule that speaks of things whose use or amount is not recorded, at each of them.
const NotRecorded = "data/not-recorded"

// Settle makes one finding of one lack where what is missing may be there and is only not recorded: unknown is not missing. An objection
// that names such things is a level milder than it would be, and is said at the first of them, by NotRecorded, as gravely; the
// others say which rules need them. It stands where nothing is said of the things, as of one that could not be read, and where
// stays says so, as of what is waived.
func Settle(vs []Verdict, stays func(*Verdict) bool) []Verdict {
	said := map[string]*Verdict{}
	for i := range vs {
		if v := &vs[i]; v.Rule.Name == NotRecorded && !stays(v) {
			said[v.At] = v
		}
	}
	needed := map[*Verdict][]string{}
	left := make([]Verdict, 0, len(vs))
	for i := range vs {
		v := &vs[i]
		if len(v.Unrecorded) == 0 {
			continue
		}
		v.Level = milder(v.Level)
		if stays(v) {
			continue
		}
		var at []*Verdict
		for _, id := range v.Unrecorded {
			if s := said[id]; s != nil {
				at = append(at, s)
			}
		}
		for j, s := range at {
			if j == 0 && v.Level.Rank() > s.Level.Rank() {
				s.Level = v.Level
			}
			needed[s] = append(needed[s], v.Rule.Name)
		}
		if len(at) > 0 {
			v.Rule = nil
		}
	}
	for i := range vs {
		v := vs[i]
		if v.Rule == nil {
			continue
		}
		if names := needed[&vs[i]]; len(names) > 0 {
			slices.Sort(names)
			names = slices.Compact(names)
			verb := "need"
			if len(names) == 1 {
				verb = "needs"
			}
			v.Text += fmt.Sprintf("; %s %s it", words.And(names), verb)
		}
		left = append(left, v)
	}
	return left
}

func milder(l finding.Level) finding.Level {
	if l == finding.Error {
		return finding.Warning
	}
	return finding.Note
}
