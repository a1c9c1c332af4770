package load

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/ast/astutil"
	"cuelang.org/go/cue/errors"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/source"
)

// A word without quotes, such as carrier: ana or glasses: yes, is the name of something to CUE. Where nothing has the name, CUE gives up
// the whole household. So what is meant is written in the place of such a word, and the rest is read.

var unknownName = regexp.MustCompile(`^reference "([^"]*)" not found`)

func nothingCalled(name string) string {
	return fmt.Sprintf("nothing here is called %s; write the name of something that exists, or a text in quotes", name)
}

// quoteWords tells of words in the household's files that name nothing, and writes in their place what is meant, or else nothing known.
func (e *explainer) quoteWords(files []*ast.File, err error) (fs []Fault) {
	spans := &places{files: e.files}
	for _, ce := range errors.Errors(err) {
		m, at := unknownName.FindStringSubmatch(text0(ce)), errors.Positions(ce)
		if m == nil || len(at) == 0 {
			continue
		}
		i := slices.IndexFunc(files, func(f *ast.File) bool { return f.Filename == at[0].Filename() })
		if i < 0 {
			continue
		}
		name, p := m[1], at[0]
		keys := pathTo(files[i], p)
		if f, ok := e.alone(files[i], p, keys); ok {
			fs = append(fs, f.standing(spans.span(p, p.Add(len(name)))))
			continue
		}
		if len(keys) == 0 {
			continue
		}
		text, value, taken := e.meantBy(name, keys)
		if !replaceWord(files[i], name, p, value) {
			text, taken = nothingCalled(name), false
		}
		f := Fault{Rule: "input/reference", Spot: source.Spot(keys...), Message: text, At: spans.span(p, p.Add(len(name))), taken: taken}
		if taken && value != nil && value.Value == strconv.Quote(name) {
			f.sure = &Edit{f.At, name, value.Value}
		}
		if !slices.ContainsFunc(fs, func(o Fault) bool { return o.At == f.At }) {
			fs = append(fs, f)
		}
	}
	return fs
}

// names are the fields that take the name of another entry.
var names = map[string]bool{
	"carrier": true, "carriedBy": true, "helpedBy": true, "owner": true, "fits": true, "person": true, "with": true, "nursing": true, "vehicle": true, "by": true, "leg": true, "season": true, "#Food.for": true,
}

// meantBy says what to write for a word without quotes at a path, and makes that value; nil where it cannot be told.
func (e *explainer) meantBy(name string, keys []string) (text string, value *ast.BasicLit, ok bool) {
	w := said{kind: cue.StringKind, text: name}
	here, around := e.shape.at(keys)
	if here == nil || around == nil || here.kind == cue.StructKind || here.kind == cue.ListKind || !plainWord.MatchString(name) {
		return nothingCalled(name), nil, false
	}
	last := keys[len(keys)-1]
	if around.names == nil && names[last] || names[around.def+"."+last] || isIndex(last) && names[parentOf(keys)] {
		w.text = PlainName(name) // of an entry, which has no capitals
	}
	written, told := w.as(here, around.def, last)
	switch {
	case !told:
		return nothingCalled(name), nil, false
	case here.kind == cue.BoolKind:
		return fmt.Sprintf("%s takes true or false; write %s", last, line(last, written)), ast.NewBool(written == "true"), true
	}
	if here.kind != cue.StringKind {
		return fmt.Sprintf("%s takes %s; write %s", last, takes(here), line(last, written)), &ast.BasicLit{Kind: token.INT, Value: written}, true
	}
	value = &ast.BasicLit{Kind: token.STRING, Value: written}
	if !isIndex(last) {
		return fmt.Sprintf("a text stands in quotes; write %s", line(last, written)), value, true
	}
	return fmt.Sprintf("a text stands in quotes; write %s", written), value, true
}

// replaceWord puts a value in the place of a word; false where the word is part of something larger, in whose place, as in that of a
// word without a value, then stands something of which nothing is known.
func replaceWord(f *ast.File, name string, p token.Pos, value *ast.BasicLit) (whole bool) {
	var inner *ast.Field
	astutil.Apply(f, func(c astutil.Cursor) bool {
		n := c.Node()
		if field, ok := n.(*ast.Field); ok && field.Value.Pos().Offset() <= p.Offset() && p.Offset() < field.Value.End().Offset() {
			inner = field
		}
		word, ok := n.(*ast.Ident)
		if !ok || word.Name != name || word.Pos() != p || value == nil {
			return true
		}
		switch c.Parent().Node().(type) {
		case *ast.Field, *ast.ListLit:
			value.ValuePos = p
			c.Replace(value)
			whole = true
		}
		return false
	}, nil)
	if !whole && inner != nil {
		inner.Value = &ast.Ident{NamePos: inner.Value.Pos(), Name: "_"}
	}
	return whole
}

// pathTo are the fields that lead to a place in a file.
func pathTo(n ast.Node, p token.Pos) []string {
	holds := func(n ast.Node) bool { return n.Pos().Offset() <= p.Offset() && p.Offset() <= n.End().Offset() }
	among := func(decls []ast.Decl) []string {
		if i := slices.IndexFunc(decls, func(d ast.Decl) bool { return holds(d) }); i >= 0 {
			return pathTo(decls[i], p)
		}
		return nil
	}
	switch n := n.(type) {
	case *ast.File:
		return among(n.Decls)
	case *ast.StructLit:
		return among(n.Elts)
	case *ast.Field:
		name, _, err := ast.LabelName(n.Label)
		if err != nil {
			return nil
		}
		return append([]string{name}, pathTo(n.Value, p)...)
	case *ast.ListLit:
		if i := slices.IndexFunc(n.Elts, func(x ast.Expr) bool { return holds(x) }); i >= 0 {
			return append([]string{strconv.Itoa(i)}, pathTo(n.Elts[i], p)...)
		}
	}
	return nil
}
