package finding

import (
	"iter"
	"slices"
	"strings"

	"kitmuster/lint/kinds"
)

// Trial is what another standard would mean for households: both have judged the same kits, as of the same day.
type Trial struct {
	// Version is the tool's, On the audit date, YYYY-MM-DD.
	Version, On string
	// Shared names the key of the pseudonyms where nothing private is in it; "" otherwise.
	Shared   string
	Old, New Standard
	// Partial says why not everybody was judged by both; "" where nobody is left out.
	Partial string
	// Households are in the order of their paths. Nobody is left out: who could not be judged is named with what was found.
	Households []Tried
	// Totals add up what lacks, in the order of its words.
	Totals []Total
	// Rules and Limits are what differs between the standards, by name.
	Rules  []RuleChange
	Limits []LimitChange
	// Failed are the new standard's rules that somebody newly fails, or fails otherwise than before, by name.
	Failed []Rule
}

// Standard is one by which households are judged.
type Standard struct {
	// Name is its name with the version, Digest what it is told by, "" for the one that comes with the program.
	Name, Digest string
}

// Tried is one household under both standards.
type Tried struct {
	Household Household
	// Nowhere says that the path leads to no household.
	Nowhere bool
	// Errors, Warnings and Notes count what is not waived.
	Errors, Warnings, Notes Tally
	// Waived counts what is waived under the new standard.
	Waived int
	// Unstated counts the new and changed findings, notes aside, that state no amount.
	Unstated int
	// Doubt says why nothing counts as mended, or why all counts as new; "" where both could judge.
	Doubt string
	// Findings are new or mended, and not waived, or say that something could not be judged. What drives them, limits, remedy
	// and caution are left out: they stand in a check, and would fill memory here.
	Findings []Finding
	// Changed are findings under both standards that say something else under the new one.
	Changed []Shift
}

// Tally counts findings of one level by how they stand under the new standard; what is mended is there under the old one only.
type Tally struct{ New, Mended, Unchanged int }

// Shift is a finding under both standards.
type Shift struct{ Old, New Finding }

// Total adds up lacks of one kind over all households, waived ones left out.
type Total struct {
	What     string
	Unit     kinds.Unit
	Old, New int64
	// Households is how many lack it under the new standard.
	Households int
}

// RuleChange is a rule that is not the same in both standards.
type RuleChange struct {
	Name, Title string
	// Change is "added", "gone", "switched off", "in force again", or "level".
	Change string
	// Old and New are the levels; "" where there is no rule.
	Old, New Level
	// Why is the reason for which it is switched off, or was.
	Why string
}

// LimitChange is a limit that is not the same in both standards.
type LimitChange struct {
	Name string
	// Change is "added", "gone", "tightened", "loosened", "changed" (a list, both ways), or "redefined" (another unit or direction).
	Change string
	// Old and New are its values for people; "" where there is none.
	Old, New string
	// Now is the limit as it stands in the new standard, without value where it is gone.
	Now Limit
}

// Try holds what a new standard found against what an old one found. An error is that of a walk.
func Try(old, now *Run) (*Trial, error) {
	t := &Trial{Version: now.Version, On: now.On}
	for _, r := range []*Run{old, now} {
		if t.Partial == "" {
			t.Partial = r.Partial
		}
	}
	a, stopA := iter.Pull2(old.Findings.ByPath())
	defer stopA()
	b, stopB := iter.Pull2(now.Findings.ByPath())
	defer stopB()
	totals := map[Lack]*Total{}
	nextOld, nextNew := &side{run: old, next: a}, &side{run: now, next: b}
	for {
		path, more, err := first(nextOld, nextNew)
		if err != nil {
			return nil, err
		}
		if !more {
			break
		}
		before, was, err := nextOld.take(path)
		if err != nil {
			return nil, err
		}
		after, is, err := nextNew.take(path)
		if err != nil {
			return nil, err
		}
		if t.Partial != "" && (was == nil) != (is == nil) {
			continue // one of the two was interrupted before it: nothing can be said
		}
		t.Households = append(t.Households, tried(path, was, is, before, after))
		add(totals, before, after)
	}
	for _, x := range totals {
		t.Totals = append(t.Totals, *x)
	}
	slices.SortFunc(t.Totals, func(x, y Total) int {
		return strings.Compare(x.What+"\x00"+string(x.Unit), y.What+"\x00"+string(y.Unit))
	})
	return t, nil
}

// side is one run, walked household by household.
type side struct {
	run  *Run
	next func() ([]Finding, error, bool)
	// group is the next household's findings, at its number among the households.
	group []Finding
	read  bool
	done  bool
	at    int
}

// path is that of the next household, or of the next findings that belong to none; false at the end.
func (s *side) path() (string, bool, error) {
	if !s.read && !s.done {
		group, err, more := s.next()
		if err != nil {
			return "", false, err
		}
		s.group, s.read, s.done = group, more, !more
	}
	switch {
	case s.at < len(s.run.Households) && (!s.read || s.run.Households[s.at].Path <= s.group[0].Path):
		return s.run.Households[s.at].Path, true, nil
	case s.read:
		return s.group[0].Path, true, nil
	}
	return "", false, nil
}

// first is the path that comes first on either side.
func first(a, b *side) (path string, more bool, err error) {
	p, okP, err := a.path()
	if err != nil {
		return "", false, err
	}
	q, okQ, err := b.path()
	switch {
	case err != nil:
		return "", false, err
	case !okQ || okP && p < q:
		return p, okP, nil
	}
	return q, true, nil
}

// take gives the findings of a path and its household; nil where there is none of it.
func (s *side) take(path string) (fs []Finding, h *Household, err error) {
	p, more, err := s.path()
	if err != nil || !more || p != path {
		return nil, nil, err
	}
	if s.read && s.group[0].Path == path {
		fs, s.group, s.read = s.group, nil, false
	}
	if s.at < len(s.run.Households) && s.run.Households[s.at].Path == path {
		h = &s.run.Households[s.at]
		s.at++
	}
	return fs, h, nil
}

// tried compares one household.
func tried(path string, was, is *Household, before, after []Finding) Tried {
	t := Tried{Household: Household{Path: path}, Nowhere: was == nil && is == nil}
	switch {
	case is != nil:
		t.Household = *is
	case was != nil:
		t.Household.Name = was.Name
	}
	broken := func(fs []Finding) bool {
		return slices.ContainsFunc(fs, func(f Finding) bool { return f.Rule == "input/rule" })
	}
	judged := func(h *Household) bool { return h != nil && h.Judged }
	switch {
	case judged(was) && !judged(is):
		t.Doubt = "it could not be judged wholly under the new standard, so nothing counts as mended"
	case !judged(was) && judged(is):
		t.Doubt = "it could not be judged wholly under the old standard, so more counts as new than is"
	case broken(after):
		t.Doubt = "a rule broke under the new standard, so nothing counts as mended"
	case broken(before):
		t.Doubt = "a rule broke under the old standard, so more may count as new than is"
	}
	noMended := judged(was) && !judged(is) || broken(after)
	prior := map[identity][]Finding{}
	for _, f := range before {
		if f.Waived == nil {
			prior[identity{f.Rule, f.Spot}] = append(prior[identity{f.Rule, f.Spot}], f)
		}
	}
	for _, f := range Sort(States(before, after)) {
		if f.Waived != nil && f.State != Mended {
			t.Waived++
			continue
		}
		if f.State == Mended && noMended {
			continue
		}
		tally := map[Level]*Tally{Error: &t.Errors, Warning: &t.Warnings, Note: &t.Notes}[f.Level]
		stated := f.Lack != nil || f.Level == Note
		switch f.State {
		case New:
			tally.New++
		case Mended:
			tally.Mended++
			stated = true
		case Unchanged:
			tally.Unchanged++
			id := identity{f.Rule, f.Spot}
			old := prior[id][0]
			prior[id] = prior[id][1:]
			if old.Message != f.Message || old.Level != f.Level {
				t.Changed = append(t.Changed, Shift{old.bare(), f.bare()})
			} else {
				stated = true
			}
		}
		if !stated {
			t.Unstated++
		}
		if f.State != Unchanged || f.OfInput() {
			t.Findings = append(t.Findings, f.bare())
		}
	}
	return t
}

// bare is the finding without what a check says of it beside.
func (f Finding) bare() Finding {
	f.Because, f.Limits, f.Remedy, f.Caution = nil, nil, "", ""
	return f
}

// add adds up the lacks of one household.
func add(totals map[Lack]*Total, before, after []Finding) {
	lacks := map[Lack]bool{}
	sum := func(fs []Finding, each func(*Total, int64)) {
		for i := range fs {
			l := fs[i].Lack
			if l == nil || fs[i].Waived != nil {
				continue
			}
			key := Lack{What: l.What, Unit: l.Unit}
			if totals[key] == nil {
				totals[key] = &Total{What: l.What, Unit: l.Unit}
			}
			each(totals[key], l.Amount)
		}
	}
	sum(before, func(t *Total, n int64) { t.Old += n })
	sum(after, func(t *Total, n int64) {
		t.New += n
		if key := (Lack{What: t.What, Unit: t.Unit}); !lacks[key] {
			lacks[key] = true
			t.Households++
		}
	})
}
