package finding

// Identity is what a finding is told by across edits: never a line, a number or the wording.
type Identity struct{ Rule, Spot string }

// States says of the findings of one household how each stands against those of an earlier state of it,
// and adds those that are mended. A finding that was waived before and is not any more is new: it counts from now on.
// So is one that was milder before.
func States(before, now []Finding) []Finding {
	open, waived := map[Identity]*levels{}, map[Identity]*levels{}
	for _, f := range before {
		of := open
		if f.Waived != nil {
			of = waived
		}
		id := Identity{f.Rule, f.Spot}
		if of[id] == nil {
			of[id] = &levels{}
		}
		of[id][f.Level.Rank()]++
	}
	out := make([]Finding, 0, len(now))
	for _, f := range now {
		id := Identity{f.Rule, f.Spot}
		f.State = New
		was, found := open[id].take(f.Level)
		if !found && f.Waived != nil {
			was, found = waived[id].take(f.Level)
		}
		if found && was >= f.Level.Rank() {
			f.State = Unchanged
		}
		out = append(out, f)
	}
	for _, f := range before {
		if left := open[Identity{f.Rule, f.Spot}]; f.Waived == nil && left[f.Level.Rank()] > 0 {
			left[f.Level.Rank()]--
			f.State, f.Edit = Mended, nil
			out = append(out, f)
		}
	}
	return out
}

// levels counts the findings of one identity by the rank of their level.
type levels [4]int

// take takes away the one that is nearest to a level: of those as grave or graver the mildest, else the gravest.
func (l *levels) take(level Level) (rank int, found bool) {
	if l == nil {
		return 0, false
	}
	for rank := level.Rank(); rank < len(l); rank++ {
		if l[rank] > 0 {
			l[rank]--
			return rank, true
		}
	}
	for rank := level.Rank() - 1; rank >= 0; rank-- {
		if l[rank] > 0 {
			l[rank]--
			return rank, true
		}
	}
	return 0, false
}
