package judge

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"
	"github.com/open-policy-agent/opa/v1/util"
	"go.yaml.in/yaml/v3"

	"kitmuster/lint/facts"
	"kitmuster/lint/source"
	"kitmuster/policies"
)

const maxFile = 1 << 20

// loader collects what the standards hold.
type loader struct {
	caps    *ast.Capabilities
	modules map[string]*ast.Module
	texts   map[string]*source.Text
	// rows are the lines of the files of rules, and blocks what is read of METADATA: see block.
	rows   map[string][]string
	blocks map[*ast.Annotations]*yaml.Node
	// owners tells which standard has a package or a file.
	owners  map[string]int
	limits  map[string]*Limit
	limitAt map[string]Problem
	lists   map[string]*List
	// data is the document below data.limits, listData that below data.lists, both by standard.
	data     map[string]any
	listData map[string]any
	problems []Problem
	layers   []*layer
	// layerOf tells the layer of a file of rules, by the path that people see.
	layerOf map[string]int
	// accepted says that the same layers were checked before: what only refuses is not asked again.
	accepted bool
}

// New is NewLayers for standards whose files people find as they are.
func New(standards ...fs.FS) (*Rulebook, []Problem) {
	layers := make([]Layer, len(standards))
	for i, s := range standards {
		layers[i].FS = s
	}
	return NewLayers(layers...)
}

// NewLayers reads and compiles standards together; the first is usually Base(). It
// reads every .rego file except *_test.rego, limits/<standard>/data.json and
// lists/<standard>/data.json.
// Where anything is wrong it gives no rulebook but the problems, sorted by place.
func NewLayers(layers ...Layer) (*Rulebook, []Problem) {
	// Tests have checked the base that is built in.
	return build(layers, builtIn(layers))
}

// builtIn reports whether the layers are the base alone as it is part of the program.
func builtIn(layers []Layer) bool { return len(layers) == 1 && layers[0].FS == Base() }

// build is NewLayers. Of layers that were accepted before, which is the base that is built in, only those checks are made that keep the
// machine safe, in about half the time.
func build(layers []Layer, accepted bool) (b *Rulebook, problems []Problem) {
	// The engine is large and its input is a stranger's: its panic is that standard's problem.
	defer func() {
		if r := recover(); r != nil {
			b, problems = nil, []Problem{{Text: fmt.Sprintf("the rules engine gave up: %v", r)}}
		}
	}()
	l, bad := newLoader()
	if bad != nil {
		return nil, []Problem{*bad}
	}
	l.accepted = accepted
	l.manifests(layers)
	for i := range l.layers {
		l.read(i)
	}
	l.isolation()
	if len(l.problems) > 0 {
		return nil, l.sorted()
	}
	rules := l.catalogue()
	// The built-in base compiles, and takes a while: that waits until somebody is judged by it.
	waits := builtIn(layers)
	var c *ast.Compiler
	if !waits {
		c = l.compile()
	}
	if c != nil && !l.accepted {
		l.dangling(c)
		l.stray(c)
		l.useOfLimits(c, rules)
	}
	off := l.offs(rules)
	if len(l.problems) > 0 {
		return nil, l.sorted()
	}
	root, err := ast.InterfaceToValue(map[string]any{"limits": l.data, "lists": l.listData})
	if err != nil {
		return nil, []Problem{{Text: fmt.Sprintf("the limits cannot be read: %v", err)}}
	}
	b = &Rulebook{rules: rules, byName: map[string]*Rule{}, limits: l.limits, lists: l.lists, deadline: deadline, set: l.reset()}
	b.off = off
	for _, y := range l.layers {
		b.standards = append(b.standards, *y.manifest)
	}
	b.rules = slices.DeleteFunc(rules, func(r *Rule) bool { return off[r.Name] != "" })
	all := b.rules
	for _, r := range all {
		b.byName[r.Name] = r
	}
	b.engine = sync.OnceValue(func() *engine {
		if waits {
			c = l.compile()
		}
		for _, r := range all {
			var err error
			if r.query, err = c.QueryCompiler().Compile(asking(r.ref)); err != nil {
				l.problems = append(l.problems, r.problem("rule %s: %v", r.Name, err))
			}
		}
		reads(c, all)
		if waits && len(l.problems) > 0 {
			panic(l.problems[0].String()) // the base is part of the program
		}
		return over(c, root.(ast.Object))
	})
	if !waits {
		b.engine()
	}
	if !l.accepted {
		l.answers(b)
	}
	if len(l.problems) > 0 {
		return nil, l.sorted()
	}
	return b, nil
}

// asking is the query for what a reference stands for.
func asking(ref ast.Ref) ast.Body {
	return ast.NewBody(ast.Equality.Expr(ast.VarTerm(string(answer)), ast.NewTerm(ref)))
}

func newLoader() (*loader, *Problem) {
	caps, err := ast.LoadCapabilitiesJSON(strings.NewReader(policies.Capabilities()))
	if err != nil {
		return nil, &Problem{File: "capabilities.json", Text: err.Error()}
	}
	return &loader{caps: caps, modules: map[string]*ast.Module{}, texts: map[string]*source.Text{}, rows: map[string][]string{}, blocks: map[*ast.Annotations]*yaml.Node{}, owners: map[string]int{},
		limits: map[string]*Limit{}, limitAt: map[string]Problem{}, data: map[string]any{},
		lists: map[string]*List{}, listData: map[string]any{}, layerOf: map[string]int{}}, nil
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
func (l *loader) read(index int) {
	fsys, roots := l.layers[index].FS, l.layers[index].manifest.Roots
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			if strings.HasPrefix(d.Name(), ".") && p != "." {
				return fs.SkipDir
			}
			return nil
		case strings.HasPrefix(d.Name(), "."): // the digest of a standard passes over what is hidden, and so does the engine
			return nil
		case slices.Contains([]string{"data.json", "data.yaml", "data.yml"}, d.Name()):
			return l.readData(index, p, roots)
		case path.Ext(p) == ".rego" && !strings.HasSuffix(p, "_test.rego"):
			return l.readRules(index, p, roots)
		}
		return nil
	})
	if err != nil {
		l.problems = append(l.problems, Problem{Text: err.Error()})
	}
}

func rooted(roots []string, p string) bool {
	return roots == nil || slices.ContainsFunc(roots, func(r string) bool {
		r = strings.Trim(r, "/")
		return r == "" || p == r || strings.HasPrefix(p, r+"/")
	})
}

// take opens a file of a layer, unless it is too large; shown is where people find it.
func (l *loader) take(index int, p string) (b []byte, shown string, err error) {
	shown = l.layers[index].shown(p)
	if _, twice := l.owners["file "+shown]; twice {
		l.problems = append(l.problems, Problem{File: shown, Line: 1, Col: 1, Text: "another standard has a file of this path; put rules below rules/<standard>"})
		return nil, shown, nil
	}
	l.owners["file "+shown] = index
	b, err = fs.ReadFile(l.layers[index].FS, p)
	if err == nil && len(b) > maxFile {
		l.problems = append(l.problems, Problem{File: shown, Line: 1, Col: 1, Text: "a file of a standard may not be larger than 1 MiB"})
		return nil, shown, nil
	}
	return b, shown, err
}

func (l *loader) readData(index int, p string, roots []string) error {
	parts := strings.Split(p, "/")
	shown := l.layers[index].shown(p)
	if len(parts) != 3 || parts[0] != "limits" && parts[0] != "lists" || parts[2] != "data.json" || !plain(parts[1]) {
		l.problems = append(l.problems, Problem{File: shown, Line: 1, Col: 1, Text: "a standard's data is its limits and official lists; write them into limits/<standard>/data.json and lists/<standard>/data.json"})
		return nil
	}
	if !rooted(roots, path.Dir(p)) {
		l.problems = append(l.problems, Problem{File: shown, Line: 1, Col: 1, Text: fmt.Sprintf("%s lies outside the roots of .manifest: %s", path.Dir(p), strings.Join(roots, ", "))})
	}
	b, shown, err := l.take(index, p)
	if b == nil {
		return err
	}
	if owner, ok := l.owners[parts[0]+" "+parts[1]]; ok && owner != index {
		l.problems = append(l.problems, Problem{File: shown, Line: 1, Col: 1, Text: fmt.Sprintf("%s/%s belongs to another standard", parts[0], parts[1])})
		return nil
	}
	l.owners[parts[0]+" "+parts[1]] = index
	if parts[0] == "lists" {
		data, lists, ps := readLists(shown, b)
		l.problems = append(l.problems, ps...)
		for _, list := range lists {
			if _, twice := l.lists[list.Key]; twice {
				l.problems = append(l.problems, Problem{File: shown, Line: 1, Col: 1, Text: fmt.Sprintf("list %s stands in another standard already", list.Key)})
			}
			l.lists[list.Key] = list
		}
		l.listData[parts[1]] = data
		return nil
	}
	set, ps := readLimits(shown, b)
	if l.problems = append(l.problems, ps...); len(ps) > 0 {
		return nil
	}
	limits, ps := set.limits()
	l.problems = append(l.problems, ps...)
	for _, lim := range limits {
		pt := set.where[lim.Name]
		here := Problem{File: shown, Line: pt.Line, Col: pt.Col, Of: ofLimit(lim.Name)}
		lim.Layer, lim.At = cmp.Or(l.layers[index].manifest.String(), parts[1]), l.layers[index].source(here, lim.at)
		if index == 0 {
			lim.Layer = parts[1]
		}
		if old := l.limits[lim.Name]; old != nil {
			if here.Text = lim.over(old); here.Text != "" {
				l.problems = append(l.problems, here)
				continue
			}
			lim.Before = old
		}
		l.limits[lim.Name], l.limitAt[lim.Name] = lim, here
	}
	l.data[parts[1]] = set.data
	return nil
}

func (l *loader) readRules(index int, p string, roots []string) error {
	return l.readRego(index, p, func(m *ast.Module, name string, parts []string) {
		loc := m.Package.Location
		switch {
		case parts[0] == "lib" && index == 0:
		case len(parts) == 3 && parts[0] == "rules" && plain(parts[1]) && plain(parts[2]):
			if own := l.layers[index].manifest; own.Name != "" && index > 0 && parts[1] != own.ID() {
				l.add(loc, "package %s: the rules of %s are in packages rules.%s.<area>", name, own.Name, own.ID())
			}
		case parts[0] == "lib":
			l.add(loc, "package %s belongs to the base standard; write helpers into package rules.<standard>.<area>", name)
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
	})
}

// readRego takes in a file of Rego; placed looks at its package, whose name it is given whole and in parts.
func (l *loader) readRego(index int, p string, placed func(m *ast.Module, name string, parts []string)) error {
	b, shown, err := l.take(index, p)
	if b == nil {
		return err
	}
	l.texts[shown] = source.NewText(shown, b)
	if offset := tooDeep(b); offset >= 0 {
		pt := l.texts[shown].Point(offset)
		l.problems = append(l.problems, Problem{File: shown, Line: pt.Line, Col: pt.Col, Text: fmt.Sprintf("brackets may not be nested deeper than %d", maxBrackets)})
		return nil
	}
	m, err := ast.ParseModuleWithOpts(shown, string(b), ast.ParserOptions{ProcessAnnotation: true, Capabilities: l.caps, RegoVersion: ast.RegoV1})
	if err != nil {
		l.explain(shown, err)
		return nil
	}
	if m == nil {
		return nil
	}
	var parts []string
	for _, t := range m.Package.Path[1:] {
		s, _ := t.Value.(ast.String)
		parts = append(parts, string(s))
	}
	placed(m, strings.Join(parts, "."), parts)
	l.guard(m)
	l.modules[shown] = m
	l.layerOf[shown] = index
	return nil
}

// compile checks the rules against the allow-list and the shape of the facts.
func (l *loader) compile() *ast.Compiler {
	c, err := l.compiler()
	if err != nil {
		l.problems = append(l.problems, *err)
		return nil
	}
	if c.Compile(l.modules); c.Failed() {
		l.explain("", c.Errors)
		return nil
	}
	return c
}

// refusing are the stages of the engine's compiler that refuse rules, change none, and keep nothing from the machine.
var refusing = []ast.StageID{
	ast.StageCheckUnusedImports, ast.StageCheckKeywordOverrides, ast.StageCheckDuplicateImports, ast.StageCheckVoidCalls, ast.StageCheckRuleConflicts, ast.StageCheckTypes,
}

// compiler is strict, and knows the allow-list and the shape of the facts.
func (l *loader) compiler() (*ast.Compiler, *Problem) {
	c := ast.NewCompiler().WithStrict(true).WithCapabilities(withBounded(l.caps)).SetErrorLimit(0).
		WithStageAfterID(ast.StageBuildRequiredCapabilities, ast.CompilerStageDefinition{Name: "CallBounded", MetricName: "call_bounded", Stage: callBounded})
	if l.accepted {
		return c.WithSkipStages(refusing...), nil
	}
	var shape any
	if err := util.Unmarshal([]byte(facts.Schema()), &shape); err != nil {
		return nil, &Problem{Text: "the facts' schema: " + err.Error()}
	}
	schemas := ast.NewSchemaSet()
	schemas.Put(ast.SchemaRootRef, shape)
	return c.WithUseTypeCheckAnnotations(true).WithSchemas(schemas), nil
}

// answers asks lib.limit for each limit: a helper that reads some other place
// would make rules fall silent.
func (l *loader) answers(b *Rulebook) {
	fn := ast.MustParseRef("data.lib.limit")
	if len(b.engine().compiler.GetRulesExact(fn)) == 0 {
		return
	}
	a, done := b.asker(context.Background(), ast.ObjectTerm())
	defer done()
	a.cache = topdown.NewVirtualCache() // which knows no answer beforehand
	for _, name := range sortedKeys(l.limits) {
		area, key, _ := strings.Cut(name, ".")
		if l.stated(area, key) == nil {
			continue // of a later standard, which reads its own
		}
		call := ast.CallTerm(ast.NewTerm(fn), ast.StringTerm(area), ast.StringTerm(key))
		here := l.limitAt[name]
		query, err := b.engine().compiler.QueryCompiler().Compile(ast.NewBody(ast.Equality.Expr(ast.VarTerm(string(answer)), call)))
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

// stated is the value that the base standard's file gives to a limit; nil where it has none of the name.
func (l *loader) stated(area, name string) ast.Value {
	areas, _ := l.data[baseName].(map[string]any)
	entries, _ := areas[area].(map[string]any)
	entry, ok := entries[name].(map[string]any)
	if !ok {
		return nil
	}
	v, err := ast.InterfaceToValue(entry["value"])
	if err != nil {
		return nil
	}
	return v
}
