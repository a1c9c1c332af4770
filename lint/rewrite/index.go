package rewrite

import (
	"bytes"
	"cmp"
	"maps"
	"regexp"
	"slices"
	"strings"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/literal"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/source"
)

// index is what a fresh parse of the household's own files says about each spot.
type index struct {
	files  []*file
	pieces map[string][]*piece
	hosts  map[string][]host
	wild   []wild
}

// file is one of the household's files as it is edited: without its byte order mark, its lines ended by \n.
type file struct {
	path   string
	src    []byte
	syntax *ast.File
	text   *source.Text
	barred string // why it is not changed; "" for most
}

// piece is one field that says something about a spot.
type piece struct {
	file   *file
	field  *ast.Field
	holder ast.Node // *ast.StructLit or *ast.File
	i      int      // its place in there
	above  *piece
	made   *Refusal // why it cannot be changed: what makes it may make others as well
}

// host is one literal, or a file where that is nil, which fields of a spot may be added to.
type host struct {
	file *file
	lit  *ast.StructLit
	of   *piece
	made *Refusal
}

// wild is a line that says something about many spots: computed keys and patterns. In at, "" stands for any key.
type wild struct {
	at  []string
	why *Refusal
}

// generated finds the line that marks a file as made by a program, in the form that go.dev/s/generatedcode gives.
var generated = regexp.MustCompile(`(?m)^// Code generated .* DO NOT EDIT\.$`)

var bom = []byte("\uFEFF")

// unix gives the bytes of a file as they are edited, and says whether all its lines end in \r\n.
func unix(b []byte) (src []byte, crlf bool) {
	b = bytes.TrimPrefix(b, bom)
	n := bytes.Count(b, []byte("\r\n"))
	if crlf = n > 0 && n == bytes.Count(b, []byte("\n")); crlf {
		b = bytes.ReplaceAll(b, []byte("\r\n"), []byte("\n"))
	}
	return b, crlf
}

// parse makes the index of files; the draft says how they are shown and which are not changed.
func (d *Draft) parse(files map[string][]byte) (*index, error) {
	x := &index{pieces: map[string][]*piece{}, hosts: map[string][]host{}}
	for _, p := range slices.Sorted(maps.Keys(files)) {
		src, _ := unix(files[p])
		syntax, err := parser.ParseFile(p, src, parser.ParseComments)
		if err != nil {
			return nil, &Refusal{Text: err.Error()}
		}
		f := &file{p, src, syntax, source.NewText(d.show(p), src), d.barred[p]}
		x.files = append(x.files, f)
		var made *Refusal
		if f.barred != "" {
			made = f.refuse(syntax, "this file "+f.barred)
		}
		x.hosts[""] = append(x.hosts[""], host{f, nil, nil, made})
		x.decls(f, nil, syntax, syntax.Decls, nil, made)
	}
	return x, nil
}

func (f *file) refuse(n ast.Node, text string) *Refusal {
	return &Refusal{At: f.text.Span(n.Pos().Offset(), n.End().Offset()), Text: text}
}

func (x *index) decls(f *file, at []string, holder ast.Node, ds []ast.Decl, above *piece, made *Refusal) {
	for i, d := range ds {
		switch d := d.(type) {
		case *ast.Field:
			key, plain := label(d.Label)
			if !plain {
				if !apart(d.Label) {
					x.wilds(append(slices.Clone(at), ""), d.Value, cmp.Or(made, f.refuse(d, "this line makes several entries; change it by hand, or write the entry out")))
				}
				continue
			}
			if d.Constraint != token.ILLEGAL {
				continue // a condition, no data
			}
			p := &piece{f, d, holder, i, above, made}
			sub := append(slices.Clone(at), key)
			spot := source.Spot(sub...)
			x.pieces[spot] = append(x.pieces[spot], p)
			inside := made
			if a := embedOf(d); a != nil {
				inside = f.refuse(a, "this is read from another file; change it there")
			}
			x.expr(f, sub, d.Value, p, inside)
		case *ast.EmbedDecl:
			x.expr(f, at, d.Expr, above, made)
		case *ast.Comprehension:
			x.expr(f, at, d.Value, above, cmp.Or(made, f.refuse(d, "a `for` or an `if` makes this; change it by hand, or write the entry out")))
		}
	}
}

func embedOf(d *ast.Field) *ast.Attribute {
	for _, a := range d.Attrs {
		if key, _ := a.Split(); key == "embed" {
			return a
		}
	}
	return nil
}

// wilds notes the ends of what a line with an open key says.
func (x *index) wilds(at []string, e ast.Expr, why *Refusal) {
	s, ok := e.(*ast.StructLit)
	if !ok {
		x.wild = append(x.wild, wild{at, why})
		return
	}
	for _, d := range s.Elts {
		if f, ok := d.(*ast.Field); ok {
			key, _ := label(f.Label)
			x.wilds(append(slices.Clone(at), key), f.Value, why)
		}
	}
}

func (x *index) expr(f *file, at []string, e ast.Expr, p *piece, made *Refusal) {
	switch e := e.(type) {
	case *ast.StructLit:
		spot := source.Spot(at...)
		x.hosts[spot] = append(x.hosts[spot], host{f, e, p, made})
		x.decls(f, at, e, e.Elts, p, made)
	case *ast.ParenExpr:
		x.expr(f, at, e.X, p, made)
	case *ast.Alias:
		x.expr(f, at, e.Expr, p, made)
	case *ast.BinaryExpr:
		if e.Op == token.AND {
			x.expr(f, at, e.X, p, made)
			x.expr(f, at, e.Y, p, made)
		}
	}
}

// label is the key of a field that makes one entry of the household's data.
func label(l ast.Label) (string, bool) {
	switch l := l.(type) {
	case *ast.Alias:
		if x, ok := l.Expr.(ast.Label); ok {
			return label(x)
		}
	case *ast.Ident:
		return l.Name, !apart(l)
	case *ast.BasicLit:
		s, err := literal.Unquote(l.Value)
		return s, err == nil && l.Kind == token.STRING
	case *ast.ParenExpr:
		if b, ok := l.X.(*ast.BasicLit); ok {
			return label(b)
		}
	}
	return "", false
}

// apart reports whether a label is that of a hidden field or a definition, which is no data.
func apart(l ast.Label) bool {
	id, ok := l.(*ast.Ident)
	return ok && (strings.HasPrefix(id.Name, "_") || strings.HasPrefix(id.Name, "#"))
}

// own lists the pieces of a spot; one that may not be changed is a refusal.
func (x *index) own(spot string) ([]*piece, error) {
	for _, p := range x.pieces[spot] {
		if p.made != nil {
			return nil, p.made
		}
	}
	return x.pieces[spot], nil
}

// wild names the line that also says something at a spot, for a step that did not come out as meant.
func (d *Draft) wild(spot string) *Refusal {
	x, err := d.parse(d.now)
	if err != nil {
		return nil
	}
	keys := source.Keys(spot)
	for _, w := range x.wild {
		n := min(len(w.at), len(keys))
		if n > 0 && slices.EqualFunc(w.at[:n], keys[:n], func(a, b string) bool { return a == "" || a == b }) {
			return w.why
		}
	}
	for ; len(keys) > 0; keys = keys[:len(keys)-1] {
		ps := x.pieces[source.Spot(keys...)]
		for _, p := range ps {
			if p.made != nil {
				return p.made
			}
		}
		if len(ps) > 0 { // what is said of things further out is of others, too
			return nil
		}
	}
	return nil
}

// leftOver refuses what CUE would: a let, an alias or an import that nothing uses any more.
func (x *index) leftOver() error {
	for _, f := range x.files {
		used, lets := map[ast.Node]bool{}, []ast.Node{}
		ast.Walk(f.syntax, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Ident:
				used[n.Node] = true
			case *ast.LetClause, *ast.ImportSpec:
				lets = append(lets, n)
			}
			return true
		}, nil)
		for _, l := range lets {
			if !used[l] {
				return f.refuse(l, "nothing would use this line any more, which CUE refuses; take both out by hand")
			}
		}
	}
	return nil
}

// chained reports whether a holder is the rest of a chain: a struct of one field without braces.
func chained(n ast.Node) bool { s, ok := n.(*ast.StructLit); return ok && !s.Lbrace.IsValid() }

// outermost is the field that a chain begins with.
func (p *piece) outermost() *piece {
	for p.above != nil && chained(p.holder) && p.above.field.Value == p.holder {
		p = p.above
	}
	return p
}

// siblings are the fields of a holder and what lies between its braces.
func siblings(holder ast.Node) (ds []ast.Decl, open, shut int) {
	switch h := holder.(type) {
	case *ast.StructLit:
		return h.Elts, h.Lbrace.Offset() + 1, h.Rbrace.Offset()
	case *ast.File:
		return h.Decls, -1, -1
	}
	return nil, -1, -1
}

// localNames refuses to move what leans on a name that only its old place knows.
func (p *piece) localNames() (err error) {
	if p.field.Alias != nil {
		return p.file.refuse(p.field, "other lines call this entry by its alias; move it by hand")
	}
	from, to := p.field.Pos().Offset(), p.field.End().Offset()
	ast.Walk(p.field, func(n ast.Node) bool {
		if a, ok := n.(*ast.Attribute); ok && err == nil {
			err = p.file.refuse(a, "an attribute belongs to its file; move this by hand")
		}
		id, ok := n.(*ast.Ident)
		if !ok || id.Node == nil || err != nil {
			return err == nil
		}
		if at := id.Node.Pos(); at.IsValid() && at.Offset() >= from && at.Offset() < to {
			return true
		}
		_, imported := id.Node.(*ast.ImportSpec)
		_, let := id.Node.(*ast.LetClause)
		if _, top := id.Scope.(*ast.File); imported || let || !top && id.Scope != nil {
			err = p.file.refuse(id, "the name "+id.Name+" is known only where it stands; write out what it means by hand")
		}
		return true
	}, nil)
	return err
}
