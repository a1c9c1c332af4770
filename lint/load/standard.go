package load

import (
	"cmp"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/load"
	"cuelang.org/go/cue/parser"

	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/schema"
)

// StandardFile is where a group writes its standard.
const StandardFile = "standard.cue"

const standardPackage = "standard"

// Standard is what a group's standard.cue says; see #Standard in schema/standard.cue.
type Standard struct {
	Name, Version, Needs, Title, Description string
	// Limits are sorted by area and name.
	Limits []StandardLimit
	// Off are rules of the base that it switches off, with the reason.
	Off map[string]string

	places *places
}

// StandardLimit is a limit in the group's own words.
type StandardLimit struct {
	Area, Name string
	// Value has its unit, Values are the entries of a list; List says which of the two was written.
	Value                                  string
	Values                                 []string
	List                                   bool
	Unit                                   kinds.Unit
	Stricter, Meaning, Source, Least, Most string
}

// Spot names the limit, or a field of it, for Locate.
func (l *StandardLimit) Spot(field ...string) string {
	return source.Spot(append([]string{"limits", l.Area, l.Name}, field...)...)
}

// Locate answers where the group wrote a spot, or the nearest thing around it. Not safe for concurrent use.
func (s *Standard) Locate(spot string) source.Span {
	if at := s.places.locate(spot).At; at.Known() {
		return at
	}
	return s.places.files.start(StandardFile)
}

// ReadStandard reads the standard.cue at the top of a tree, and whatever else of its package stands beside it. What is
// wrong stands in the faults, and then there is no standard. CUE cannot be stopped while it evaluates: a stranger's
// standard belongs behind a wall.
func ReadStandard(tree fs.FS, o Options) (*Standard, []Fault) {
	x := newFiles(tree, ".", o)
	x.of = aStandard
	if err := x.read(StandardFile); err != nil {
		if len(x.refused) > 0 {
			return nil, x.refused
		}
		return nil, []Fault{{Rule: "input/file", Message: "there is no " + StandardFile + " that can be read; kitmuster standard new makes a standard to start from", At: x.start(StandardFile)}}
	}
	t := x.texts[StandardFile]
	if pkg, at := clause(t.Bytes); pkg != standardPackage {
		return nil, []Fault{{Rule: "input/package", Message: "write `package " + standardPackage + "` as the first line", At: t.Span(at[0], at[1])}}
	}
	inst := load.Instances([]string{"."}, &load.Config{Dir: "/", FS: x, Package: standardPackage, Registry: noRegistry{aStandard}, Env: []string{}})[0]
	e := &explainer{files: x, own: inst.Files, standard: true, shape: standardShape()}
	if len(x.refused) > 0 { // the loader goes on without a module file that it cannot open
		return nil, x.refused
	}
	if inst.Err != nil {
		if faults := x.moduleFaults("."); len(faults) > 0 {
			return nil, faults
		}
		return nil, e.faults(inst.Err)
	}
	if faults := x.leftOut(inst); len(faults) > 0 {
		return nil, faults
	}
	own := append([]*ast.File{}, inst.Files...)
	for _, imp := range inst.Dependencies() {
		own = append(own, imp.Files...)
	}
	e.raw = evaluate(inst)
	if err := inst.AddSyntax(closingStandard()); err != nil {
		return nil, e.faults(err)
	}
	root := evaluate(inst)
	s := &Standard{places: &places{files: x, root: root, own: own}}
	e.own, e.root, e.places = own, root, s.places
	err := root.Validate(cue.Concrete(true))
	if err == nil {
		err = root.Err()
	}
	if err != nil {
		return nil, e.faults(err)
	}
	s.read(root)
	if faults := s.check(); len(faults) > 0 {
		sortFaults(faults)
		return nil, faults
	}
	return s, nil
}

// standardShape is the shape of #Standard.
var standardShape = sync.OnceValue(func() *shape { return shapesOf(standardSyntax()).ident("#Standard") })

func standardSyntax() *ast.File {
	f, err := parser.ParseFile(schemaFile, schema.Standard)
	if err != nil {
		panic(err) // the embedded schema is part of the program
	}
	return f
}

// closingStandard makes the file that closes a standard's package with the schema; see closing.
func closingStandard() *ast.File {
	_, rules, _ := strings.Cut(string(schema.Standard), "\npackage schema\n")
	f, err := parser.ParseFile(schemaFile, "@experiment(explicitopen)\n\npackage "+standardPackage+"\n\n_kitmuster: {\n"+rules+"}\n_kitmuster.#Standard\n")
	if err != nil {
		panic(err) // made of the embedded schema
	}
	return f
}

// forms are what fields of one form look like.
var forms = map[string]string{
	"name":    `plain words with hyphens, such as "harrow-valley"`,
	"version": `three numbers with dots, such as "1.2.0"`,
	"needs":   `the least version of the base as three numbers with dots, such as "1.0.0"`,
}

// standardNameFault says what is wrong with the name of an entry of a standard.
func standardNameFault(keys []string) string {
	form := "areas and limits have lower-case letters a to z, digits and _, and start with a letter"
	if keys[0] == "off" {
		form = "rules are called area/rule-name, as kitmuster rules lists them"
	}
	return fmt.Sprintf("the name %q cannot be used here: %s", keys[len(keys)-1], form)
}

func (s *Standard) read(root cue.Value) {
	text := func(v cue.Value, name string) string {
		t, _ := v.LookupPath(cue.MakePath(cue.Str(name))).String()
		return strings.TrimSpace(t)
	}
	s.Name, s.Version, s.Needs = text(root, "name"), text(root, "version"), text(root, "needs")
	s.Title, s.Description = text(root, "title"), text(root, "description")
	each := func(v cue.Value, name string, f func(string, cue.Value)) {
		it, err := v.LookupPath(cue.MakePath(cue.Str(name))).Fields()
		for err == nil && it.Next() {
			f(it.Selector().Unquoted(), it.Value())
		}
	}
	s.Off = map[string]string{}
	each(root, "off", func(rule string, _ cue.Value) { s.Off[rule] = text(root.LookupPath(cue.ParsePath("off")), rule) })
	limits := root.LookupPath(cue.ParsePath("limits"))
	each(root, "limits", func(area string, _ cue.Value) {
		each(limits, area, func(name string, v cue.Value) {
			l := StandardLimit{Area: area, Name: name, Value: text(v, "value"), Unit: kinds.Unit(text(v, "unit")), Stricter: text(v, "stricter"),
				Meaning: text(v, "meaning"), Source: text(v, "source"), Least: text(v, "least"), Most: text(v, "most")}
			list := v.LookupPath(cue.ParsePath("values"))
			l.List = list.Exists()
			for it, err := list.List(); err == nil && it.Next(); {
				entry, _ := it.Value().String()
				l.Values = append(l.Values, strings.TrimSpace(entry))
			}
			s.Limits = append(s.Limits, l)
		})
	})
	slices.SortFunc(s.Limits, func(a, b StandardLimit) int {
		return cmp.Or(strings.Compare(a.Area, b.Area), strings.Compare(a.Name, b.Name))
	})
}

// check says what the schema cannot.
func (s *Standard) check() (out []Fault) {
	add := func(spot, format string, args ...any) {
		out = append(out, Fault{Rule: "input/value", Spot: spot, Message: fmt.Sprintf(format, args...), At: s.Locate(spot)})
	}
	for _, f := range []struct{ name, text string }{{"title", s.Title}, {"description", s.Description}} {
		if f.text == "" {
			add(f.name, "%s is blank; say it in words", f.name)
		}
	}
	if s.Name == "base" {
		add("name", `"base" is the name of the base standard; choose another`)
	}
	if len(s.Name) > 60 {
		add("name", "the name has %d characters, and at most 60 go", len(s.Name))
	}
	for rule, why := range s.Off {
		if why == "" {
			add(source.Spot("off", rule), "%s is switched off without a reason; write one", rule)
		}
	}
	for i := range s.Limits {
		l := &s.Limits[i]
		name := l.Area + "." + l.Name
		list := l.Unit == kinds.UnitList
		switch {
		case l.Value != "" && l.List:
			add(l.Spot("values"), "limit %s has value and values; keep one", name)
		case list && !l.List:
			add(l.Spot(), "limit %s is a list: write values: [\"…\"]", name)
		case !list && l.List:
			add(l.Spot("values"), "limit %s has the unit %q: write one value, such as value: %s, or unit: \"list\"", name, l.Unit, l.Unit.Row().Example)
		case !list && l.Value == "":
			add(l.Spot(), "limit %s has no value: write value: %s", name, l.Unit.Row().Example)
		case list && len(l.Values) == 0:
			add(l.Spot("values"), "limit %s has an empty list; write its entries", name)
		}
		if list && (l.Stricter == "lower" || l.Stricter == "higher") {
			add(l.Spot("stricter"), `limit %s is a list: stricter is "more" or "fewer"`, name)
		}
		if !list && (l.Stricter == "more" || l.Stricter == "fewer") {
			add(l.Spot("stricter"), `limit %s is one value: stricter is "lower" or "higher"`, name)
		}
		for _, f := range []struct{ field, text string }{{"meaning", l.Meaning}, {"source", l.Source}} {
			if f.text == "" {
				add(l.Spot(f.field), `limit %s: %s is blank; write it, and of a source that nobody knows "common practice, no source"`, name, f.field)
			}
		}
		for _, f := range []struct{ field, text string }{{"least", l.Least}, {"most", l.Most}} {
			if list && f.text != "" {
				add(l.Spot(f.field), "limit %s is a list and has no %s", name, f.field)
			}
		}
		seen := map[string]bool{}
		for n, v := range l.Values {
			if v == "" || seen[v] {
				add(l.Spot("values", fmt.Sprint(n)), "limit %s: %q is blank or stands there twice", name, v)
			}
			seen[v] = true
		}
	}
	return out
}
