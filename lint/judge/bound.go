package judge

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/tester"
	"github.com/open-policy-agent/opa/v1/topdown"
)

const (
	// maxResult bounds what one call of a built-in function may build, in bytes or elements.
	maxResult = 4 << 20
	// maxDigits bounds the numbers that arithmetic accepts; facts are 64-bit whole numbers.
	maxDigits = 400
	// maxPattern bounds a regular expression, and maxMatch its length times that of the text: one match takes time by both, and no
	// deadline cuts in. The worst pattern found takes a second at the bound, on the machine of the table in DEVELOPERS.md.
	maxPattern = 1000
	maxMatch   = 1 << 20
)

// boundedPrefix begins the names under which compiled rules call bounded functions. No rule can write such a name: it has a blank.
const boundedPrefix = "bounded "

// bounded are the built-in functions that can build something huge, or work for
// long, within one call, where no deadline can cut in. The stock engine runs the
// same rules without these bounds.
var bounded = boundedFunctions()

type boundedFunction struct {
	// name is the one that rules write.
	name string
	// refuse says why a call is not made, or "" for one that is.
	refuse func(operands []*ast.Term) string
	decl   *ast.Builtin
	inner  topdown.BuiltinFunc
}

func boundedFunctions() (out []boundedFunction) {
	add := func(name string, refuse func([]*ast.Term) string) {
		decl := *ast.BuiltinMap[name]
		decl.Name = boundedPrefix + strings.ReplaceAll(name, ".", " ")
		out = append(out, boundedFunction{name, refuse, &decl, topdown.GetBuiltin(name)})
	}
	builds := func(name string, size func([]*ast.Term) int) {
		add(name, func(o []*ast.Term) string {
			if n := size(o); n > maxResult || n < 0 {
				return fmt.Sprintf("%s would build more than %d bytes or elements", name, maxResult)
			}
			return ""
		})
	}
	builds("concat", func(o []*ast.Term) int { return weight(o[1]) + length(o[0])*length(o[1]) })
	builds("array.concat", func(o []*ast.Term) int { return length(o[0]) + length(o[1]) })
	builds("replace", replaced)
	builds("numbers.range", func(o []*ast.Term) int {
		a, okA := whole(o[0])
		b, okB := whole(o[1])
		if !okA || !okB {
			return maxResult + 1
		}
		return max(a-b, b-a)
	})
	builds("sprintf", printed)
	add("regex.match", func(o []*ast.Term) string {
		if n := length(o[0]); n > maxPattern || n*length(o[1]) > maxMatch {
			return fmt.Sprintf("regex.match would work through %d bytes with a pattern of %d; a pattern has at most %d, and both multiplied make at most %d", length(o[1]), n, maxPattern, maxMatch)
		}
		return ""
	})
	for _, name := range []string{"plus", "minus", "mul", "div", "rem", "round", "ceil", "floor", "abs", "sum", "format_int", "to_number"} {
		add(name, func(o []*ast.Term) string {
			if slices.ContainsFunc(o, wide) {
				return fmt.Sprintf("%s would work on a number of more than %d digits", name, maxDigits)
			}
			return ""
		})
	}
	return out
}

// withBounded are capabilities that also know the bounded functions.
func withBounded(caps *ast.Capabilities) *ast.Capabilities {
	out := *caps
	out.Builtins = slices.Clone(caps.Builtins)
	for _, f := range bounded {
		out.Builtins = append(out.Builtins, f.decl)
	}
	return &out
}

// callBounded is the compiler's last stage: compiled rules call the bounded
// functions instead of those that they name. A query's own function cannot take
// the place of one of the engine's under the same name, since the engine looks
// among its own first (builtinFunc in topdown/eval.go), and to replace one there
// would replace it for the whole process.
func callBounded(c *ast.Compiler) *ast.Error {
	refs := map[string]ast.Ref{}
	for _, f := range bounded {
		refs[f.name] = f.decl.Ref()
	}
	// The term is replaced and not changed: the engine may share it with others.
	replace := func(t *ast.Term) *ast.Term {
		if ref, ok := t.Value.(ast.Ref); ok {
			if to, ok := refs[ref.String()]; ok {
				return &ast.Term{Value: to, Location: t.Location}
			}
		}
		return t
	}
	for _, m := range c.Modules {
		ast.NewGenericVisitor(func(x any) bool {
			switch x := x.(type) {
			case *ast.Expr:
				if terms, ok := x.Terms.([]*ast.Term); ok {
					terms[0] = replace(terms[0])
				}
				for _, w := range x.With { // either side may be a function
					w.Target, w.Value = replace(w.Target), replace(w.Value)
				}
			case ast.Call:
				x[0] = replace(x[0])
			}
			return false
		}).Walk(m)
	}
	return nil
}

// boundedBuiltins are the bounded functions for a query.
var boundedBuiltins = func() map[string]*topdown.Builtin {
	out := map[string]*topdown.Builtin{}
	for _, f := range bounded {
		out[f.decl.Name] = &topdown.Builtin{Decl: f.decl, Func: func(b topdown.BuiltinContext, o []*ast.Term, iter func(*ast.Term) error) error {
			if why := f.refuse(o); why != "" {
				return topdown.Halt{Err: &topdown.Error{Code: topdown.BuiltinErr, Location: b.Location, Message: why}}
			}
			return f.inner(b, o, iter)
		}}
	}
	return out
}()

// boundedInTests are the bounded functions for the engine's runner of tests.
func boundedInTests() (out []*tester.Builtin) {
	for _, f := range bounded {
		out = append(out, &tester.Builtin{Decl: f.decl, Func: rego.FunctionDyn(
			&rego.Function{Name: f.decl.Name, Decl: f.decl.Decl},
			func(b rego.BuiltinContext, o []*ast.Term) (result *ast.Term, err error) {
				if why := f.refuse(o); why != "" {
					return nil, rego.NewHaltError(errors.New(why))
				}
				err = f.inner(b, o, func(t *ast.Term) error { result = t; return nil })
				return result, err
			},
		)})
	}
	return out
}

func replaced(o []*ast.Term) int {
	text, old, with := length(o[0]), length(o[1]), length(o[2])
	if old == 0 {
		return text + (text+1)*with
	}
	return text + text/old*with
}

// printed is an upper bound: each verb may print the widest argument again
// (explicit argument indexes), padded by the widths that the format names.
func printed(o []*ast.Term) int {
	format, ok := o[0].Value.(ast.String)
	if !ok {
		return 0
	}
	widest := 0
	if list, ok := o[1].Value.(*ast.Array); ok {
		list.Foreach(func(t *ast.Term) { widest = max(widest, weight(t)) })
	}
	pad, run := 0, 0
	for _, r := range string(format) {
		switch {
		case r >= '0' && r <= '9':
			run = min(run*10+int(r-'0'), maxResult)
		case r == '*':
			pad += maxResult
		default:
			pad, run = pad+run, 0
		}
	}
	return len(format) + strings.Count(string(format), "%")*widest + pad
}

func whole(t *ast.Term) (int, bool) {
	if n, ok := t.Value.(ast.Number); ok && !wide(t) {
		return n.Int()
	}
	return 0, false
}

// wide reports a number that is long written out, or that an exponent makes
// long, a text that may be read as one, and any collection that holds such a
// number.
func wide(t *ast.Term) bool {
	if text, ok := t.Value.(ast.String); ok {
		return long(string(text))
	}
	return holdsWide(t)
}

// Texts in a collection are not read as numbers: minus leaves sets of them, and sum takes none.
func holdsWide(t *ast.Term) bool {
	switch v := t.Value.(type) {
	case ast.Number:
		return long(string(v))
	case *ast.Array:
		return v.Until(holdsWide)
	case ast.Set:
		return v.Until(holdsWide)
	}
	return false
}

func long(number string) bool {
	if len(number) > maxDigits {
		return true
	}
	i := strings.IndexAny(number, "eE")
	return i >= 0 && len(strings.TrimLeft(number[i+1:], "+-0")) > 2
}

func length(t *ast.Term) int {
	switch v := t.Value.(type) {
	case ast.String:
		return len(v)
	case *ast.Array:
		return v.Len()
	case ast.Set:
		return v.Len()
	case ast.Object:
		return v.Len()
	}
	return 0
}

// weight is about the number of bytes that a value takes when printed.
func weight(t *ast.Term) int {
	n := 2
	add := func(e *ast.Term) { n += weight(e) + 2 }
	switch v := t.Value.(type) {
	case ast.String:
		n += len(v)
	case ast.Number:
		n += len(v)
	case *ast.Array:
		v.Foreach(add)
	case ast.Set:
		v.Foreach(add)
	case ast.Object:
		v.Foreach(func(k, e *ast.Term) { add(k); add(e) })
	default:
		n += 8
	}
	return n
}
