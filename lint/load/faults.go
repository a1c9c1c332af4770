package load

import (
	"cmp"
	"fmt"
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
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// explainer turns CUE's errors into one plain fault for each wrong path, at the
// family's own words: CUE reports one typo several times, and first at the schema.
type explainer struct {
	files  *files
	own    []*ast.File
	root   cue.Value
	places *places // nil before the build
	// standard says that a standard is read, and no household.
	standard bool
	nodes    []extent
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
	syntax := map[string]bool{} // one syntax error for each file: the rest are echoes
	for _, k := range order {
		var keys []string
		if !strings.HasPrefix(k, "\x00") {
			keys = source.Keys(k)
		}
		f := Fault{Spot: source.Spot(keys...)}
		f.Rule, f.Message = e.message(groups[k], keys)
		e.placeFault(&f, groups[k], keys)
		if len(keys) == 0 && f.Rule == "input/syntax" {
			if syntax[f.At.File] {
				continue
			}
			syntax[f.At.File] = true
		}
		out = append(out, f)
	}
	sortFaults(out)
	return within(out)
}

// within drops faults that stand at a place where a more telling fault stands.
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

// trimPath takes the schema's own hiding place off a path.
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
	switch {
	case format == "field not allowed" && len(keys) > 0:
		names, open := e.fields(keys[:len(keys)-1])
		if open {
			if e.standard {
				return "input/name", standardNameFault(keys)
			}
			return "input/name", nameFault(last)
		}
		complaint := fmt.Sprintf("unknown field %q", last)
		switch parent := parentOf(keys); {
		case meantField(last, names) != "":
			f := meantField(last, names)
			return "input/unknown-field", fmt.Sprintf("%s; write %s instead: %s", complaint, f, sample(f))
		case parent == "can" && canOf(last) != "":
			return "input/unknown-field", fmt.Sprintf("%s; write %s instead", complaint, canOf(last))
		}
		return "input/unknown-field", words.Suggest(complaint, last, names, "fields here")
	case strings.HasPrefix(format, "field is required"):
		return "input/missing", fmt.Sprintf("%s is missing: write %s", last, e.sampleAt(last, keys))
	case strings.HasPrefix(format, "incomplete value"):
		if last == "" {
			return "input/missing", text0(first)
		}
		return "input/missing", fmt.Sprintf("%s has no value yet: write %s: %s", last, last, wanted(last))
	case strings.HasPrefix(format, "invalid value") && len(args) == 2:
		value, bound := fmt.Sprint(args[0]), fmt.Sprint(args[1])
		if m := oneOf.FindStringSubmatch(bound); m != nil {
			choices := strings.Split(m[1], "|")
			got := value
			if u, err := strconv.Unquote(value); err == nil {
				got = u
			}
			field := last
			for i := len(keys) - 1; i > 0 && isIndex(field); i-- { // an entry of a list goes by the list's name
				field = keys[i-1]
			}
			return "input/value", words.Suggest(fmt.Sprintf("%s is not a value of %s", value, field), got, choices, "write one of")
		}
		if e.standard && len(keys) == 1 && forms[last] != "" {
			return "input/value", fmt.Sprintf("%s: %s: write %s", last, value, forms[last])
		}
		return "input/value", fmt.Sprintf("%s: %s is outside what is allowed, %s", last, value, strings.NewReplacer(">=", "at least ", "<=", "at most ", " & ", " and ").Replace(bound))
	case strings.Contains(format, "structural cycle"):
		return "input/cycle", "this entry contains itself; take the reference back to it out"
	case strings.Contains(text0(first), "import cycle"):
		return "input/import", "this import leads back to itself through other packages; take one import of the circle out"
	case strings.Contains(text0(first), "cannot find"), strings.HasPrefix(format, "import failed"):
		return "input/import", e.importFault(text0(first))
	case strings.HasPrefix(format, "conflicting values"):
		return e.conflictFault(es, last)
	case strings.HasPrefix(format, "reference") || strings.HasPrefix(format, "undefined field"):
		return "input/reference", text0(first) + "; write the name of something that exists"
	}
	if len(keys) == 0 && len(errors.Positions(first)) > 0 && e.root == (cue.Value{}) {
		return "input/syntax", "CUE cannot read this: " + text0(first) + e.hint(first)
	}
	return "input/value", text0(first)
}

func isIndex(key string) bool {
	_, err := strconv.Atoi(key)
	return err == nil
}

var importPath = regexp.MustCompile(`cannot find package "([^"]*)"`)

func (e *explainer) importFault(text string) string {
	if m := importPath.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("there is no package %q in this repository, and %s are read without a network; write the path of a folder of this repository", m[1], e.files.of.many)
	}
	return text
}

// conflictFault tells a wrong type from a field that is set twice.
func (e *explainer) conflictFault(es []errors.Error, last string) (rule, text string) {
	m := conflict.FindStringSubmatch(text0(es[0]))
	if m == nil {
		return "input/value", text0(es[0])
	}
	a, b, ka, kb := m[1], m[2], m[3], m[4]
	if ka == "" {
		return "input/conflict", fmt.Sprintf("%s is set twice: %s and %s; keep one", last, a, b)
	}
	// a is what is written and b what is wanted: of a plain value and no plain one the plain is written; of two that are none, the
	// schema knows which is wanted.
	if plainValue.MatchString(b) && !plainValue.MatchString(a) || ka == "list" && kb == "struct" && takesList(last) || ka == "struct" && kb == "list" && !takesList(last) || ka == "string" && a == "string" {
		a, b, ka, kb = b, a, kb, ka
	}
	switch {
	case kb == "string" && (ka == "int" || ka == "float" || ka == "number") && (wanted(last) == someDay || wanted(last) == someHour):
		return "input/quantity", fmt.Sprintf("%s: %s is a number; write %s in quotes: %s: %s", last, a, map[string]string{someDay: "a day", someHour: "a time of day"}[wanted(last)], last, dayOrHour(a, wanted(last)))
	case kb == "string" && (ka == "int" || ka == "float" || ka == "number"):
		example := wanted(last)
		if e.standard && example == someText {
			example = `"12 kg", and a plain number in quotes for a count`
		}
		return "input/quantity", fmt.Sprintf("%s: %s has no unit; write it in quotes with its unit: %s: %s", last, a, last, example)
	case plainValue.MatchString(a) && plainValue.MatchString(b):
		return "input/conflict", fmt.Sprintf("%s is set twice: %s and %s; keep one", last, a, b)
	}
	if ka == "null" {
		return "input/value", fmt.Sprintf("%s: null is no value; leave %s out where it is not known", last, last)
	}
	text = fmt.Sprintf("%s: %s stands where %s is wanted", last, brief(a, ka), article(kb))
	switch {
	case kb == "struct" && groups[last] != "":
		text += "; write " + groups[last]
	case kb == "list" && lists[last] != "":
		text += "; write " + lists[last]
	case kb == "string" && wanted(last) != someText:
		text += fmt.Sprintf("; write %s: %s", last, wanted(last))
	}
	return "input/value", text
}

// What values look like: of nothing in particular, of days, and of times of day.
const (
	someText = `"…"`
	someDay  = `"2027-03-01"`
	someHour = `"18:00"`
)

// dayOrHour writes a bare number as the day or the hour that it can only mean, such as 20261221 or 18; else it shows one.
func dayOrHour(number, example string) string {
	if example == someHour {
		if h, err := strconv.Atoi(number); err == nil && (h == 0 || h > 12 && h < 24) {
			return fmt.Sprintf(`"%02d:00"`, h)
		}
	} else if len(number) == 8 {
		day := number[:4] + "-" + number[4:6] + "-" + number[6:]
		if _, err := unit.ParseDate(day); err == nil {
			return strconv.Quote(day)
		}
	}
	return example
}

func brief(value, kind string) string {
	if plainValue.MatchString(value) && len(value) < 60 {
		return value + " (" + kindWord(kind) + ")"
	}
	return article(kind)
}

func article(kind string) string {
	if w := kindWord(kind); strings.ContainsAny(w[:1], "aeiou") {
		return "an " + w
	} else {
		return "a " + w
	}
}

// kindWord says CUE's kinds in words that need no CUE.
func kindWord(kind string) string {
	switch kind {
	case "string":
		return "text in quotes"
	case "int":
		return "whole number"
	case "float", "number":
		return "number"
	case "bool":
		return "true or false"
	case "struct":
		return "group of fields in braces"
	case "list":
		return "list in square brackets"
	}
	return kind
}

// plainName makes a name that may be used of one that may not; "" where nothing of it is left.
func plainName(name string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(name)) { // apart: a letter and its accent
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9' && b.Len() > 0, r == '_' && b.Len() > 0:
			b.WriteRune(r)
		case (r == ' ' || r == '-' || r == '.') && b.Len() > 0 && !strings.HasSuffix(b.String(), "_"):
			b.WriteByte('_')
		}
	}
	return strings.TrimRight(b.String(), "_")
}

// nameFault says what is wrong with the name of an entry and offers one that is right.
func nameFault(name string) string {
	try := cmp.Or(plainName(name), "a_name")
	return fmt.Sprintf("the name %q cannot be used here: names of entries have lower-case letters a to z, digits, _ and -, and start with a letter; write %s and put what people shall read into name: %q", name, try, name)
}

// wanted shows, for a field, what its value looks like.
func wanted(field string) string {
	switch field {
	case "mass", "bodyMass", "budget", "net", "load":
		if field == "bodyMass" {
			return `"68 kg"`
		}
		return `"850 g"`
	case "perHour":
		return `"30 L"`
	case "start":
		return someHour
	case "latitude":
		return `"47.5 N"`
	case "wind":
		return `"20 km/h"`
	case "capacity", "water", "litres", "cookWater", "waterPerDay":
		return `"1 L"`
	case "energy", "energyPerDay":
		return `"450 kcal"`
	case "sodium", "salt", "protein":
		return `"600 mg"`
	case "age":
		return `"42 y"`
	case "born", "on", "date", "until", "expires", "opened", "rotate", "weighed", "audited", "outOfCold":
		return someDay
	case "day", "night", "comfort":
		return `"5 °C"`
	case "daylight", "duration", "runTime", "wait", "cookTime", "hoursPerDay", "coldLife", "openedLife":
		return `"9 h"`
	case "distance", "climb", "descent", "altitude", "after":
		return `"6 km"`
	case "height":
		return `"172 cm"`
	case "share", "humidity":
		return `"12 %"`
	case "power":
		return `"40 W"`
	case "pace":
		return `"15 min/km"`
	case "order", "count", "doses", "cells", "perDay", "uses", "worth":
		return "1"
	case "people", "packs", "items", "compartments":
		return "{…}"
	case "reach":
		return `"walking" or "halted"`
	case "burns":
		return `["butane"]`
	}
	if c := choices(field); len(c) > 1 && len(c) <= 4 {
		quoted := make([]string, len(c))
		for i, w := range c {
			quoted[i] = strconv.Quote(w)
		}
		return strings.Join(quoted[:len(quoted)-1], ", ") + " or " + quoted[len(quoted)-1]
	} else if len(c) > 4 {
		return strconv.Quote(c[0])
	}
	return someText
}

// sample shows a whole field.
func sample(field string) string {
	if g := cmp.Or(groups[field], lists[field]); g != "" {
		return g
	}
	return field + ": " + wanted(field)
}

// sampleAt is the same for a field of an entry, such as the mass of an animal's body.
func (e *explainer) sampleAt(field string, keys []string) string {
	if len(keys) > 1 && keys[0] == "animals" && field == "bodyMass" {
		return `bodyMass: "24 kg"`
	}
	return sample(field)
}

// parentOf is the field that holds the last one.
func parentOf(keys []string) string {
	if len(keys) < 2 {
		return ""
	}
	return keys[len(keys)-2]
}

// hint says what to write where CUE's own words tell a newcomer nothing, by the line that they are about.
func (e *explainer) hint(err errors.Error) string {
	text := text0(err)
	at := errors.Positions(err)[0]
	t := e.files.text(at.Filename())
	line := ""
	if t != nil {
		if lines := strings.Split(string(t.Bytes), "\n"); at.Line() >= 1 && at.Line() <= len(lines) {
			line = strings.TrimSpace(lines[at.Line()-1])
		}
	}
	bare := regexp.MustCompile(`^(?:.*[{,]\s*)?([A-Za-z_][A-Za-z0-9_-]*):\s*([0-9][0-9.,]*\s*[^\s0-9,}"'][^,}"]*?|[0-9]{4}-[0-9]{1,2}-[0-9]{1,2})\s*(?:[,}].*)?$`)
	switch {
	case strings.ContainsAny(line, "“”„‘’«»"):
		return "; write straight quotes, such as \"850 g\", not those of a word processor"
	case strings.HasPrefix(line, "#"):
		return "; a comment begins with //"
	case bare.MatchString(line):
		m := bare.FindStringSubmatch(line)
		return fmt.Sprintf("; write the value in quotes: %s: %q", m[1], strings.TrimSpace(m[2]))
	case regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_]*(?: +[A-Za-z0-9_]+)+ *:`).MatchString(line):
		name, _, _ := strings.Cut(line, ":")
		return fmt.Sprintf("; a name has no blanks: write %s", strings.Join(strings.Fields(name), "_"))
	case regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_]*(?:-[A-Za-z0-9_]*)+ *:`).MatchString(line):
		name, _, _ := strings.Cut(line, ":")
		name = strings.TrimSpace(name)
		return fmt.Sprintf("; write %s, or the name in quotes: %q", strings.ReplaceAll(name, "-", "_"), name)
	case regexp.MustCompile(`^[0-9]+[A-Za-z_][A-Za-z0-9_]* *:`).MatchString(line):
		name, _, _ := strings.Cut(line, ":")
		return fmt.Sprintf("; a name begins with a letter: write n%s", strings.TrimSpace(name))
	case regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_-]* *[={]`).MatchString(line):
		return "; write a colon after the name"
	case regexp.MustCompile(`["}\]]\s*;`).MatchString(line):
		return "; no line ends with a semicolon"
	case strings.Count(line, `"`)%2 == 1:
		return "; a quote is missing on this line"
	case strings.Contains(text, "found 'EOF'") && t != nil:
		if n := unclosed(string(t.Bytes)); n > 0 {
			return fmt.Sprintf("; the brace that opens on line %d is not closed", n)
		}
	case strings.Contains(text, "missing ','"):
		return "; write one field a line, or a comma between two"
	}
	return ""
}

// unclosed is the line of the brace that is probably not closed: of those left open, the first whose line is indented as much as, or more
// than, a later line that stands beside or above it; else the last. 0 where none is open.
func unclosed(text string) int {
	type brace struct{ line, indent int }
	var open []brace
	for i, line := range strings.Split(text, "\n") {
		code := strings.TrimLeft(line, " \t")
		indent := len(line) - len(code)
		if code == "" || strings.HasPrefix(code, "//") {
			continue
		}
		if len(open) > 0 && indent <= open[len(open)-1].indent && !strings.HasPrefix(code, "}") {
			return open[len(open)-1].line
		}
		quoted := false
		for _, r := range code {
			switch {
			case r == '"':
				quoted = !quoted
			case quoted:
			case r == '{':
				open = append(open, brace{i + 1, indent})
			case r == '}' && len(open) > 0:
				open = open[:len(open)-1]
			}
		}
	}
	if len(open) == 0 {
		return 0
	}
	return open[len(open)-1].line
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

// fields lists what the schema allows at a path; open says that it is a place for names of the family's own.
func (e *explainer) fields(keys []string) (names []string, open bool) {
	if e.root == (cue.Value{}) { // nothing was built
		return nil, false
	}
	v := e.root.LookupPath(cuePath(keys))
	it, err := v.Fields(cue.Optional(true), cue.Patterns(true))
	for err == nil && it.Next() {
		if it.Selector().ConstraintType()&cue.PatternConstraint != 0 {
			open = true
			continue
		}
		if n := it.Selector().Unquoted(); e.known(it.Value()) {
			names = append(names, n)
		}
	}
	slices.Sort(names)
	return names, open
}

// known reports whether the schema constrains v.
func (e *explainer) known(v cue.Value) bool {
	if p := v.Pos(); p.IsValid() && p.Filename() == schemaFile {
		return true
	}
	_, args := v.Expr()
	return slices.ContainsFunc(args, func(a cue.Value) bool { p := a.Pos(); return p.IsValid() && p.Filename() == schemaFile })
}

// placeFault picks the place of a fault: of all places in the family's files that CUE
// names, one in a field named like the path's last key, literals first.
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
		} else if strings.HasPrefix(k, "#") {
			sels[i] = cue.Def(k)
		} else if strings.HasPrefix(k, "_") {
			sels[i] = cue.Hid(k, "_")
		} else {
			sels[i] = cue.Str(k)
		}
	}
	return cue.MakePath(sels...)
}
