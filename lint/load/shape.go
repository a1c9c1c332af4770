package load

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/literal"
	"cuelang.org/go/cue/token"
)

// Evaluating a household under the schema costs three times what evaluating it
// alone does. But the schema has no defaults and computes nothing: it only says
// what is allowed. So a household is evaluated alone, its values are held against
// shapes made from the schema's syntax, and only one that does not fit is evaluated
// under the schema, which then says what is wrong. The schema stays the judge: a
// test holds that whatever fits the shapes, the schema accepts.

// shape is what the schema allows in one place.
type shape struct {
	kind     cue.Kind
	def      string            // the definition's name, "" for what has none
	fields   map[string]*shape // of a struct
	required []string
	names    *regexp.Regexp // of a struct whose names the family chooses
	elem     *shape         // of these names, or of a list
	match    *regexp.Regexp // of a string
	min, max *int64         // of a whole number
}

// kitShapes are the shapes of #Kit and of what it names, made at first use: they take a quarter of a start, and most
// processes read no kit. The schema is part of the program, so a construct that they do not know stops every test.
var kitShapes = sync.OnceValue(func() shapes {
	x := shapesOf(schemaSyntax())
	x.ident("#Kit")
	return x
})

func kitShape() *shape { return kitShapes().ident("#Kit") }

type shapes struct {
	defs map[string]ast.Expr
	done map[string]*shape
}

func shapesOf(f *ast.File) shapes {
	x := shapes{defs: map[string]ast.Expr{}, done: map[string]*shape{}}
	for _, d := range f.Decls {
		if f, ok := d.(*ast.Field); ok {
			if name, _, err := ast.LabelName(f.Label); err == nil {
				x.defs[name] = f.Value
			}
		}
	}
	return x
}

func (x shapes) ident(name string) *shape {
	switch name {
	case "string":
		return &shape{kind: cue.StringKind}
	case "int":
		return &shape{kind: cue.IntKind}
	case "number":
		return &shape{kind: cue.NumberKind}
	case "bool":
		return &shape{kind: cue.BoolKind}
	}
	if s := x.done[name]; s != nil {
		return s
	}
	e := x.defs[name]
	if e == nil {
		panic("schema: no definition " + name)
	}
	s := &shape{}
	x.done[name] = s // before going on, so that a definition may name itself
	*s = *x.expr(e)
	s.def = name
	return s
}

func (x shapes) expr(e ast.Expr) *shape {
	switch e := e.(type) {
	case *ast.Ident:
		return x.ident(e.Name)
	case *ast.UnaryExpr:
		switch e.Op {
		case token.MAT:
			return &shape{kind: cue.StringKind, match: regexp.MustCompile(stringOf(e.X))}
		case token.GEQ:
			return &shape{kind: cue.IntKind, min: wholeOf(e.X)}
		case token.LEQ:
			return &shape{kind: cue.IntKind, max: wholeOf(e.X)}
		}
	case *ast.BinaryExpr:
		if a, b := x.expr(e.X), x.expr(e.Y); e.Op == token.AND && a.kind == cue.IntKind && b.kind == cue.IntKind {
			if b.min != nil {
				a.min = b.min
			}
			if b.max != nil {
				a.max = b.max
			}
			return a
		}
	case *ast.ListLit:
		if len(e.Elts) == 1 {
			if el, ok := e.Elts[0].(*ast.Ellipsis); ok && el.Type != nil {
				return &shape{kind: cue.ListKind, elem: x.expr(el.Type)}
			}
		}
	case *ast.StructLit:
		return x.group(e)
	}
	panic(fmt.Sprintf("schema: the shapes do not know %T at %v", e, e.Pos()))
}

func (x shapes) group(e *ast.StructLit) *shape {
	s := &shape{kind: cue.StructKind, fields: map[string]*shape{}}
	for _, d := range e.Elts {
		f, ok := d.(*ast.Field)
		if !ok {
			panic(fmt.Sprintf("schema: the shapes do not know %T at %v", d, d.Pos()))
		}
		if l, ok := f.Label.(*ast.ListLit); ok && len(l.Elts) == 1 {
			s.names, s.elem = x.expr(l.Elts[0]).match, x.expr(f.Value)
			continue
		}
		name, _, err := ast.LabelName(f.Label)
		if err != nil {
			panic(err)
		}
		s.fields[name] = x.expr(f.Value)
		if f.Constraint == token.NOT {
			s.required = append(s.required, name)
		}
	}
	return s
}

func stringOf(e ast.Expr) string {
	s, err := literal.Unquote(e.(*ast.BasicLit).Value)
	if err != nil {
		panic(err)
	}
	return s
}

func wholeOf(e ast.Expr) *int64 {
	n, err := strconv.ParseInt(e.(*ast.BasicLit).Value, 10, 64)
	if err != nil {
		panic(err)
	}
	return &n
}

// node is a value read once, with its fields in the order CUE gives.
type node struct {
	value  cue.Value // not of a string
	fields []field   // of a struct
	elems  []node    // of a list
	text   string    // of a string
}

type field struct {
	name string
	node node
}

// snapshot reads a value once; fits reports whether it has the shape. A nil
// shape fits nothing; the value is read all the same.
func snapshot(v cue.Value, s *shape) (n node, fits bool) {
	var x snapshots
	return x.of(v, s)
}

// snapshots keeps what is read of structs not yet read to their end, the innermost
// last, so that each list of fields is made once and no longer than it is.
type snapshots struct{ open []field }

func (x *snapshots) of(v cue.Value, s *shape) (n node, fits bool) {
	n.value = v
	k := v.IncompleteKind()
	fits = s != nil && (k == s.kind || s.kind == cue.NumberKind && (k == cue.IntKind || k == cue.FloatKind))
	if !fits {
		s = nil
	}
	switch k {
	case cue.StructKind:
		n.fields, fits = x.structOf(v, s, fits)
	case cue.ListKind:
		n.elems, fits = x.listOf(v, s, fits)
	case cue.StringKind:
		var err error
		n.text, err = v.String()
		fits = fits && err == nil && s.fitsText(n.text)
	case cue.IntKind:
		if fits && (s.min != nil || s.max != nil) {
			i, err := v.Int64()
			fits = err == nil && (s.min == nil || i >= *s.min) && (s.max == nil || i <= *s.max)
		}
	}
	return n, fits
}

// structOf reads the fields of a struct; fits becomes false where one of them does not fit or is missing.
func (x *snapshots) structOf(v cue.Value, s *shape, fits bool) ([]field, bool) {
	from := len(x.open)
	add := func(name string, read func(*shape) (node, bool)) {
		n, ok := read(s.shapeOf(name))
		fits = fits && ok
		x.open = append(x.open, field{name, n})
	}
	if fields, ok := spelled(v); ok {
		for _, f := range fields {
			add(f.name, func(fs *shape) (node, bool) {
				if f.isText {
					return node{text: f.text}, fs.fitsText(f.text)
				}
				return x.of(v.LookupPath(cue.MakePath(cue.Str(f.name))), fs)
			})
		}
	} else {
		it, err := v.Fields()
		if err != nil {
			return nil, false
		}
		for it.Next() {
			add(it.Selector().Unquoted(), func(fs *shape) (node, bool) { return x.of(it.Value(), fs) })
		}
	}
	fields := slices.Clone(x.open[from:])
	clear(x.open[from:])
	x.open = x.open[:from]
	return fields, fits && s.complete(node{fields: fields})
}

// shapeOf is the shape of a field; nil where there is none.
func (s *shape) shapeOf(name string) *shape {
	if s == nil {
		return nil
	}
	if fs := s.fields[name]; fs != nil || s.names == nil || !s.names.MatchString(name) {
		return fs
	}
	return s.elem
}

// complete reports whether a struct has all fields that its shape requires.
func (s *shape) complete(n node) bool {
	if s == nil {
		return true
	}
	return !slices.ContainsFunc(s.required, func(name string) bool { _, ok := n.get(name); return !ok })
}

// listOf reads the elements of a list; fits becomes false where one of them does not fit.
func (x *snapshots) listOf(v cue.Value, s *shape, fits bool) (elems []node, _ bool) {
	it, err := v.List()
	if err != nil {
		return nil, false
	}
	var es *shape
	if s != nil {
		es = s.elem
	}
	for it.Next() {
		e, ok := x.of(it.Value(), es)
		fits = fits && ok
		elems = append(elems, e)
	}
	return elems, fits
}

// fitsText reports whether a string has the shape.
func (s *shape) fitsText(t string) bool {
	return s != nil && s.kind == cue.StringKind && (s.match == nil || s.match.MatchString(t))
}

// named is a field as the file spells it; a plain text is known without asking for its value.
type named struct {
	name, text string
	isText     bool
}

// maxSpelled bounds the fields read from a literal: each is looked for among all.
const maxSpelled = 64

// spelled lists the fields of a struct that one literal of the file makes all by itself, such as
// food: {energy: "450 kcal"}. More than half of all structs are of that kind, and CUE takes
// several times as long to list the fields of one, because it works out an order for them.
func spelled(v cue.Value) ([]named, bool) {
	field, ok := v.Source().(*ast.Field) // nil where anything else makes the value: a pattern, a second literal, a comprehension
	if !ok {
		return nil, false
	}
	lit, ok := field.Value.(*ast.StructLit)
	if !ok || len(lit.Elts) > maxSpelled {
		return nil, false
	}
	out := make([]named, 0, len(lit.Elts))
	for _, d := range lit.Elts {
		f, ok := d.(*ast.Field)
		if !ok || f.Constraint != token.ILLEGAL || f.Alias != nil {
			return nil, false
		}
		label, ok := f.Label.(*ast.Ident)
		if !ok || strings.HasPrefix(label.Name, "_") || strings.HasPrefix(label.Name, "#") ||
			slices.ContainsFunc(out, func(o named) bool { return o.name == label.Name }) {
			return nil, false
		}
		n := named{name: label.Name}
		if b, ok := f.Value.(*ast.BasicLit); ok && b.Kind == token.STRING && b.Value[0] == '"' && !strings.HasPrefix(b.Value, `"""`) {
			var err error
			if n.text, err = literal.Unquote(b.Value); err != nil {
				return nil, false
			}
			n.isText = true
		}
		out = append(out, n)
	}
	return out, true
}

func (n node) get(name string) (node, bool) {
	for i := range n.fields {
		if n.fields[i].name == name {
			return n.fields[i].node, true
		}
	}
	return node{}, false
}
