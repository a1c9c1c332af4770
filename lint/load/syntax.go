package load

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"cuelang.org/go/cue/errors"

	"kitmuster/lint/source"
)

// What CUE's parser says of a mistake ("missing ',' in struct literal") tells a newcomer nothing, and it often says it a line or a
// hundred lines later. So the lines themselves are looked at for what people write who have never seen CUE.

// misread says what is wrong with a text that cannot be parsed, what to write instead, and where.
func (e *explainer) misread(err errors.Error) (text string, at source.Span, sure *Edit) {
	p := errors.Positions(err)[0]
	t := e.files.text(p.Filename())
	if t == nil {
		return cannotRead, at, nil
	}
	m := mess{cue: text0(err), lines: strings.Split(string(t.Bytes), "\n"), line: p.Line() - 1, col: p.Column() - 1}
	if m.line < 0 || m.line >= len(m.lines) {
		return cannotRead, at, nil
	}
	text = m.look()
	offset := 0
	for _, l := range m.lines[:m.line] {
		offset += len(l) + 1
	}
	return text, t.Span(offset+m.col, offset+m.col), m.edit(t, offset)
}

const cannotRead = "this cannot be read; write each field as name: value, texts in quotes, one field a line, and a } for each {"

// mess is a place that CUE cannot read. Looking at it moves the place to where the mistake is.
type mess struct {
	cue       string
	lines     []string
	line, col int // from 0, in bytes
	// from, to and now are what is to stand in the place of a part of that line; now is "" where that is not sure.
	from, to int
	now      string
}

// put says what is to stand in the place of a part of the line.
func (m *mess) put(from, to int, now string) { m.from, m.to, m.now = from, to, now }

// putLine says what is to stand in the place of the line, without its indentation and its comment.
func (m *mess) putLine(now string) {
	raw := strings.TrimRight(m.lines[m.line], "\r")
	raw = raw[:len(outsideQuotes(raw))]
	from := len(raw) - len(strings.TrimLeft(raw, " \t"))
	m.put(from, from+len(strings.TrimSpace(raw)), now)
}

// edit is what is sure of a line that begins at an offset; nil for nothing.
func (m *mess) edit(t *source.Text, offset int) *Edit {
	if m.now == "" {
		return nil
	}
	return editOf(t, offset+m.from, offset+m.to, m.now)
}

// look says what is wrong.
func (m *mess) look() string {
	if len(m.lines) == 1 && strings.Contains(m.lines[0], "\r") {
		return "the lines of this file end as they did on old Macs; save it with the line ends of Unix or of Windows"
	}
	switch {
	case strings.Contains(m.cue, "nest"):
		return "brackets nest too deeply here to be read; write at most a few dozen within each other"
	case strings.Contains(m.cue, "NUL"):
		return "a NUL character stands here, which no text has; take it out, or write the file anew"
	}
	if strings.Contains(m.cue, "EOF") && !strings.Contains(m.cue, "found '}'") {
		if brace, until, ok := unclosed(m.lines); ok {
			m.line, m.col = brace.line, brace.col
			if until < 0 {
				return "this brace is not closed; write } at the end of the file"
			}
			return fmt.Sprintf("this brace is not closed; write } before line %d", until+1)
		}
	}
	if text := m.list(); text != "" {
		return text
	}
	if strings.Contains(m.cue, "found '}'") {
		if text := m.surplus(); text != "" {
			return text
		}
	}
	found, col := m.line, m.col
	for _, l := range []int{found, m.before()} { // what a line lacks at its end is often noticed at the next one
		if l < 0 {
			continue
		}
		m.line, m.col = l, col
		if l != found {
			m.col = len(m.lines[l]) - len(strings.TrimLeft(m.lines[l], " \t"))
		}
		if text := m.look1(l == found); text != "" {
			return text
		}
	}
	m.line, m.col = found, col
	if strings.Contains(m.cue, "found '}'") {
		return "this brace closes nothing; take it out, or write the { that is missing above"
	}
	return cannotRead
}

// list looks for named entries in square brackets, which open on this line or above.
func (m *mess) list() string {
	var open []brace
	for i, l := range m.lines[:m.line+1] {
		for col, r := range outsideQuotes(l) {
			if i == m.line && col > m.col {
				break
			}
			switch {
			case r == '[' || r == '{':
				open = append(open, brace{line: i, col: col})
			case (r == ']' || r == '}') && len(open) > 0:
				open = open[:len(open)-1]
			}
		}
	}
	if len(open) == 0 {
		return ""
	}
	b := open[len(open)-1]
	raw := strings.TrimRight(m.lines[b.line], "\r")
	code := outsideQuotes(raw)
	first := raw[b.col+1 : len(code)]
	if strings.TrimSpace(first) == "" && b.line+1 < len(m.lines) {
		first = m.lines[b.line+1]
	}
	if code[b.col] != '[' || !namedEntry.MatchString(first) {
		return ""
	}
	m.line, m.col = b.line, b.col
	depth := 0
	for i := b.col; i < len(code); i++ {
		switch code[i] {
		case '[':
			depth++
		case ']':
			if depth--; depth == 0 {
				return "entries with names stand in braces, not in square brackets; write " + strings.TrimSpace(raw[:b.col]+"{"+raw[b.col+1:i]+"}"+raw[i+1:len(code)])
			}
		}
	}
	return fmt.Sprintf("entries with names stand in braces, not in square brackets; write %s, and } for its ]", strings.TrimSpace(raw[:b.col])+" {")
}

// surplus finds, by how far lines are indented, the brace that closes more than it may: one on a line that begins with something else,
// and that closes what opens on a line further to the left.
func (m *mess) surplus() string {
	var open []brace
	for i, l := range m.lines {
		raw := strings.TrimRight(l, "\r")
		code := outsideQuotes(raw)
		indent := len(code) - len(strings.TrimLeftFunc(code, unicode.IsSpace))
		for col, r := range code {
			switch r {
			case '{':
				open = append(open, brace{i, col, indent})
			case '}':
				if len(open) == 0 {
					return ""
				}
				b := open[len(open)-1]
				open = open[:len(open)-1]
				if b.line == i || b.indent >= indent {
					continue
				}
				m.line, m.col = i, col
				if f := opensNone.FindStringSubmatch(strings.TrimSpace(raw[:col])); f != nil {
					return fmt.Sprintf("a brace is missing before %s; write %s: {%s}", f[2], f[1], f[2]+f[3])
				}
				return fmt.Sprintf("one brace too many: it closes what opens on line %d; write %s", b.line+1, strings.TrimSpace(raw[:col]+raw[col+1:len(code)]))
			}
		}
	}
	return ""
}

// mostSlips are how many further lines of a file that cannot be read are told, mostBlank how many names with blanks, which are gathered
// in one fault. Our own figures.
const (
	mostSlips = 20
	mostBlank = 500
)

// slips finds further lines of a file that CUE cannot read, so that all can be corrected at once. CUE itself stops at the first, which
// is told already.
func (e *explainer) slips(file string, first Fault) (out []Fault) {
	t := e.files.text(file)
	if t == nil || strings.Contains(string(t.Bytes), `"""`) { // in a long text anything may stand
		return nil
	}
	m := mess{lines: strings.Split(string(t.Bytes), "\n")}
	offset := 0
	for i, l := range m.lines {
		m.line, m.col = i, 0
		code := outsideQuotes(strings.TrimRight(l, "\r"))
		line := strings.TrimSpace(l[:len(code)])
		tell := func(text string) {
			if text != "" && (text != first.Message || i+1 != first.At.Start.Line) && (len(out) < mostSlips || strings.HasPrefix(text, noBlanks) && len(out) < mostBlank) {
				out = append(out, Fault{Rule: "input/syntax", Message: text, At: t.Span(offset+m.col, offset+m.col), sure: m.edit(t, offset)})
			}
			m.now = ""
		}
		tell(m.labels(line, len(code)-len(strings.TrimLeft(code, " \t"))))
		for _, f := range bareAmong.FindAllStringSubmatchIndex(code, -1) {
			if unitless.MatchString(code[f[4]:f[5]]) {
				tell(m.bare(code, 0, f))
			}
		}
		offset += len(l) + 1
	}
	return out
}

// unitless is a number with its unit or a few words, where a value without quotes stands; CUE's own suffixes of numbers are not.
var unitless = regexp.MustCompile(`^(?:[0-9]+(?:\.[0-9]+)? ?(?:g|kg|lb|lbs|oz|ml|l|L|dl|litres?|liters?|gal|cm|m|km|ft|in|mi|h|hours?|d|days?|y|years?|months?|weeks?|min|kcal|kJ|W|Wh|mAh|%|°C|°F)|[A-Za-z]+(?: [A-Za-z]+)+)$`)

// before is the last line before that is not blank; -1 where there is none.
func (m *mess) before() int {
	for l := m.line - 1; l >= 0; l-- {
		if strings.TrimSpace(m.lines[l]) != "" {
			return l
		}
	}
	return -1
}

var (
	isoDay      = regexp.MustCompile(`^[0-9]{4}-[0-9]{1,2}(?:-[0-9]{1,2})?$`)
	bareValue   = regexp.MustCompile(`^(?:.*[{,]\s*)?([A-Za-z_][A-Za-z0-9_]*):\s*([^\s"{}\[\],][^"{}\[\],:]*?)\s*(?:[,}].*)?$`)
	blankName   = regexp.MustCompile(`^([A-Za-z_][A-Za-z0-9_]*(?: +[A-Za-z0-9_()'&+./-]+)+) *:`)
	bareAmong   = regexp.MustCompile(`([A-Za-z_][A-Za-z0-9_]*):\s*([^\s"{}\[\],:][^"{}\[\],:]*?)\s*(?:[,}]|$)`)
	hyphenName  = regexp.MustCompile(`^([A-Za-z_][A-Za-z0-9_]*(?:-[A-Za-z0-9_]*)+) *:`)
	digitName   = regexp.MustCompile(`^([0-9]+[A-Za-z_][A-Za-z0-9_-]*) *:`)
	otherName   = regexp.MustCompile(`^([A-Za-z_][A-Za-z0-9_]*[^A-Za-z0-9_:"{}\[\]= ,][^:"{}\[\],]*) *:(?: |$)`)
	equalsAmong = regexp.MustCompile(`([A-Za-z_][A-Za-z0-9_]*) *=+ *("[^"]*"|[^=~"{}\[\], ]+)`)
	opensNone   = regexp.MustCompile(`^("?[A-Za-z_][A-Za-z0-9_-]*"?): *([A-Za-z_][A-Za-z0-9_]*)(:[^{}]*)$`)
	namedEntry  = regexp.MustCompile(`^\s*"?[A-Za-z_][A-Za-z0-9_-]*"?\s*:`)
	equals      = regexp.MustCompile(`^([A-Za-z_][A-Za-z0-9_]*) *=+ *([^=].*)$`)
	noColon     = regexp.MustCompile(`^([A-Za-z_][A-Za-z0-9_]*) *([{"\[0-9].*)$`)
	nothing     = regexp.MustCompile(`^(?:.*[{,] *)?"?([A-Za-z_][A-Za-z0-9_-]*)"?: *(}.*)?$`)
	oneText     = regexp.MustCompile(`^([^"{}]*: *)(.*?)(,?)$`)
	roundGroup  = regexp.MustCompile(`^(.*: *)\((.*)\)(,?)$`)
	wrongQuotes = strings.NewReplacer("“", `"`, "”", `"`, "„", `"`, "«", `"`, "»", `"`, "‘", `"`, "’", `"`)
)

// look1 says what is wrong with the line that the place is on, "" where that cannot be told. It is the line where CUE stopped, or the one before.
func (m *mess) look1(stopped bool) string {
	m.now = ""
	col := m.col
	raw := strings.TrimRight(m.lines[m.line], "\r")
	code := outsideQuotes(raw)
	raw = raw[:len(code)] // no comment
	line := strings.TrimSpace(raw)
	start := len(raw) - len(strings.TrimLeft(raw, " \t"))
	at := func(part string) { m.col = max(0, strings.Index(code, part)) }
	switch i := strings.IndexAny(code, "“”„‘’«»"); {
	case i >= 0:
		m.col = i
		m.putLine(wrongQuotes.Replace(line))
		return fmt.Sprintf("these are quotes of a word processor; write straight ones: %s", wrongQuotes.Replace(line))
	case strings.HasPrefix(line, "#"):
		m.col = start
		m.putLine("// " + strings.TrimSpace(strings.TrimLeft(line, "#")))
		return fmt.Sprintf("a comment begins with //, not #; write // %s", strings.TrimSpace(strings.TrimLeft(line, "#")))
	case strings.Contains(code, "/*"):
		at("/*")
		note := strings.TrimSpace(strings.Trim(raw[m.col:], "/* \t"))
		return fmt.Sprintf("a comment begins with // and goes to the end of its line; write // %s", note)
	case strings.HasPrefix(line, "- "):
		m.col = start
		m.putLine(strings.TrimSpace(line[2:]))
		return fmt.Sprintf("no hyphen stands before an entry; write %s", strings.TrimSpace(line[2:]))
	case strings.Contains(code, " #"), strings.Contains(code, " -- "):
		at(" #")
		if m.col == 0 {
			at(" -- ")
		}
		m.col++
		m.putLine(strings.TrimSpace(raw[:m.col]) + " // " + strings.TrimSpace(strings.TrimLeft(raw[m.col:], "#- ")))
		return fmt.Sprintf("a comment begins with //; write %s // %s", strings.TrimSpace(raw[:m.col]), strings.TrimSpace(strings.TrimLeft(raw[m.col:], "#- ")))
	case strings.HasPrefix(line, "import"):
		m.col = start
		return "an import stands right after the package line; move it up"
	}
	if text := m.names(line, start); text != "" {
		return text
	}
	if text := m.quotes(raw, line, start); text != "" {
		return text
	}
	return m.marks(raw, line, code, start, col, stopped)
}

// names looks at what stands before the colon.
func (m *mess) names(line string, start int) string {
	if text := m.labels(line, start); text != "" {
		return text
	}
	tell := func(text string, args ...any) string {
		m.col = start
		return fmt.Sprintf(text, args...)
	}
	if f := otherName.FindStringSubmatch(line); f != nil && PlainName(f[1]) != "" {
		return tell("a name has letters, digits and _ only; write %s", PlainName(f[1]))
	}
	if f := equals.FindStringSubmatch(line); f != nil {
		m.putLine(f[1] + ": " + f[2])
		return tell("a colon stands between a name and its value, not an equals sign; write %s: %s", f[1], f[2])
	}
	if f := equalsAmong.FindStringSubmatchIndex(outsideQuotes(line)); f != nil && f[0] > 0 {
		value := equalsAmong.FindStringSubmatch(line[f[0]:])
		if value != nil {
			m.col = start + f[0]
			m.put(start+f[0], start+f[0]+len(value[0]), value[1]+": "+value[2])
			return fmt.Sprintf("a colon stands between a name and its value, not an equals sign; write %s: %s", value[1], value[2])
		}
	}
	if f := noColon.FindStringSubmatch(line); f != nil {
		m.putLine(f[1] + ": " + f[2])
		return tell("a colon is missing after %s; write %s: %s", f[1], f[1], f[2])
	}
	return ""
}

// labels looks at names that are none whatever stands around them.
func (m *mess) labels(line string, start int) string {
	tell := func(text string, args ...any) string {
		m.col = start
		return fmt.Sprintf(text, args...)
	}
	if f := hyphenName.FindStringSubmatch(line); f != nil {
		m.put(start, start+len(f[1]), strconv.Quote(f[1]))
		return tell("a name with a hyphen stands in quotes; write %q, or %s", f[1], strings.ReplaceAll(f[1], "-", "_"))
	}
	if f := blankName.FindStringSubmatch(line); f != nil {
		m.put(start, start+len(f[1]), PlainName(f[1]))
		return tell(noBlanks+"%s", PlainName(f[1]))
	}
	if f := digitName.FindStringSubmatch(line); f != nil {
		return tell("a name begins with a letter; write %s", PlainName(f[1]))
	}
	return ""
}

// quotes looks at values of text.
func (m *mess) quotes(raw, line string, start int) string {
	if strings.Contains(m.cue, "escape") {
		if i := strings.IndexByte(raw, '\\'); i >= 0 {
			m.col = i
			m.putLine(strings.ReplaceAll(strings.ReplaceAll(line, `\\`, `\`), `\`, `\\`))
			return fmt.Sprintf("a backslash in a text is written twice; write %s", strings.ReplaceAll(strings.ReplaceAll(line, `\\`, `\`), `\`, `\\`))
		}
	}
	one := oneText.FindStringSubmatch(line)
	if one == nil {
		if strings.Count(line, `"`)%2 == 1 {
			return "a quote is missing on this line; each text begins and ends with one"
		}
	} else if name, value := one[1], one[2]; strings.Contains(value, `"`) {
		begins, ends := strings.HasPrefix(value, `"`), len(value) > 1 && strings.HasSuffix(value, `"`)
		inner := strings.TrimSuffix(strings.TrimPrefix(value, `"`), `"`)
		m.col = start + len(name)
		switch {
		case begins && ends && inner == strings.TrimRight(inner, `"`)+`"` && strings.Count(inner, `"`) == 1:
			m.putLine(name + strconv.Quote(strings.TrimSuffix(inner, `"`)) + one[3])
			return fmt.Sprintf("one quote too many; write %s%q", name, strings.TrimSuffix(inner, `"`))
		case begins && ends && strings.Contains(inner, `"`) && !strings.ContainsAny(inner, ":{}[]"):
			m.putLine(name + strconv.Quote(inner) + one[3])
			return fmt.Sprintf(`a quote within a text has a \ before it; write %s%q`, name, inner)
		case begins != ends && !strings.Contains(inner, `"`) && !strings.ContainsAny(inner, ":{}[]"):
			m.putLine(name + strconv.Quote(strings.TrimRight(inner, ",; ")) + one[3])
			return fmt.Sprintf("a quote is missing; write %s%q", name, strings.TrimRight(inner, ",; "))
		case strings.Count(value, `"`)%2 == 1:
			return "a quote is missing on this line; each text begins and ends with one"
		}
		m.col = start
	}
	if f := bareValue.FindStringSubmatchIndex(line); f != nil {
		if value := line[f[4]:f[5]]; value[0] >= '0' && value[0] <= '9' && !number.MatchString(value) || strings.Contains(value, " ") {
			return m.bare(line, start, f)
		}
	}
	return ""
}

// bare says how to write a value without quotes, which is where bareValue found it.
func (m *mess) bare(line string, start int, f []int) string {
	name, value := line[f[2]:f[3]], line[f[4]:f[5]]
	m.col = start + f[4]
	what := "a text"
	switch {
	case isoDay.MatchString(value):
		what = "a day"
	case value[0] >= '0' && value[0] <= '9':
		what = "a number with its unit"
	}
	m.put(start+f[4], start+f[5], strconv.Quote(value))
	if q, ok := measures[name]; ok && q.read != nil && q.read(value) != nil {
		return fmt.Sprintf("%s stands in quotes; write it like %s: %q", what, name, q.example)
	}
	return fmt.Sprintf("%s stands in quotes; write %s: %q", what, name, value)
}

// marks looks at commas, braces and brackets.
func (m *mess) marks(raw, whole, code string, start, col int, stopped bool) string {
	at := func(part, text string) string {
		m.col = max(0, strings.Index(code, part))
		return text
	}
	switch f := roundGroup.FindStringSubmatch(whole); {
	case f != nil:
		m.putLine(f[1] + "{" + f[2] + "}" + f[3])
		return at("(", fmt.Sprintf("fields stand in braces, not in round brackets; write %s{%s}%s", f[1], f[2], f[3]))
	case strings.HasSuffix(strings.TrimSpace(code), ";"):
		m.putLine(strings.TrimRight(whole, "; "))
		return at(";", fmt.Sprintf("no semicolon ends a line; write %s", strings.TrimRight(whole, "; ")))
	case strings.Contains(code, ";"):
		return at(";", "fields are parted by a comma or stand on lines of their own, without a semicolon")
	case strings.Contains(code, ",,"):
		m.putLine(strings.ReplaceAll(whole, ",,", ","))
		return at(",,", fmt.Sprintf("one comma is enough; write %s", strings.ReplaceAll(whole, ",,", ",")))
	case strings.Count(code, "[") > strings.Count(code, "]") && strings.HasSuffix(whole, "}") && strings.Count(code, "}") > strings.Count(code, "{"):
		m.col = strings.LastIndex(code, "}")
		return fmt.Sprintf("a list that begins with [ ends with ]; write %s]", strings.TrimSuffix(whole, "}"))
	case !stopped && strings.Count(code, "[") > strings.Count(code, "]") && !strings.HasSuffix(whole, "["):
		m.putLine(strings.TrimRight(whole, ", ") + "]")
		return at("[", fmt.Sprintf("this list is not closed; write %s]", strings.TrimRight(whole, ", ")))
	case strings.Contains(m.cue, "missing ','") && stopped && col > start && col < len(raw):
		m.col = col
		m.putLine(strings.TrimSpace(raw[:m.col]) + ", " + strings.TrimSpace(raw[m.col:]))
		return fmt.Sprintf("a comma is missing between two fields; write %s, %s", strings.TrimSpace(raw[:m.col]), strings.TrimSpace(raw[m.col:]))
	case strings.Contains(m.cue, "illegal character U+00A0"):
		m.col = col
		m.put(col, col+len("\u00a0"), " ")
		return "a blank that comes from a page or a word processor stands here; write a plain one"
	case strings.Contains(m.cue, "illegal character"):
		m.col = col
		return "this character cannot stand outside quotes; write the text that it belongs to in quotes, or take it out"
	}
	if f := nothing.FindStringSubmatch(whole); f != nil && strings.Contains(m.cue, "operand") {
		if end := start + len(whole); anyExample(f[1]) == "{}" && f[2] == "" {
			m.put(end, end, " {}")
		}
		return at(f[1], fmt.Sprintf("%s has nothing after its colon; write %s", f[1], line(f[1], anyExample(f[1]))))
	}
	return ""
}

// anyExample is an example of a field in whatever group it stands; of a name that the family chose, an entry with nothing in it.
func anyExample(field string) string {
	for _, def := range slices.Sorted(maps.Keys(kitShapes().done)) {
		if s := kitShapes().done[def].fields[field]; s != nil {
			return s.examples(def, field)
		}
	}
	return "{}"
}

// outsideQuotes is a line with blanks where its texts and its comment are, so that places in it stay.
func outsideQuotes(line string) string {
	out, quoted := []byte(line), false
	for i := 0; i < len(out); i++ {
		switch {
		case out[i] == '\\' && quoted && i+1 < len(out):
			out[i], out[i+1] = ' ', ' '
			i++
		case out[i] == '"':
			quoted = !quoted
		case quoted:
			out[i] = ' '
		case strings.HasPrefix(line[i:], "//"):
			return string(out[:i])
		}
	}
	return string(out)
}

// brace is one that opens: its line and column from 0, and how far the line is indented.
type brace struct{ line, col, indent int }

// unclosed is the brace that is probably not closed, by how far lines are indented, and the line that it must be closed before; -1
// where that is the end of the file.
func unclosed(lines []string) (b brace, until int, ok bool) {
	var open []brace
	for i, line := range lines {
		code := outsideQuotes(line)
		indent := len(code) - len(strings.TrimLeftFunc(code, unicode.IsSpace))
		first := strings.TrimSpace(code)
		if first == "" {
			continue
		}
		if len(open) > 0 {
			last := open[len(open)-1]
			if indent < last.indent || indent == last.indent && first[0] != '}' {
				return last, i, true
			}
		}
		for col, r := range code {
			switch {
			case r == '{':
				open = append(open, brace{i, col, indent})
			case r == '}' && len(open) > 0:
				open = open[:len(open)-1]
			}
		}
	}
	if len(open) == 0 {
		return b, 0, false
	}
	return open[len(open)-1], -1, true
}
