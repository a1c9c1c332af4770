package judge

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/open-policy-agent/opa/v1/ast"
	"go.yaml.in/yaml/v3"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/words"
)

var (
	topKeys    = []string{"scope", "title", "description", "custom", "authors", "organizations", "related_resources", "entrypoint", "schemas"}
	customKeys = []string{"level", "remedy", "mend", "sources", "limits", "caution", "lack", "passes", "fails"}
)

// catalogue finds the rules and holds them to complete METADATA.
func (l *loader) catalogue() []*Rule {
	files := sortedKeys(l.modules)
	list := make([]*ast.Module, len(files))
	for i, f := range files {
		list[i] = l.modules[f]
	}
	notes, errs := ast.BuildAnnotationSet(list)
	for _, e := range errs {
		l.add(e.Location, "%s", e.Message)
	}
	var rules []*Rule
	byName := map[string]*Rule{}
	for i, m := range list {
		if !l.accepted {
			for _, a := range m.Annotations {
				l.topKeys(a)
			}
		}
		standard, area, ok := place(m)
		for _, r := range m.Rules {
			ref, loc := r.Head.Ref(), r.Loc()
			own := notes.GetRuleScope(r)
			if !ok || ref[0].Value.Compare(ast.Var("finding")) != 0 {
				if len(own) > 0 && own[0].Custom != nil {
					l.add(loc, "only finding rules carry custom METADATA, and nobody collects %v; write `finding.<rule_name> contains f if { … }`", ref)
				}
				continue
			}
			key := ""
			if len(ref) == 2 {
				s, _ := ref[1].Value.(ast.String)
				key = string(s)
			}
			if !plain(key) || r.Head.RuleKind() != ast.MultiValue {
				l.add(loc, "write a rule as `finding.<rule_name> contains f if { … }` with a plain lower_case name")
				continue
			}
			name := hyphens(area) + "/" + hyphens(key)
			if standard != "base" {
				name = hyphens(standard) + ":" + name
			}
			end := loc.Row + strings.Count(strings.TrimRight(string(loc.Text), "\n"), "\n")
			if old := byName[name]; old != nil {
				switch {
				case old.File != files[i]:
					l.add(loc, "rule %s is already defined at %s:%d", name, old.File, old.Line)
				case len(own) > 0:
					l.add(own[0].Location, "rule %s has METADATA already, above line %d", name, old.Line)
				}
				old.EndLine = max(old.EndLine, end)
				continue
			}
			nr := &Rule{Name: name, Area: hyphens(area), File: files[i], Line: loc.Row, EndLine: end, ref: r.Ref().GroundPrefix()}
			byName[name] = nr
			rules = append(rules, nr)
			note := notes.GetDocumentScope(nr.ref)
			if len(own) > 0 {
				note = own[0]
			}
			if note == nil {
				l.add(loc, "rule %s has no METADATA; write a block `# METADATA` with title, description and custom (%s) right above it", name, strings.Join(customKeys, ", "))
				continue
			}
			l.describe(nr, note)
		}
	}
	slices.SortFunc(rules, func(a, b *Rule) int { return strings.Compare(a.Name, b.Name) })
	return rules
}

func place(m *ast.Module) (standard, area string, ok bool) {
	p := m.Package.Path
	if len(p) != 4 || p[1].Value.Compare(ast.String("rules")) != 0 {
		return "", "", false
	}
	s, _ := p[2].Value.(ast.String)
	a, _ := p[3].Value.(ast.String)
	return string(s), string(a), true
}

func hyphens(s string) string { return strings.ReplaceAll(s, "_", "-") }

// topKeys refuses keys that the engine drops without a word.
func (l *loader) topKeys(a *ast.Annotations) {
	top := l.block(a)
	if top == nil || top.Kind != yaml.MappingNode {
		return
	}
	var keys []string
	for i := 0; i < len(top.Content); i += 2 {
		keys = append(keys, top.Content[i].Value)
	}
	slices.Sort(keys)
	for _, key := range keys {
		if !slices.Contains(topKeys, key) {
			l.problems = append(l.problems, l.keyed(a, "", key, "METADATA has an unknown key %q%s", key, meant(key, topKeys)))
		}
	}
}

// describe copies METADATA into a rule and reports what it lacks.
func (l *loader) describe(r *Rule, a *ast.Annotations) {
	lack := func(key, write string) {
		l.add(a.Location, "METADATA of rule %s lacks %s; write `%s`", r.Name, key, write)
	}
	r.Title, r.Why = strings.TrimSpace(a.Title), strings.TrimSpace(a.Description)
	if r.Title == "" {
		lack("title", "title: what is wrong")
	}
	if r.Why == "" {
		lack("description", "description: why it matters")
	}
	for _, key := range sortedKeys(a.Custom) {
		if !slices.Contains(customKeys, key) {
			l.problems = append(l.problems, l.keyed(a, "custom", key, "METADATA of rule %s has an unknown key custom.%s%s", r.Name, key, meant(key, customKeys)))
		}
	}
	for _, f := range []struct {
		key, write string
		to         *string
		optional   bool
	}{
		{"remedy", "remedy: what to do", &r.Remedy, false},
		{"caution", "", &r.Caution, true},
		{"passes", "passes: a short kit in CUE that satisfies the rule", &r.Passes, false},
		{"fails", "fails: a short kit in CUE that breaks the rule", &r.Fails, false},
	} {
		v, ok := a.Custom[f.key]
		text, isText := v.(string)
		switch *f.to = strings.TrimSpace(text); {
		case !ok && !f.optional:
			lack("custom."+f.key, f.write)
		case ok && (!isText || *f.to == ""):
			l.problems = append(l.problems, l.keyed(a, "custom", f.key, "METADATA of rule %s: custom.%s must be a text that is not empty", r.Name, f.key))
		}
	}
	if v, ok := a.Custom["level"]; !ok {
		lack("custom.level", "level: error, warning or note")
	} else if level, err := finding.ParseLevel(fmt.Sprint(v)); err != nil {
		l.problems = append(l.problems, l.keyed(a, "custom", "level", "METADATA of rule %s: %v", r.Name, err))
	} else {
		r.Level = level
	}
	if v, ok := a.Custom["mend"]; !ok {
		lack("custom.mend", "mend: {work: W}, what settles a finding, where W is one of "+strings.Join(works(), ", "))
	} else if mend, why := mendOf(v); why != "" {
		l.problems = append(l.problems, l.keyed(a, "custom", "mend", "METADATA of rule %s: %s", r.Name, why))
	} else {
		r.Mend = mend
	}
	if v, ok := a.Custom["sources"]; !ok {
		lack("custom.sources", "sources: [where it comes from]")
	} else if r.Sources, ok = texts(v); !ok || len(r.Sources) == 0 {
		l.problems = append(l.problems, l.keyed(a, "custom", "sources", "METADATA of rule %s: custom.sources must be a list of texts with at least one entry", r.Name))
	}
	if v, ok := a.Custom["lack"]; ok {
		if r.Lack = lackOf(v); r.Lack == nil {
			l.problems = append(l.problems, l.keyed(a, "custom", "lack", "METADATA of rule %s: custom.lack says what each finding states an amount of, such as {what: water at the start, unit: ml}; what has at most %d characters on one line, the unit is one of %s", r.Name, maxWhat, strings.Join(kinds.Texts(kinds.Lacks()), ", ")))
		}
	}
	var unit kinds.Unit
	if r.Lack != nil {
		unit = r.Lack.Unit
	}
	switch by := finding.Stuffs[r.Mend.Thing]; {
	case by != "" && unit != by:
		l.problems = append(l.problems, l.keyed(a, "custom", "mend", "METADATA of rule %s: custom.lack has to say how much %s is brought, in %s; write it, or take the thing out of custom.mend", r.Name, r.Mend.Thing, by))
	case r.Mend.Thing != "" && by == "" && unit != "" && unit != kinds.UnitCount:
		l.problems = append(l.problems, l.keyed(a, "custom", "mend", "METADATA of rule %s: custom.lack is in %s, so no one thing settles a finding; take the thing out of custom.mend", r.Name, unit))
	}
	v, ok := a.Custom["limits"]
	if !ok {
		lack("custom.limits", "limits: [] with area.name of each limit the rule compares with")
		return
	}
	names, ok := texts(v)
	if !ok {
		l.problems = append(l.problems, l.keyed(a, "custom", "limits", "METADATA of rule %s: custom.limits must be a list of area.name", r.Name))
	}
	for i, name := range names {
		switch lim := l.limits[name]; {
		case lim == nil:
			l.problems = append(l.problems, l.keyed(a, "custom", "limits", "METADATA of rule %s: no limit is called %s%s", r.Name, name, meant(name, sortedKeys(l.limits))))
		case slices.Contains(names[:i], name):
			l.problems = append(l.problems, l.keyed(a, "custom", "limits", "METADATA of rule %s lists limit %s twice", r.Name, name))
		default:
			r.Limits = append(r.Limits, *lim)
		}
	}
	if !l.accepted {
		r.limitsAt = l.keyed(a, "custom", "limits", "")
	}
}

// mendKeys are what custom.mend may say.
var mendKeys = []string{"work", "thing", "get"}

// works are the words for the kinds of work, from the lightest to the heaviest.
func works() []string {
	out := make([]string, len(finding.Works))
	for i, w := range finding.Works {
		out[i] = string(w)
	}
	return out
}

// mendOf reads custom.mend, or says why it is none.
func mendOf(v any) (mend finding.Fix, why string) {
	m, _ := v.(map[string]any)
	for _, key := range sortedKeys(m) {
		if !slices.Contains(mendKeys, key) {
			return mend, fmt.Sprintf("custom.mend has an unknown key %q%s", key, meant(key, mendKeys))
		}
	}
	work, isText := m["work"].(string)
	if !isText {
		return mend, "custom.mend says which work settles a finding, such as {work: add, thing: fire}; the work is one of " + strings.Join(works(), ", ")
	}
	mend.Work = finding.Work(work)
	if !slices.Contains(finding.Works, mend.Work) {
		return mend, words.Suggest(fmt.Sprintf("%q is no work that settles a finding", work), work, works(), "there are")
	}
	thing, named := m["thing"]
	get, listed := m["get"]
	if !named && !listed {
		return mend, ""
	}
	if !mend.Work.Brings() {
		return mend, fmt.Sprintf("the work %s brings nothing along, so custom.mend has no thing and no get; only %s and %s have", work, finding.ToExchange, finding.ToAdd)
	}
	mend.Thing, _ = thing.(string)
	mend.Get, _ = get.(string)
	switch {
	case listed && !concise(mend.Get):
		return mend, fmt.Sprintf("custom.mend: get names what is brought, as on a shopping list, in at most %d characters on one line", maxWhat)
	case !named:
		return mend, ""
	case finding.Stuffs[mend.Thing] == "" && kinds.Capability(mend.Thing).Row().Kind == "":
		return mend, words.Suggest(fmt.Sprintf("custom.mend: no capability is called %q", fmt.Sprint(thing)), fmt.Sprint(thing), kinds.Texts(kinds.CapabilityList()), "there are water, food and")
	}
	return mend, ""
}

// maxWhat is how many characters the words for what lacks may have: they stand in a table.
const maxWhat = 40

// concise reports whether words fit into a table.
func concise(what string) bool {
	return strings.TrimSpace(what) == what && what != "" && utf8.RuneCountInString(what) <= maxWhat && words.Clean(what) == what
}

// lackOf reads custom.lack; nil where it is not one.
func lackOf(v any) *finding.Shortfall {
	m, ok := v.(map[string]any)
	if !ok || len(m) != 2 {
		return nil
	}
	what, _ := m["what"].(string)
	text, _ := m["unit"].(string)
	unit := kinds.Unit(text)
	if what = strings.TrimSpace(what); !concise(what) || !slices.Contains(kinds.Lacks(), unit) {
		return nil
	}
	return &finding.Shortfall{What: what, Unit: unit}
}

func texts(v any) ([]string, bool) {
	list, ok := v.([]any)
	if !ok {
		return nil, false
	}
	var out []string
	for _, e := range list {
		s, ok := e.(string)
		if s = strings.TrimSpace(s); !ok || s == "" {
			return nil, false
		}
		out = append(out, s)
	}
	return out, true
}

// keyed is a problem at a key of a METADATA block: below the top-level key
// parent, or at the top where parent is "".
func (l *loader) keyed(a *ast.Annotations, parent, key, format string, args ...any) Problem {
	p := at(a.Location, format, args...)
	within := l.block(a)
	if parent != "" {
		_, within = entryOf(within, parent)
	}
	if k, _ := entryOf(within, key); k != nil {
		p.Line = a.Location.Row + k.Line
		line := l.line(p.File, p.Line)
		rest := yamlOf(line)
		for range k.Column - 1 { // the YAML reader counts characters
			_, n := utf8.DecodeRuneInString(rest)
			rest = rest[n:]
		}
		p.Col = len(line) - len(rest) + 1
	}
	return p
}

// block is the YAML of a METADATA block, nil where it is none. It begins below the line with the marker.
func (l *loader) block(a *ast.Annotations) *yaml.Node {
	if n, ok := l.blocks[a]; ok {
		return n
	}
	var text strings.Builder
	for row := a.Location.Row + 1; row <= a.EndLoc().Row; row++ {
		text.WriteString(yamlOf(l.line(a.Location.File, row)) + "\n")
	}
	var doc yaml.Node
	var top *yaml.Node
	if yaml.Unmarshal([]byte(text.String()), &doc) == nil && len(doc.Content) == 1 {
		top = doc.Content[0]
	}
	l.blocks[a] = top
	return top
}

// line is a line of a file of rules, from 1; "" where there is none.
func (l *loader) line(file string, row int) string {
	lines, ok := l.rows[file]
	if !ok {
		lines = strings.Split(string(l.texts[file].Bytes), "\n")
		l.rows[file] = lines
	}
	if row < 1 || row > len(lines) {
		return ""
	}
	return lines[row-1]
}

// yamlOf is what a line of comment gives to the YAML of a block, as the engine takes it.
func yamlOf(line string) string {
	return strings.TrimPrefix(line[strings.IndexByte(line, '#')+1:], " ")
}

// entryOf gives key and value of a field of a mapping; nil where there is none.
func entryOf(m *yaml.Node, key string) (k, v *yaml.Node) {
	if m != nil && m.Kind == yaml.AliasNode {
		m = m.Alias
	}
	if m == nil || m.Kind != yaml.MappingNode {
		return nil, nil
	}
	for i := 0; i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == key {
			return m.Content[i], m.Content[i+1]
		}
	}
	return nil, nil
}
