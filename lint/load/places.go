package load

import (
	"bytes"
	"cmp"
	"path"
	"slices"
	"strconv"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/source"
)

// places finds where the family wrote a value, without evaluating anything
// again. CUE's own positions point into the schema for half of all values. But a
// value's attributes are read, on demand, from the fields that made it: so every
// field of the family's files gets a numbered attribute after the build, and a
// value's attributes then name its fields. Where no attribute can stand (embedded
// data, odd list elements) Value.Expr takes over, which evaluates again and is slower.
type places struct {
	files *files
	root  cue.Value
	own   []*ast.File // the family's and its repository's, not the schema

	stamped bool
	embeds  bool
	stamps  []stamp // by number
	memo    map[string][]written
}

const stampName = "kitmuster_stamp"

// stamp is what a number stands for: a node, and where it reached before attributes
// moved its end. Lines are counted only for the few that are needed.
type stamp struct {
	node     ast.Node
	from, to token.Pos
}

// written is one piece of the family's text that makes a value.
type written struct {
	span source.Span
	node ast.Node
	rank int
}

func (x *places) stamp() {
	if x.stamped {
		return
	}
	x.stamped, x.memo = true, map[string][]written{}
	mark := func(n ast.Node) *ast.Attribute {
		from, to := reach(n)
		x.stamps = append(x.stamps, stamp{n, from, to})
		return &ast.Attribute{Text: "@" + stampName + "(" + strconv.Itoa(len(x.stamps)-1) + ")"}
	}
	for _, f := range x.own {
		ast.Walk(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Field:
				n.Attrs = append(n.Attrs, mark(n))
			case *ast.Attribute:
				if key, _ := n.Split(); key == "embed" {
					x.embeds = true
				}
			case *ast.ListLit:
				for _, e := range n.Elts {
					stampElement(e, mark)
				}
			}
			return true
		}, nil)
	}
}

// stampElement marks the struct literals of an element of a list, as an element has no attributes of its own.
func stampElement(e ast.Expr, mark func(ast.Node) *ast.Attribute) {
	if c, ok := e.(*ast.Comprehension); ok {
		e = c.Value
	}
	for _, s := range structs(e) {
		s.Elts = append(s.Elts, mark(e))
	}
}

// structs lists the struct literals that an element is directly made of.
func structs(e ast.Expr) []*ast.StructLit {
	switch e := e.(type) {
	case *ast.StructLit:
		return []*ast.StructLit{e}
	case *ast.BinaryExpr:
		return append(structs(e.X), structs(e.Y)...)
	case *ast.ParenExpr:
		return structs(e.X)
	}
	return nil
}

// locate answers for a spot; see Loaded.Locate.
func (x *places) locate(spot string) source.Place {
	keys := source.Keys(spot)
	if len(keys) > 0 && keys[0] == "household" && len(keys) > 1 {
		keys = keys[:1]
	}
	sels := make([]cue.Selector, len(keys))
	at := x.root
	for i, k := range keys {
		sels[i] = cue.Str(k)
		if n, err := strconv.Atoi(k); err == nil && at.IncompleteKind() == cue.ListKind {
			sels[i] = cue.Index(n)
		}
		at = at.LookupPath(cue.MakePath(sels[i]))
	}
	return x.place(sels)
}

func (x *places) place(sels []cue.Selector) source.Place {
	x.stamp()
	p := source.Place{}
	for {
		ws := x.of(sels)
		if len(ws) == 0 {
			if p.Origin = source.Absent; len(sels) == 0 || len(sels) == 1 && sels[0] == cue.Str("household") {
				return p
			}
			if sels = sels[:len(sels)-1]; len(sels) == 0 { // nothing of it is written: the household's own line
				sels = []cue.Selector{cue.Str("household")}
			}
			continue
		}
		if p.Origin == source.Absent || x.root.LookupPath(cue.MakePath(sels...)).IncompleteKind() == cue.StructKind {
			// An entry: where the household itself says most of it tells more than a catalogue or a template.
			ws = slices.Clone(ws)
			slices.SortStableFunc(ws, func(a, b written) int { return cmp.Compare(x.says(b), x.says(a)) })
			p.At = x.entry(ws[0])
		} else {
			p.At = ws[0].span
			if ws[0].rank < rankStruct {
				p.Origin = source.Derived
			}
		}
		for m := len(sels) - 1; m > 0 && !p.Used.Known(); m-- { // is the winner written inside each ancestor?
			up := x.of(sels[:m])
			if len(up) > 0 && !slices.ContainsFunc(up, func(o written) bool { return o.rank > rankPattern && ws[0].span.Inside(o.span) }) {
				p.Used = x.entry(up[0])
			}
		}
		return p
	}
}

// says counts the fields that the household's own folder writes for an entry in
// one place; what stands elsewhere, or is a pattern, counts nothing.
func (x *places) says(w written) int {
	f, ok := w.node.(*ast.Field)
	if !ok || w.rank <= rankPattern || !x.files.ours(w.node.Pos().Filename()) {
		return 0
	}
	n := 1
	for _, s := range structs(f.Value) {
		for _, d := range s.Elts {
			if _, ok := d.(*ast.Field); ok {
				n++
			}
		}
	}
	return n
}

// entry is a field from its label on.
func (x *places) entry(w written) source.Span {
	if f, ok := w.node.(*ast.Field); ok {
		if s := x.span(f.Label.Pos(), f.Label.End()); s.Known() && s.File == w.span.File {
			s.End = w.span.End
			return s
		}
	}
	return w.span
}

// of lists what makes the value at a path, best first.
func (x *places) of(sels []cue.Selector) (out []written) {
	p := cue.MakePath(sels...)
	key := p.String()
	if c, ok := x.memo[key]; ok {
		return c
	}
	add := func(w written) {
		if w.span.Known() && !slices.ContainsFunc(out, func(o written) bool { return o.span == w.span }) {
			out = append(out, w)
		}
	}
	v, last := x.root.LookupPath(p), len(sels)-1
	if last < 0 {
		for _, f := range x.own {
			if x.files.ours(f.Filename) {
				add(x.written(f))
			}
		}
	}
	for _, a := range v.Attributes(cue.ValueAttr) {
		if n, err := strconv.Atoi(a.Contents()); err == nil && a.Name() == stampName {
			s := x.stamps[n]
			add(written{span: x.span(s.from, s.to), node: s.node, rank: rank(s.node)})
		}
	}
	if len(out) == 0 && last >= 0 && sels[last].Type() == cue.IndexLabel {
		for _, w := range x.of(sels[:last]) { // an element without a struct literal of its own
			if f, ok := w.node.(*ast.Field); ok {
				if i := sels[last].Index(); countable(f.Value, i) {
					add(x.written(f.Value.(*ast.ListLit).Elts[i]))
				}
			}
		}
	}
	if last >= 0 && v.Exists() && len(out) == 0 && (x.embeds || sels[last].Type() == cue.IndexLabel) {
		x.leaves(v, 0, add)
	}
	slices.SortStableFunc(out, func(a, b written) int { return cmp.Or(cmp.Compare(b.rank, a.rank), source.Compare(a.span, b.span)) })
	x.memo[key] = out
	return out
}

// countable reports whether element i of a list literal can be told by counting.
func countable(e ast.Expr, i int) bool {
	l, ok := e.(*ast.ListLit)
	return ok && i < len(l.Elts) && !slices.ContainsFunc(l.Elts[:i+1], func(e ast.Expr) bool {
		_, c := e.(*ast.Comprehension)
		return c
	})
}

func (x *places) leaves(v cue.Value, depth int, add func(written)) {
	op, args := v.Expr()
	n := v.Source()
	if depth < 8 && (op == cue.AndOp || op == cue.OrOp && n == nil) {
		for _, a := range args {
			x.leaves(a, depth+1, add)
		}
	} else if n != nil && n.Pos().Filename() != schemaFile {
		add(x.written(n))
	}
}

func (x *places) written(n ast.Node) written {
	from, to := reach(n)
	return written{span: x.span(from, to), node: n, rank: rank(n)}
}

// reach is where a node begins and ends. A field's is that of its value where
// the value is short, so that a finding points at the words to change.
func reach(n ast.Node) (from, to token.Pos) {
	switch n := n.(type) {
	case *ast.File: // the package clause stands for a whole file
		for _, d := range n.Decls {
			if p, ok := d.(*ast.Package); ok {
				return p.Pos(), p.End()
			}
		}
	case *ast.Field:
		switch n.Value.(type) {
		case nil:
		case *ast.StructLit:
			return n.Label.Pos(), n.Value.End()
		default:
			return n.Value.Pos(), n.Value.End()
		}
	}
	return n.Pos(), n.End()
}

// span converts two positions of CUE's, by their byte offsets.
func (x *places) span(from, to token.Pos) source.Span {
	if !from.IsValid() {
		return source.Span{}
	}
	t := x.files.text(from.Filename())
	if t == nil {
		return source.Span{}
	}
	start, end := from.Offset(), to.Offset()
	if path.Ext(from.Filename()) == ".json" && start > 0 && start <= len(t.Bytes) && t.Bytes[start-1] == '"' && (start >= len(t.Bytes) || t.Bytes[start] != '"') {
		start-- // CUE skips the quote of plain JSON labels
	}
	if e := path.Ext(from.Filename()); e == ".yaml" || e == ".yml" {
		end = start + yamlScalar(t.Bytes[min(start, len(t.Bytes)):min(end, len(t.Bytes))])
	}
	return t.Span(start, max(start, end))
}

// yamlScalar is the length of the value at the start of b: CUE's ends of plain
// YAML scalars run over into what follows.
func yamlScalar(b []byte) int {
	if len(b) > 0 && b[0] != '"' && b[0] != '\'' {
		if i := bytes.Index(b, []byte(" #")); i >= 0 {
			b = b[:i]
		}
	}
	return len(bytes.TrimRight(b, " \r\n"))
}

// The ranks, so that written data wins over expressions, constraints and patterns.
const (
	rankPattern    = 1
	rankConstraint = 2
	rankReference  = 5
	rankExpression = 6
	rankStruct     = 8
	rankLiteral    = 9
)

var typeNames = []string{"_", "string", "int", "number", "bool", "float", "bytes"}

func rank(n ast.Node) int {
	switch n := n.(type) {
	case *ast.Field:
		if _, ok := n.Label.(*ast.ListLit); ok {
			return rankPattern // such as [Name=_]
		}
		if n.Value == nil {
			return rankConstraint
		}
		return rank(n.Value)
	case *ast.File:
		return rankPattern // a whole data file: the field that embeds it says more
	case *ast.BasicLit:
		return rankLiteral
	case *ast.StructLit, *ast.ListLit:
		return rankStruct
	case *ast.BinaryExpr, *ast.SelectorExpr, *ast.IndexExpr, *ast.CallExpr, *ast.ParenExpr, *ast.Interpolation:
		return rankExpression
	case *ast.UnaryExpr:
		if n.Op == token.SUB || n.Op == token.ADD {
			return rank(n.X)
		}
	case *ast.Ident:
		if !slices.Contains(typeNames, n.Name) {
			return rankReference
		}
	}
	return rankConstraint
}
