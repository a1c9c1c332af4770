package rewrite

import (
	"bytes"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"
)

// spellings are ways to write the same kit otherwise.
var spellings = []string{
	"chain", "braces", "quote", "comment above", "comment behind", "many lines", "blank lines", "split", "paren", "raw string", "sum",
	"let", "if", "alias", "twice", "trailing comma", "one line", "interpolation", "hidden", "embedding", "for", "default",
}

type cut struct {
	from, to int
	text     string
}

// respellOnce rewrites some fields of one file in one of the ways.
func respellOnce(r *rand.Rand, f map[string][]byte, serial *int) map[string][]byte {
	names := slices.Sorted(maps.Keys(f))
	name := names[r.IntN(len(names))]
	src := f[name]
	a, err := parser.ParseFile(name, src, parser.ParseComments)
	if err != nil {
		return f
	}
	var cs []cut
	free := func(from, to int) bool {
		return !slices.ContainsFunc(cs, func(c cut) bool { return from <= c.to && c.from <= to })
	}
	put := func(from, to int, text string) {
		if free(from, to) {
			cs = append(cs, cut{from, to, text})
		}
	}
	kind := spellings[r.IntN(len(spellings))]
	share := 1 + r.IntN(12)
	id := 0
	var extra strings.Builder
	ast.Walk(a, func(n ast.Node) bool {
		fd, ok := n.(*ast.Field)
		if !ok {
			return true
		}
		from, to := fd.Pos().Offset(), fd.End().Offset()
		vf, vt := fd.Value.Pos().Offset(), fd.Value.End().Offset()
		text := string(src[from:to])
		label, isIdent := fd.Label.(*ast.Ident)
		ls := bytes.LastIndexByte(src[:from], '\n') + 1
		alone := len(bytes.TrimSpace(src[ls:from])) == 0
		le := len(src)
		if i := bytes.IndexByte(src[to:], '\n'); i >= 0 {
			le = to + i
		}
		ends := len(bytes.TrimSpace(src[to:le])) == 0
		hit := r.IntN(share) == 0
		st, isStruct := fd.Value.(*ast.StructLit)
		lit, isLit := fd.Value.(*ast.BasicLit)
		id++
		if hit {
			switch kind {
			case "chain":
				if isStruct && st.Lbrace.IsValid() && len(st.Elts) == 1 && !strings.Contains(text, "//") {
					if _, ok := st.Elts[0].(*ast.Field); ok {
						put(vf, st.Elts[0].Pos().Offset(), "")
						put(st.Elts[0].End().Offset(), vt, "")
					}
				}
			case "braces":
				if isStruct && !st.Lbrace.IsValid() {
					put(vf, vf, "{")
					put(vt, vt, "}")
				}
			case "quote":
				if isIdent && !strings.HasPrefix(label.Name, "_") {
					put(from, from+len(label.Name), fmt.Sprintf("%q", label.Name))
				}
			case "comment above":
				if alone {
					put(ls, ls, string(src[ls:from])+fmt.Sprintf("// above %d\n", id))
				}
			case "comment behind":
				if ends && !isStruct {
					put(to, to, fmt.Sprintf(" // behind %d", id))
				}
			case "many lines":
				if s := lastStruct(fd.Value); s != nil && s.Lbrace.IsValid() && len(s.Elts) > 0 && !strings.Contains(text, "\n") {
					ind := string(src[ls : ls+len(src[ls:])-len(bytes.TrimLeft(src[ls:], " \t"))])
					if alone && ends {
						put(s.Lbrace.Offset()+1, s.Lbrace.Offset()+1, "\n"+ind+"\t")
						for i := 1; i < len(s.Elts); i++ {
							put(s.Elts[i-1].End().Offset(), s.Elts[i].Pos().Offset(), "\n"+ind+"\t")
						}
						put(s.Rbrace.Offset(), s.Rbrace.Offset(), "\n"+ind)
					}
				}
			case "one line":
				if s := lastStruct(fd.Value); s != nil && s.Lbrace.IsValid() && strings.Contains(text, "\n") && !strings.Contains(text, "//") && len(text) < 400 && !strings.Contains(text, `"""`) {
					one := strings.Join(strings.Fields(strings.NewReplacer("{\n", "{ ", "\n}", " }").Replace(joinLines(text))), " ")
					put(from, to, one)
				}
			case "blank lines":
				if alone {
					put(ls, ls, "\n")
				}
			case "split": // what the family says of a thing, in another place
				if b, ok := fd.Value.(*ast.BinaryExpr); ok && b.Op == token.AND {
					if s, ok := b.Y.(*ast.StructLit); ok && !strings.Contains(text, "//") {
						put(b.X.End().Offset(), vt, "\n"+string(src[from:fd.Label.End().Offset()])+": "+string(src[s.Pos().Offset():s.End().Offset()]))
					}
				}
			case "paren":
				if !isStruct {
					put(vf, vf, "(")
					put(vt, vt, ")")
				}
			case "raw string":
				if isLit && lit.Kind == token.STRING && !strings.ContainsAny(lit.Value, `\`) {
					put(vf, vt, "#"+lit.Value+"#")
				}
			case "interpolation":
				if isLit && lit.Kind == token.STRING && len(lit.Value) > 3 && !strings.Contains(lit.Value, `\`) {
					put(vf+1, vf+2, `\("`+string(src[vf+1])+`")`)
				}
			case "sum":
				if isLit && lit.Kind == token.INT {
					put(vf, vt, lit.Value+" + 0")
				}
			case "default":
				if isLit {
					put(vf, vt, "*"+lit.Value+" | "+map[bool]string{true: "string", false: "int"}[lit.Kind == token.STRING])
				}
			case "let":
				if s, ok := fd.Value.(*ast.SelectorExpr); ok && alone {
					put(ls, ls, string(src[ls:from])+fmt.Sprintf("let L%d = %s\n", id, src[vf:vt]))
					put(s.Pos().Offset(), s.End().Offset(), fmt.Sprintf("L%d", id))
				}
			case "if":
				if alone && ends && isIdent {
					put(from, from, "if true {")
					put(to, to, "}")
				}
			case "for":
				if alone && ends && isIdent && !strings.Contains(text, "\n") && !strings.Contains(text, "//") && !strings.HasPrefix(label.Name, "_") {
					put(from, to, fmt.Sprintf("for k in [%q] {(k): %s}", label.Name, src[vf:vt]))
				}
			case "alias":
				if isIdent && alone && ends && isLit && !strings.HasPrefix(label.Name, "_") {
					put(from, from, fmt.Sprintf("X%d=", id))
					if alone && ends { // one that is used
						put(to, to, fmt.Sprintf("\n_u%d: X%d", id, id))
					}
				}
			case "twice":
				if isLit && alone && ends {
					put(le, le, "\n"+string(src[ls:to]))
				}
			case "trailing comma":
				if alone && ends {
					put(to, to, ",")
				}
			case "hidden":
				if isLit && isIdent {
					*serial++
					h := *serial
					fmt.Fprintf(&extra, "\n_h%d_%d: %s", h, id, lit.Value)
					put(vf, vt, fmt.Sprintf("_h%d_%d", h, id))
				}
			case "embedding":
				if isStruct && st.Lbrace.IsValid() && len(st.Elts) > 0 && !strings.Contains(text, "//") {
					put(st.Lbrace.Offset(), st.Lbrace.Offset(), "{")
					put(st.Rbrace.Offset()+1, st.Rbrace.Offset()+1, "}")
				}
			}
		}
		return true
	}, nil)
	slices.SortStableFunc(cs, func(a, b cut) int { return b.from - a.from })
	out := maps.Clone(f)
	b := slices.Clone(src)
	for _, c := range cs {
		b = slices.Concat(b[:c.from], []byte(c.text), b[c.to:])
	}
	if extra.Len() > 0 {
		b = append(b, []byte(extra.String()+"\n")...)
	}
	out[name] = b
	return out
}

func lastStruct(e ast.Expr) *ast.StructLit {
	switch e := e.(type) {
	case *ast.StructLit:
		return e
	case *ast.BinaryExpr:
		return lastStruct(e.Y)
	}
	return nil
}

// joinLines puts commas where line ends part fields.
func joinLines(t string) string {
	ls := strings.Split(t, "\n")
	for i := 0; i+1 < len(ls); i++ {
		l, next := strings.TrimSpace(ls[i]), strings.TrimSpace(ls[i+1])
		if l != "" && !strings.HasSuffix(l, "{") && !strings.HasSuffix(l, ",") && !strings.HasSuffix(l, "[") && !strings.HasPrefix(next, "}") && !strings.HasPrefix(next, "]") {
			ls[i] += ","
		}
	}
	return strings.Join(ls, "\n")
}
