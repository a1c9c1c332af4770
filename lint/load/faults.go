package load

import (
	"cmp"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/errors"
	"cuelang.org/go/cue/token"
	"golang.org/x/text/unicode/norm"

	"kitmuster/lint/source"
)

// explainer turns CUE's errors into one plain fault for each wrong path, at the
// family's own words: CUE reports one typo several times, and first at the schema.
type explainer struct {
	files *files
	own   []*ast.File
	root  cue.Value
	// raw is what the files say without the schema, once it could be worked out.
	raw    cue.Value
	shape  *shape
	places *places // nil before the build
	// standard says that a standard is read, and no household.
	standard bool
	nodes    []extent
	// instead is what the message of a fault says to write, where that makes up no value; nil else.
	instead *instead
}

// instead is a label or a value that is to stand in the place of another.
type instead struct{ was, now string }

// sure is the change that a message offers, where what it is to replace stands at its place.
func (e *explainer) sure(at source.Span) *Edit {
	t := e.files.textOf(at.File)
	if e.instead == nil || t == nil || at.End.Offset > len(t.Bytes) || at.Start.Offset > at.End.Offset {
		return nil
	}
	edit := editOf(t, at.Start.Offset, at.End.Offset, e.instead.now)
	if edit.Was != e.instead.was && edit.Was != strconv.Quote(e.instead.was) {
		return nil
	}
	return edit
}

// keeps reports whether a value to write is what was written, at most in braces or brackets of its own, and so makes nothing up.
func (w said) keeps(value string) bool {
	switch {
	case w.kind == cue.StringKind:
		before, after, ok := strings.Cut(value, strconv.Quote(w.text))
		return ok && !strings.ContainsAny(before+after, "\"0123456789,")
	case w.kind&cue.NumberKind != 0, w.kind == cue.BoolKind:
		return value == w.text
	}
	return false
}

// extent is a node with its place, taken before stamps move its end.
type extent struct {
	node     ast.Node
	from, to token.Pos
}

func (e *explainer) faults(err error) (out []Fault) {
	if len(e.files.refused) > 0 { // CUE's error is only the echo of the door's
		return e.files.refused
	}
	for _, f := range e.own {
		ast.Walk(f, func(n ast.Node) bool { e.nodes = append(e.nodes, extent{n, n.Pos(), n.End()}); return true }, nil)
	}
	groups, order := map[string][]errors.Error{}, []string{}
	for i, ce := range errors.Errors(err) {
		ce = insideImport(ce)
		p := trimPath(ce.Path())
		format, _ := ce.Msg()
		if format == "field not allowed" { // CUE names the deepest leaf; the unknown label may be higher up
			for i := 1; i < len(p); i++ {
				if v := e.root.LookupPath(cuePath(p[:i])); v.Exists() && !e.known(v) {
					p = p[:i]
				}
			}
		}
		k := source.Spot(p...)
		if k == "" || strings.HasPrefix(format, "import failed") {
			k = fmt.Sprint("\x00", i) // syntax and import errors stand alone
		}
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], ce)
	}
	syntax := map[string]bool{} // one syntax error of CUE's for each file: the rest are echoes
	for _, k := range order {
		var keys []string
		if !strings.HasPrefix(k, "\x00") {
			keys = source.Keys(k)
		}
		f := Fault{Spot: source.Spot(keys...)}
		e.instead = nil
		f.Rule, f.Message = e.message(groups[k], keys)
		e.placeFault(&f, groups[k], keys)
		f.sure = e.sure(f.At)
		if f.Rule == "input/syntax" {
			if text, at, sure := e.misread(groups[k][0]); at.Known() {
				f.Message, f.At, f.sure = text, at, sure
			}
		}
		if len(keys) == 0 && f.Rule == "input/syntax" {
			if syntax[f.At.File] {
				continue
			}
			syntax[f.At.File] = true
			out = append(out, e.slips(errors.Positions(groups[k][0])[0].Filename(), f)...)
		}
		out = append(out, f)
	}
	if e.raw != (cue.Value{}) {
		e.strays(e.raw, e.shape, nil, &out)
	}
	sortFaults(out)
	return within(out)
}

// insideImport is the error in an imported file that is why its import failed; else the error itself.
func insideImport(ce errors.Error) errors.Error {
	if format, _ := ce.Msg(); !strings.HasPrefix(format, "import failed") {
		return ce
	}
	inner := ce
	for {
		next, ok := errors.Unwrap(inner).(errors.Error)
		if !ok {
			break
		}
		inner = next
	}
	format, _ := inner.Msg()
	if p := inner.Position(); p.IsValid() && p.Filename() != ce.Position().Filename() && !strings.Contains(format, "cannot find") && !strings.Contains(format, "import cycle") {
		return inner
	}
	return ce
}

// strays adds the fields and names that the schema does not know and that CUE keeps to itself: where another field beside one has a
// fault, it tells of that one only, and the next would show at the next check.
func (e *explainer) strays(v cue.Value, s *shape, keys []string, out *[]Fault) {
	it, err := v.Fields()
	if err != nil {
		return
	}
	for it.Next() {
		name := it.Selector().Unquoted()
		here := append(keys[:len(keys):len(keys)], name)
		fs, spot := s.shapeOf(name), source.Spot(here...)
		if fs == nil && !slices.ContainsFunc(*out, func(f Fault) bool { return f.Spot == spot }) {
			f := Fault{Spot: spot, At: (&places{files: e.files, root: e.raw, own: e.own}).place(cuePath(here).Selectors()).At}
			e.instead = nil
			f.Rule, f.Message = e.notAllowed(here, s)
			f.At = e.labelAt(f.At, name)
			f.sure = e.sure(f.At)
			*out = append(*out, f)
		}
		if fs == nil && s.group() {
			fs = s.elem
		}
		if fs != nil && fs.kind == cue.StructKind {
			e.strays(it.Value(), fs, here, out)
		}
	}
}

// within drops faults that say the same at the same place.
func within(fs []Fault) (out []Fault) {
	for _, f := range fs {
		if !slices.ContainsFunc(out, func(o Fault) bool { return o.At == f.At && o.Message == f.Message }) {
			out = append(out, f)
		}
	}
	return out
}

func sortFaults(fs []Fault) {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(source.Compare(a.At, b.At), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Message, b.Message))
	})
}

// trimPath removes the field that hides the schema from a path.
func trimPath(p []string) []string {
	for len(p) > 0 && (strings.HasPrefix(p[0], "_kitmuster") || strings.HasPrefix(p[0], "#")) {
		p = p[1:]
	}
	out := make([]string, len(p))
	for i, s := range p {
		if u, err := strconv.Unquote(s); err == nil {
			s = u
		}
		out[i] = s
	}
	return out
}

var (
	conflict   = regexp.MustCompile(`(?s)^conflicting values (.+?) and (.+?)(?: \(mismatched types (.+?) and (.+?)\))?$`)
	plainValue = regexp.MustCompile(`(?s)^(".*"|-?[0-9.eE+]+|true|false|null)$`)
	oneOf      = regexp.MustCompile(`^=~"\^\(([^()]*)\)\$"$`)
)

// message says what is wrong and what to write, and which kind of fault it is.
func (e *explainer) message(es []errors.Error, keys []string) (rule, text string) {
	first := es[0]
	for _, x := range es { // of several complaints, a bound says most
		if format, _ := x.Msg(); strings.HasPrefix(format, "invalid value") {
			first = x
			break
		}
	}
	format, args := first.Msg()
	last := ""
	if len(keys) > 0 {
		last = keys[len(keys)-1]
	}
	here, around := e.shape.at(keys)
	def := ""
	if around != nil {
		def = around.def
	}
	switch {
	case format == "field not allowed" && len(keys) > 0:
		return e.notAllowed(keys, around)
	case strings.HasPrefix(format, "field is required"):
		return "input/missing", fmt.Sprintf("%s is missing: write %s%s", last, here.such(def, last), meanings[last])
	case strings.HasPrefix(format, "incomplete value"):
		if here == nil {
			return "input/missing", "something has no value yet: write it out"
		}
		return "input/missing", fmt.Sprintf("%s has no value yet: write %s%s", last, here.such(def, last), meanings[last])
	case strings.HasPrefix(format, "invalid value") && len(args) == 2:
		value, bound := fmt.Sprint(args[0]), fmt.Sprint(args[1])
		if oneOf.MatchString(bound) && here.choices() != nil {
			field := last
			for i := len(keys) - 1; i > 0 && isIndex(field); i-- { // an entry of a list goes by the list's name
				field = keys[i-1]
			}
			return "input/value", e.noChoice(here, value, field, parentOf(keys))
		}
		if e.standard && len(keys) == 1 && forms[last] != "" {
			return "input/value", fmt.Sprintf("%s: %s: write %s", last, value, forms[last])
		}
		if here != nil && here.min != nil && here.max != nil {
			text, _ := e.said(keys).as(here, def, last)
			return "input/value", fmt.Sprintf("%s goes from %d to %d, and %s is outside; write %s", last, *here.min, *here.max, value, line(last, cmp.Or(text, fmt.Sprint(*here.min))))
		}
		return "input/value", fmt.Sprintf("%s: %s is outside what is allowed, %s", last, value, strings.NewReplacer(">=", "at least ", "<=", "at most ", " & ", " and ").Replace(bound))
	case strings.Contains(format, "structural cycle"):
		return "input/cycle", "this entry contains itself; take the reference back to it out"
	case strings.Contains(text0(first), "import cycle"):
		return "input/import", "this import leads back to itself through other packages; take one import of the circle out"
	case strings.HasPrefix(format, "imported and not used"):
		return "input/import", "nothing in this file uses this import; take the line out"
	case builtinPackage.MatchString(text0(first)):
		return "input/import", e.importFault(fmt.Sprintf("cannot find package %q", builtinPackage.FindStringSubmatch(text0(first))[1]))
	case strings.Contains(text0(first), "cannot find"), strings.HasPrefix(format, "import failed"):
		return "input/import", e.importFault(text0(first))
	case strings.HasPrefix(format, "conflicting values"):
		return e.conflictFault(es, keys)
	case strings.HasPrefix(format, "reference"):
		if m := unknownName.FindStringSubmatch(text0(first)); m != nil {
			return "input/reference", nothingCalled(m[1])
		}
		return "input/reference", text0(first) + "; write the name of something that exists"
	case strings.HasPrefix(format, "undefined field"):
		return "input/reference", text0(first) + "; write the name of something that exists"
	}
	if len(keys) == 0 && len(errors.Positions(first)) > 0 && e.root == (cue.Value{}) {
		return "input/syntax", cannotRead
	}
	return "input/value", plainly(last, text0(first))
}

func isIndex(key string) bool {
	_, err := strconv.Atoi(key)
	return err == nil
}

var builtinPackage = regexp.MustCompile(`builtin package "([^"]*)" undefined`)

var importPath = regexp.MustCompile(`cannot find package "([^"]*)"`)

func (e *explainer) importFault(text string) string {
	if m := importPath.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("there is no package %q in this repository, and %s are read without a network; write the path of a folder of this repository", m[1], e.files.of.many)
	}
	return text
}

// said is what was written at a path.
func (e *explainer) said(keys []string) said {
	if e.raw == (cue.Value{}) {
		return said{}
	}
	return saidOf(e.raw.LookupPath(cuePath(keys)))
}

// line writes a field with its value.
func line(field, value string) string { return strconvKey(field) + ": " + value }

// examples are the words that a field takes, where there are few; else one example.
func (s *shape) examples(def, field string) string {
	if c := s.choices(); len(c) > 1 && len(c) <= 4 {
		return orQuoted(c)
	}
	return s.example(def, field)
}

// such shows a field with the words it takes where they are few, and else with an example that is called one.
func (s *shape) such(def, field string) string {
	text := line(field, s.examples(def, field))
	if s.choices() == nil {
		return "it, such as " + text
	}
	return text
}

// meanings end a message about a field whose words alone do not say what it is.
var meanings = map[string]string{"reach": "; what is in it can be reached while walking, or only when halted"}

func orQuoted(list []string) string {
	quoted := make([]string, len(list))
	for i, w := range list {
		quoted[i] = strconv.Quote(w)
	}
	if len(quoted) == 1 {
		return quoted[0]
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + " or " + quoted[len(quoted)-1]
}

// notAllowed says of a field or a name that the schema does not know what is most likely meant.
func (e *explainer) notAllowed(keys []string, around *shape) (rule, text string) {
	last := keys[len(keys)-1]
	if around.group() {
		if e.standard {
			return "input/name", standardNameFault(keys)
		}
		return "input/name", nameFault(last)
	}
	if around.fields[last] != nil { // a kit may have it, and what it is added to, such as a definition of an import, may not
		return "input/unknown-field", fmt.Sprintf("%s cannot be added here, as what it is added to is closed; write ... at the end of that definition's braces, or put %s into it", last, last)
	}
	complaint := fmt.Sprintf("unknown field %q", last)
	w := e.said(keys)
	if parentOf(keys) == "can" && around.def == "#Can" && canOf(last) != "" {
		return "input/unknown-field", fmt.Sprintf("%s; write %s", complaint, canOf(last))
	}
	if say := advice[around.def][folded(last)]; say != "" {
		return "input/unknown-field", complaint + "; " + strings.ReplaceAll(say, "%s", strconv.Quote(parentOf(keys)))
	}
	if t, ok := e.shape.target(keys, w, e.said(keys[:len(keys)-1]).names); ok {
		return "input/unknown-field", complaint + "; " + e.belongs(keys, w, t)
	}
	if slices.Contains(unplaced, folded(last)) && !e.standard {
		comment := "// " + last
		if w.plain() && len(w.text) < 60 && !strings.ContainsAny(w.text, "\n\r") {
			comment += ": " + w.text
		}
		return "input/unknown-field", fmt.Sprintf("%s; a kit has no place for it: make it a comment, %s", complaint, comment)
	}
	var names []string
	if around != nil {
		names = slices.Sorted(maps.Keys(around.fields))
	}
	return "input/unknown-field", complaint + "; fields here: " + strings.Join(names, ", ")
}

// belongs says where a field belongs, and shows it there.
func (e *explainer) belongs(keys []string, w said, t target) string {
	base := keys[:len(keys)-1-t.up]
	s, _ := e.shape.at(base)
	path, at, def := []string{}, slices.Clone(base), ""
	for _, p := range t.path {
		if p == "" {
			p = e.entryName(at)
		}
		def = s.def
		s = s.fields[p]
		if s == nil {
			s, _ = e.shape.at(append(slices.Clone(at), p))
		}
		at, path = append(at, p), append(path, strconvKey(p))
	}
	field, written := at[len(at)-1], w
	if s.kind == cue.StringKind && s.choices() == nil {
		if t := withUnit(keys[len(keys)-1], w.text); t != w.text {
			w = said{kind: cue.StringKind, text: t}
		}
	}
	value, told := w.as(s, def, field)
	if t.up == 0 && len(path) == 1 && written.kind&s.kind != 0 && (!told || written.keeps(value)) {
		e.instead = &instead{keys[len(keys)-1], path[0]}
	}
	whole := strings.Join(path, ": ") + ": " + value
	if rest := e.needed(base, t); told && rest != "" {
		whole = fmt.Sprintf("%s: {%s, %s: %s}", path[0], rest, path[1], value)
	}
	switch {
	case t.near && told:
		return fmt.Sprintf("did you mean %s?", whole)
	case t.near:
		return fmt.Sprintf("did you mean %s?", field)
	case t.up == 0 && len(t.path) == 1 && told:
		return "write " + whole
	case t.up == 0 && len(t.path) == 1 && w.kind == s.kind:
		return "write " + field + " instead"
	case t.up == 0 && told && !slices.Contains(t.path, ""):
		return "write " + whole
	case t.up == 0 && len(t.path) == 1:
		return "write it like " + line(field, s.example(def, field))
	case len(t.path) == 1 && len(base) == 0:
		return "write it at the top, beside people"
	}
	where := make([]string, 0, len(at))
	for _, k := range at[:len(at)-1] {
		where = append(where, strconvKey(k))
	}
	under := strings.Join(where, ": ")
	if len(base) == 0 && len(keys) > 1 && where[0] != keys[0] { // of another kind of entry, of which the first is only an example
		return fmt.Sprintf("it is a field of %s: write it under %s", where[max(0, len(where)-2)], under)
	}
	return "write it under " + under
}

// needed are the other fields that a group needs before it can hold the field at a target; "" where it is written already, or needs none.
// What holds so much charge or energy is a power bank rather than a cell.
func (e *explainer) needed(base []string, t target) string {
	if t.up > 0 || len(t.path) != 2 || t.path[0] == "" || e.said(append(slices.Clone(base), t.path[0])).kind != cue.BottomKind {
		return ""
	}
	g, _ := e.shape.at(append(slices.Clone(base), t.path[0]))
	if g.def == "#Cells" && (t.path[1] == "capacity" || t.path[1] == "energy") {
		return `size: "usb", chemistry: "lithium-ion"`
	}
	var out []string
	for _, r := range g.required {
		if r != t.path[1] {
			out = append(out, r+": "+g.fields[r].example(g.def, r))
		}
	}
	return strings.Join(out, ", ")
}

// entryName is the name of the first entry of a group that is written, else one for an example.
func (e *explainer) entryName(group []string) string {
	if names := e.said(group).names; len(names) > 0 {
		return names[0]
	}
	return cmp.Or(entryNames[group[len(group)-1]], "one")
}

// noChoice says of a word that it is none of the few that a field takes.
func (e *explainer) noChoice(s *shape, value, field, parent string) string {
	word := value
	if u, err := strconv.Unquote(value); err == nil {
		word = u
	}
	complaint := fmt.Sprintf("%s is not a value of %s", value, field)
	if field == "reach" {
		return complaint + `; write reach: "walking" where what is in it can be reached while walking, reach: "halted" where one has to stop`
	}
	choices := slices.Sorted(slices.Values(s.choices()))
	if near := nearChoice(field, word, choices); near != "" {
		e.instead = &instead{word, strconv.Quote(near)}
		return fmt.Sprintf("%s; did you mean %q?", complaint, near)
	}
	if parent == "can" && canOf(word) != "" {
		return fmt.Sprintf("%s; write %s", complaint, canOf(word))
	}
	if in := holding(strings.ToLower(word), choices); len(in) > 1 {
		return fmt.Sprintf("%s; did you mean %s?", complaint, orQuoted(in))
	}
	return fmt.Sprintf("%s; write %s", complaint, orQuoted(choices))
}

// conflictFault tells a value of a wrong kind from a field that is set twice.
func (e *explainer) conflictFault(es []errors.Error, keys []string) (rule, text string) {
	last := ""
	if len(keys) > 0 {
		last = keys[len(keys)-1]
	}
	m := conflict.FindStringSubmatch(text0(es[0]))
	if m == nil {
		return "input/value", plainly(last, text0(es[0]))
	}
	if text := e.nameless(es); text != "" {
		return "input/value", text
	}
	a, b, ka := m[1], m[2], m[3]
	s, around := e.shape.at(keys)
	w := e.said(keys)
	if ka == "" || s == nil || w.kind == cue.BottomKind {
		return "input/conflict", twice(last, a, b)
	}
	def := ""
	if around != nil {
		def = around.def
	}
	if w.kind == cue.NullKind {
		return "input/value", fmt.Sprintf("%s: null is no value; leave %s out where it is not known", last, last)
	}
	if name := e.wordAt(es, last); name != "" && s.kind != cue.StructKind {
		if text, ok := (said{kind: cue.StringKind, text: name}).as(s, def, last); ok {
			e.instead = &instead{name, text}
			return "input/value", fmt.Sprintf("a text stands in quotes; write %s", line(last, text))
		}
	}
	if n := e.hanging(es, last); n != nil {
		return "input/value", fmt.Sprintf("%s has nothing after its colon, so what follows on the next line counts as its value; write %s", last, line(last, s.examples(def, last)))
	}
	value, told := w.as(s, def, last)
	if told && w.keeps(value) {
		e.instead = &instead{w.text, value}
	}
	offer := "write " + line(last, value)
	switch can := canOf(last); {
	case s.def == "#Item" && can != "" && (!told || w.kind == cue.BoolKind):
		offer = "write " + line(last, "{can: "+can+"}")
	case s.def == "#Item" && !told:
		offer = "write " + line(last, "{}")
	case !told:
		offer = "write it like " + line(last, s.examples(def, last))
	}
	if q, ok := measureOf(def, last); ok && w.kind&cue.NumberKind == w.kind && s.kind == cue.StringKind {
		example := value
		if !told {
			example = s.example(def, last)
		}
		switch {
		case e.standard && q.read == nil:
			return "input/quantity", fmt.Sprintf("%s: %s has no unit; write it in quotes with its unit, such as %s, and a plain number in quotes for a count", last, w.text, line(last, example))
		case last == "start":
			return "input/quantity", fmt.Sprintf("%s: %s is a number; write a time of day in quotes: %s", last, w.text, line(last, example))
		case q.unit == "" && q.read != nil:
			return "input/quantity", fmt.Sprintf("%s: %s is a number; write a day in quotes: %s", last, w.text, line(last, example))
		}
		if def == "#Item" && last == "mass" && strings.Contains(w.text, ".") { // a tent of 2.8, or a pill of 0.5
			return "input/quantity", fmt.Sprintf("mass: %s has no unit; write it in quotes with its unit: mass: \"%s kg\" or mass: \"%s g\"", w.text, w.text, w.text)
		}
		return "input/quantity", fmt.Sprintf("%s: %s has no unit; write it in quotes with its unit: %s", last, w.text, line(last, example))
	}
	return "input/value", fmt.Sprintf("%s takes %s, not %s; %s", last, takes(s), w.called(), offer)
}

// nameless says of a value that stands alone among fields what to write: it is what follows the comma of a number, or has no name.
func (e *explainer) nameless(es []errors.Error) string {
	for _, n := range e.nodes {
		group, ok := n.node.(*ast.StructLit)
		if !ok {
			continue
		}
		for i, d := range group.Elts {
			alone, ok := d.(*ast.EmbedDecl)
			if !ok {
				continue
			}
			lit, ok := alone.Expr.(*ast.BasicLit)
			if !ok || !slices.ContainsFunc(es, func(ce errors.Error) bool {
				return slices.ContainsFunc(errors.Positions(ce), func(p token.Pos) bool { return p == lit.Pos() || p == group.Pos() })
			}) {
				continue
			}
			if lit.Kind == token.STRING {
				return fmt.Sprintf("%s stands alone among fields; write its name before it, such as name: %s", lit.Value, lit.Value)
			}
			if i == 0 {
				return fmt.Sprintf("%s stands alone among fields; write the name of its field before it", lit.Value)
			}
			if f, ok := group.Elts[i-1].(*ast.Field); ok {
				if name, _, err := ast.LabelName(f.Label); err == nil {
					if whole, ok := f.Value.(*ast.BasicLit); ok && whole.Kind == token.INT {
						return fmt.Sprintf("a number has a decimal point, not a comma; write %s", line(name, e.decimal(f, whole.Value+"."+lit.Value)))
					}
				}
			}
		}
	}
	return ""
}

// decimal is a number as a field takes it, with its unit where the field measures something.
func (e *explainer) decimal(f *ast.Field, value string) string {
	for _, file := range e.own {
		if file.Filename != f.Pos().Filename() {
			continue
		}
		keys := pathTo(file, f.Pos())
		if s, around := e.shape.at(keys); s != nil && around != nil {
			if text, ok := (said{kind: cue.FloatKind, text: value}).as(s, around.def, keys[len(keys)-1]); ok {
				return text
			}
		}
	}
	return value
}

// twice says that two places do not agree.
func twice(field, a, b string) string {
	if plainValue.MatchString(a) && plainValue.MatchString(b) {
		return fmt.Sprintf("%s is set twice: %s and %s; keep one", field, a, b)
	}
	return fmt.Sprintf("%s is set twice, in two ways that do not go together; keep one", field)
}

// takes says what a field takes, in words that need no CUE.
func takes(s *shape) string {
	switch {
	case s.group():
		return "named entries in braces"
	case s.kind == cue.StructKind:
		return "fields in braces"
	case s.kind == cue.ListKind:
		return "a list in square brackets"
	case s.kind == cue.IntKind:
		return "a whole number"
	case s.kind == cue.NumberKind:
		return "a number"
	case s.kind == cue.BoolKind:
		return "true or false"
	}
	return "a text in quotes"
}

// called is what was written, in such words.
func (w said) called() string {
	switch {
	case w.kind == cue.StringKind && len(w.text) < 60:
		return "the text " + strconv.Quote(w.text)
	case w.kind == cue.StringKind:
		return "a text"
	case w.kind == cue.ListKind:
		return "a list"
	case w.kind == cue.StructKind:
		return "fields in braces"
	case w.kind == cue.BoolKind:
		return w.text
	}
	return "the number " + w.text
}

// hanging is the field of a name whose value begins on a later line, without braces; nil where none of the places is one.
func (e *explainer) hanging(es []errors.Error, name string) *ast.Field {
	for _, n := range e.nodes {
		f, ok := n.node.(*ast.Field)
		if !ok {
			continue
		}
		if l, _, err := ast.LabelName(f.Label); err != nil || l != name {
			continue
		}
		lit, ok := f.Value.(*ast.StructLit)
		if !ok || lit.Lbrace.IsValid() || f.Label.Pos().Line() == lit.Pos().Line() {
			continue
		}
		for _, ce := range es {
			for _, p := range errors.Positions(ce) {
				if p.Filename() == n.from.Filename() && p.Offset() >= n.from.Offset() && p.Offset() <= n.to.Offset() {
					return f
				}
			}
		}
	}
	return nil
}

// wordAt is the word without quotes that is written as the value of a field that one of the errors is about; "" where none is.
func (e *explainer) wordAt(es []errors.Error, name string) string {
	for _, n := range e.nodes {
		f, ok := n.node.(*ast.Field)
		if !ok {
			continue
		}
		word, ok := f.Value.(*ast.Ident)
		if l, _, err := ast.LabelName(f.Label); !ok || err != nil || l != name {
			continue
		}
		for _, ce := range es {
			if slices.ContainsFunc(errors.Positions(ce), func(p token.Pos) bool {
				return p.Filename() == n.from.Filename() && p.Offset() >= n.from.Offset() && p.Offset() <= n.to.Offset()
			}) {
				return word.Name
			}
		}
	}
	return ""
}

// theirWords are words of CUE that a family does not know.
var theirWords = regexp.MustCompile(`(?i)disjunction|unif|concrete|incomplete|#[A-Z]|_kitmuster|bottom|_\|_|literal|\bstruct\b|instance|conflicting|operand|invalid|mismatched|undefined|builtin`)

// plainly says that a value cannot be worked out, with the reason where it is one in plain words.
func plainly(field, reason string) string {
	what := "this"
	if field != "" {
		what = field
	}
	if theirWords.MatchString(reason) {
		return what + " cannot be worked out as it is written; write its value itself"
	}
	return what + " cannot be worked out: " + reason + "; write its value itself"
}

// PlainName makes a name that may be used of one that may not; "" where nothing of it is left.
func PlainName(name string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(name)) { // apart: a letter and its accent
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case strings.ContainsRune(" -_./(", r) && b.Len() > 0 && !strings.HasSuffix(b.String(), "_"):
			b.WriteByte('_')
		}
	}
	out := strings.TrimRight(b.String(), "_")
	if out == "" || out[0] > '9' {
		return out
	}
	if first, rest, _ := strings.Cut(out, "_"); rest != "" && rest[0] > '9' { // a letter comes first
		return rest + "_" + first
	}
	return "n" + out
}

// nameFault says what is wrong with the name of an entry and offers one that is right.
func nameFault(name string) string {
	try := cmp.Or(PlainName(name), "a_name")
	return fmt.Sprintf("the name %q cannot be used here: names of entries have lower-case letters a to z, digits, _ and -, and start with a letter; write %s and put what people shall read into name: %q", name, try, name)
}

// parentOf is the field that holds the last one.
func parentOf(keys []string) string {
	if len(keys) < 2 {
		return ""
	}
	return keys[len(keys)-2]
}

// text0 is CUE's own message, with the reason inside it.
func text0(e errors.Error) string {
	format, args := e.Msg()
	s := fmt.Sprintf(format, args...)
	if w := errors.Unwrap(e); w != nil && !strings.Contains(s, w.Error()) {
		s = strings.TrimSuffix(s+": "+w.Error(), ": ")
	}
	return s
}

// known reports whether the schema constrains v.
func (e *explainer) known(v cue.Value) bool {
	if p := v.Pos(); p.IsValid() && p.Filename() == schemaFile {
		return true
	}
	_, args := v.Expr()
	return slices.ContainsFunc(args, func(a cue.Value) bool { p := a.Pos(); return p.IsValid() && p.Filename() == schemaFile })
}

// placeFault picks the place of a fault among those in the family's files that CUE names: best a literal in a field whose name is the
// last key of the path.
func (e *explainer) placeFault(f *Fault, es []errors.Error, keys []string) {
	last := ""
	for _, s := range keys {
		if _, err := strconv.Atoi(s); err != nil {
			last = s
		}
	}
	at := e.candidates(es, last)
	best := 0
	for _, c := range at {
		if c.score > best {
			best, f.At = c.score, c.span
		}
	}
	if best < 6 && e.places != nil && len(keys) > 0 {
		sels := cuePath(keys).Selectors()
		if p := e.places.place(sels); p.At.Known() && (best == 0 || !(f.At.Known() && f.At.Inside(p.At))) {
			f.At = p.At
		}
	}
	if !f.At.Known() && e.places != nil {
		f.At = e.places.place(nil).At
	}
	if !f.At.Known() {
		f.At = e.files.start(e.firstFile())
	}
	if f.Rule == "input/unknown-field" || f.Rule == "input/name" {
		f.At = e.labelAt(f.At, last)
	}
	if f.Rule != "input/conflict" {
		return
	}
	for _, c := range at {
		if c.span != f.At && len(f.Also) < 5 {
			f.Also = append(f.Also, Remark{"also set here", c.span})
		}
	}
}

// candidate is a place that a fault may be said at; the higher its score, the better.
type candidate struct {
	span  source.Span
	score int
}

// candidates are all places in the family's files that CUE names, each once.
func (e *explainer) candidates(es []errors.Error, last string) (out []candidate) {
	spans := &places{files: e.files}
	var found []token.Pos
	for _, ce := range es {
		for _, p := range errors.Positions(ce) {
			if !p.IsValid() || p.Filename() == schemaFile || e.files.text(p.Filename()) == nil || slices.Contains(found, p) {
				continue
			}
			found = append(found, p)
			score, end := e.score(p, last)
			out = append(out, candidate{spans.span(p, end), score})
		}
	}
	return out
}

// score says how well a place fits a fault in a field of this name, from 2 on, and where what begins there ends.
func (e *explainer) score(p token.Pos, last string) (score int, end token.Pos) {
	score, end = 1, p
	for _, n := range e.nodes { // in pre-order: later nodes that hold p are further in
		if n.from.Filename() != p.Filename() || n.from.Offset() > p.Offset() || n.to.Offset() < p.Offset() {
			continue
		}
		if fd, ok := n.node.(*ast.Field); ok {
			score = 1
			if l, _, err := ast.LabelName(fd.Label); err == nil && l == last {
				score = 3
			}
		}
		if n.from.Offset() == p.Offset() {
			end = n.to
			if _, ok := n.node.(*ast.BasicLit); ok {
				score++
			}
		}
	}
	score *= 2
	if e.files.ours(p.Filename()) {
		score++ // of two equal places, the household's own before what it shares
	}
	return score, end
}

// labelAt narrows a place to the label that is wrong.
func (e *explainer) labelAt(at source.Span, label string) source.Span {
	spans := &places{files: e.files}
	for _, n := range e.nodes {
		fd, ok := n.node.(*ast.Field)
		if !ok {
			continue
		}
		if l, _, err := ast.LabelName(fd.Label); err != nil || l != label {
			continue
		}
		if s := spans.span(fd.Label.Pos(), fd.Label.End()); s.File == at.File && (s.Start == at.Start || spans.span(fd.Value.Pos(), fd.Value.End()).Start == at.Start) {
			return s
		}
	}
	return at
}

func (e *explainer) firstFile() string {
	for _, f := range e.own {
		if e.files.ours(f.Filename) {
			return treePath(f.Filename)
		}
	}
	return e.files.dir
}

// cuePath builds a path from the plain keys of a fault.
func cuePath(keys []string) cue.Path {
	sels := make([]cue.Selector, len(keys))
	for i, k := range keys {
		if n, err := strconv.Atoi(k); err == nil {
			sels[i] = cue.Index(n)
		} else if strings.HasPrefix(k, "#") && ast.IsValidIdent(k) { // a key in quotes may begin so too
			sels[i] = cue.Def(k)
		} else if strings.HasPrefix(k, "_") && ast.IsValidIdent(k) {
			sels[i] = cue.Hid(k, "_")
		} else {
			sels[i] = cue.Str(k)
		}
	}
	return cue.MakePath(sels...)
}
