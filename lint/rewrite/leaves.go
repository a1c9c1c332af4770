package rewrite

import (
	"fmt"
	"strconv"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/literal"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/source"
)

// Leaf is one value of a few fields, by its path among them, such as can/light.
type Leaf struct {
	Path string
	// Value is a string, an int, a bool or a []any of strings, as Step has it.
	Value any
}

// Leaves are the values of fields that are written out, such as `can: {light: "torch"}`, in order.
func Leaves(fields string) ([]Leaf, error) {
	f, err := parser.ParseFile("", fields)
	if err != nil {
		return nil, fmt.Errorf("%q are no fields", fields)
	}
	return leavesOf(nil, f.Decls)
}

func leavesOf(at []string, decls []ast.Decl) (out []Leaf, err error) {
	for _, d := range decls {
		f, ok := d.(*ast.Field)
		if !ok {
			return nil, fmt.Errorf("more than fields stand here")
		}
		key, plain := label(f.Label)
		if !plain {
			return nil, fmt.Errorf("a field without a plain name stands here")
		}
		here := append(at[:len(at):len(at)], key)
		if g, ok := f.Value.(*ast.StructLit); ok {
			inner, err := leavesOf(here, g.Elts)
			if err != nil {
				return nil, err
			}
			out = append(out, inner...)
			continue
		}
		v, err := valueOf(f.Value)
		if err != nil {
			return nil, err
		}
		out = append(out, Leaf{source.Spot(here...), v})
	}
	return out, nil
}

func valueOf(e ast.Expr) (any, error) {
	switch e := e.(type) {
	case *ast.BasicLit:
		switch e.Kind {
		case token.STRING:
			return literal.Unquote(e.Value)
		case token.INT:
			return strconv.Atoi(e.Value)
		case token.TRUE, token.FALSE:
			return e.Kind == token.TRUE, nil
		}
	case *ast.ListLit:
		list := []any{}
		for _, x := range e.Elts {
			v, err := valueOf(x)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		return list, nil
	}
	return nil, fmt.Errorf("a value that is not written out stands here")
}
