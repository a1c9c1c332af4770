package trial

import (
	"iter"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Trial is what another standard would mean for households: both have judged the same kits, as of the same day.
type Trial struct {
	// Version is the tool's, On the audit date, YYYY-MM-DD.
	Version, On string
	// Shared names the key of the pseudonyms where nothing private is in it; "" otherwise.
	Shared   string
	Old, New Standard
	// Partial says why not everyone was judged by both; "" where nobody is left out.
	Partial string
	// Households are in the order of their paths. Nobody is left out: who could not be judged is named with what was found.
	Households []Tried
	// Totals add up what lacks, in the order of its words.
	Totals []Total
	// Rules and Limits are what differs between the standards, by name.
	Rules  []RuleChange
	Limits []LimitChange
	// Failed are the new standard's rules that someone newly fails, or fails otherwise than before, by name.
	Failed []finding.Rule
}

// Standard is one by which households are judged.
type Standard struct {
	// Name is its name with the version, Digest what it is told by, "" for the one that comes with the program.
	Name, Digest string
}

// Tried is one household under both standards.
type Tried struct {
	Household finding.Household
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
	Findings []finding.Finding
	// Changed are findings under both standards that say something else under the new one.
	Changed []Shift
}

// Tally counts findings of one level by how they stand under the new standard; what is mended is there under the old one only.
type Tally struct{ New, Mended, Unchanged int }

// Shift is a finding under both standards.
type Shift struct{ Old, New finding.Finding }

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
	Old, New finding.Level
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
	Now finding.Limit
}

// Try holds what a new standard found against what an old one found. An error is that of a walk.
func Try(old, now *finding.Run) (*Trial, error) {
	t := &Trial{Version: now.Version, On: now.On}
	for _, r := range []*finding.Run{old, now} {
		if t.Partial == "" {
			t.Partial = r.Partial
		}
	}
	a, stopA := iter.Pull2(old.Findings.ByPath())
	defer stopA()
	b, stopB := iter.Pull2(now.Findings.ByPath())
	defer stopB()
	totals := map[finding.Shortfall]*Total{}
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
	run  *finding.Run
	next func() ([]finding.Finding, error, bool)
	// group is the next household's findings, at its number among the households.
	group []finding.Finding
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
func (s *side) take(path string) (fs []finding.Finding, h *finding.Household, err error) {
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
func tried(path string, was, is *finding.Household, before, after []finding.Finding) Tried {
	t := Tried{Household: finding.Household{Path: path}, Nowhere: was == nil && is == nil}
	switch {
	case is != nil:
		t.Household = *is
	case was != nil:
		t.Household.Name = was.Name
	}
	broken := func(fs []finding.Finding) bool {
		return slices.ContainsFunc(fs, func(f finding.Finding) bool { return f.Rule == "input/rule" })
	}
	judged := func(h *finding.Household) bool { return h != nil && h.Judged }
	switch {
	case judged(was) && !judged(is):
		t.Doubt = "it could not be judged wholly under the new standard, so nothing counts as fixed"
	case !judged(was) && judged(is):
		t.Doubt = "it could not be judged wholly under the old standard, so more counts as new than is"
	case broken(after):
		t.Doubt = "a rule broke under the new standard, so nothing counts as fixed"
	case broken(before):
		t.Doubt = "a rule broke under the old standard, so more may count as new than is"
	}
	noMended := judged(was) && !judged(is) || broken(after)
	prior := map[finding.Identity][]finding.Finding{}
	for _, f := range before {
		if f.Waived == nil {
			prior[finding.Identity{Rule: f.Rule, Spot: f.Spot}] = append(prior[finding.Identity{Rule: f.Rule, Spot: f.Spot}], f)
		}
	}
	for _, f := range finding.Sort(finding.States(before, after)) {
		if f.Waived != nil && f.State != finding.Mended {
			t.Waived++
			continue
		}
		if f.State == finding.Mended && noMended {
			continue
		}
		id := finding.Identity{Rule: f.Rule, Spot: f.Spot}
		older := prior[id]
		tally := map[finding.Level]*Tally{finding.Error: &t.Errors, finding.Warning: &t.Warnings, finding.Note: &t.Notes}[f.Level]
		stated := f.Lack != nil || f.Level == finding.Note
		switch f.State {
		case finding.New:
			tally.New++
		case finding.Mended:
			tally.Mended++
			stated = true
		case finding.Unchanged:
			tally.Unchanged++
		}
		shifted := false
		if f.State != finding.Mended && len(older) > 0 { // of what has become graver the old one is told beside it, too
			old := older[0]
			prior[id] = older[1:]
			if shifted = old.Message != f.Message || old.Level != f.Level; shifted {
				t.Changed = append(t.Changed, Shift{bare(old), bare(f)})
			} else {
				stated = true
			}
		}
		if !stated {
			t.Unstated++
		}
		if f.State != finding.Unchanged && !shifted || f.OfInput() {
			t.Findings = append(t.Findings, bare(f))
		}
	}
	return t
}

// bare is the finding without what a check says of it beside.
func bare(f finding.Finding) finding.Finding {
	f.Because, f.Limits, f.Remedy, f.Caution = nil, nil, "", ""
	return f
}

// add adds up the lacks of one household.
func add(totals map[finding.Shortfall]*Total, before, after []finding.Finding) {
	lacks := map[finding.Shortfall]bool{}
	sum := func(fs []finding.Finding, each func(*Total, int64)) {
		for i := range fs {
			l := fs[i].Lack
			if l == nil || fs[i].Waived != nil {
				continue
			}
			key := finding.Shortfall{What: l.What, Unit: l.Unit}
			if totals[key] == nil {
				totals[key] = &Total{What: l.What, Unit: l.Unit}
			}
			each(totals[key], l.Amount)
		}
	}
	sum(before, func(t *Total, n int64) { t.Old += n })
	sum(after, func(t *Total, n int64) {
		t.New += n
		if key := (finding.Shortfall{What: t.What, Unit: t.Unit}); !lacks[key] {
			lacks[key] = true
			t.Households++
		}
	})
}
