package judge

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/util"

	"kitmuster/lint/measure"
	"kitmuster/lint/source"
	"kitmuster/policies"
)

const maxFile = 1 << 20

// loader collects what the standards hold.
type loader struct {
	caps    *ast.Capabilities
	modules map[string]*ast.Module
	texts   map[string]*source.Text
	// owners tells which standard has a package or a file.
	owners  map[string]int
	limits  map[string]*Limit
	limitAt map[string]Problem
	lists   map[string]*List
	// data is the document below data.limits, listData that below data.lists, both by standard.
	data     map[string]any
	listData map[string]any
	problems []Problem
}

// New reads and compiles standards together; the first is usually Base(). It
// reads every .rego file except *_test.rego, limits/<standard>/data.json and
// lists/<standard>/data.json.
// Where anything is wrong it gives no bench but the problems, sorted by place.
func New(standards ...fs.FS) (b *Bench, problems []Problem) {
	// The engine is large and its input is a stranger's: its panic is that standard's problem.
	defer func() {
		if r := recover(); r != nil {
			b, problems = nil, []Problem{{Text: fmt.Sprintf("the rules engine gave up: %v", r)}}
		}
	}()
	bound()
	caps, err := ast.LoadCapabilitiesJSON(strings.NewReader(policies.Capabilities()))
	if err != nil {
		return nil, []Problem{{File: "capabilities.json", Text: err.Error()}}
	}
	l := &loader{caps: caps, modules: map[string]*ast.Module{}, texts: map[string]*source.Text{}, owners: map[string]int{},
		limits: map[string]*Limit{}, limitAt: map[string]Problem{}, data: map[string]any{},
		lists: map[string]*List{}, listData: map[string]any{}}
	for i, s := range standards {
		l.read(i, s)
	}
	if len(l.problems) > 0 {
		return nil, l.sorted()
	}
	rules := l.catalogue()
	c := l.compile()
	if c != nil {
		l.dangling(c)
		l.stray(c)
		l.useOfLimits(c, rules)
	}
	if len(l.problems) > 0 {
		return nil, l.sorted()
	}
	data := map[string]any{"limits": l.data, "lists": l.listData}
	root, err := ast.InterfaceToValue(data)
	if err != nil {
		return nil, []Problem{{Text: fmt.Sprintf("the limits cannot be read: %v", err)}}
	}
	b = &Bench{rules: rules, byName: map[string]*Rule{}, limits: l.limits, lists: l.lists, compiler: c, deadline: deadline, limited: documents{root},
		store: inmem.NewFromObjectWithOpts(data, inmem.OptReturnASTValuesOnRead(true))}
	for _, r := range rules {
		b.byName[r.Name] = r
		if r.query, err = c.QueryCompiler().Compile(ast.NewBody(ast.Equality.Expr(ast.VarTerm(string(answer)), ast.NewTerm(r.ref)))); err != nil {
			l.problems = append(l.problems, r.problem("rule %s: %v", r.Name, err))
		}
	}
	l.answers(b)
	if len(l.problems) > 0 {
		return nil, l.sorted()
	}
	return b, nil
}

func (l *loader) add(loc *ast.Location, format string, args ...any) {
	l.problems = append(l.problems, at(loc, format, args...))
}

func at(loc *ast.Location, format string, args ...any) Problem {
	p := Problem{Text: fmt.Sprintf(format, args...)}
	if loc != nil {
		p.File, p.Line, p.Col = loc.File, loc.Row, loc.Col
	}
	return p
}

func (l *loader) sorted() []Problem {
	slices.SortFunc(l.problems, compareProblems)
	return slices.Compact(l.problems)
}

// read takes in one standard.
func (l *loader) read(index int, fsys fs.FS) {
	roots := l.roots(fsys)
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			if strings.HasPrefix(d.Name(), ".") && p != "." {
				return fs.SkipDir
			}
			return nil
		case slices.Contains([]string{"data.json", "data.yaml", "data.yml"}, d.Name()):
			return l.readData(index, fsys, p, roots)
		case path.Ext(p) == ".rego" && !strings.HasSuffix(p, "_test.rego"):
			return l.readRules(index, fsys, p, roots)
		}
		return nil
	})
	if err != nil {
		l.problems = append(l.problems, Problem{Text: err.Error()})
	}
}

// roots are the paths that the bundle's manifest claims; nil claims nothing and allows everything.
func (l *loader) roots(fsys fs.FS) []string {
	b, err := fs.ReadFile(fsys, ".manifest")
	if err != nil {
		return nil
	}
	var m struct {
		Roots []string `json:"roots"`
	}
	if err := json.Unmarshal(b, &m); err != nil {
		l.problems = append(l.problems, Problem{File: ".manifest", Line: 1, Col: 1, Text: "this is not JSON: " + err.Error()})
	}
	return m.Roots
}

func rooted(roots []string, p string) bool {
	return roots == nil || slices.ContainsFunc(roots, func(r string) bool {
		r = strings.Trim(r, "/")
		return r == "" || p == r || strings.HasPrefix(p, r+"/")
	})
}

// take opens a file, unless another standard has one of that path.
func (l *loader) take(index int, fsys fs.FS, p string) ([]byte, error) {
	if _, twice := l.owners["file "+p]; twice {
		l.problems = append(l.problems, Problem{p, 1, 1, "another standard has a file of this path; put rules below rules/<standard>"})
		return nil, nil
	}
	l.owners["file "+p] = index
	b, err := fs.ReadFile(fsys, p)
	if err == nil && len(b) > maxFile {
		l.problems = append(l.problems, Problem{p, 1, 1, "a file of a standard may not be larger than 1 MiB"})
		return nil, nil
	}
	return b, err
}

func (l *loader) readData(index int, fsys fs.FS, p string, roots []string) error {
	parts := strings.Split(p, "/")
	if len(parts) != 3 || parts[0] != "limits" && parts[0] != "lists" || parts[2] != "data.json" || !plain(parts[1]) {
		l.problems = append(l.problems, Problem{p, 1, 1, "a standard's data is its limits and official lists; write them into limits/<standard>/data.json and lists/<standard>/data.json"})
		return nil
	}
	if !rooted(roots, path.Dir(p)) {
		l.problems = append(l.problems, Problem{p, 1, 1, fmt.Sprintf("%s lies outside the roots of .manifest: %s", path.Dir(p), strings.Join(roots, ", "))})
	}
	b, err := l.take(index, fsys, p)
	if b == nil {
		return err
	}
	if parts[0] == "lists" {
		data, lists, ps := readLists(p, b)
		l.problems = append(l.problems, ps...)
		for _, list := range lists {
			if _, twice := l.lists[list.Key]; twice {
				l.problems = append(l.problems, Problem{p, 1, 1, fmt.Sprintf("list %s stands in another standard already", list.Key)})
			}
			l.lists[list.Key] = list
		}
		l.listData[parts[1]] = data
		return nil
	}
	set, ps := readLimits(p, b)
	if l.problems = append(l.problems, ps...); len(ps) > 0 {
		return nil
	}
	limits, ps := set.limits()
	l.problems = append(l.problems, ps...)
	for _, lim := range limits {
		pt := set.where[lim.Name]
		here := Problem{p, pt.Line, pt.Col, ""}
		if old, twice := l.limitAt[lim.Name]; twice {
			here.Text = fmt.Sprintf("limit %s is already set at %s:%d:%d", lim.Name, old.File, old.Line, old.Col)
			l.problems = append(l.problems, here)
			continue
		}
		l.limits[lim.Name], l.limitAt[lim.Name] = lim, here
	}
	l.data[parts[1]] = set.data
	return nil
}

func (l *loader) readRules(index int, fsys fs.FS, p string, roots []string) error {
	b, err := l.take(index, fsys, p)
	if b == nil {
		return err
	}
	l.texts[p] = source.NewText(p, b)
	if offset := tooDeep(b); offset >= 0 {
		pt := l.texts[p].Point(offset)
		l.problems = append(l.problems, Problem{p, pt.Line, pt.Col, fmt.Sprintf("brackets may not be nested deeper than %d", maxBrackets)})
		return nil
	}
	m, err := ast.ParseModuleWithOpts(p, string(b), ast.ParserOptions{ProcessAnnotation: true, Capabilities: l.caps, RegoVersion: ast.RegoV1})
	if err != nil {
		l.explain(p, err)
		return nil
	}
	if m == nil {
		return nil
	}
	loc := m.Package.Location
	var parts []string
	for _, t := range m.Package.Path[1:] {
		s, _ := t.Value.(ast.String)
		parts = append(parts, string(s))
	}
	name := strings.Join(parts, ".")
	switch {
	case parts[0] == "lib":
	case len(parts) == 3 && parts[0] == "rules" && plain(parts[1]) && plain(parts[2]):
	default:
		l.add(loc, "package %s: a file holds rules in package rules.<standard>.<area>, or helpers in package lib", name)
	}
	if !rooted(roots, strings.Join(parts, "/")) {
		l.add(loc, "package %s lies outside the roots of .manifest: %s", name, strings.Join(roots, ", "))
	}
	if owner, ok := l.owners["package "+name]; ok && owner != index {
		l.add(loc, "package %s belongs to another standard", name)
	}
	l.owners["package "+name] = index
	l.guard(m)
	l.modules[p] = m
	return nil
}

// compile checks the rules against the allow-list and the shape of the facts.
func (l *loader) compile() *ast.Compiler {
	var shape any
	if err := util.Unmarshal([]byte(measure.Schema()), &shape); err != nil {
		l.problems = append(l.problems, Problem{Text: "the facts' schema: " + err.Error()})
		return nil
	}
	schemas := ast.NewSchemaSet()
	schemas.Put(ast.SchemaRootRef, shape)
	c := ast.NewCompiler().WithStrict(true).WithUseTypeCheckAnnotations(true).WithCapabilities(l.caps).WithSchemas(schemas).SetErrorLimit(0)
	if c.Compile(l.modules); c.Failed() {
		l.explain("", c.Errors)
		return nil
	}
	return c
}

// answers asks lib.limit for each limit: a helper that reads some other place
// would make rules fall silent.
func (l *loader) answers(b *Bench) {
	fn := ast.MustParseRef("data.lib.limit")
	if len(b.compiler.GetRulesExact(fn)) == 0 {
		return
	}
	a, done := b.asker(context.Background(), ast.ObjectTerm())
	defer done()
	for _, name := range sortedKeys(l.limits) {
		area, key, _ := strings.Cut(name, ".")
		call := ast.CallTerm(ast.NewTerm(fn), ast.StringTerm(area), ast.StringTerm(key))
		here := l.limitAt[name]
		query, err := b.compiler.QueryCompiler().Compile(ast.NewBody(ast.Equality.Expr(ast.VarTerm(string(answer)), call)))
		if err != nil {
			here.Text = err.Error()
			l.problems = append(l.problems, here)
			continue
		}
		r := &Rule{Name: "lib.limit", File: here.File, Line: here.Line}
		got, problem := a.ask(query, r)
		want := l.stated(area, key)
		if problem != nil || got == nil || want == nil || got.Compare(want) != 0 {
			here.Text = fmt.Sprintf("lib.limit(%q, %q) does not give the value that is written here", area, key)
			if problem != nil {
				here.Text += ": " + problem.Text
			}
			l.problems = append(l.problems, here)
		}
	}
}

// stated is the value that a standard's file gives to a limit.
func (l *loader) stated(area, name string) ast.Value {
	for _, standard := range sortedKeys(l.data) {
		areas, _ := l.data[standard].(map[string]any)
		entries, _ := areas[area].(map[string]any)
		if entry, ok := entries[name].(map[string]any); ok {
			v, err := ast.InterfaceToValue(entry["value"])
			if err != nil {
				return nil
			}
			return v
		}
	}
	return nil
}
