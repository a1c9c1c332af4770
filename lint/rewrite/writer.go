package rewrite

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/format"
	"cuelang.org/go/cue/literal"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"

	"kitmuster/lint/load"
	"kitmuster/lint/source"
)

// writer makes the bytes of one change. Each pass of it reads the files anew: offsets of the last pass hold no more.
type writer struct {
	draft *Draft
	now   map[string][]byte
}

// change puts text in the place of the bytes from one offset to another.
type change struct {
	file     *file
	from, to int
	text     string
}

func (w *writer) step(s Step) error {
	switch s.Do {
	case Set:
		return w.set(s.Spot, s.Value, s.Behind)
	case Remove:
		return w.remove(s.Spot)
	case Move, Copy:
		return w.carry(s.Spot, s.To, s.Do == Move)
	}
	return &Refusal{Text: fmt.Sprintf("unknown act %d", s.Do)}
}

// set writes the value of a field or an entry that is or is not there yet.
func (w *writer) set(spot string, value any, behind []string) error {
	x, err := w.draft.parse(w.now)
	if err != nil {
		return err
	}
	ps, err := x.own(spot)
	if err != nil {
		return err
	}
	if len(ps) == 0 {
		keys := source.Keys(spot)
		text, err := encode(value)
		if err != nil {
			return err
		}
		return w.add(source.Spot(keys[:len(keys)-1]...), Label(keys[len(keys)-1])+": "+text, behind)
	}
	var cs []change
	for _, p := range ps {
		if len(p.field.Attrs) > 0 {
			return p.file.refuse(p.field.Attrs[0], "an attribute stands at this field; change it by hand")
		}
		text, err := encode(value)
		if err != nil {
			return err
		}
		v := p.field.Value
		cs = append(cs, change{p.file, v.Pos().Offset(), v.End().Offset(), shift(restyle(text, p.file.step()), "", p.file.indent(p.field.Pos().Offset()))})
	}
	return w.apply(cs)
}

// add puts a field, with comments above and behind it, into a group.
func (w *writer) add(group, text string, behind []string) error {
	x, err := w.draft.parse(w.now)
	if err != nil {
		return err
	}
	for {
		if h, ok := x.bestHost(group); ok {
			return w.insert(h, text, behind)
		}
		for _, p := range x.pieces[group] { // only references: put the new field beside them
			if p.made != nil {
				continue
			}
			if len(p.field.Attrs) > 0 {
				return p.file.refuse(p.field, "this is read from another file; change it there")
			}
			if b, ok := p.field.Value.(*ast.BinaryExpr); ok && b.Op == token.OR {
				return p.file.refuse(p.field, "alternatives stand here; change it by hand")
			}
			text = restyle(text, p.file.step())
			end := p.field.Value.End().Offset()
			block := "{" + text + "}"
			if hasComment(text) || strings.Contains(text, "\n") {
				ind := p.file.indent(p.field.Pos().Offset())
				block = "{\n" + shift(text, "all", ind+p.file.step()) + "\n" + ind + "}"
			}
			return w.apply([]change{{p.file, end, end, " & " + block}})
		}
		// A made entry takes a further field from beside it, as CUE joins them.
		keys := source.Keys(group)
		if len(keys) == 0 {
			return &Refusal{Text: "no file of the household can take this"}
		}
		group, behind = source.Spot(keys[:len(keys)-1]...), nil
		lead, rest := split(text)
		text = lead + Label(keys[len(keys)-1]) + ": " + rest
	}
}

// bestHost is the literal of a group that holds most and has braces; failing that, the household's main file.
func (x *index) bestHost(group string) (best host, found bool) {
	most := -1
	for _, h := range x.hosts[group] {
		if h.made != nil {
			continue
		}
		score := 1
		switch {
		case h.lit == nil && path.Base(h.file.path) == "household.cue":
			score = 2
		case h.lit != nil:
			score = len(h.lit.Elts)
			if h.lit.Lbrace.IsValid() {
				score += 1 << 20
			}
		}
		if score >= most {
			best, most = h, score
		}
	}
	return best, most >= 0
}

// split parts the comments above a field from the field.
func split(text string) (lead, rest string) {
	for strings.HasPrefix(strings.TrimLeft(text, " \t"), "//") {
		line, after, _ := strings.Cut(text, "\n")
		lead, text = lead+line+"\n", after
	}
	return lead, text
}

func hasComment(text string) bool {
	f, err := parser.ParseFile("", text, parser.ParseComments)
	found := err != nil
	if err == nil {
		ast.Walk(f, func(n ast.Node) bool { found = found || len(ast.Comments(n)) > 0; return true }, nil)
	}
	return found
}

// insert puts a field into a host, behind one of some fields or behind all that it holds.
func (w *writer) insert(h host, text string, behind []string) error {
	f := h.file
	text = restyle(text, f.step())
	put := func(from, to int, s string) error { return w.apply([]change{{f, from, to, s}}) }
	if h.lit == nil {
		end := len(f.src)
		if n := len(f.syntax.Decls); n > 0 {
			end = f.lineEnd(f.syntax.Decls[n-1].End().Offset())
		}
		return put(end, end, "\n\n"+text)
	}
	if !h.lit.Lbrace.IsValid() {
		return w.insertBesideChain(h, text)
	}
	if n := len(h.lit.Elts); n > 0 {
		i := n - 1
		for _, key := range slices.Backward(behind) {
			if j := slices.IndexFunc(h.lit.Elts, func(d ast.Decl) bool { return keyOf(d) == key }); j >= 0 {
				i = j
			}
		}
		return w.insertAfter(f, h.lit, i, text)
	}
	from, to := h.lit.Lbrace.Offset()+1, h.lit.Rbrace.Offset()
	ind := f.indent(h.lit.Lbrace.Offset())
	if between := string(f.src[from:to]); strings.TrimSpace(between) != "" { // a comment only
		at := from + len(strings.TrimRight(between, " \t\n"))
		return put(at, at, "\n"+shift(text, "all", ind+f.step()))
	}
	if hasComment(text) || strings.Contains(text, "\n") {
		return put(from, to, "\n"+shift(text, "all", ind+f.step())+"\n"+ind)
	}
	return put(from, to, text)
}

// keyOf is the plain key of a field, "" for anything else.
func keyOf(d ast.Decl) string {
	f, ok := d.(*ast.Field)
	if !ok {
		return ""
	}
	key, plain := label(f.Label)
	if !plain {
		return ""
	}
	return key
}

// insertBesideChain gives the one field of a chain braces, so that it holds two; where that would break lines, a chain of its own
// goes behind the first.
func (w *writer) insertBesideChain(h host, text string) error {
	f := h.file
	e := h.lit.Elts[0]
	from, to := e.Pos().Offset(), e.End().Offset()
	if !bytes.ContainsRune(f.src[from:to], '\n') && !hasComment(text) && !strings.Contains(text, "\n") {
		return w.apply([]change{{f, from, from, "{"}, {f, to, to, ", " + text + "}"}})
	}
	o := h.of.outermost()
	lead, rest := split(text)
	text = lead + string(f.src[o.field.Pos().Offset():from]) + rest
	if o.above == nil {
		end := f.lineEnd(o.field.End().Offset())
		return w.apply([]change{{f, end, end, "\n" + text}})
	}
	return w.insertAfter(f, o.holder.(*ast.StructLit), o.i, text)
}

// insertAfter puts a field behind field i of a literal with braces.
func (w *writer) insertAfter(f *file, lit *ast.StructLit, i int, text string) error {
	end, next := lit.Elts[i].End().Offset(), lit.Rbrace.Offset()
	if i+1 < len(lit.Elts) {
		next = lit.Elts[i+1].Pos().Offset()
	}
	if !bytes.ContainsRune(f.src[end:next], '\n') {
		if hasComment(text) || strings.Contains(text, "\n") {
			return w.openLine(f, lit, i, text)
		}
		return w.apply([]change{{f, end, end, ", " + text}})
	}
	at := f.lineEnd(end)
	return w.apply([]change{{f, at, at, "\n" + shift(text, "all", f.indentOf(lit, i))}})
}

// openLine gives each field of a literal on one line a line of its own, and text one behind field i.
func (w *writer) openLine(f *file, lit *ast.StructLit, i int, text string) error {
	ind := f.indent(lit.Lbrace.Offset())
	deep := ind + f.step()
	at, cs := lit.Lbrace.Offset()+1, []change{}
	for j, e := range lit.Elts {
		if bytes.ContainsRune(f.src[at:e.Pos().Offset()], '\n') {
			return f.refuse(e, "lines and commas are mixed here; write the new entry by hand")
		}
		s := "\n" + deep
		if j == i+1 {
			s = "\n" + shift(text, "all", deep) + s
		}
		cs = append(cs, change{f, at, e.Pos().Offset(), s})
		at = e.End().Offset()
	}
	s := "\n" + ind
	if i+1 == len(lit.Elts) {
		s = "\n" + shift(text, "all", deep) + s
	}
	return w.apply(append(cs, change{f, at, lit.Rbrace.Offset(), s}))
}

// remove takes a field or an entry away with its comments, wherever it is written.
func (w *writer) remove(spot string) error {
	for first := true; ; first = false {
		x, err := w.draft.parse(w.now)
		if err != nil {
			return err
		}
		ps, err := x.own(spot)
		if err == nil && first && len(ps) == 0 {
			err = &Refusal{Spot: spot, Text: "no line of the household's own says this alone"}
		}
		if err != nil {
			return err
		}
		if len(ps) == 0 {
			return x.leftOver()
		}
		if err = w.cut(x, spot, ps[0]); err != nil {
			return err
		}
	}
}

// cut takes one piece out. What it leaves of a chain goes too, as far as that is a group which may be empty.
func (w *writer) cut(x *index, spot string, p *piece) error {
	f := p.file
	put := func(from, to int, s string) error { return w.apply([]change{{f, from, to, s}}) }
	for chained(p.holder) && p.above != nil {
		keys := source.Keys(spot)
		spot = source.Spot(keys[:len(keys)-1]...)
		if p.above.field.Value != p.holder || !load.IsGroup(spot) && len(x.pieces[spot]) < 2 {
			return put(p.field.Pos().Offset(), p.field.End().Offset(), "{}")
		}
		p = p.above
	}
	from, to := f.extent(p)
	ds, open, shut := siblings(p.holder)
	if len(ds) == 1 && p.above != nil { // `x & {only}` becomes `x`
		if b, ok := p.above.field.Value.(*ast.BinaryExpr); ok && b.Op == token.AND && b.Y == p.holder {
			if xEnd, yEnd := b.X.End().Offset(), b.Y.End().Offset(); !bytes.Contains(f.src[xEnd:yEnd], []byte("//")) {
				return put(xEnd, yEnd, "")
			}
		}
	}
	start, end := p.field.Pos().Offset(), p.field.End().Offset()
	prevEnd, nextPos := open, shut
	if p.i > 0 {
		prevEnd = ds[p.i-1].End().Offset()
	}
	if p.i+1 < len(ds) {
		nextPos = ds[p.i+1].Pos().Offset()
	}
	newLine := func(a, b int) bool {
		return a < 0 || b < 0 || bytes.ContainsRune(f.src[a:min(b, len(f.src))], '\n')
	}
	before, after := newLine(prevEnd, start), newLine(end, nextPos)
	switch {
	case before && after:
		from, to = f.wholeLines(from, to, shut, p.i == 0 && p.above != nil)
		return put(from, to, "")
	case !before && p.i > 0:
		return put(prevEnd, end, "")
	case !after && p.i+1 < len(ds):
		return put(start, nextPos, "")
	}
	for end < len(f.src) && (f.src[end] == ',' || f.src[end] == ' ') {
		end++
	}
	return put(start, end, "")
}

// wholeLines widens a range to its lines. One blank line goes with it where two would meet, or one would begin or end a group.
func (f *file) wholeLines(from, to, shut int, first bool) (int, int) {
	from, to = bytes.LastIndexByte(f.src[:from], '\n')+1, f.lineEnd(to)
	if to < len(f.src) {
		to++
	} else if from > 0 { // the last line, which no newline ends
		from--
	}
	blankBefore, blankAfter := f.blank(from, -1), f.blank(to, +1)
	ends := shut >= 0 && to >= shut-len(f.indent(shut))
	if blankBefore > 0 && (blankAfter > 0 || ends) {
		from -= blankBefore
	} else if blankAfter > 0 && first {
		to += blankAfter
	}
	return from, to
}

// carry writes the entry at spot once more, and takes it away from where it was.
func (w *writer) carry(spot, to string, away bool) error {
	x, err := w.draft.parse(w.now)
	if err != nil {
		return err
	}
	ps, err := x.own(spot)
	if err == nil && len(ps) == 0 {
		err = &Refusal{Spot: spot, Text: "no line of the household's own says this alone"}
	}
	if err != nil {
		return err
	}
	keys := source.Keys(to)
	group, key := source.Spot(keys[:len(keys)-1]...), keys[len(keys)-1]
	var texts []string
	for _, p := range ps {
		if err := p.localNames(); err != nil {
			return err
		}
		texts = append(texts, p.textAs(key))
	}
	if away {
		if err = w.remove(spot); err != nil {
			return err
		}
	}
	for _, t := range texts {
		if err = w.add(group, t, nil); err != nil {
			return err
		}
	}
	return nil
}

// textAs is a field with its comments, as it would stand at the left edge of a file under a key.
func (p *piece) textAs(key string) string {
	f := p.file
	l := p.field.Label
	name := string(f.src[l.Pos().Offset():l.End().Offset()])
	if k, _ := label(l); k != key {
		name = Label(key)
	}
	from, to := f.extent(p)
	head := p
	if o := p.outermost(); f.ownLine(o) { // the comments of a chain are those of its one entry
		head = o
		from, to = f.extent(o)
	} else if !f.ownLine(p) { // a comment at the line's end belongs to the whole line
		from, to = p.field.Pos().Offset(), p.field.End().Offset()
	}
	lead := string(f.src[from:head.field.Pos().Offset()])
	return shift(lead+name+string(f.src[l.End().Offset():to]), f.indent(from), "")
}

// extent is a field with the comments that are its own: directly above it, and behind it on its line. The parser ties others to it, too.
func (f *file) extent(p *piece) (from, to int) {
	from, to = p.field.Pos().Offset(), p.field.End().Offset()
	for _, c := range ast.Comments(p.field) {
		if c.Position == 0 && c.Doc && c.End().Offset() < from {
			from = c.Pos().Offset()
		}
	}
	rest := f.src[to:f.lineEnd(to)] // the parser ties a comment behind a chain or a literal to the innermost field
	if t := bytes.TrimLeft(rest, " \t,"); bytes.HasPrefix(t, []byte("//")) {
		to += len(bytes.TrimRight(rest, " \t"))
	}
	return from, to
}

// apply changes the bytes, none of which may overlap. A file that was as `cue fmt` leaves it is left so again.
func (w *writer) apply(cs []change) error {
	slices.SortStableFunc(cs, func(a, b change) int { return cmp.Compare(b.from, a.from) })
	srcs := map[string][]byte{}
	for _, c := range cs {
		if c.file.barred != "" {
			return c.file.refuse(c.file.syntax, "this file "+c.file.barred)
		}
		b, ok := srcs[c.file.path]
		if !ok {
			b = c.file.src
		}
		srcs[c.file.path] = slices.Concat(b[:c.from], []byte(c.text), b[c.to:])
	}
	now := maps.Clone(w.now)
	for p, b := range srcs {
		src, crlf := unix(now[p])
		if clean(src) {
			tidy, err := format.Source(b)
			if err != nil {
				return &Refusal{Text: "the file could not be read after the change: " + err.Error()}
			}
			b = tidy
		}
		if crlf {
			b = bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n"))
		}
		if bytes.HasPrefix(now[p], bom) {
			b = slices.Concat(bom, b)
		}
		now[p] = b
	}
	w.now = now
	return nil
}

// clean reports whether `cue fmt` would leave a source as it is.
func clean(b []byte) bool {
	out, err := format.Source(b)
	return err == nil && bytes.Equal(out, b)
}

// encode writes a value in CUE. Groups of a few plain fields stand on one line.
func encode(v any) (string, error) {
	switch v := v.(type) {
	case string:
		return literal.String.Quote(v), nil
	case int:
		return strconv.Itoa(v), nil
	case bool:
		return strconv.FormatBool(v), nil
	case []any:
		parts := make([]string, len(v))
		for i, e := range v {
			s, err := encode(e)
			if err != nil {
				return "", err
			}
			parts[i] = s
		}
		return "[" + strings.Join(parts, ", ") + "]", nil
	case Fields:
		return v.encode()
	}
	return "", fmt.Errorf("a %T cannot be written in a kit", v)
}

// mostOnALine is how many characters a group on one line may have. Our own figure.
const mostOnALine = 100

func (v Fields) encode() (string, error) {
	parts, length, deep := make([]string, len(v)), 0, false
	for i, f := range v {
		if slices.ContainsFunc(v[:i], func(o Field) bool { return o.Key == f.Key }) {
			return "", fmt.Errorf("%s is given twice", f.Key)
		}
		s, err := encode(f.Value)
		if err != nil {
			return "", err
		}
		parts[i] = Label(f.Key) + ": " + s
		length += len(parts[i]) + 2
		deep = deep || strings.Contains(s, "\n")
	}
	if !deep && length <= mostOnALine {
		return "{" + strings.Join(parts, ", ") + "}", nil
	}
	var b strings.Builder
	b.WriteString("{\n")
	for _, p := range parts {
		b.WriteString(shift(p, "all", "\t") + "\n")
	}
	b.WriteString("}")
	return b.String(), nil
}

// --- lines ---

// ownLine reports whether nothing stands before a field on its line.
func (f *file) ownLine(p *piece) bool {
	at := p.field.Pos().Offset()
	return len(bytes.TrimSpace(f.src[bytes.LastIndexByte(f.src[:at], '\n')+1:at])) == 0
}

// lineEnd is the offset of the end of the line that an offset lies in.
func (f *file) lineEnd(at int) int {
	if i := bytes.IndexByte(f.src[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(f.src)
}

// indent is the white space that the line of an offset begins with.
func (f *file) indent(at int) string {
	line := f.src[bytes.LastIndexByte(f.src[:min(max(at, 0), len(f.src))], '\n')+1:]
	return string(line[:len(line)-len(bytes.TrimLeft(line, " \t"))])
}

// indentOf is how far in the fields of a literal stand, up to field i.
func (f *file) indentOf(lit *ast.StructLit, i int) string {
	for ; i >= 0; i-- {
		at := lit.Elts[i].Pos().Offset()
		if start := bytes.LastIndexByte(f.src[:at], '\n') + 1; len(bytes.TrimSpace(f.src[start:at])) == 0 {
			return string(f.src[start:at])
		}
	}
	return f.indent(lit.Lbrace.Offset()) + f.step()
}

// step is how far in one level of the file stands.
func (f *file) step() string {
	for line := range bytes.Lines(f.src) {
		if bytes.HasPrefix(line, []byte("  ")) && len(bytes.TrimSpace(line)) > 0 {
			return string(line[:len(line)-len(bytes.TrimLeft(line, " "))])
		} else if line[0] == '\t' {
			break
		}
	}
	return "\t"
}

// blank is the length of the blank line before (-1) or after (+1) the start of a line; 0 where there is none.
func (f *file) blank(at, dir int) int {
	if dir > 0 {
		line, _, found := bytes.Cut(f.src[min(at, len(f.src)):], []byte("\n"))
		if found && len(bytes.TrimSpace(line)) == 0 {
			return len(line) + 1
		}
		return 0
	}
	if at == 0 {
		return 0
	}
	start := bytes.LastIndexByte(f.src[:at-1], '\n') + 1
	if len(bytes.TrimSpace(f.src[start:at])) == 0 {
		return at - start
	}
	return 0
}

// restyle gives lines that are indented by tabs the step of the file that they go to.
func restyle(text, step string) string {
	if step == "\t" {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		rest := strings.TrimLeft(l, "\t")
		lines[i] = strings.Repeat(step, len(l)-len(rest)) + rest
	}
	return strings.Join(lines, "\n")
}

// shift moves lines to an indentation: those after the first from another one, or, where that is "all", every line.
func shift(text, from, to string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		switch {
		case strings.TrimSpace(l) == "" && i > 0:
		case from == "all":
			lines[i] = to + l
		case i > 0 && strings.HasPrefix(l, from):
			lines[i] = to + strings.TrimPrefix(l, from)
		}
	}
	return strings.Join(lines, "\n")
}
