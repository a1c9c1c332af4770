package load

import (
	"slices"
	"strings"
	"sync"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/format"
	"cuelang.org/go/cue/literal"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/source"
)

// Kind says how a field of a file differs between two states of it.
type Kind string

// The kinds of difference. Renamed is an entry that has another name and says the same otherwise.
const (
	Altered Kind = "value"
	Added   Kind = "new"
	Gone    Kind = "gone"
	Renamed Kind = "renamed"
)

// Difference is one field, or one entry with all that it says, that is not the same in two states of a file.
type Difference struct {
	Kind Kind
	// What names it for people, such as: mass of “headlamp”.
	What string
	// Before and Now are its value as it is written, shortened; of what is renamed its names. "" where there is none, or for a whole entry.
	Before, Now string
	// Was and At are where it stood and stands; unknown where it did not and does not.
	Was, At source.Span
}

// MostCompared is how large a kit file may be whose fields are compared, in bytes; our own figure, far above any written by hand.
const MostCompared = 1 << 20

// Differences tells which fields of a kit file differ between two states of it, in the order in which they stand now, then what is
// gone. Comments, spaces and line ends are no difference. The files are parsed and nothing in them is evaluated. ok is false where one of
// them cannot be parsed, is too large, or belongs to another package: what differs is then not known.
func Differences(was, now string, before, after []byte) (out []Difference, ok bool) {
	a, okA := fieldsOf(was, before)
	b, okB := fieldsOf(now, after)
	if !okA || !okB {
		return nil, false
	}
	left := map[string][]*leaf{} // of the earlier state, not yet found in the later
	for i := range a.leaves {
		l := &a.leaves[i]
		left[l.key()] = append(left[l.key()], l)
	}
	take := func(l *leaf, fits func(*leaf) bool) *leaf {
		all := left[l.key()]
		i := slices.IndexFunc(all, fits)
		if i < 0 {
			return nil
		}
		x := all[i]
		left[l.key()] = slices.Delete(all, i, i+1)
		return x
	}
	var rest []*leaf
	for i := range b.leaves {
		l := &b.leaves[i]
		if take(l, func(o *leaf) bool { return o.text == l.text }) == nil {
			rest = append(rest, l)
		}
	}
	var added []*leaf
	type change struct{ was, now *leaf }
	var changes []change
	for _, l := range rest {
		if o := take(l, func(*leaf) bool { return true }); o != nil {
			changes = append(changes, change{o, l})
		} else {
			added = append(added, l)
		}
	}
	var gone []*leaf
	for i := range a.leaves {
		l := &a.leaves[i]
		if j := slices.Index(left[l.key()], l); j >= 0 {
			gone = append(gone, l)
		}
	}
	fresh, lost := a.entriesWithout(added, b), b.entriesWithout(gone, a)
	for _, c := range changes {
		out = append(out, Difference{Kind: Altered, What: called(c.now.labels), Before: shown(c.was.text), Now: shown(c.now.text), Was: c.was.at, At: c.now.at})
	}
	for _, n := range fresh {
		i := slices.IndexFunc(lost, func(o entryOf) bool { return o.sameBut(n) })
		if i < 0 {
			out = append(out, Difference{Kind: Added, What: called(n.labels), Now: n.value(), At: n.at})
			continue
		}
		o := lost[i]
		lost = slices.Delete(lost, i, i+1)
		out = append(out, Difference{Kind: Renamed, What: called(o.labels), Before: o.labels[len(o.labels)-1], Now: n.labels[len(n.labels)-1], Was: o.at, At: n.at})
	}
	slices.SortStableFunc(out, func(a, b Difference) int { return source.Compare(a.At, b.At) })
	for _, o := range lost {
		out = append(out, Difference{Kind: Gone, What: called(o.labels), Before: o.value(), Was: o.at})
	}
	return out, true
}

// leaf is a value as it is written, under the labels that lead to it.
type leaf struct {
	labels []string
	text   string
	at     source.Span
}

func (l *leaf) key() string { return source.Spot(l.labels...) }

// fields are the leaves of a file, and where each label that leads to some first stands.
type fields struct {
	text   *source.Text
	leaves []leaf
	labels map[string]source.Span
}

// fieldsOf reads the leaves of a kit file; no file, nil, has none.
func fieldsOf(name string, b []byte) (f *fields, ok bool) {
	f = &fields{text: source.NewText(name, b), labels: map[string]source.Span{}}
	if b == nil {
		return f, true
	}
	if len(b) > MostCompared {
		return f, false
	}
	defer func() { // a parser is large, and the file a stranger's
		if recover() != nil {
			f, ok = nil, false
		}
	}()
	file, err := parser.ParseFile(name, b)
	if err != nil || file.PackageName() != packageName {
		return f, false
	}
	f.decls(file.Decls, nil)
	return f, true
}

// add adds a leaf that reaches over some nodes.
func (f *fields) add(labels []string, text string, from, to ast.Node) {
	f.leaves = append(f.leaves, leaf{slices.Clone(labels), text, f.text.Span(from.Pos().Offset(), to.End().Offset())})
}

func (f *fields) decls(ds []ast.Decl, labels []string) {
	for _, d := range ds {
		switch d := d.(type) {
		case *ast.Package, *ast.CommentGroup:
		case *ast.Field:
			name := labelText(d.Label)
			if d.Constraint != token.ILLEGAL {
				name += d.Constraint.String()
			}
			inner := append(slices.Clone(labels), name)
			if key := source.Spot(inner...); !f.labels[key].Known() {
				f.labels[key] = f.text.Span(d.Label.Pos().Offset(), d.Label.End().Offset())
			}
			for _, a := range d.Attrs {
				f.add(inner, a.Text, a, a)
			}
			if d.Value != nil {
				f.value(d.Value, inner, d.Label)
			}
		case *ast.EmbedDecl:
			f.value(d.Expr, labels, d)
		default:
			f.add(labels, formatted(&ast.File{Decls: []ast.Decl{d}}), d, d)
		}
	}
}

// value adds what a value says: each field of its structs by itself, and the rest as it is.
func (f *fields) value(e ast.Expr, labels []string, at ast.Node) {
	structs, rest := unified(e)
	var texts []string
	for _, r := range rest {
		texts = append(texts, formatted(r))
	}
	if len(rest) > 0 {
		f.add(labels, strings.Join(texts, " & "), rest[0], rest[len(rest)-1])
	}
	for _, s := range structs {
		if len(s.Elts) == 0 {
			f.add(labels, "{}", at, s)
		}
		f.decls(s.Elts, labels)
	}
}

// unified are the struct literals that a value is unified of, and what else.
func unified(e ast.Expr) (structs []*ast.StructLit, rest []ast.Expr) {
	switch x := e.(type) {
	case *ast.StructLit:
		return []*ast.StructLit{x}, nil
	case *ast.ParenExpr:
		return unified(x.X)
	case *ast.BinaryExpr:
		if x.Op == token.AND {
			structs, rest = unified(x.X)
			s, r := unified(x.Y)
			return append(structs, s...), append(rest, r...)
		}
	}
	return nil, []ast.Expr{e}
}

func labelText(l ast.Label) string {
	if name, _, err := ast.LabelName(l); err == nil {
		return name
	}
	return formatted(l)
}

// formatted is a node as CUE's own formatter writes it, without comments.
func formatted(n ast.Node) string {
	b, err := format.Node(n)
	if err != nil {
		return ""
	}
	return strings.ReplaceAll(string(b), "\r\n", "\n")
}

// mostShown is how many characters of a value are shown. Our own figure.
const mostShown = 60

// shown is a value for people: a text without its quotes, in one line.
func shown(text string) string {
	if s, err := literal.Unquote(text); err == nil {
		text = s
	}
	text = strings.Join(strings.Fields(text), " ")
	if r := []rune(text); len(r) > mostShown {
		text = string(r[:mostShown]) + " …"
	}
	return text
}

// entryOf is the outermost entry around some leaves that only one state has.
type entryOf struct {
	labels []string
	at     source.Span
	leaves []*leaf
}

// entriesWithout gathers leaves of another state by the outermost entries that f has nothing of.
func (f *fields) entriesWithout(leaves []*leaf, of *fields) (out []entryOf) {
	there := map[string]bool{}
	for i := range f.leaves {
		l := &f.leaves[i]
		for k := range l.labels {
			there[source.Spot(l.labels[:k+1]...)] = true
		}
	}
	at := map[string]int{}
	for _, l := range leaves {
		k := 1
		for k < len(l.labels) && there[source.Spot(l.labels[:k]...)] {
			k++
		}
		labels := l.labels[:min(k, len(l.labels))]
		key := source.Spot(labels...)
		if there[key] || len(labels) == 0 { // a second value of a field, or what has no label
			out = append(out, entryOf{labels, l.at, []*leaf{l}})
			continue
		}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, entryOf{labels: labels, at: of.labels[key]})
		}
		out[i].leaves = append(out[i].leaves, l)
	}
	for i := range out {
		e := &out[i]
		for len(e.leaves) > 0 && e.bare() { // such as limits, of which only one is there
			n := len(e.labels)
			e.labels = e.leaves[0].labels[:n+1]
			e.at = of.labels[source.Spot(e.labels...)]
		}
		if e.alone() { // where there is a value it says more than its name
			e.at = e.leaves[0].at
		}
	}
	return out
}

// bare reports whether the entry is a field of the schema that says nothing by itself and holds just one thing.
func (e *entryOf) bare() bool {
	n := len(e.labels)
	if n == 0 || e.alone() || strings.ContainsAny(called(e.labels), "“ ") {
		return false
	}
	return !slices.ContainsFunc(e.leaves, func(l *leaf) bool {
		return len(l.labels) <= n || l.labels[n] != e.leaves[0].labels[n]
	})
}

// alone reports whether the entry is one plain value.
func (e *entryOf) alone() bool {
	return len(e.leaves) == 1 && len(e.leaves[0].labels) == len(e.labels)
}

func (e *entryOf) value() string {
	for _, l := range e.leaves {
		if e.alone() || e.labels[0] == "limits" && l.labels[len(l.labels)-1] == "value" {
			return shown(l.text)
		}
	}
	return ""
}

// sameBut reports whether two entries differ in their names alone.
func (e *entryOf) sameBut(o entryOf) bool {
	n := len(e.labels)
	if n == 0 || n != len(o.labels) || !slices.Equal(e.labels[:n-1], o.labels[:n-1]) || e.labels[n-1] == o.labels[n-1] {
		return false
	}
	return slices.EqualFunc(e.leaves, o.leaves, func(a, b *leaf) bool {
		return a.text == b.text && slices.Equal(a.labels[n:], b.labels[n:])
	})
}

// called is how people call what stands under some labels: the fields after the name of an entry, and that name.
func called(labels []string) string {
	entry := -1
	for i := 1; i < len(labels); i++ {
		if schemaWords()[labels[i-1]] == collection {
			entry = i
		}
	}
	if n := len(labels); n > 0 && labels[0] == "limits" {
		if n < 3 {
			return strings.Join(labels, ".")
		}
		name := "limit " + labels[1] + "." + labels[2]
		if n == 3 || labels[3] == "value" || labels[3] == "values" {
			return name
		}
		return strings.Join(labels[3:], ".") + " of " + name
	}
	if entry < 0 && len(labels) > 0 && (strings.HasPrefix(labels[0], "_") || strings.HasPrefix(labels[0], "#")) {
		if entry = 0; len(labels) > 1 && schemaWords()[labels[1]] == "" {
			entry = 1
		}
	}
	switch {
	case len(labels) == 0:
		return "what the file says as a whole"
	case entry < 0:
		return strings.Join(labels, ".")
	case entry == len(labels)-1:
		return "“" + labels[entry] + "”"
	}
	return strings.Join(labels[entry+1:], ".") + " of “" + labels[entry] + "”"
}

// What a word of the schema is: the name of a field, or of one whose own fields are named by the family.
const (
	plainField = "field"
	collection = "collection"
)

// schemaWords are the names of the schema's fields.
var schemaWords = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	ast.Walk(schemaSyntax(), func(n ast.Node) bool {
		f, ok := n.(*ast.Field)
		if !ok {
			return true
		}
		name, _, err := ast.LabelName(f.Label)
		if err != nil || strings.HasPrefix(name, "#") {
			return true
		}
		kind := plainField
		structs, _ := unified(f.Value)
		for _, s := range structs {
			for _, d := range s.Elts {
				if g, ok := d.(*ast.Field); ok {
					if _, pattern := g.Label.(*ast.ListLit); pattern {
						kind = collection
					}
				}
			}
		}
		if out[name] != collection {
			out[name] = kind
		}
		return true
	}, nil)
	return out
})
