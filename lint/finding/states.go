package finding

// Identity is what a finding is told by across edits: never a line, a number or the wording.
type Identity struct{ Rule, Spot string }

// States says of the findings of one household how each stands against those of an earlier state of it,
// and adds those that are mended. A finding that was waived before and is not any more is new: it counts from now on.
func States(before, now []Finding) []Finding {
	open, waived := map[Identity]int{}, map[Identity]int{}
	for i := range before {
		id := Identity{before[i].Rule, before[i].Spot}
		if before[i].Waived != nil {
			waived[id]++
		} else {
			open[id]++
		}
	}
	out := make([]Finding, 0, len(now))
	for _, f := range now {
		id := Identity{f.Rule, f.Spot}
		f.State = New
		switch {
		case open[id] > 0:
			open[id]--
			f.State = Unchanged
		case f.Waived != nil && waived[id] > 0:
			waived[id]--
			f.State = Unchanged
		}
		out = append(out, f)
	}
	for _, f := range before {
		id := Identity{f.Rule, f.Spot}
		if f.Waived == nil && open[id] > 0 {
			open[id]--
			f.State = Mended
			out = append(out, f)
		}
	}
	return out
}
