package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

const (
	// fewFindings are read as they stand; only more of them need a beginning. Our own figure.
	fewFindings = 5
	// mostSteps are how many steps stand at the beginning. Our own figure.
	mostSteps = 5
)

// step is one thing to do: one remedy wherever the household needs it, such a thing brought for everyone who lacks it, or one edit,
// exchange or leaving behind at one thing.
type step struct {
	// clears are the findings that the remedy is for, the gravest first.
	clears []*finding.Finding
	// may are further findings that may go with it: they say that this thing, whose use is not recorded, may do.
	may int
}

// start chooses the steps to begin with among the open findings of one household: step by step the one that clears most of what the
// steps before it leave, faults of the input and errors first. Where few are open, or none is an error, there is nothing to choose.
// What a rule's remedy is for counts as cleared by it; what else it brings about, such as mass, shows at the next check. A step that
// clears a single finding saves nobody a step, so it is there for an error only, beside one that clears several.
func start(fs []finding.Finding, mend map[string]finding.Fix) (steps []step, open int) {
	var left []*finding.Finding
	errors := 0
	for i := range fs {
		f := &fs[i]
		if f.State != "" { // compared with an earlier state, what is new is what to do
			return nil, 0
		}
		if f.Waived == nil {
			left = append(left, f)
		}
		if f.Waived == nil && f.Level == finding.Error {
			errors++
		}
	}
	if open = len(left); errors == 0 || open <= fewFindings {
		return nil, open
	}
	worth := false
	for len(steps) < mostSteps && len(left) > 0 {
		best := next(left, mend, len(steps) == mostSteps-1)
		several := len(best.clears)+best.may > 1
		if !several && best.clears[0].Level != finding.Error {
			break
		}
		worth = worth || several
		steps = append(steps, best)
		left = slices.DeleteFunc(left, func(f *finding.Finding) bool { return slices.Contains(best.clears, f) })
	}
	if !worth {
		return nil, open
	}
	return steps, open
}

// next is the step that clears most errors; the last is the one that clears most of any level, so that the largest step is not left out.
func next(left []*finding.Finding, mend map[string]finding.Fix, last bool) (best step) {
	var keys []string // in the order of the findings
	of := map[string]*step{}
	for _, f := range left {
		for _, k := range together(f, mend[f.Rule]) {
			if of[k] == nil {
				of[k] = &step{}
				keys = append(keys, k)
			}
			of[k].clears = append(of[k].clears, f)
		}
	}
	for _, k := range keys {
		s := of[k]
		slices.SortStableFunc(s.clears, func(a, b *finding.Finding) int { return cmp.Compare(b.Level.Rank(), a.Level.Rank()) })
		s.may = resting(s.clears, left)
		if best.clears == nil || better(s, &best, mend, last) {
			best = *s
		}
	}
	return best
}

// together are the keys of the steps that a finding goes with.
func together(f *finding.Finding, m finding.Fix) []string {
	out := []string{"rule\n" + f.Rule}
	if m.Thing != "" {
		out = append(out, "bring\n"+string(m.Work)+"\n"+m.Thing)
	}
	if thing := thingOf(f.Spot); thing != "" && slices.Contains([]finding.Work{finding.ToWrite, finding.ToExchange, finding.ToLeave}, m.Work) {
		out = append(out, "thing\n"+string(m.Work)+"\n"+thing)
	}
	return out
}

// thingOf is the spot of the thing that a spot is, or lies in; "" where it is of no thing.
func thingOf(spot string) (thing string) {
	keys := source.Keys(spot)
	for i, k := range keys[:max(0, len(keys)-1)] {
		if k == "items" || k == "onBody" {
			thing = source.Spot(keys[:i+2]...)
		}
	}
	return thing
}

// resting counts the open findings beside these that name, as what may do, a thing whose use they ask to record.
func resting(of, left []*finding.Finding) (n int) {
	var places []source.Span
	for _, f := range of {
		if f.Rule == unrecorded && f.At.Known() {
			places = append(places, f.At)
		}
	}
	for _, f := range left {
		if f.Rule != unrecorded && f.Level == finding.Note && f.MayDo && !slices.Contains(of, f) &&
			slices.ContainsFunc(f.Because, func(b finding.Because) bool { return slices.Contains(places, b.At) }) {
			n++
		}
	}
	return n
}

// better reports whether a comes before b: what cannot be read first, then the most errors, then the most findings, then the lightest work.
// Of any level, only the number counts.
func better(a, b *step, mend map[string]finding.Fix, any bool) bool {
	count := func(s *step, of func(*finding.Finding) bool) (n int) {
		for _, f := range s.clears {
			if of(f) {
				n++
			}
		}
		return n
	}
	isError := func(f *finding.Finding) bool { return f.Level == finding.Error }
	isWarning := func(f *finding.Finding) bool { return f.Level == finding.Warning }
	first := cmp.Or(cmp.Compare(count(a, (*finding.Finding).OfInput), count(b, (*finding.Finding).OfInput)), cmp.Compare(count(a, isError), count(b, isError)))
	if any {
		first = 0
	}
	return cmp.Or(
		first,
		cmp.Compare(len(a.clears)+a.may, len(b.clears)+b.may),
		cmp.Compare(len(a.clears), len(b.clears)),
		cmp.Compare(count(a, isWarning), count(b, isWarning)),
		cmp.Compare(mend[b.clears[0].Rule].Work.Rank(), mend[a.clears[0].Rule].Work.Rank()),
	) > 0
}

// begin writes the steps to begin with; false where there are none.
func (t *text) begin(fs []finding.Finding) bool {
	steps, open := start(fs, t.mend)
	if len(steps) == 0 {
		return false
	}
	all := 0
	for i := range steps {
		all += len(steps[i].clears)
	}
	t.wrapped("\n", "", "", fmt.Sprintf("Start here: %s %s %d of %s", words.Count(len(steps), "step"), verb(len(steps), "clears", "clear"), all, words.Count(open, "finding")))
	for i := range steps {
		s := &steps[i]
		var remedies []string
		for _, f := range s.clears {
			if r := firstSentence(cmp.Or(f.Remedy, t.remedy[f.Rule], f.Title, f.Rule)); !slices.Contains(remedies, r) {
				remedies = append(remedies, r)
			}
		}
		if t.fold == shortest && firm(s.clears[0]) { // the others are written out below
			remedies = remedies[:1]
		}
		t.wrapped("", fmt.Sprintf("  %d. ", i+1), "     ", strings.Join(remedies, " "))
		t.wrapped("", "     ", "     ", s.effect()+places(s.clears))
	}
	return true
}

// firstSentence is the first sentence of a text; the whole stands at the finding.
func firstSentence(s string) string {
	first, _, more := strings.Cut(words.Line(s), ". ")
	if more {
		first += "."
	}
	return first
}

// effect says what a step clears.
func (s *step) effect() string {
	errors := 0
	for _, f := range s.clears {
		if f.Level == finding.Error {
			errors++
		}
	}
	out := "Clears " + words.Count(len(s.clears), "finding")
	switch {
	case errors == len(s.clears):
		out = "Clears " + words.Count(errors, "error")
	case errors > 0:
		out += ", " + words.Count(errors, "error") + " among them"
	}
	if s.may > 0 {
		out += fmt.Sprintf(", and may settle %d more", s.may)
	}
	return out
}

// places names the first place of findings, and how many more there are.
func places(fs []*finding.Finding) string {
	var named []string
	for _, f := range fs {
		if p := place(f.At); f.At.Known() && !slices.Contains(named, p) {
			named = append(named, p)
		}
	}
	switch len(named) {
	case 0:
		return "."
	case 1:
		return " (" + named[0] + ")."
	}
	return fmt.Sprintf(" (%s and %d more %s).", named[0], len(named)-1, words.Noun(len(named)-1, "place"))
}
