package judge

import (
	"fmt"
	"maps"
	"slices"
	"sync"

	"github.com/fxamacker/cbor/v2"
	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/facts"
)

// packed is a rulebook as it is handed to another process or kept for a later run of the same program.
type packed struct {
	Rules     []packedRule
	Limits    []*packedLimit
	Lists     []packedList
	Standards []Manifest
	Off       map[string]string
	Set       []facts.OwnLimit
	// Engine is what rules are asked with: see engine in compiled.go.
	Engine []byte
}

// packedRule is a rule with the names of its limits, which stand among those of the rulebook.
type packedRule struct {
	Rule
	Limits []string
}

type packedLimit struct {
	Limit
	Number      int64
	List        []string
	Least, Most *int64
	Place       string
	Before      *packedLimit
}

// packedList has what JSON leaves out of a list.
type packedList struct {
	List
	Key   string
	Lines []packedLine
}

type packedLine struct {
	Line
	Key string
}

// packing is the same bytes for the same rulebook; unpacking takes text as it is, since paths need not be Unicode.
var (
	packing   = must(cbor.CanonicalEncOptions().EncMode())
	unpacking = must(cbor.DecOptions{UTF8: cbor.UTF8DecodeInvalid}.DecMode())
)

func must[T any](m T, err error) T {
	if err != nil {
		panic(err) // the options are constant
	}
	return m
}

// Pack writes the rulebook down, its rules compiled, for Unpack in the same version of the program: reading that takes a sixth of the time
// of compiling. The same standards give the same bytes.
func (b *Rulebook) Pack() (out []byte, err error) {
	defer func() {
		if r := recover(); r != nil {
			out, err = nil, fmt.Errorf("the rules cannot be handed on: %v", r)
		}
	}()
	p := packed{Standards: b.standards, Off: b.off, Set: b.set}
	for _, r := range b.rules {
		one := packedRule{Rule: *r}
		for _, lim := range r.Limits {
			one.Limits = append(one.Limits, lim.Name)
		}
		one.Rule.Limits = nil
		p.Rules = append(p.Rules, one)
	}
	for _, lim := range b.Limits() {
		p.Limits = append(p.Limits, packLimit(lim))
	}
	for _, list := range b.Lists() {
		one := packedList{List: *list, Key: list.Key}
		for _, line := range list.Lines {
			one.Lines = append(one.Lines, packedLine{line, line.Key})
		}
		p.Lists = append(p.Lists, one)
	}
	p.Engine = b.engine().pack(b.rules)
	return packing.Marshal(p)
}

func packLimit(l *Limit) *packedLimit {
	if l == nil {
		return nil
	}
	out := &packedLimit{Limit: *l, Number: l.number, List: l.list, Least: l.least, Most: l.most, Place: l.at, Before: packLimit(l.Before)}
	out.Limit.Before = nil
	return out
}

func (p *packedLimit) limit() *Limit {
	if p == nil {
		return nil
	}
	l := p.Limit
	l.number, l.list, l.least, l.most, l.at, l.Before = p.Number, p.List, p.Least, p.Most, p.Place, p.Before.limit()
	return &l
}

// Unpack is the way back from Pack. It believes what it is given: hand it only what this program packed and nobody else can have changed.
// The rules are made ready when something is judged for the first time.
func Unpack(from []byte) (*Rulebook, error) {
	var p packed
	if err := unpacking.Unmarshal(from, &p); err != nil {
		return nil, fmt.Errorf("this is no packed rulebook: %w", err)
	}
	b := &Rulebook{byName: map[string]*Rule{}, limits: map[string]*Limit{}, lists: map[string]*List{}, deadline: deadline, standards: p.Standards, off: p.Off, set: p.Set}
	for _, one := range p.Limits {
		b.limits[one.Name] = one.limit()
	}
	for _, one := range p.Lists {
		list := one.List
		list.Key = one.Key
		for _, line := range one.Lines {
			line.Line.Key = line.Key
			list.Lines = append(list.Lines, line.Line)
		}
		b.lists[list.Key] = &list
	}
	for _, one := range p.Rules {
		r := one.Rule
		for _, name := range one.Limits {
			lim := b.limits[name]
			if lim == nil {
				return nil, fmt.Errorf("this is no packed rulebook: rule %s has limit %q, which is not there", r.Name, name)
			}
			r.Limits = append(r.Limits, *lim)
		}
		b.rules = append(b.rules, &r)
		b.byName[r.Name] = &r
	}
	all := b.rules
	b.engine = sync.OnceValue(func() *engine { return unpackEngine(p.Engine, all) })
	return b, nil
}

// pack writes down what the engine's compiler has made of the rules.
func (e *engine) pack(rules []*Rule) []byte {
	w := newWriter()
	w.number(len(e.compiler.RewrittenVars))
	for _, v := range slices.Sorted(maps.Keys(e.compiler.RewrittenVars)) {
		w.text(string(v))
		w.text(string(e.compiler.RewrittenVars[v]))
	}
	w.number(len(e.compiler.Modules))
	for _, file := range sortedKeys(e.compiler.Modules) {
		w.text(file)
		w.module(e.compiler.Modules[file])
	}
	w.term(ast.NewTerm(e.limited.root))
	for _, r := range rules {
		w.terms(r.ref)
		w.body(r.query)
		w.number(len(r.reads))
		for _, p := range r.reads {
			w.number(p)
		}
	}
	return w.bytes()
}

// building are the stages of the engine's compiler that lay out compiled rules for asking, and change none.
var building = []ast.StageID{ast.StageSetModuleTree, ast.StageSetRuleTree, ast.StageBuildRuleIndices, ast.StageBuildComprehensionIndices}

func unpackEngine(b []byte, rules []*Rule) *engine {
	r := newReader(b)
	l, bad := newLoader()
	if bad != nil {
		panic(bad.String()) // the list of functions is part of the program
	}
	c := ast.NewCompiler().WithStrict(true).WithCapabilities(withBounded(l.caps)).
		WithSkipStages(slices.DeleteFunc(ast.AllStages(), func(s ast.StageID) bool { return slices.Contains(building, s) })...)
	for range r.count() {
		v := ast.Var(r.text())
		c.RewrittenVars[v] = ast.Var(r.text())
	}
	modules := map[string]*ast.Module{}
	for range r.count() {
		file := r.text()
		modules[file] = r.module()
	}
	if c.Compile(modules); c.Failed() {
		panic(c.Errors)
	}
	data, ok := r.term().Value.(ast.Object)
	if !ok {
		panic(errCompiled)
	}
	for _, rule := range rules {
		rule.ref, rule.query = r.terms(), r.body()
		rule.reads = make([]int, r.count())
		for i := range rule.reads {
			rule.reads[i] = r.number()
		}
	}
	return over(c, data)
}
