package judge

import (
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/open-policy-agent/opa/v1/ast"
)

// errCompiled is of bytes that are no compiled rules.
var errCompiled = errors.New("these are no compiled rules")

// What stands before each node of the syntax tree.
const (
	nodeNil byte = iota
	nodeNull
	nodeFalse
	nodeTrue
	nodeNumber
	nodeString
	nodeVar
	nodeRef
	nodeArray
	nodeObject
	nodeSet
	nodeArrayComprehension
	nodeSetComprehension
	nodeObjectComprehension
	nodeCall
	nodeTerm
	nodeTerms
	nodeEvery
)

// writer puts compiled rules into bytes. Texts and places are written once each, in the order in which they are first met.
type writer struct {
	b      []byte
	texts  []string
	textOf map[string]int
	// places are a file (as a text), a line and a column.
	places  [][3]int
	placeOf map[[3]int]int
}

func newWriter() *writer { return &writer{textOf: map[string]int{}, placeOf: map[[3]int]int{}} }

// bytes is all that was written, with the tables before it.
func (w *writer) bytes() []byte {
	var out []byte
	out = binary.AppendUvarint(out, uint64(len(w.texts)))
	for _, s := range w.texts {
		out = append(binary.AppendUvarint(out, uint64(len(s))), s...)
	}
	out = binary.AppendUvarint(out, uint64(len(w.places)))
	for _, p := range w.places {
		for _, n := range p {
			out = binary.AppendUvarint(out, uint64(n))
		}
	}
	return append(out, w.b...)
}

func (w *writer) kind(k byte) { w.b = append(w.b, k) }

func (w *writer) number(n int) { w.b = binary.AppendUvarint(w.b, uint64(n)) }

func (w *writer) text(s string) { w.number(w.textNumber(s)) }

func (w *writer) textNumber(s string) int {
	n, ok := w.textOf[s]
	if !ok {
		n = len(w.texts)
		w.texts, w.textOf[s] = append(w.texts, s), n
	}
	return n
}

func (w *writer) flags(of ...bool) {
	var n byte
	for i, f := range of {
		if f {
			n |= 1 << i
		}
	}
	w.kind(n)
}

func (w *writer) place(l *ast.Location) {
	if l == nil {
		w.number(0)
		return
	}
	p := [3]int{w.textNumber(l.File), l.Row, l.Col}
	n, ok := w.placeOf[p]
	if !ok {
		n = len(w.places)
		w.places, w.placeOf[p] = append(w.places, p), n
	}
	w.number(n + 1)
}

func (w *writer) terms(ts []*ast.Term) {
	w.number(len(ts))
	for _, t := range ts {
		w.term(t)
	}
}

// term panics with an error where the term holds what no compiled rule does.
func (w *writer) term(t *ast.Term) {
	if t == nil {
		w.kind(nodeNil)
		return
	}
	switch v := t.Value.(type) {
	case ast.Null:
		w.kind(nodeNull)
	case ast.Boolean:
		k := nodeFalse
		if v {
			k = nodeTrue
		}
		w.kind(k)
	case ast.Number:
		w.kind(nodeNumber)
		w.text(string(v))
	case ast.String:
		w.kind(nodeString)
		w.text(string(v))
	case ast.Var:
		w.kind(nodeVar)
		w.text(string(v))
	case ast.Ref:
		w.kind(nodeRef)
		w.terms(v)
	case *ast.Array:
		w.kind(nodeArray)
		w.number(v.Len())
		v.Foreach(w.term)
	case ast.Object:
		w.kind(nodeObject)
		w.number(v.Len())
		v.Foreach(func(k, e *ast.Term) { w.term(k); w.term(e) })
	case ast.Set:
		w.kind(nodeSet)
		w.number(v.Len())
		v.Foreach(w.term)
	case *ast.ArrayComprehension:
		w.kind(nodeArrayComprehension)
		w.term(v.Term)
		w.body(v.Body)
	case *ast.SetComprehension:
		w.kind(nodeSetComprehension)
		w.term(v.Term)
		w.body(v.Body)
	case *ast.ObjectComprehension:
		w.kind(nodeObjectComprehension)
		w.term(v.Key)
		w.term(v.Value)
		w.body(v.Body)
	case ast.Call:
		w.kind(nodeCall)
		w.terms(v)
	default:
		panic(fmt.Errorf("%T cannot be handed on", v))
	}
	w.place(t.Location)
}

func (w *writer) body(b ast.Body) {
	w.number(len(b))
	for _, e := range b {
		w.expr(e)
	}
}

func (w *writer) expr(e *ast.Expr) {
	w.flags(e.Generated, e.Negated)
	w.number(e.Index)
	w.place(e.Location)
	w.number(len(e.With))
	for _, x := range e.With {
		w.term(x.Target)
		w.term(x.Value)
		w.place(x.Location)
	}
	switch t := e.Terms.(type) {
	case *ast.Term:
		w.kind(nodeTerm)
		w.term(t)
	case []*ast.Term:
		w.kind(nodeTerms)
		w.terms(t)
	case *ast.Every:
		w.kind(nodeEvery)
		w.term(t.Key)
		w.term(t.Value)
		w.term(t.Domain)
		w.body(t.Body)
		w.place(t.Location)
	default:
		panic(fmt.Errorf("%T cannot be handed on", t))
	}
}

func (w *writer) rule(r *ast.Rule) {
	w.flags(r.Default, r.Head.Assign, r.Else != nil)
	w.place(r.Location)
	w.text(string(r.Head.Name))
	w.terms(r.Head.Reference)
	w.terms(r.Head.Args)
	w.term(r.Head.Key)
	w.term(r.Head.Value)
	w.place(r.Head.Location)
	w.body(r.Body)
	if r.Else != nil {
		w.rule(r.Else)
	}
}

func (w *writer) module(m *ast.Module) {
	w.terms(m.Package.Path)
	w.place(m.Package.Location)
	w.number(len(m.Rules))
	for _, r := range m.Rules {
		w.rule(r)
	}
}

// reader is the way back. It panics with an error where the bytes are none of a writer's.
type reader struct {
	b []byte
	// texts are ready as values of either kind, so that what stands in many places is made once.
	texts, strings, vars []ast.Value
	places               []ast.Location
}

func newReader(b []byte) *reader {
	r := &reader{b: b}
	n := r.count()
	r.texts, r.strings, r.vars = make([]ast.Value, n), make([]ast.Value, n), make([]ast.Value, n)
	for i := range n {
		k := r.count()
		s := string(r.b[:k])
		r.b = r.b[k:]
		r.texts[i], r.strings[i], r.vars[i] = ast.Number(s), ast.String(s), ast.Var(s)
	}
	r.places = make([]ast.Location, r.count())
	for i := range r.places {
		r.places[i] = ast.Location{File: r.text(), Row: r.number(), Col: r.number()}
	}
	return r
}

func (r *reader) kind() byte {
	if len(r.b) == 0 {
		panic(errCompiled)
	}
	k := r.b[0]
	r.b = r.b[1:]
	return k
}

func (r *reader) number() int {
	n, k := binary.Uvarint(r.b)
	if k <= 0 || n > 1<<31 {
		panic(errCompiled)
	}
	r.b = r.b[k:]
	return int(n)
}

// count is a number of things of at least one byte each that follow.
func (r *reader) count() int {
	n := r.number()
	if n > len(r.b) {
		panic(errCompiled)
	}
	return n
}

func (r *reader) one(of []ast.Value) ast.Value {
	n := r.number()
	if n >= len(of) {
		panic(errCompiled)
	}
	return of[n]
}

func (r *reader) text() string { return string(r.one(r.strings).(ast.String)) }

func (r *reader) place() *ast.Location {
	n := r.number()
	switch {
	case n == 0:
		return nil
	case n > len(r.places):
		panic(errCompiled)
	}
	return &r.places[n-1]
}

func (r *reader) terms() []*ast.Term {
	n := r.count()
	if n == 0 {
		return nil
	}
	out := make([]*ast.Term, n)
	for i := range out {
		out[i] = r.term()
	}
	return out
}

func (r *reader) term() *ast.Term {
	k := r.kind()
	if k == nodeNil {
		return nil
	}
	v := r.value(k)
	return &ast.Term{Value: v, Location: r.place()}
}

func (r *reader) value(k byte) ast.Value {
	switch k {
	case nodeNull:
		return ast.NullValue
	case nodeFalse:
		return ast.Boolean(false)
	case nodeTrue:
		return ast.Boolean(true)
	case nodeNumber:
		return r.one(r.texts)
	case nodeString:
		return r.one(r.strings)
	case nodeVar:
		return r.one(r.vars)
	case nodeRef:
		return ast.Ref(r.terms())
	case nodeArray:
		return ast.NewArray(r.terms()...)
	case nodeObject:
		pairs := make([][2]*ast.Term, r.count())
		for i := range pairs {
			pairs[i] = [2]*ast.Term{r.term(), r.term()}
		}
		return ast.NewObject(pairs...)
	case nodeSet:
		return ast.NewSet(r.terms()...)
	case nodeArrayComprehension:
		return &ast.ArrayComprehension{Term: r.term(), Body: r.body()}
	case nodeSetComprehension:
		return &ast.SetComprehension{Term: r.term(), Body: r.body()}
	case nodeObjectComprehension:
		return &ast.ObjectComprehension{Key: r.term(), Value: r.term(), Body: r.body()}
	case nodeCall:
		return ast.Call(r.terms())
	}
	panic(errCompiled)
}

func (r *reader) body() ast.Body {
	out := make(ast.Body, r.count())
	for i := range out {
		out[i] = r.expr()
	}
	return out
}

func (r *reader) expr() *ast.Expr {
	flags := r.kind()
	e := &ast.Expr{Generated: flags&1 != 0, Negated: flags&2 != 0, Index: r.number(), Location: r.place()}
	if n := r.count(); n > 0 {
		e.With = make([]*ast.With, n)
		for i := range e.With {
			e.With[i] = &ast.With{Target: r.term(), Value: r.term(), Location: r.place()}
		}
	}
	switch r.kind() {
	case nodeTerm:
		e.Terms = r.term()
	case nodeTerms:
		e.Terms = r.terms()
	case nodeEvery:
		e.Terms = &ast.Every{Key: r.term(), Value: r.term(), Domain: r.term(), Body: r.body(), Location: r.place()}
	default:
		panic(errCompiled)
	}
	return e
}

func (r *reader) rule(m *ast.Module) *ast.Rule {
	flags := r.kind()
	out := &ast.Rule{Default: flags&1 != 0, Module: m, Location: r.place()}
	out.Head = &ast.Head{Assign: flags&2 != 0, Name: ast.Var(r.text()), Reference: r.terms(), Args: r.terms(), Key: r.term(), Value: r.term(), Location: r.place()}
	out.Body = r.body()
	if flags&4 != 0 {
		out.Else = r.rule(m)
	}
	return out
}

func (r *reader) module() *ast.Module {
	m := &ast.Module{Package: &ast.Package{Path: r.terms(), Location: r.place()}}
	m.Rules = make([]*ast.Rule, r.count())
	for i := range m.Rules {
		m.Rules[i] = r.rule(m)
	}
	return m
}
