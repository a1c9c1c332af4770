package load

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/source"
)

// Some slips are valid CUE of another sense: tent: with nothing after it takes the next line for its value, and shelter: tent refers to
// the item tent. They are told and put right before anything is evaluated, so that they take out nothing else.

// slipping collects slips that are valid CUE of another sense.
type slipping struct {
	e     *explainer
	spans *places
	out   []Fault
}

// meantOtherwise corrects such slips in the syntax of the household's own files, and returns their faults.
func (e *explainer) meantOtherwise(files []*ast.File) []Fault {
	x := &slipping{e: e, spans: &places{files: e.files}}
	for _, f := range files {
		if e.files.ours(f.Filename) {
			f.Decls = x.among(f.Decls, e.shape, nil)
		}
	}
	return x.out
}

// among looks at the fields within braces whose shape is s.
func (x *slipping) among(decls []ast.Decl, s *shape, keys []string) []ast.Decl {
	for i := 0; i < len(decls); i++ {
		if word, ok := decls[i].(*ast.EmbedDecl); ok && x.value(word.Expr) {
			if f, ok := x.e.aloneAmong(&decls, i, s, keys); ok {
				x.out = append(x.out, f.standing(x.spans.span(word.Pos(), word.End())))
				i--
			}
			continue
		}
		f, ok := decls[i].(*ast.Field)
		if !ok {
			continue
		}
		name, _, err := ast.LabelName(f.Label)
		in := s.shapeOf(name)
		if err != nil || in == nil {
			continue
		}
		here := append(keys[:len(keys):len(keys)], name)
		switch v := f.Value.(type) {
		case *ast.StructLit:
			if next := x.hanging(f, v, in, s); next != nil {
				decls = slices.Insert(decls, i+1, ast.Decl(next))
				x.tell(here, f.Label, s.group(), fmt.Sprintf("%s has nothing after its colon, so what follows on the next line counts as its value; write %s", name, line(name, bare(s, in, name))))
				if in.def == "#Item" {
					x.sureThere()
				}
				f.Value = &ast.Ident{NamePos: f.Label.Pos(), Name: "_"}
				if in.kind == cue.StructKind {
					f.Value = &ast.StructLit{Lbrace: f.Label.Pos(), Rbrace: f.Label.End()}
				}
				continue
			}
			v.Elts = x.among(v.Elts, in, here)
		case *ast.Ident:
			if text := x.quoted(v, in, s, name); text != "" {
				x.tell(here, v, true, fmt.Sprintf("a text stands in quotes; write %s", line(name, text)))
				x.sure(text)
				f.Value = &ast.BasicLit{ValuePos: v.Pos(), Kind: token.STRING, Value: text}
			}
		case *ast.ListLit:
			for k, elem := range v.Elts {
				word, ok := elem.(*ast.Ident)
				if !ok || in.kind != cue.ListKind {
					continue
				}
				if text := x.quoted(word, in.elem, in, name); text != "" {
					x.tell(append(here[:len(here):len(here)], fmt.Sprint(k)), word, true, fmt.Sprintf("a text stands in quotes; write %s", text))
					x.sure(text)
					v.Elts[k] = &ast.BasicLit{ValuePos: word.Pos(), Kind: token.STRING, Value: text}
				}
			}
		}
	}
	return decls
}

// value reports whether a word is the name of a field with a plain value, further out.
func (x *slipping) value(e ast.Expr) bool {
	word, ok := e.(*ast.Ident)
	if !ok {
		return false
	}
	n := word.Node
	if f, ok := n.(*ast.Field); ok {
		n = f.Value
	}
	_, plain := n.(*ast.BasicLit)
	return plain
}

func (x *slipping) tell(keys []string, at ast.Node, taken bool, text string) {
	x.out = append(x.out, Fault{Rule: "input/value", Spot: source.Spot(keys...), Message: text, At: x.spans.span(at.Pos(), at.End()), taken: taken})
}

// sure says what shall stand in the place of the last slip.
func (x *slipping) sure(text string) {
	last := &x.out[len(x.out)-1]
	if t := x.e.files.textOf(last.At.File); t != nil {
		last.sure = editOf(t, last.At.Start.Offset, last.At.End.Offset, text)
	}
}

// sureThere says that nothing but an entry without fields can be meant behind the colon of the last slip.
func (x *slipping) sureThere() {
	last := &x.out[len(x.out)-1]
	t := x.e.files.textOf(last.At.File)
	if t == nil {
		return
	}
	if i := bytes.IndexByte(t.Bytes[last.At.End.Offset:], ':'); i >= 0 {
		colon := last.At.End.Offset + i
		last.sure = editOf(t, colon, colon+1, ": {}")
	}
}

// standing is a fault at its place, and what is sure of it too.
func (f Fault) standing(at source.Span) Fault {
	f.At = at
	if f.sure != nil {
		f.sure.At = at
	}
	return f
}

// hanging is the field on the next line, as far to the left, that counts as the value of a field with nothing after its colon, where
// it can be none of its fields, or is rather one of the fields around, whose shape is s; nil else.
func (x *slipping) hanging(f *ast.Field, v *ast.StructLit, in, s *shape) *ast.Field {
	if v.Lbrace.IsValid() || len(v.Elts) != 1 || in.kind != cue.StructKind {
		return nil
	}
	next, ok := v.Elts[0].(*ast.Field)
	if !ok {
		return nil
	}
	name, _, err := ast.LabelName(next.Label)
	a, b := f.Label.Pos().Position(), next.Label.Pos().Position()
	if err != nil || in.shapeOf(name) != nil && (!in.group() || s.fields[name] == nil) || a.Line >= b.Line || a.Column != b.Column {
		return nil
	}
	return next
}

// quoted is a word without quotes as a text, where a text is wanted and the word is the name of an entry with fields, which is none; ""
// else.
func (x *slipping) quoted(word *ast.Ident, in, around *shape, field string) string {
	group, ok := word.Node.(*ast.StructLit)
	if f, isField := word.Node.(*ast.Field); isField {
		group, ok = f.Value.(*ast.StructLit)
	}
	if !ok || group == nil || in == nil || in.kind != cue.StringKind || !plainWord.MatchString(word.Name) {
		return ""
	}
	text, ok := (said{kind: cue.StringKind, text: word.Name}).as(in, around.def, field)
	if !ok {
		return ""
	}
	return text
}

// bare is what to write for a field of which nothing is written: of an item, that it is there.
func bare(around, in *shape, name string) string {
	if in.def == "#Item" {
		return "{}"
	}
	return in.examples(around.def, name)
}

// alone handles a word that stands by itself among fields: an item of that name takes its place, or nothing where no item is wanted. False
// where there is no such word.
func (e *explainer) alone(f *ast.File, p token.Pos, keys []string) (fault Fault, ok bool) {
	decls := declsAt(f, p)
	i := slices.IndexFunc(*decls, func(d ast.Decl) bool {
		word, is := d.(*ast.EmbedDecl)
		return is && word.Expr.Pos() == p
	})
	s, _ := e.shape.at(keys)
	if i < 0 || s == nil {
		return fault, false
	}
	return e.aloneAmong(decls, i, s, keys)
}

func (e *explainer) aloneAmong(decls *[]ast.Decl, i int, s *shape, keys []string) (fault Fault, ok bool) {
	word, ok := (*decls)[i].(*ast.EmbedDecl).Expr.(*ast.Ident)
	if !ok || s.kind != cue.StructKind {
		return fault, false
	}
	label := word.Name
	if s.group() {
		label = PlainName(label)
	}
	in := s.shapeOf(label)
	if in == nil {
		return fault, false
	}
	fault = Fault{Rule: "input/value", Spot: source.Spot(append(keys[:len(keys):len(keys)], label)...), Message: fmt.Sprintf("%s stands alone; write %s", word.Name, line(label, bare(s, in, label)))}
	if in.def == "#Item" {
		fault.taken = true
		fault.sure = &Edit{Was: word.Name, New: label + ": {}"}
		(*decls)[i] = &ast.Field{Label: &ast.Ident{NamePos: word.Pos(), Name: label}, Value: &ast.StructLit{Lbrace: word.Pos(), Rbrace: word.Pos()}}
	} else {
		*decls = slices.Delete(*decls, i, i+1)
	}
	return fault, true
}

// declsAt are the innermost fields, of braces or of a file, that a place is among.
func declsAt(f *ast.File, p token.Pos) (out *[]ast.Decl) {
	out = &f.Decls
	ast.Walk(f, func(n ast.Node) bool {
		if g, ok := n.(*ast.StructLit); ok && g.Pos().Offset() <= p.Offset() && p.Offset() < g.End().Offset() {
			out = &g.Elts
		}
		return true
	}, nil)
	return out
}

const (
	// fewNames is up to how many names that cannot be used are told each; mostOffers is how many bytes the names to write may take, so
	// that a finding has room for them. Our own figures.
	fewNames, mostOffers = 3, 720
	noBlanks             = "a name has no blanks; write "
)

// gathered puts the names of a file that cannot be used, where they are many, into one fault with the name to write on each line.
func gathered(fs []Fault) (out []Fault) {
	type kind struct{ rule, file string }
	of := func(f *Fault) (k kind, offer string) {
		if f.Rule == "input/name" && f.Spot != "" {
			keys := source.Keys(f.Spot)
			return kind{f.Rule, f.At.File}, PlainName(keys[len(keys)-1])
		}
		if offer, ok := strings.CutPrefix(f.Message, noBlanks); ok && f.Rule == "input/syntax" {
			return kind{f.Rule, f.At.File}, offer
		}
		return k, ""
	}
	offers, counts, named := map[kind]string{}, map[kind]int{}, map[kind]int{}
	for i := range fs {
		k, offer := of(&fs[i])
		if offer == "" {
			continue
		}
		more := fmt.Sprintf(", %s on line %d", offer, fs[i].At.Start.Line)
		if counts[k]++; len(offers[k])+len(more) <= mostOffers {
			named[k]++
			offers[k] += more
		}
	}
	told := map[kind]bool{}
	for _, f := range fs {
		k, offer := of(&f)
		n := counts[k]
		if offer == "" || n <= fewNames {
			out = append(out, f)
			continue
		}
		if told[k] {
			continue
		}
		told[k] = true
		write := strings.TrimPrefix(offers[k], ", ")
		if more := n - named[k]; more > 0 {
			write += fmt.Sprintf(", and %d more in the same way", more)
		}
		f.Message = fmt.Sprintf("%d names here cannot be used: names of entries have letters a to z, digits and _, and start with a letter; what people shall read goes into name:. Write %s", n, write)
		out = append(out, f)
	}
	return out
}
