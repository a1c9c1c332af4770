package judge

import (
	"errors"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// The compiler cannot be stopped and takes exponential time over some shapes,
// so they are refused first. Our own figures, far above any honest rule.
const (
	maxBrackets = 64
	maxNest     = 4
	maxBody     = 200
	maxRules    = 2000
	maxElse     = 50
)

// tooDeep finds the first bracket beyond maxBrackets; line 0 where there is none.
func tooDeep(b []byte) (line, col int) {
	depth, row, start := 0, 1, 0
	var quote byte
	comment := false
	for i := 0; i < len(b); i++ {
		switch c := b[i]; {
		case c == '\n':
			row, start, comment = row+1, i+1, false
			if quote == '"' { // ends with its line
				quote = 0
			}
		case comment:
		case quote != 0:
			if c == '\\' && quote == '"' {
				i++
			} else if c == quote {
				quote = 0
			}
		case c == '"' || c == '`':
			quote = c
		case c == '#':
			comment = true
		case strings.IndexByte("([{", c) >= 0:
			if depth++; depth > maxBrackets {
				return row, i - start + 1
			}
		case strings.IndexByte(")]}", c) >= 0:
			depth--
		}
	}
	return 0, 0
}

// guard refuses shapes that make the compiler slow.
func (l *loader) guard(m *ast.Module) {
	if len(m.Rules) > maxRules {
		l.add(m.Package.Location, "a file may not have more than %d rules", maxRules)
	}
	for _, r := range m.Rules {
		elses := 0
		for e := r.Else; e != nil; e = e.Else {
			elses++
		}
		if elses > maxElse {
			l.add(r.Loc(), "a rule may not have more than %d else branches", maxElse)
		}
		deepest := 0
		var visit func(x any, depth int)
		visit = func(x any, depth int) {
			deepest = max(deepest, depth)
			ast.NewGenericVisitor(func(y any) bool {
				switch c := y.(type) {
				case *ast.ArrayComprehension:
					visit(c.Term, depth+1)
					visit(c.Body, depth+1)
					return true
				case *ast.SetComprehension:
					visit(c.Term, depth+1)
					visit(c.Body, depth+1)
					return true
				case *ast.ObjectComprehension:
					visit(c.Key, depth+1)
					visit(c.Value, depth+1)
					visit(c.Body, depth+1)
					return true
				case ast.Body:
					if len(c) > maxBody {
						l.add(r.Loc(), "a rule body may not have more than %d lines", maxBody)
					}
				}
				return false
			}).Walk(x)
		}
		visit(r, 0)
		if deepest > maxNest {
			l.add(r.Loc(), "comprehensions may not be nested deeper than %d", maxNest)
		}
	}
}

// explain turns the engine's errors into problems, in our own words where that helps.
func (l *loader) explain(file string, err error) {
	var es ast.Errors
	if !errors.As(err, &es) {
		l.problems = append(l.problems, Problem{File: file, Text: err.Error()})
		return
	}
	for _, e := range es {
		p := at(e.Location, "%s", e.Message)
		if p.File == "" {
			p.File = file
		}
		if name, ok := strings.CutPrefix(e.Message, "undefined function "); ok && ast.BuiltinMap[name] != nil {
			p.Text = name + " is not available to rules: they see only the facts, no clock, no network and nothing random"
		}
		if d, ok := e.Details.(*ast.RefErrInvalidDetail); ok && d.Pos < len(d.Ref) {
			if loc := d.Ref[d.Pos].Location; loc != nil {
				p.Line, p.Col = loc.Row, loc.Col
			}
			var names []string
			for _, v := range d.OneOf {
				names = append(names, strings.Trim(v.String(), `"`))
			}
			slices.Sort(names)
			written := strings.Trim(d.Ref[d.Pos].String(), `"`)
			p.Text = "no fact " + written + " in " + d.Ref[:d.Pos].String()
			if m := meant(written, names); m != "" {
				p.Text += m
			} else {
				p.Text += "; there are " + strings.Join(names, ", ")
			}
		}
		l.problems = append(l.problems, p)
	}
}

// dangling reports references below data that neither a rule nor a limit can
// answer: to the engine they are merely undefined, so the rule would never object
// and nobody would know.
func (l *loader) dangling(c *ast.Compiler) {
	document := map[string]any{"limits": l.data}
	for _, file := range sortedKeys(c.Modules) {
		ast.WalkRefs(c.Modules[file], func(r ast.Ref) bool {
			if len(r) < 2 || !r[0].Equal(ast.DefaultRootDocument) {
				return false
			}
			node, doc := c.RuleTree.Child(r[0].Value), any(document)
			for i, t := range r[1:] {
				key, ground := t.Value.(ast.String)
				if !ground || node != nil && len(node.Values) > 0 {
					return false
				}
				if node != nil {
					node = node.Child(t.Value)
				}
				if m, is := doc.(map[string]any); is {
					doc = m[string(key)]
				} else if doc != nil {
					return false
				}
				if node == nil && doc == nil {
					l.add(r[0].Location, "nothing is called %v", r[:i+2])
					return false
				}
			}
			return false
		})
	}
}

// stray reports constant field names that no fact, no object of the rules' own
// and no rule carries. The engine's type check sees most misspelt facts, but not
// those inside a function's arguments, every and walk.
func (l *loader) stray(c *ast.Compiler) {
	known := map[string]bool{}
	learn := func(names ...string) {
		for _, n := range names {
			known[n] = true
		}
	}
	for name := range ast.BuiltinMap {
		learn(strings.Split(name, ".")...)
	}
	learn(l.factNames()...)
	for _, m := range l.modules {
		for _, t := range m.Package.Path {
			if s, ok := t.Value.(ast.String); ok {
				learn(string(s))
			}
		}
		for _, r := range m.Rules {
			for _, t := range r.Head.Ref() {
				switch v := t.Value.(type) {
				case ast.String:
					learn(string(v))
				case ast.Var:
					learn(string(v))
				}
			}
			ast.WalkTerms(r, func(t *ast.Term) bool {
				if o, ok := t.Value.(ast.Object); ok {
					o.Foreach(func(k, _ *ast.Term) {
						if s, ok := k.Value.(ast.String); ok {
							learn(string(s))
						}
					})
				}
				return false
			})
		}
	}
	for _, entry := range l.limits {
		area, name, _ := strings.Cut(entry.Name, ".")
		learn(area, name)
	}
	learn("value", "unit", "meaning", "source", "limits", "data")
	names := sortedKeys(known)
	for _, file := range sortedKeys(l.modules) {
		for _, r := range l.modules[file].Rules {
			ast.WalkRefs(r, func(ref ast.Ref) bool {
				for _, t := range ref[1:] {
					if s, ok := t.Value.(ast.String); ok && !known[string(s)] {
						loc := t.Location
						if loc == nil {
							loc = ref[0].Location
						}
						l.add(loc, "no fact, rule or object key is called %s%s", string(s), meant(string(s), names))
					}
				}
				return false
			})
		}
	}
}

// useOfLimits holds the calls of lib.limit against the limits there are, and
// against what each rule's METADATA lists.
func (l *loader) useOfLimits(_ *ast.Compiler, rules []*Rule) {
	byRef := map[string]*Rule{}
	for _, r := range rules {
		byRef[r.ref.String()] = r
	}
	for _, file := range sortedKeys(l.modules) {
		m := l.modules[file]
		if _, _, ok := place(m); !ok {
			continue
		}
		shared := map[string]*ast.Location{} // used by helpers of the file
		direct := map[*Rule]map[string]*ast.Location{}
		for _, rule := range m.Rules {
			r := byRef[rule.Ref().String()]
			if r != nil && direct[r] == nil {
				direct[r] = map[string]*ast.Location{}
			}
			l.limitCalls(rule, func(name string, loc *ast.Location) {
				if r != nil {
					direct[r][name] = loc
				} else {
					shared[name] = loc
				}
			})
		}
		listed := map[string]bool{}
		for _, r := range rules {
			used, here := direct[r]
			if !here {
				continue
			}
			for _, lim := range r.Limits {
				listed[lim.Name] = true
				if used[lim.Name] == nil && shared[lim.Name] == nil {
					p := r.limitsAt
					p.Text = "METADATA of rule " + r.Name + " lists limit " + lim.Name + ", which the rule does not read"
					l.problems = append(l.problems, p)
				}
			}
			for _, name := range sortedKeys(used) {
				if !slices.ContainsFunc(r.Limits, func(lim Limit) bool { return lim.Name == name }) {
					l.add(used[name], "rule %s reads limit %s, which its METADATA does not list", r.Name, name)
				}
			}
		}
		for _, name := range sortedKeys(shared) {
			if !listed[name] {
				l.add(shared[name], "limit %s is read here, and no rule of the file lists it in its METADATA", name)
			}
		}
	}
}

// limitCalls tells of every call of lib.limit with two plain texts and reports the others.
func (l *loader) limitCalls(rule *ast.Rule, tell func(name string, loc *ast.Location)) {
	call := func(terms []*ast.Term) {
		if op := terms[0].Value.String(); op != "lib.limit" && op != "data.lib.limit" || len(terms) < 3 {
			return
		}
		loc := terms[0].Location
		area, ok1 := terms[1].Value.(ast.String)
		name, ok2 := terms[2].Value.(ast.String)
		if !ok1 || !ok2 {
			l.add(loc, `lib.limit wants the names written out, such as lib.limit("load", "adult_cap")`)
			return
		}
		full := string(area) + "." + string(name)
		if l.limits[full] == nil {
			l.add(loc, "no limit is called %s%s", full, meant(full, sortedKeys(l.limits)))
			return
		}
		tell(full, loc)
	}
	ast.NewGenericVisitor(func(x any) bool {
		switch x := x.(type) {
		case *ast.Expr:
			if x.IsCall() {
				call(x.Terms.([]*ast.Term))
			}
		case *ast.Term:
			if c, ok := x.Value.(ast.Call); ok {
				call(c)
			}
		}
		return false
	}).Walk(rule)
}
