package judge

import (
	"cmp"
	"context"
	"crypto/sha256"
	"reflect"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/wire"
)

// What rules said of a kit holds as long as the facts that they read are the same. Which these are is known from the compiled rules, so
// on the next day only those are asked that read a day, or a fact that follows from one.

// fact is one part of the facts that rules are told apart by: a list, or a field of a struct such as audit.
type fact struct {
	top, field int    // field is -1 of a list
	name       string // of a field within its struct
}

// parts are the facts in the order of their fields, and partsOf the places among them of what a name at the top stands for.
var parts, partsOf = func() (out []fact, of map[string][]int) {
	of = map[string][]int{}
	t := reflect.TypeFor[facts.Facts]()
	for i := range t.NumField() {
		f := t.Field(i)
		add := func(field int, name string) {
			of[f.Tag.Get("json")] = append(of[f.Tag.Get("json")], len(out))
			out = append(out, fact{i, field, name})
		}
		if f.Type.Kind() != reflect.Struct {
			add(-1, "")
			continue
		}
		for k := range f.Type.NumField() {
			add(k, f.Type.Field(k).Tag.Get("json"))
		}
	}
	return out, of
}()

// daily are the parts that are others on each day.
var daily = func() []bool {
	out := make([]bool, len(parts))
	for _, p := range partsOf["audit"] {
		out[p] = parts[p].name != "units"
	}
	for _, p := range partsOf["dates"] {
		out[p] = true
	}
	return out
}()

// sumSize is how much of a SHA-256 stands for a part of the facts.
const sumSize = 16

// sums are those of all parts, one after another.
func sums(f *facts.Facts) []byte {
	out := make([]byte, 0, len(parts)*sumSize)
	v := reflect.ValueOf(f).Elem()
	var b []byte
	for _, p := range parts {
		part := v.Field(p.top)
		if p.field >= 0 {
			part = part.Field(p.field)
		}
		b = wire.AppendValue(b[:0], part)
		sum := sha256.Sum256(b)
		out = append(out, sum[:sumSize]...)
	}
	return out
}

// reads finds which parts of the facts the rules read, by themselves and through helpers.
func reads(c *ast.Compiler, rules []*Rule) {
	direct := map[*ast.Rule][]int{}
	for _, r := range rules {
		seen, found := map[*ast.Rule]bool{}, map[int]bool{}
		var visit func(x *ast.Rule)
		visit = func(x *ast.Rule) {
			if x == nil || seen[x] {
				return
			}
			seen[x] = true
			own, ok := direct[x]
			if !ok {
				own = readBy(x)
				direct[x] = own
			}
			for _, p := range own {
				found[p] = true
			}
			for dep := range c.Graph.Dependencies(x) {
				if d, ok := dep.(*ast.Rule); ok {
					visit(d)
				}
			}
			visit(x.Else)
		}
		for _, x := range c.GetRulesExact(r.ref) {
			visit(x)
		}
		r.reads = make([]int, 0, len(found))
		for p := range found {
			r.reads = append(r.reads, p)
		}
		slices.Sort(r.reads)
	}
}

// readBy lists the parts of the facts that a rule itself reads: all of them where it does not say by name which.
func readBy(rule *ast.Rule) (out []int) {
	all := func() {
		for i := range parts {
			out = append(out, i)
		}
	}
	var v *ast.GenericVisitor
	v = ast.NewGenericVisitor(func(x any) bool {
		switch x := x.(type) {
		case ast.Ref:
			if !x.HasPrefix(ast.InputRootRef) {
				return false
			}
			for _, t := range x[1:] { // not its head, which by itself is all facts
				v.Walk(t)
			}
			top, ok := named(x, 1)
			if !ok {
				all()
				return true
			}
			field, ok := named(x, 2)
			for _, p := range partsOf[top] {
				if parts[p].field < 0 || !ok || parts[p].name == field {
					out = append(out, p)
				}
			}
			return true
		case ast.Var:
			if x.Equal(ast.InputRootDocument.Value) {
				all()
			}
		}
		return false
	})
	v.Walk(rule)
	return out
}

// named is the i-th part of a reference where it is a text.
func named(r ast.Ref, i int) (string, bool) {
	if i >= len(r) {
		return "", false
	}
	s, ok := r[i].Value.(ast.String)
	return string(s), ok
}

// kept is what is kept of a judging.
type kept struct {
	// Sums are those of the facts then.
	Sums string
	// Rules are those of the rulebook in its order.
	Rules []keptRule
}

type keptRule struct {
	// Asked: the rule was asked and did not break.
	Asked    bool
	Verdicts []keptVerdict
}

// keptVerdict is a Verdict without its rule.
type keptVerdict struct {
	At, Text            string
	Because, Unrecorded []string
	Lack                int64
	Level               finding.Level
}

// verdict is the way back; false where a rule would not have been let say so of the kit as it is.
func (s *keptVerdict) verdict(r *Rule, known func(string) bool) (Verdict, bool) {
	v := Verdict{Rule: r, At: s.At, Text: s.Text, Because: s.Because, Unrecorded: s.Unrecorded, Lack: s.Lack, Level: s.Level}
	_, err := finding.ParseLevel(string(s.Level))
	unknown := func(id string) bool { return !known(id) }
	return v, err == nil && s.Level.Rank() <= r.Level.Rank() && known(s.At) && len(s.Text) <= maxText && strings.TrimSpace(s.Text) != "" &&
		!slices.ContainsFunc(s.Because, unknown) && !slices.ContainsFunc(s.Unrecorded, unknown) && (r.Lack == nil) == (s.Lack == 0)
}

// JudgeAgain is JudgeFrom where before is what it gave of the same kit another day, by the same rules; nil where there is nothing. Rules
// whose facts are still the same are not asked again. What comes of it goes with the verdicts, for the next time; nil where before serves
// as well, since only such rules were asked as will be asked on each day.
func (b *Rulebook) JudgeAgain(ctx context.Context, least finding.Level, f *facts.Facts, known func(id string) bool, before []byte) (vs []Verdict, faults []Fault, now []byte) {
	b.engine()
	var was kept
	usable := wire.Read(before, &was) == nil && len(was.Rules) == len(b.rules) && len(was.Sums) == len(parts)*sumSize
	is := kept{Sums: string(sums(f)), Rules: make([]keptRule, len(b.rules))}
	same := make([]bool, len(parts))
	for i := range parts {
		same[i] = usable && was.Sums[i*sumSize:(i+1)*sumSize] == is.Sums[i*sumSize:(i+1)*sumSize]
	}
	still := func(i int) (out []Verdict, ok bool) {
		r := b.rules[i]
		if !usable || !was.Rules[i].Asked || slices.ContainsFunc(r.reads, func(p int) bool { return !same[p] }) {
			return nil, false
		}
		for k := range was.Rules[i].Verdicts {
			v, ok := was.Rules[i].Verdicts[k].verdict(r, known)
			if !ok {
				return nil, false
			}
			out = append(out, v)
		}
		return out, true
	}
	var ask []int
	needed := make([]bool, reflect.TypeFor[facts.Facts]().NumField())
	for i, r := range b.rules {
		if good, ok := still(i); ok {
			is.Rules[i] = was.Rules[i]
			if r.Level.Rank() >= least.Rank() {
				vs = append(vs, good...)
			}
		} else if r.Level.Rank() >= least.Rank() {
			ask = append(ask, i)
			for _, p := range r.reads {
				needed[parts[p].top] = true
			}
		}
	}
	keep := !usable
	if len(ask) > 0 {
		a, done := b.asker(ctx, encodeSome(f, needed))
		defer done()
		for _, i := range ask {
			r := b.rules[i]
			keep = keep || !slices.ContainsFunc(r.reads, func(p int) bool { return daily[p] })
			good, problem := a.verdicts(r, known)
			vs = append(vs, good...)
			if problem != nil {
				faults = append(faults, Fault{r, *problem})
				continue
			}
			is.Rules[i].Asked = true
			for _, v := range good {
				is.Rules[i].Verdicts = append(is.Rules[i].Verdicts, keptVerdict{v.At, v.Text, v.Because, v.Unrecorded, v.Lack, v.Level})
			}
		}
	}
	if keep {
		now = wire.Append(nil, &is)
	}
	return settled(vs, least), faults, now
}

// settled are the verdicts of a level and graver, and all of NotRecorded, in order.
func settled(vs []Verdict, least finding.Level) []Verdict {
	vs = slices.DeleteFunc(vs, func(v Verdict) bool { return v.Level.Rank() < least.Rank() && v.Rule.Name != NotRecorded })
	slices.SortFunc(vs, func(a, b Verdict) int {
		return cmp.Or(strings.Compare(a.Rule.Name, b.Rule.Name), strings.Compare(a.At, b.At), strings.Compare(a.Text, b.Text),
			slices.Compare(a.Because, b.Because), slices.Compare(a.Unrecorded, b.Unrecorded))
	})
	return vs
}
