package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// What a change of a shared file does to many households is told once, at the change. How many households are many, and how many
// changes and rules of each a page lists, are our own figures.
const (
	manyHouseholds  = 3
	mostEffects     = 5
	mostEffectRules = 8
)

// effects are what changes of shared files did to many households, and of which findings they tell.
type effects struct {
	list []finding.Effect
	many map[string]bool // by the words of the causes
	// all are those that concern few, too.
	all []finding.Effect
}

// effectsOf gathers them, where there is an earlier state to compare with.
func effectsOf(run *finding.Run) (*effects, error) {
	x := &effects{many: map[string]bool{}}
	if run.Since == "" {
		return x, nil
	}
	var err error
	if x.all, err = run.Effects(); err != nil {
		return nil, err
	}
	for _, e := range x.all {
		if e.Households >= manyHouseholds {
			x.list = append(x.list, e)
			x.many[finding.CauseWords(e.Causes)] = true
		}
	}
	return x, nil
}

// tells reports whether the finding is told with the change that caused it, and so need not be told for its household.
func (x *effects) tells(f *finding.Finding) bool {
	return len(f.Causes) > 0 && x.many[finding.CauseWords(f.Causes)]
}

// of takes what some changes did, by rule; what is left is told apart from them.
func (x *effects) of(causes []finding.Cause) []finding.RuleEffect {
	why := finding.CauseWords(causes)
	i := slices.IndexFunc(x.all, func(e finding.Effect) bool { return finding.CauseWords(e.Causes) == why })
	if i < 0 {
		return nil
	}
	rules := x.all[i].Rules
	x.all = slices.Delete(x.all, i, i+1)
	return rules
}

// rest are the findings that are not told with a change.
func (x *effects) rest(fs []finding.Finding) (out []finding.Finding) {
	for i := range fs {
		if !x.tells(&fs[i]) {
			out = append(out, fs[i])
		}
	}
	return out
}

// did says in a few words what became of the findings of a rule.
func did(r *finding.RuleEffect) string { return kind(&r.First) }

// effects writes what changes of shared files did, for a terminal.
func (t *text) effects(list []finding.Effect) {
	t.wrapped("", "", "", "Changed in files that several households read:")
	for i := range list {
		e := &list[i]
		t.wrapped("\n", "  ", "    ", fmt.Sprintf("%s: something is new or fixed in %s", finding.CauseWords(e.Causes), words.Count(e.Households, "household")))
		t.rules("    ", e.Rules)
	}
	fmt.Fprintln(t.b)
}

// rules writes what a change did by each rule.
func (t *text) rules(indent string, rules []finding.RuleEffect) {
	for k := range rules {
		r := &rules[k]
		if !t.o.Long && k == mostEffectRules {
			t.wrapped("", indent, "", fmt.Sprintf("and what is new or fixed by %s", words.Count(len(rules)-k, "more rule")))
			break
		}
		t.wrapped("", indent, indent+"  ", fmt.Sprintf("%s in %s: %s [%s]", t.o.level(r.Level, did(r)), words.Count(r.Households, "household"), titleOf(r), r.Rule))
		t.wrapped("", indent+"  ", indent+"  ", r.Named())
		if !t.o.Long && r.State == finding.New && !r.Waived {
			t.wrapped("", indent+"  such as: ", indent+"    ", fmt.Sprintf("%s (%s)", r.First.Message, spoken(&r.First)))
		}
	}
}

func titleOf(r *finding.RuleEffect) string {
	if r.Title != "" {
		return r.Title
	}
	return r.Rule
}

// lineEffects writes them in lines, each at the change; what is of the base standard, or switched off, stands in no file.
func lineEffects(w io.Writer, list []finding.Effect) {
	for i := range list {
		e := &list[i]
		at := place(e.Causes[0].Place())
		if at == "" {
			if at = "the standard"; e.Causes[0].Kind == finding.CauseFiles {
				at = "shared files"
			}
		}
		for k := range e.Rules {
			r := &e.Rules[k]
			fmt.Fprintf(w, "%s: cause: %s: %s in %s: %s [%s]\n", at, words.Clean(finding.CauseWords(e.Causes)), did(r), words.Count(r.Households, "household"), words.Clean(r.Named()), r.Rule)
		}
	}
}

// markdownEffects writes them, bounded.
func markdownEffects(b io.Writer, list []finding.Effect) {
	for i := range list {
		e := &list[i]
		if i == mostEffects {
			fmt.Fprintf(b, "\nWhat %s did is not listed here.\n", words.Count(len(list)-i, "more change"))
			break
		}
		fmt.Fprintf(b, "\n### %s\n\nSomething is new or fixed in %s:\n\n", mark(finding.CauseWords(e.Causes)), words.Count(e.Households, "household"))
		markdownRules(b, e.Rules)
	}
}

// markdownRules writes what a change did by each rule, bounded; what is waived is only counted, as everywhere on that page.
func markdownRules(b io.Writer, rules []finding.RuleEffect) {
	rules = slices.DeleteFunc(slices.Clone(rules), func(r finding.RuleEffect) bool { return r.Waived })
	for k := range rules {
		r := &rules[k]
		if k == mostEffectRules {
			fmt.Fprintf(b, "- and what is new or fixed by %s\n", words.Count(len(rules)-k, "more rule"))
			break
		}
		fmt.Fprintf(b, "- **%s** in %s: %s (%s): %s\n", did(r), words.Count(r.Households, "household"), mark(titleOf(r)), mark(r.Rule), mark(r.Named()))
	}
}

// since is what caused a finding, to be said after it; "" where that is not known.
func since(f *finding.Finding) string {
	if len(f.Causes) == 0 {
		return ""
	}
	return "since " + finding.CauseWords(f.Causes)
}

// aboutOne begins a remark about one household, and tails are what may follow its folder and what is said of several.
const aboutOne = "the household at "

var tails = []struct{ one, several string }{
	{" could be judged before: nothing counts as fixed", "could be judged before: nothing counts as fixed there"},
	{" could not be judged before: what shows now counts as new", "could not be judged before: what shows there now counts as new"},
	{" is gone", "are gone"},
	{" is in the report and is not checked here", "are in the report and are not checked here"},
}

// remarks are those of a run; one that is made of many households is told once.
func remarks(run *finding.Run) (out []string) {
	of := make([][]string, len(tails))
	tail := func(r string) int {
		for i, t := range tails {
			if strings.HasPrefix(r, aboutOne) && strings.HasSuffix(r, t.one) {
				return i
			}
		}
		return -1
	}
	for _, r := range run.Remarks {
		if i := tail(r); i >= 0 {
			of[i] = append(of[i], strings.TrimSuffix(strings.TrimPrefix(r, aboutOne), tails[i].one))
		}
	}
	said := map[int]bool{}
	for _, r := range run.Remarks {
		i := tail(r)
		switch {
		case i < 0 || len(of[i]) < manyHouseholds:
			out = append(out, r)
		case !said[i]:
			said[i] = true
			out = append(out, fmt.Sprintf("%s %s: %s", words.Count(len(of[i]), "household"), tails[i].several, finding.Some(of[i])))
		}
	}
	return out
}
