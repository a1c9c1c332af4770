// Package load turns the CUE files of a household into a kit, and remembers
// where the family wrote each part of it. It is the only room that knows CUE.
//
// # The schema is laid on apart
//
// The schema has no defaults and computes nothing, so a household is evaluated
// alone and held against shapes made from the schema's syntax (shape.go), which
// is twice as fast as evaluating both together. Only what does not fit is
// evaluated under the schema, which then says what is wrong. A test holds that
// what fits the shapes, the schema accepts.
//
// # Positions come from stamps
//
// CUE's own positions point into the schema for half of all values. places.go
// adds a numbered attribute to each field of the family's syntax, only when a
// place is wanted, and reads back which fields made a value. An entry (an item,
// a pack) stands where the household names it; a leaf stands where it is
// written, with "used here" where that is a shared catalogue.
//
// # A household reads through a view
//
// Viewer is the only way to a household's files: it follows links itself, within
// the repository, and closes the folders of other households. To open kits some
// other way opens the machine to them. CUE's evaluator cannot be stopped, and
// fifty bytes can keep it busy for hours: files of strangers are loaded in a
// process that can be ended (package sandbox).
//
// A group's standard.cue is read here too (standard.go).
package load

import (
	"io/fs"
	"iter"
	"regexp"
	"slices"
	"strings"
	"sync"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/build"
	"cuelang.org/go/cue/cuecontext"
	"cuelang.org/go/cue/inject/embed"
	"cuelang.org/go/cue/parser"

	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/schema"
)

// packageName is the name of the CUE package that kit files belong to.
const packageName = "kit"

// Fault is something wrong with a household's input.
type Fault struct {
	// Rule is "input/" and the kind of fault, such as "input/unknown-field".
	Rule    string
	Spot    string
	Message string
	At      source.Span
	// Also holds further places with a word on each.
	Also []Remark

	// taken: the value is judged in the one sense that it can have, or as much of it as can be believed, so nothing is unknown.
	taken bool
	// sure is the one change of the bytes that mends the slip, where there is one that makes up no value.
	sure *Edit
}

// Edit says what shall stand in the place of some bytes of a file.
type Edit struct {
	At       source.Span
	Was, New string
}

// editOf is the change of the bytes of a text from one place to another.
func editOf(t *source.Text, from, to int, now string) *Edit {
	return &Edit{t.Span(from, to), string(t.Bytes[from:to]), now}
}

// Sure is the one change that mends a slip, such as quotes that are missing or a name that is misspelt; false where there is none, or
// it would make up a value. It is still to be proved; see package rewrite.
func (f *Fault) Sure() (Edit, bool) {
	if f.sure == nil {
		return Edit{}, false
	}
	return *f.sure, true
}

// Remark is a further place that has to do with a fault.
type Remark struct {
	Message string
	At      source.Span
}

// Options say how a tree is read.
type Options struct {
	// Show turns a path of the tree into the path that people see; nil leaves it as it is.
	Show func(string) string
	// Given is the folder that was named and that the household was found in; "" is its own. See Viewer.
	Given string
}

func (o Options) show(p string) string {
	if o.Show == nil {
		return p
	}
	return o.Show(p)
}

// Loaded is one household as read. It keeps the evaluated files in memory until it is dropped.
type Loaded struct {
	// Kit is nil where the household could not be read. With Faults, it is what could be read: a
	// value that one of them stands at counts as not written, and so in most of what is made of it as not known.
	Kit    *kit.Household
	Faults []Fault

	files  *files
	places *places
	raw    cue.Value // without the schema

	// asked are the places of the spots that were asked for; again reads the household for those of one that was kept.
	asked map[string]source.Place
	again func() *Loaded
}

// Locate answers where the family wrote the spot; see source.Spot. A spot that
// nobody wrote answers with the nearest entry around it and origin Absent.
// Not safe for concurrent use.
func (l *Loaded) Locate(spot string) source.Place {
	if p, ok := l.asked[spot]; ok {
		return p
	}
	if l.places == nil && l.again != nil {
		l.places, l.again = l.again().places, nil
	}
	if l.places == nil {
		return source.Place{}
	}
	p := l.places.locate(spot)
	if l.asked == nil {
		l.asked = map[string]source.Place{}
	}
	l.asked[spot] = p
	return p
}

// Household reads the household in folder dir of the tree. It never fails as
// a whole: what is wrong stands in Faults, and Kit holds the rest.
func Household(tree fs.FS, dir string, o Options) *Loaded {
	l := &Loaded{files: newFiles(tree, dir, o)}
	l.read(dir)
	sortFaults(l.Faults)
	if l.Kit != nil {
		doubt(l.Kit, l.Faults)
	}
	l.Faults = gathered(l.Faults)
	return l
}

func (l *Loaded) read(dir string) {
	if l.Faults = l.files.check(dir); len(l.Faults) > 0 {
		return
	}
	inst := l.files.instance(dir)
	e := &explainer{files: l.files, own: inst.Files, shape: kitShape()}
	if len(l.files.refused) > 0 { // the loader goes on without a module file that it cannot open
		l.Faults = l.files.refused
		return
	}
	if inst.Err != nil {
		if l.Faults = l.files.moduleFaults(dir); len(l.Faults) == 0 {
			l.Faults = e.faults(inst.Err)
		}
		return
	}
	if l.Faults = l.files.leftOut(inst); len(l.Faults) > 0 {
		return
	}
	own := slices.Clone(inst.Files)
	for _, imp := range inst.Dependencies() {
		own = append(own, imp.Files...)
	}
	first := append(e.twins(inst.Files), e.meantOtherwise(inst.Files)...) // what the evaluation does not say
	root := evaluate(inst)
	if words := e.quoteWords(inst.Files, root.Err()); len(words) > 0 {
		first = append(first, words...)
		inst.Err = nil // of the first evaluation, which it remembers
		root = evaluate(inst)
	}
	l.raw = root
	l.places = &places{files: l.files, root: root, own: own}
	kit, fits, saved := node{}, false, &salvaging{}
	if root.Validate(cue.Concrete(true)) == nil {
		kit, fits = snapshot(root, kitShape())
	}
	if !fits {
		if err := inst.AddSyntax(closing()); err != nil {
			l.Faults = with(first, e.faults(err))
			return
		}
		rest, x := salvage(root, kitShape())
		saved = x
		e.raw = root
		root = evaluate(inst)
		l.places.root = root
		e.own, e.root, e.places = own, root, l.places
		err := root.Validate(cue.Concrete(true))
		if err == nil {
			err = root.Err()
		}
		if err != nil {
			l.Faults = with(first, e.faults(err))
			for i := range l.Faults {
				l.Faults[i].taken = l.Faults[i].taken || saved.taken[l.Faults[i].Spot]
			}
			if _, ok := rest.get("people"); !ok { // nothing that anything could be said of
				return
			}
			kit = rest
		} else {
			kit, _ = snapshot(root, nil)
		}
	}
	if len(l.Faults) == 0 {
		l.Faults = first
	}
	r := &reader{places: l.places}
	l.Kit = r.household(kit)
	holes := map[string]bool{}
	for _, f := range l.Faults {
		for spot := range around(f.Spot) {
			holes[spot] = true
		}
	}
	for _, f := range r.faults { // what reading the rest makes of a hole is an echo of the fault in it
		said := f.Spot
		for spot := range around(f.Spot) {
			if from, ok := saved.echoes[spot]; ok {
				said = from
			}
		}
		if !holes[said] {
			l.Faults = append(l.Faults, f)
			continue
		}
		for i := range l.Faults {
			if at := &l.Faults[i]; at.Spot == said {
				at.taken = f.taken && (at.taken || said == f.Spot)
			}
		}
	}
	for i := range l.Faults { // of what is written nowhere, not even in part
		if at := &l.Faults[i].At; !at.Known() {
			*at = l.files.start(e.firstFile())
		}
	}
}

// with adds to the faults those of others that are no echo of them.
func with(first, fs []Fault) []Fault {
	return append(first, slices.DeleteFunc(fs, func(f Fault) bool {
		return slices.ContainsFunc(first, func(w Fault) bool { return f.Spot == w.Spot || strings.HasPrefix(f.Spot, w.Spot+"/") })
	})...)
}

// around goes through a spot and all entries around it, the innermost first.
func around(spot string) iter.Seq[string] {
	return func(yield func(string) bool) {
		for yield(spot) {
			i := strings.LastIndexByte(spot, '/')
			if i < 0 {
				return
			}
			spot = spot[:i]
		}
	}
}

// evaluate uses a context of its own for each evaluation: a context never
// frees what it has seen, and would answer a second time from memory.
func evaluate(inst *build.Instance) cue.Value {
	return cuecontext.New(cuecontext.CUE_DEBUG(""), cuecontext.WithInjection(embed.New())).BuildInstance(inst)
}

// schemaFile is the name under which the closing file is known to CUE.
const schemaFile = "kitmuster-schema"

var schemaSyntax = sync.OnceValue(func() *ast.File {
	f, err := parser.ParseFile(schemaFile, schema.Kit)
	if err != nil {
		panic(err) // the embedded schema is part of the program
	}
	return f
})

// closing makes the file that closes a household's package with the schema.
// The definitions hide inside one field, so that no name of the family's can
// clash with them; the attribute is what makes the embedding closed.
func closing() *ast.File {
	f, err := parser.ParseFile(schemaFile, closingText())
	if err != nil {
		panic(err) // made of the embedded schema
	}
	return f
}

var closingText = sync.OnceValue(func() string {
	return "@experiment(explicitopen)\n\npackage " + packageName + "\n\n_kitmuster: {\n" + body(schemaSyntax()) + "}\n_kitmuster.#Kit\n"
})

// body is the schema without its package clause and comments.
func body(f *ast.File) string {
	for _, d := range f.Decls {
		if p, ok := d.(*ast.Package); ok {
			return comments.ReplaceAllString(string(schema.Kit[p.End().Offset():]), "")
		}
	}
	return string(schema.Kit)
}

var comments = regexp.MustCompile(`(?m)^\s*//.*\n`)
