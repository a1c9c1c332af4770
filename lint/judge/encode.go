package judge

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/facts"
)

// A plan turns values of one Go type into terms. Plans are made once: going
// through JSON text for every kit costs several times as much.
type plan func(*encoder, reflect.Value) *ast.Term

// encoder keeps what encoding one document needs more than once.
type encoder struct {
	// texts holds the terms of texts met before: most are names and IDs of packs and people, which each item repeats.
	texts map[string]*ast.Term
	// pairs holds the keys and values of objects not yet made, the innermost last.
	pairs [][2]*ast.Term
}

var factsPlan = planFor(reflect.TypeFor[facts.Facts](), map[reflect.Type]plan{})

func encode(f *facts.Facts) *ast.Term {
	return factsPlan(&encoder{texts: map[string]*ast.Term{}}, reflect.ValueOf(f).Elem())
}

// encodeSome encodes some of the fields at the top, and the limits, which asking itself looks at.
func encodeSome(f *facts.Facts, fields []bool) *ast.Term {
	e, v := &encoder{texts: map[string]*ast.Term{}}, reflect.ValueOf(f).Elem()
	var pairs [][2]*ast.Term
	for i, field := range topFields {
		if fields[i] || field.name == "limits" {
			pairs = append(pairs, [2]*ast.Term{field.key, field.plan(e, v.Field(i))})
		}
	}
	return ast.ObjectTerm(pairs...)
}

// topFields are the fields of the facts, in order.
var topFields = func() (out []topField) {
	t, made := reflect.TypeFor[facts.Facts](), map[reflect.Type]plan{}
	for i := range t.NumField() {
		name := t.Field(i).Tag.Get("json")
		out = append(out, topField{name, ast.StringTerm(name), planFor(t.Field(i).Type, made)})
	}
	return out
}()

type topField struct {
	name string
	key  *ast.Term
	plan plan
}

func (e *encoder) text(s string) *ast.Term {
	t := e.texts[s]
	if t == nil {
		t = ast.InternedTerm(s)
		e.texts[s] = t
	}
	return t
}

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
		return func(_ *encoder, v reflect.Value) *ast.Term { return ast.InternedTerm(v.Bool()) }
	case reflect.Int, reflect.Int64, reflect.Int32:
		return func(_ *encoder, v reflect.Value) *ast.Term { return ast.InternedTerm(v.Int()) }
	case reflect.String:
		return func(e *encoder, v reflect.Value) *ast.Term { return e.text(v.String()) }
	case reflect.Slice:
		each := planFor(t.Elem(), made)
		return func(e *encoder, v reflect.Value) *ast.Term {
			if v.Len() == 0 { // most lists of most items
				return ast.InternedEmptyArray
			}
			out := make([]*ast.Term, v.Len())
			for i := range out {
				out[i] = each(e, v.Index(i))
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
		return func(e *encoder, v reflect.Value) *ast.Term {
			from := len(e.pairs)
			for _, f := range fields {
				t := f.plan(e, v.Field(f.index))
				e.pairs = append(e.pairs, [2]*ast.Term{f.key, t})
			}
			o := ast.ObjectTerm(e.pairs[from:]...) // which keeps the terms and not the list
			e.pairs = e.pairs[:from]
			return o
		}
	}
	panic(fmt.Sprintf("facts cannot hold a %v", t))
}

// FactsJSON gives the document that the rules see as input, in the form that
// the stock engine takes; an empty list is [], never null.
func FactsJSON(f *facts.Facts) ([]byte, error) {
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
