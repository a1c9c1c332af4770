package audit

import (
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Act is the kind of thing that a household does about a finding. It follows from the rule, never from the finding.
type Act string

// The acts, in an order in which none undoes another: what takes longest is begun first, nothing goes in before there is room for it,
// and the packs are looked through once they are as they should be.
const (
	Correct Act = "correct" // what could not be read
	Order   Act = "order"   // medicines
	Swap    Act = "swap"
	Lighten Act = "lighten"
	Repack  Act = "repack"
	PutIn   Act = "put in"
	Decide  Act = "decide"
	Check   Act = "look through"
	Record  Act = "write down"
	// Unnamed stands for rules that are held back or not known.
	Unnamed Act = "unnamed"
)

// Acts are all of them, in their order.
var Acts = []Act{Correct, Order, Swap, Lighten, Repack, PutIn, Decide, Check, Record, Unnamed}

// actOf maps kinds of work to acts. Medicines and faults of the input are told apart in ActOf.
var actOf = map[finding.Work]Act{
	finding.ToExchange: Swap, finding.ToLeave: Lighten, finding.ToMove: Repack, finding.ToAdd: PutIn, finding.ToDecide: Decide, finding.ToCheck: Check, finding.ToWrite: Record,
}

// Area is the area of a rule, without the standard that the rule is of.
func Area(rule string) string {
	if _, r, ok := strings.Cut(rule, ":"); ok {
		rule = r
	}
	a, _, _ := strings.Cut(rule, "/")
	return a
}

// ActOf is the act that a rule's remedy names.
func ActOf(rule string, work finding.Work) Act {
	switch a := Area(rule); {
	case a == "input":
		return Correct
	case a == "medication" && work.Brings():
		return Order
	}
	if a := actOf[work]; a != "" {
		return a
	}
	return Unnamed
}

// ofHealth are the areas of rules whose findings tell of a person's health. Those stand on the household's own page only.
var ofHealth = []string{"medication", "care", "mobility", "pregnancy"}

// OfHealth reports whether a rule tells of a person's health.
func OfHealth(rule string) bool { return slices.Contains(ofHealth, Area(rule)) }

// Task is all that a household has to do of one kind, with the findings that this clears, the gravest first.
type Task struct {
	Act      Act
	Findings []*finding.Finding
	// Errors, Warnings and Notes count the findings.
	Errors, Warnings, Notes int
}

// Tasks are what a household has to do, in the order of the acts; what is waived is left out. Fixes are those of the rules.
func (a *Audited) Tasks(fixes map[string]finding.Fix) (out []Task) {
	by := map[Act]*Task{}
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Waived != nil {
			continue
		}
		act := ActOf(f.Rule, fixes[f.Rule].Work)
		t := by[act]
		if t == nil {
			t = &Task{Act: act}
			by[act] = t
		}
		t.Findings = append(t.Findings, f)
		switch f.Level {
		case finding.Error:
			t.Errors++
		case finding.Warning:
			t.Warnings++
		default:
			t.Notes++
		}
	}
	for _, act := range Acts {
		if t := by[act]; t != nil {
			slices.SortStableFunc(t.Findings, func(x, y *finding.Finding) int { return y.Level.Rank() - x.Level.Rank() })
			out = append(out, *t)
		}
	}
	return out
}

// Fixes are those of rules, by their names.
func Fixes(rules []finding.Rule) map[string]finding.Fix {
	out := make(map[string]finding.Fix, len(rules))
	for i := range rules {
		out[rules[i].Name] = rules[i].Mend
	}
	return out
}

// Distance is how many errors lie between a household and being ready.
func (a *Audited) Distance() (n int) {
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Waived == nil && f.Level == finding.Error {
			n++
		}
	}
	return n
}

// Next says in a few words the biggest step of a household: about its errors, else about its warnings, else its notes. Of these, what
// cannot be read comes first, then medicine, which takes longest, then a load over its cap, then what settles most findings. Aloud
// leaves out what tells of a person's health, as it is for a sheet on a wall.
func (a *Audited) Next(tasks []Task, fixes map[string]finding.Fix, aloud bool) string {
	t, l := a.next(tasks, aloud)
	if t == nil {
		return ""
	}
	return a.Says(t, l, fixes, aloud)
}

// next is the biggest step, of the gravest level that is open; nil where nothing is.
func (a *Audited) next(tasks []Task, aloud bool) (best *Task, level finding.Level) {
	_, over := a.heaviest()
	for _, l := range []finding.Level{finding.Error, finding.Warning, finding.Note} {
		most := 0
		for i := range tasks {
			t := &tasks[i]
			n := len(said(t, l, aloud))
			if n > 0 && (t.Act == Correct || t.Act == Order || t.Act == Lighten && over > 0) {
				return t, l
			}
			if n > most {
				best, most = t, n
			}
		}
		if best != nil {
			return best, l
		}
	}
	return nil, ""
}

// Command is the one command with which a household does its next step, from the folder where the audit ran: the one that does it
// beside the packs, or that shows what there is to do. With nothing open it goes through the dates that fall due until the audit's
// last day; "" where there are none.
func (a *Audited) Command(tasks []Task, until int64) string {
	path := a.Household.Path
	if words.Clean(path) != path { // such a path cannot be copied from a page
		return ""
	}
	if strings.HasPrefix(path, "-") {
		path = "./" + path
	}
	path = words.Shell(path)
	t, l := a.next(tasks, false)
	if t == nil {
		if a.Sheet == nil || !slices.ContainsFunc(a.Sheet.Due, func(d Due) bool { return d.Kind != kinds.DateWaiver && d.Day <= until }) {
			return ""
		}
		return "kitmuster renew --until " + unit.Date(until).String() + " " + path
	}
	fs := said(t, l, false)
	does := func(is func(*finding.Finding) bool) bool { return slices.ContainsFunc(fs, is) }
	switch t.Act {
	case Correct:
		if does(func(f *finding.Finding) bool { return f.Edit != nil }) {
			return "kitmuster check --fix --show error " + path
		}
	case Swap, Order:
		if does(func(f *finding.Finding) bool { return past(f.Rule) }) {
			return "kitmuster renew " + path
		}
	case Lighten, Repack:
		if l == finding.Error {
			return "kitmuster remedy " + path
		}
		return "kitmuster remedy --until " + string(l) + " " + path
	case Check:
		if does(func(f *finding.Finding) bool { return Area(f.Rule) == "load" }) {
			return "kitmuster weigh " + path
		}
		if does(func(f *finding.Finding) bool { return f.Rule == "practice/audited" }) {
			return "kitmuster list " + path
		}
	case Record:
		if does(func(f *finding.Finding) bool { return f.Rule == judge.NotRecorded }) {
			return "kitmuster describe " + path
		}
	}
	return "kitmuster check --show " + string(l) + " " + path
}

// past reports whether a rule speaks of a day that has passed or soon will.
func past(rule string) bool {
	return Area(rule) == "dates" || strings.HasSuffix(rule, "/expired")
}

// said are the findings of a task at one level; aloud leaves out what tells of a person's health.
func said(t *Task, level finding.Level, aloud bool) (fs []*finding.Finding) {
	for _, f := range t.Findings {
		if f.Level == level && (!aloud || !OfHealth(f.Rule)) {
			fs = append(fs, f)
		}
	}
	return fs
}

// Says puts a task at one level into a few words; "" where there is nothing to do.
func (a *Audited) Says(t *Task, level finding.Level, fixes map[string]finding.Fix, aloud bool) string {
	fs := said(t, level, aloud)
	n := len(fs)
	if n == 0 {
		return ""
	}
	all := func(rule string) bool {
		return !slices.ContainsFunc(fs, func(f *finding.Finding) bool { return f.Rule != rule })
	}
	switch t.Act {
	case Correct:
		return "Correct the kit files"
	case Order:
		return "Order medicine"
	case Swap:
		if all("dates/expired") {
			return "Replace " + words.Count(n, "expired thing")
		}
		return "Swap " + words.Count(n, "thing")
	case Lighten:
		if name, over := a.heaviest(); over > 0 {
			return fmt.Sprintf("Take %s from %s", words.Amounts{Units: a.Sheet.Units}.Brief(over), words.Clean(name))
		}
		return "Take something out"
	case Repack:
		return "Repack " + words.Count(n, "thing")
	case PutIn:
		return putIn(fs, fixes)
	case Decide:
		if all("waiver/past") {
			return "Renew or end " + waivers(n)
		}
		return "Decide " + words.Count(n, "thing")
	case Check:
		if all("practice/audited") {
			return "Look through all packs"
		}
		return "Weigh, test or practise"
	case Record:
		return "Write down " + words.Count(n, "thing")
	}
	return "See its findings"
}

func waivers(n int) string {
	if n == 1 {
		return "a waiver"
	}
	return words.Count(n, "waiver")
}

// heaviest returns who is most over the cap, and by how much.
func (a *Audited) heaviest() (name string, over int64) {
	if a.Sheet == nil {
		return "", 0
	}
	for i := range a.Sheet.Bearers {
		if b := &a.Sheet.Bearers[i]; b.LoadMG-b.CapMG > over {
			name, over = b.Name, b.LoadMG-b.CapMG
		}
	}
	return name, over
}

// putIn names what goes in where all findings lack the same, and else counts them.
func putIn(fs []*finding.Finding, fixes map[string]finding.Fix) string {
	thing := fixes[fs[0].Rule].Thing
	for _, f := range fs {
		if fixes[f.Rule].Thing != thing {
			thing = ""
		}
	}
	if finding.Stuffs[thing] != "" {
		return "Add " + thing
	}
	if c := kinds.Capability(thing).Row(); c.Kind != "" {
		return "Add " + a(c.Only)
	}
	return "Add " + words.Count(len(fs), "missing thing")
}

// a puts an article before a noun that can be counted.
func a(only string) string {
	kind, _, _ := strings.Cut(only, " ")
	if slices.Contains([]string{"first", "footwear", "gloves", "identification", "protective", "rain", "shelter", "sheeting", "sun", "tinder"}, kind) {
		return only
	}
	if strings.ContainsAny(only[:1], "aeiou") {
		return "an " + only
	}
	return "a " + only
}

// Nearest returns the carrier with the highest load as a share of the cap; nil where nobody carries a pack or no cap is known.
func (s *Sheet) Nearest() *Bearer {
	var out *Bearer
	for i := range s.Bearers {
		b := &s.Bearers[i]
		if b.CapMG > 0 && (out == nil || float64(b.LoadMG)*float64(out.CapMG) > float64(out.LoadMG)*float64(b.CapMG)) {
			out = b
		}
	}
	return out
}

// Stock is the household's stock of a kind, nil where the sheet has none.
func (s *Sheet) Stock(kind kinds.Stock) *finding.Stock {
	for i := range s.Stocks {
		if x := &s.Stocks[i]; x.Kind == kind && x.Of == "" {
			return x
		}
	}
	return nil
}
