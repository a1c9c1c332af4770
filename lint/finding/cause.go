package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Cause is a change of what several households read, such as a line of a catalogue.
type Cause struct {
	_    struct{} `cbor:",toarray"`
	Kind CauseKind
	// What names the field or entry, such as: mass of “headlamp”; "" where the change is of a file as a whole.
	What string
	// Before and Now are its value as it is written; of what is renamed its names. "" where there is none, or for a whole entry.
	Before, Now string
	// Was and At are where it stood and stands; unknown where it did not and does not. Of a file only the file is known.
	Was, At source.Span
	// Sure says that without this change, all else being as it is, the finding would stand as it did.
	Sure bool
	// Count is how many places of the file, or how many files, have changed; 0 where that is not known.
	Count int
}

// CauseKind says what has become of a field, an entry or a file.
type CauseKind string

// The kinds of cause.
const (
	CauseValue   CauseKind = "value"   // a field has another value
	CauseNew     CauseKind = "new"     // a field or an entry is new
	CauseGone    CauseKind = "gone"    // a field or an entry is gone
	CauseRenamed CauseKind = "renamed" // an entry has another name, and says the same
	CauseFile    CauseKind = "file"    // a file has changed, is new, is gone or has moved
	CauseFiles   CauseKind = "files"   // several files have changed
)

// CauseKinds lists them.
var CauseKinds = []CauseKind{CauseValue, CauseNew, CauseGone, CauseRenamed, CauseFile, CauseFiles}

// MostCauses is how many causes are named one by one; more are told as how much of which files has changed. Our own figure.
const MostCauses = 5

// Words say the change in a clause. They hold what was read as it is written: clean them before they are shown.
func (c *Cause) Words() string {
	switch c.Kind {
	case CauseValue:
		if !c.At.Known() { // of the standard that comes with the program, which lies nowhere
			return fmt.Sprintf("%s went from %s to %s", c.What, c.Before, c.Now)
		}
		return fmt.Sprintf("%s at %s went from %s to %s", c.What, c.At, c.Before, c.Now)
	case CauseNew:
		if !c.At.Known() {
			return c.What + " is new"
		}
		if c.Now == "" {
			return fmt.Sprintf("%s at %s is new", c.What, c.At)
		}
		return fmt.Sprintf("%s at %s is new: %s", c.What, c.At, c.Now)
	case CauseGone:
		what := c.What
		if c.Before != "" {
			what += ", " + c.Before + ","
		}
		if !c.Was.Known() {
			return what + " is gone"
		}
		return fmt.Sprintf("%s is gone from %s, where it stood in line %d", what, c.Was.File, c.Was.Start.Line)
	case CauseRenamed:
		return fmt.Sprintf("%s at %s is now called “%s”", c.What, c.At, c.Now)
	case CauseFiles:
		return fmt.Sprintf("%s changed that several households read", words.Count(c.Count, "file"))
	}
	switch {
	case c.Was.File == "":
		return c.At.File + " is new"
	case c.At.File == "":
		return c.Was.File + " is gone"
	case c.Was.File != c.At.File:
		return c.Was.File + " is now " + c.At.File
	case c.Count > 0:
		return fmt.Sprintf("%s of %s changed", words.Count(c.Count, "place"), c.At.File)
	}
	return c.At.File + " changed"
}

// Place is where it stands now, else where it stood.
func (c *Cause) Place() source.Span {
	if c.At.Known() {
		return c.At
	}
	return c.Was
}

// CauseWords say several: it took all of them where they are sure, else it is one of them, or they together.
func CauseWords(cs []Cause) string {
	out := make([]string, len(cs))
	sure := true
	for i := range cs {
		out[i] = cs[i].Words()
		sure = sure && cs[i].Sure
	}
	if sure {
		return strings.Join(out, ", and ")
	}
	return strings.Join(out, ", or ")
}

// Effect is what one change did to households that read it.
type Effect struct {
	// Causes are the change, or the changes; see CauseWords.
	Causes []Cause
	// Households is how many have findings that are new or fixed by it.
	Households int
	// Rules are what they are: new ones first, then waived ones, then what is fixed, each the gravest first, then what concerns most.
	Rules []RuleEffect
}

// RuleEffect is what it did by one rule.
type RuleEffect struct {
	Rule, Title string
	Level       Level
	State       State
	// Waived says that waivers cover them.
	Waived bool
	// Households is how many have such findings, and Names what the first of them are called.
	Households int
	Names      []string
	// First is one of them.
	First Finding
}

// mostNamed is how many households are named of those that something is said of; the others are counted. Our own figure.
const mostNamed = 8

// Some lists the first of some names, and the number of the others.
func Some(names []string) string { return some(names, len(names)) }

func some(names []string, of int) string {
	names = names[:min(len(names), mostNamed)]
	s := ListOf(names)
	if n := of - len(names); n > 0 {
		s += fmt.Sprintf(" and %d more", n)
	}
	return s
}

// Named lists the households of a rule for people, with the number of those that are not named.
func (r *RuleEffect) Named() string { return some(r.Names, r.Households) }

// Effects gathers the findings that are shown by what caused them and by rule. Where a finding has no known cause it counts nowhere.
func (r *Run) Effects() ([]Effect, error) {
	type key struct {
		rule   string
		level  Level
		state  State
		waived bool
	}
	type effect struct {
		Effect
		rules map[key]*RuleEffect
	}
	all := map[string]*effect{}
	for fs, err := range r.Shown().ByPath() {
		if err != nil {
			return nil, err
		}
		seen, counted := map[*RuleEffect]bool{}, map[*effect]bool{}
		for i := range fs {
			f := &fs[i]
			if len(f.Causes) == 0 {
				continue
			}
			why := CauseWords(f.Causes)
			e := all[why]
			if e == nil {
				e = &effect{Effect{Causes: f.Causes}, map[key]*RuleEffect{}}
				all[why] = e
			}
			if !counted[e] {
				counted[e] = true
				e.Households++
			}
			k := key{f.Rule, f.Level, f.State, f.Waived != nil}
			x := e.rules[k]
			if x == nil {
				x = &RuleEffect{Rule: f.Rule, Title: f.Title, Level: f.Level, State: f.State, Waived: k.waived, First: *f}
				e.rules[k] = x
			}
			if !seen[x] {
				seen[x] = true
				if x.Households++; len(x.Names) < mostNamed {
					x.Names = append(x.Names, Title(f.Household, f.Path))
				}
			}
		}
	}
	out := make([]Effect, 0, len(all))
	for _, e := range all {
		for _, x := range e.rules {
			e.Rules = append(e.Rules, *x)
		}
		slices.SortFunc(e.Rules, func(a, b RuleEffect) int {
			return cmp.Or(a.order()-b.order(), b.Level.Rank()-a.Level.Rank(), b.Households-a.Households, strings.Compare(a.Rule, b.Rule))
		})
		out = append(out, e.Effect)
	}
	slices.SortFunc(out, func(a, b Effect) int {
		return cmp.Or(b.Households-a.Households, strings.Compare(CauseWords(a.Causes), CauseWords(b.Causes)))
	})
	return out, nil
}

// order puts new ones first, then those that are waived, then what is fixed.
func (r *RuleEffect) order() int {
	switch {
	case r.State == Mended:
		return 2
	case r.Waived:
		return 1
	}
	return 0
}
