package judge

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/types"
	"github.com/open-policy-agent/opa/v1/util"

	"kitmuster/lint/facts"
)

// Bounds on shapes that make the engine's compiler slow: it takes no deadline,
// and its work doubles with each nested comprehension.
const (
	maxBrackets = 64
	maxNest     = 4
	maxBody     = 200
	maxElse     = 50
	maxRules    = 1000
)

// tooDeep gives the offset of the first bracket that is nested too deep for the
// parser, or -1.
func tooDeep(b []byte) int {
	depth := 0
	var quote byte
	for i := 0; i < len(b); i++ {
		c := b[i]
		switch {
		case quote != 0:
			switch {
			case c == '\\' && quote == '"':
				i++
			case c == quote || c == '\n' && quote != '`':
				quote = 0
			}
		case c == '"' || c == '`' || c == '#':
			quote = c
		case c == '(' || c == '[' || c == '{':
			if depth++; depth > maxBrackets {
				return i
			}
		case c == ')' || c == ']' || c == '}':
			depth--
		}
	}
	return -1
}

// guard refuses shapes that the compiler or one step of arithmetic could not
// get through in time.
func (l *loader) guard(m *ast.Module) {
	if len(m.Rules) > maxRules {
		l.add(m.Rules[maxRules].Loc(), "a file may not hold more than %d rules", maxRules)
	}
	for _, r := range m.Rules {
		alternatives := 0
		for e := r.Else; e != nil; e = e.Else {
			alternatives++
		}
		if alternatives > maxElse {
			l.add(r.Loc(), "a rule may not have more than %d else branches", maxElse)
		}
		l.nested(r, 0)
	}
}

func (l *loader) nested(x any, depth int) {
	enter := func(loc *ast.Location, parts ...any) bool {
		if depth == maxNest {
			l.add(loc, "comprehensions and every may not be nested deeper than %d; move the inner part into a helper", maxNest)
			return true
		}
		for _, p := range parts {
			l.nested(p, depth+1)
		}
		return true
	}
	ast.NewGenericVisitor(func(y any) bool {
		switch c := y.(type) {
		case *ast.Term:
			switch v := c.Value.(type) {
			case *ast.ArrayComprehension:
				return enter(c.Location, v.Term, v.Body)
			case *ast.SetComprehension:
				return enter(c.Location, v.Term, v.Body)
			case *ast.ObjectComprehension:
				return enter(c.Location, v.Key, v.Value, v.Body)
			case ast.Number:
				if long(string(v)) {
					l.add(c.Location, "a number may not have more than %d digits", maxDigits)
				}
			}
		case *ast.Every:
			return enter(c.Location, c.Domain, c.Body)
		case ast.Body:
			if len(c) > maxBody {
				l.add(c.Loc(), "a body may not hold more than %d expressions", maxBody)
			}
		}
		return false
	}).Walk(x)
}

// explain turns the engine's errors into problems, in our words where those help.
func (l *loader) explain(file string, err error) {
	var es ast.Errors
	if !errors.As(err, &es) {
		l.problems = append(l.problems, Problem{File: file, Text: err.Error()})
		return
	}
	for _, e := range es {
		p := at(e.Location, "%s", strings.ReplaceAll(strings.TrimSpace(e.Message), "\n", " "))
		if name, ok := strings.CutPrefix(e.Message, "undefined function "); ok {
			switch {
			case ast.BuiltinMap[name] != nil:
				p.Text = name + " is not available to rules; capabilities.json lists the functions that are"
			default:
				p.Text = "there is no function " + name + meant(name, l.functions())
			}
		}
		if d, ok := e.Details.(*ast.RefErrInvalidDetail); ok && d.Pos < len(d.Ref) {
			if loc := d.Ref[d.Pos].Location; loc != nil {
				p.Line, p.Col = loc.Row, loc.Col
			}
			wrote := word(d.Ref[d.Pos])
			var known []string
			for _, v := range d.OneOf {
				known = append(known, word(ast.NewTerm(v)))
			}
			slices.Sort(known)
			switch tip := meant(wrote, known); {
			case tip != "":
				p.Text = fmt.Sprintf("there is no %s here%s", wrote, tip)
			case len(known) > 0:
				p.Text = fmt.Sprintf("there is no %s here; there are %s", wrote, strings.Join(known, ", "))
			}
		}
		switch d := e.Details.(type) {
		case *ast.UnificationErrDetail:
			p.Text = fmt.Sprintf("this can never hold: one side is %s, the other %s", kind(d.Left), kind(d.Right))
		case *ast.ArgErrDetail:
			p.Text += ": " + strings.Join(d.Lines(), ", ")
		}
		l.problems = append(l.problems, p)
	}
}

// kind is the outermost word of a type: one of the facts' records fills lines.
func kind(t types.Type) string {
	outer, _, _ := strings.Cut(types.Sprint(t), "<")
	return outer
}

func word(t *ast.Term) string {
	if s, ok := t.Value.(ast.String); ok {
		return string(s)
	}
	return t.String()
}

// functions lists what a rule can call: the allowed built-ins and the helpers.
func (l *loader) functions() (out []string) {
	for _, b := range l.caps.Builtins {
		if b.Infix == "" {
			out = append(out, b.Name)
		}
	}
	for _, m := range l.modules {
		for _, r := range m.Rules {
			if len(r.Head.Args) > 0 {
				out = append(out, r.Ref().String())
			}
		}
	}
	slices.Sort(out)
	return out
}

// dangling reports references below data that nothing answers: to the engine
// they are merely undefined, so the rule would never object and nobody would know.
func (l *loader) dangling(c *ast.Compiler) {
	for _, file := range sortedKeys(c.Modules) {
		m := c.Modules[file]
		_, _, inRules := place(m)
		ast.WalkRefs(m, func(r ast.Ref) bool {
			switch {
			case len(r) < 2 || !r[0].Equal(ast.DefaultRootDocument):
			case word(r[1]) == "lists":
			case word(r[1]) != "limits":
				l.resolve(c, r)
			case inRules && l.layerOf[file] == 0: // isolation looks at later standards
				l.add(r[0].Location, `rules read limits through lib.limit("area", "name")`)
			}
			return false
		})
	}
}

func isText(t *ast.Term) bool {
	_, ok := t.Value.(ast.String)
	return ok
}

func (l *loader) resolve(c *ast.Compiler, r ast.Ref) {
	node := c.RuleTree.Child(r[0].Value)
	for i, t := range r[1:] {
		if len(node.Values) > 0 || !isText(t) {
			return
		}
		next := node.Child(t.Value)
		if next == nil {
			var known []string
			for k := range node.Children {
				known = append(known, word(ast.NewTerm(k)))
			}
			slices.Sort(known)
			name := word(t)
			tip := nearest(name, known)
			if tip != "" {
				tip = fmt.Sprintf("; did you mean %v?", append(r[:i+1:i+1], ast.StringTerm(tip)))
			}
			loc := r[0].Location
			if t.Location != nil && t.Location.Row > 0 {
				loc = t.Location
			}
			l.add(loc, "nothing is called %v%s", r[:i+2], tip)
			return
		}
		node = next
	}
}

// stray reports constant field names that no fact, literal, rule or limit
// carries. The type check does not look into the parameters of functions,
// bodies of every, or object.get; this walk does.
func (l *loader) stray(c *ast.Compiler) {
	known := l.fieldNames(c)
	list := sortedKeys(known)
	for _, file := range sortedKeys(c.Modules) {
		check := func(t, whole *ast.Term) {
			name := word(t)
			if !isText(t) || known[name] {
				return
			}
			loc := t.Location
			if loc == nil || loc.Row == 0 {
				loc = whole.Location
			}
			l.add(loc, "no fact or helper has a field %s%s", name, meant(name, list))
		}
		ast.NewGenericVisitor(func(x any) bool {
			switch x := x.(type) {
			case *ast.Expr:
				// The operator's dots separate a function's name, not fields.
				if terms, ok := x.Terms.([]*ast.Term); ok {
					if path := getPath(terms); path != nil {
						check(path, terms[0])
					}
				}
			case ast.Call:
				if path := getPath(x); path != nil {
					check(path, x[0])
				}
			case *ast.Term:
				r, ok := x.Value.(ast.Ref)
				if !ok || ast.BuiltinMap[r.String()] != nil {
					return false
				}
				for _, t := range l.fields(c, r) {
					check(t, x)
				}
			}
			return false
		}).Walk(c.Modules[file])
	}
}

// fieldNames are the names that a fact, literal, rule or limit carries.
func (l *loader) fieldNames(c *ast.Compiler) map[string]bool {
	known := map[string]bool{"value": true, "unit": true, "meaning": true, "source": true, "stricter": true}
	var shape any
	if util.Unmarshal([]byte(facts.Schema()), &shape) == nil {
		properties(shape, known)
	}
	for _, m := range c.Modules {
		for _, t := range m.Package.Path {
			known[word(t)] = true
		}
		for _, r := range m.Rules {
			for _, t := range r.Head.Ref() {
				known[word(t)] = true
			}
		}
		ast.WalkTerms(m, func(t *ast.Term) bool {
			if o, ok := t.Value.(ast.Object); ok {
				o.Foreach(func(k, _ *ast.Term) { known[word(k)] = true })
			}
			return false
		})
	}
	for name := range l.limits {
		area, key, _ := strings.Cut(name, ".")
		known[area], known[key] = true, true
	}
	for _, name := range listFields {
		known[name] = true
	}
	return known
}

func getPath(terms []*ast.Term) *ast.Term {
	if len(terms) >= 3 && word(terms[0]) == "object.get" && isText(terms[2]) {
		return terms[2]
	}
	return nil
}

// fields are the parts of a reference that name fields: all after the head, or
// after a rule and the key into its set or object.
func (l *loader) fields(c *ast.Compiler, r ast.Ref) []*ast.Term {
	if !r[0].Equal(ast.DefaultRootDocument) {
		return r[1:]
	}
	node := c.RuleTree.Child(r[0].Value)
	for i, t := range r[1:] {
		if len(node.Values) > 0 {
			if node.Values[0].Head.RuleKind() == ast.MultiValue || !node.Values[0].Head.Ref().IsGround() {
				return r[min(i+2, len(r)):]
			}
			return r[i+1:]
		}
		if node = node.Child(t.Value); node == nil {
			return nil
		}
	}
	return nil
}

func properties(schema any, into map[string]bool) {
	switch s := schema.(type) {
	case map[string]any:
		for k, v := range s {
			if fields, ok := v.(map[string]any); ok && k == "properties" {
				for name := range fields {
					into[name] = true
				}
			}
			properties(v, into)
		}
	case []any:
		for _, v := range s {
			properties(v, into)
		}
	}
}

// limitCall is one call of lib.limit with constant arguments.
type limitCall struct {
	name string
	at   *ast.Location
}

// useOfLimits holds METADATA to the limits that a rule really reaches, through
// whatever helpers.
func (l *loader) useOfLimits(c *ast.Compiler, rules []*Rule) {
	direct := map[*ast.Rule][]limitCall{}
	inFile := map[string]map[string]bool{}
	for _, file := range sortedKeys(c.Modules) {
		inFile[file] = map[string]bool{}
		for _, r := range c.Modules[file].Rules {
			l.limitCalls(r, func(call limitCall) {
				direct[r] = append(direct[r], call)
				inFile[file][call.name] = true
			})
		}
	}
	for _, r := range rules {
		if r.limitsAt.Line == 0 {
			continue // METADATA lacks the list, which is reported already
		}
		var listed []string
		for _, lim := range r.Limits {
			listed = append(listed, lim.Name)
		}
		seen, reached := map[*ast.Rule]bool{}, map[string]*ast.Location{}
		var visit func(x *ast.Rule)
		visit = func(x *ast.Rule) {
			if seen[x] {
				return
			}
			seen[x] = true
			for _, call := range direct[x] {
				if old := reached[call.name]; old == nil || call.at.Compare(old) < 0 {
					reached[call.name] = call.at
				}
			}
			for dep := range c.Graph.Dependencies(x) {
				if d, ok := dep.(*ast.Rule); ok {
					visit(d)
				}
			}
		}
		for _, x := range c.GetRulesExact(r.ref) {
			visit(x)
		}
		for _, name := range sortedKeys(reached) {
			if l.limits[name] != nil && !slices.Contains(listed, name) {
				p := r.limitsAt
				p.Text = fmt.Sprintf("METADATA of rule %s does not list limit %s, which it uses at %s:%d:%d; add it to custom.limits",
					r.Name, name, reached[name].File, reached[name].Row, reached[name].Col)
				l.problems = append(l.problems, p)
			}
		}
		for _, name := range listed {
			if reached[name] == nil && !inFile[r.File][name] {
				p := r.limitsAt
				p.Text = fmt.Sprintf("METADATA of rule %s lists limit %s, which nothing in the file uses", r.Name, name)
				l.problems = append(l.problems, p)
			}
		}
	}
}

func (l *loader) limitCalls(r *ast.Rule, each func(limitCall)) {
	call := func(terms []*ast.Term) {
		loc := terms[0].Location
		switch word(terms[0]) {
		case "data.lib.limit":
			terms = terms[1:]
		case "data.lib.limit_of":
			if len(terms) < 2 {
				return
			}
			terms = terms[2:]
		default:
			return
		}
		if len(terms) < 2 {
			return
		}
		if !isText(terms[0]) || !isText(terms[1]) {
			l.add(loc, `write area and name of a limit as constant texts, so that the limits of a rule can be listed`)
			return
		}
		name := word(terms[0]) + "." + word(terms[1])
		if l.limits[name] == nil {
			l.add(loc, "no limit is called %s%s", name, meant(name, sortedKeys(l.limits)))
		}
		each(limitCall{name, loc})
	}
	ast.NewGenericVisitor(func(x any) bool {
		switch x := x.(type) {
		case *ast.Expr:
			if terms, ok := x.Terms.([]*ast.Term); ok {
				call(terms)
			}
		case ast.Call:
			call(x)
		}
		return false
	}).Walk(r)
}
