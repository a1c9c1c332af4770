package judge

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/measure"
)

// A plan turns values of one Go type into terms. Plans are made once: going
// through JSON text for every kit costs several times as much.
type plan func(reflect.Value) *ast.Term

var facts = planFor(reflect.TypeFor[measure.Facts](), map[reflect.Type]plan{})

func encode(f *measure.Facts) *ast.Term { return facts(reflect.ValueOf(f).Elem()) }

func planFor(t reflect.Type, made map[reflect.Type]plan) plan {
	if p := made[t]; p != nil {
		return p
	}
	p := newPlan(t, made)
	made[t] = p
	return p
}

func newPlan(t reflect.Type, made map[reflect.Type]plan) plan {
	switch t.Kind() {
	case reflect.Bool:
		return func(v reflect.Value) *ast.Term { return ast.InternedTerm(v.Bool()) }
	case reflect.Int, reflect.Int64, reflect.Int32:
		return func(v reflect.Value) *ast.Term { return ast.InternedTerm(v.Int()) }
	case reflect.String:
		return func(v reflect.Value) *ast.Term { return ast.InternedTerm(v.String()) }
	case reflect.Slice:
		each := planFor(t.Elem(), made)
		return func(v reflect.Value) *ast.Term {
			if v.Len() == 0 { // most lists of most items
				return ast.InternedEmptyArray
			}
			out := make([]*ast.Term, v.Len())
			for i := range out {
				out[i] = each(v.Index(i))
			}
			return ast.ArrayTerm(out...)
		}
	case reflect.Struct:
		type field struct {
			index int
			key   *ast.Term
			plan  plan
		}
		var fields []field
		for i := range t.NumField() {
			name := t.Field(i).Tag.Get("json")
			if name == "" || strings.Contains(name, ",") {
				panic(fmt.Sprintf("field %s of %v needs a plain JSON name", t.Field(i).Name, t))
			}
			fields = append(fields, field{i, ast.StringTerm(name), planFor(t.Field(i).Type, made)})
		}
		return func(v reflect.Value) *ast.Term {
			pairs := make([][2]*ast.Term, len(fields))
			for i, f := range fields {
				pairs[i] = [2]*ast.Term{f.key, f.plan(v.Field(f.index))}
			}
			return ast.ObjectTerm(pairs...)
		}
	}
	panic(fmt.Sprintf("facts cannot hold a %v", t))
}

// FactsJSON gives the document that the rules see as input, in the form that
// the stock engine takes; an empty list is [], never null.
func FactsJSON(f *measure.Facts) ([]byte, error) {
	v, err := ast.JSON(encode(f).Value)
	if err != nil {
		return nil, err
	}
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(b, '\n'), nil
}
