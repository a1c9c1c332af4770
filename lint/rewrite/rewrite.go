// Package rewrite changes a family's files at a spot, as a careful hand would, and proves what it did.
//
// An edit is one of bytes. What is not concerned keeps its bytes, comments go with their entry, indentation follows the
// neighbourhood, CRLF and a byte order mark stay, and what `cue fmt` left as it was it still does.
//
// What may be changed is found in a fresh parse of the household's own files (index.go): literals, chains such as
// `packs: rust: mass: "1 kg"`, references with something beside them, entries spread over files. What is made by a
// comprehension, a pattern, a template or a data file is refused, with the place to change by hand; what several households
// share is never changed. Positions of stamps (package load) are no ground for edits: stamps move the ends of fields.
//
// The index cannot know all that CUE does. So the files are loaded again after each change and must say exactly what was
// meant, and everything else as before (proof.go); the households of folders below, which read these files too, must say what they
// said. Hidden fields and definitions must be as sound as they were. Only then the change stands.
package rewrite

import (
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/source"
)

// Step is one change of what a household says.
type Step struct {
	Do   Act
	Spot string
	// To is the spot that Move and Copy lead to; its group is made where it is not there.
	To string
	// Value is what Set writes: a string, an int, a bool, a []any of these, or Fields.
	Value any
	// Behind are keys of fields that a new one of Set stands behind, the first that is written in the same braces; else it stands last.
	Behind []string
}

// Act is a kind of step.
type Act int

// The kinds of step.
const (
	Set    Act = iota // writes a value, whether or not there is one
	Remove            // takes a field or an entry away
	Move              // puts an entry elsewhere, or gives it another key; waivers of it follow
	Copy              // writes an entry a second time
)

// Fields is a group or an entry, in the order in which it is written.
type Fields []Field

// Field is one of Fields.
type Field struct {
	Key   string
	Value any
}

// Refusal says why a step is not done, and where a hand must do it.
type Refusal struct {
	Spot string
	At   source.Span // unknown where no line is to blame
	Text string
}

func (r *Refusal) Error() string {
	if r.At.Known() {
		return r.At.String() + ": " + r.Text
	}
	return r.Spot + ": " + r.Text
}

// File is one changed file: what it held and what it shall hold. Path is one of the tree, Shown the one for people.
type File struct {
	Path, Shown string
	Old, New    []byte
}

// Draft is a household's files under change. It is not safe for concurrent use, and keeps what it loaded in memory.
type Draft struct {
	tree   fs.FS
	dir    string
	o      load.Options
	was    map[string][]byte
	now    map[string][]byte
	barred map[string]string // why a file of the household is not changed
	state  *state
	below  map[string]*state // households of folders below, which read these files too
}

// Open begins a draft of the household in folder dir of a tree. It fails with a Refusal where the files do not say one thing as
// they are. The tree must not change meanwhile.
func Open(tree fs.FS, dir string, o load.Options) (*Draft, error) {
	d, err := read(tree, dir, o)
	if err != nil {
		return nil, err
	}
	if d.state, err = stateOf(tree, dir, o); err != nil {
		return nil, err
	}
	dirs, _ := load.Find(tree, []string{dir + "/..."}, o)
	for _, b := range dirs {
		if b == dir {
			continue
		}
		s, err := stateOf(tree, b, o)
		if err != nil {
			return nil, &Refusal{At: err.(*Refusal).At, Text: "a household in a folder below reads these files too, and cannot be read: " + err.(*Refusal).Text}
		}
		d.below[b] = s
	}
	return d, nil
}

// read is a draft of files as they are, whatever they say.
func read(tree fs.FS, dir string, o load.Options) (*Draft, error) {
	d := &Draft{tree: tree, dir: dir, o: o, was: map[string][]byte{}, barred: map[string]string{}, below: map[string]*state{}}
	entries, err := fs.ReadDir(tree, dir)
	if err != nil {
		return nil, &Refusal{Text: "the folder cannot be read: " + err.Error()}
	}
	for _, e := range entries {
		p := path.Join(dir, e.Name())
		if e.IsDir() || path.Ext(p) != ".cue" || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if !e.Type().IsRegular() {
			d.barred[p] = "is a link or no ordinary file; change what it leads to by hand"
			continue
		}
		b, err := fs.ReadFile(tree, p)
		if err != nil {
			return nil, &Refusal{Text: err.Error()}
		}
		if generated.Match(b) {
			d.barred[p] = "says that a program made it; change what it is made from"
		}
		d.was[p] = b
	}
	d.now = maps.Clone(d.was)
	return d, nil
}

// Kit is the household as it is now drafted.
func (d *Draft) Kit() *kit.Household { return d.state.loaded.Kit }

// Locate answers where a spot is written in the files as they are now drafted.
func (d *Draft) Locate(spot string) source.Place { return d.state.loaded.Locate(spot) }

// Value is what the files as they are now drafted say at a spot, as Loaded.Data has it.
func (d *Draft) Value(spot string) (any, bool) { return find(d.state.data, spot) }

// Free is the spot of a key in a group, with a number behind it where the key is taken.
func (d *Draft) Free(group, key string) string {
	spot := group + "/" + source.Spot(key)
	for n := 2; ; n++ {
		if _, taken := d.Value(spot); !taken {
			return spot
		}
		spot = fmt.Sprintf("%s/%s_%d", group, source.Spot(key), n)
	}
}

// Tree is the tree with the files as they are now drafted.
func (d *Draft) Tree() fs.FS { return over(d.tree, d.now, d.was) }

// Files lists the files that differ from what was read, by path.
func (d *Draft) Files() (out []File) {
	for _, p := range slices.Sorted(maps.Keys(d.now)) {
		if string(d.now[p]) != string(d.was[p]) {
			out = append(out, File{p, d.show(p), d.was[p], d.now[p]})
		}
	}
	return out
}

func (d *Draft) show(p string) string {
	if d.o.Show == nil {
		return p
	}
	return d.o.Show(p)
}

// Do takes steps, all or none. An error is a *Refusal, and leaves the draft as it was.
func (d *Draft) Do(steps ...Step) error {
	meant := clone(d.state.data)
	w := &writer{draft: d, now: maps.Clone(d.now)}
	for _, s := range steps {
		if err := s.check(meant); err != nil {
			return err
		}
		if err := w.step(s); err != nil {
			return d.explain(s.Spot, err)
		}
		s.mean(meant)
		if s.Do != Move {
			continue
		}
		for _, f := range followers(meant, s.Spot, s.To) {
			if err := w.step(f); err != nil {
				return d.explain(f.Spot, err)
			}
			f.mean(meant)
		}
	}
	return d.prove(w.now, meant, steps)
}

// check refuses a step that makes no sense of what the household says.
func (s Step) check(data map[string]any) error {
	no := func(text string, args ...any) error { return &Refusal{Spot: s.Spot, Text: fmt.Sprintf(text, args...)} }
	if s.Spot == "" {
		return no("name a spot, such as packs/rust/mass")
	}
	if s.Do == Set {
		if _, err := encode(s.Value); err != nil {
			return no("%v", err)
		}
		if keys := source.Keys(s.Spot); !holdsFields(data, keys[:len(keys)-1]) {
			return no("stands inside of something that holds no fields")
		}
		return nil
	}
	if _, ok := find(data, s.Spot); !ok {
		return no("nothing is written at this spot")
	}
	if s.Do == Remove {
		return nil
	}
	if s.To == "" || s.To == s.Spot || strings.HasPrefix(s.To, s.Spot+"/") {
		return no("cannot go to %q", s.To)
	}
	if _, ok := find(data, s.To); ok {
		return no("there is an entry at %s already; give this one another key", s.To)
	}
	if keys := source.Keys(s.To); !holdsFields(data, keys[:len(keys)-1]) {
		return no("%s stands inside of something that holds no fields", s.To)
	}
	return nil
}

// holdsFields reports whether fields can be put at a place: a struct is there, or nothing.
func holdsFields(data map[string]any, keys []string) bool {
	for _, k := range keys {
		next, ok := data[k]
		if !ok {
			return true
		}
		if data, ok = next.(map[string]any); !ok {
			return false
		}
	}
	return true
}

// followers are the steps that let the waivers of a moved entry follow it.
func followers(data map[string]any, from, to string) (out []Step) {
	waivers, _ := find(data, "record/waivers")
	m, _ := waivers.(map[string]any)
	for _, k := range slices.Sorted(maps.Keys(m)) {
		w, _ := m[k].(map[string]any)
		spot, _ := w["spot"].(string)
		if rest, ok := strings.CutPrefix(spot, from); ok && (rest == "" || rest[0] == '/') {
			out = append(out, Step{Do: Set, Spot: source.Spot("record", "waivers", k, "spot"), Value: to + rest})
		}
	}
	return out
}
