package load

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Find lists the folders of the households that the patterns mean, sorted and
// without doubles. A pattern is a slash path of the tree: a folder, a .cue file,
// which stands for its folder, or a folder followed by /..., which stands for every
// household in it and below. On the way down the folders cue.mod and testdata and
// those whose names begin with . or _ are passed over, as are folders that only hold
// what households share. A folder named outright is always listed, so that a
// mistake in it is told.
func Find(tree fs.FS, patterns []string, o Options) (dirs []string, faults []Fault) {
	x, v := newFiles(tree, ".", o), NewViewer(tree)
	for _, p := range patterns {
		base, below := strings.CutSuffix(p, "...")
		base = path.Clean(strings.TrimSuffix(base, "/"))
		info, err := fs.Stat(tree, base)
		if err != nil {
			why := "cannot be read: " + plainError(err)
			if !utf8.ValidString(base) {
				why = notUTF8
			} else if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) {
				why = "there is nothing at this path"
				if near := nearPath(tree, base); near != "" {
					why += fmt.Sprintf("; did you mean %s?", inWords(x.show(near)+strings.TrimPrefix(p, strings.TrimSuffix(p, "/..."))))
				}
			}
			faults = append(faults, Fault{Rule: "input/path", Message: why, At: x.start(base)})
			continue
		}
		switch {
		case below && info.IsDir():
			found, fs := descend(v, x, base)
			if len(found) == 0 && len(fs) == 0 {
				fs = append(fs, Fault{Rule: "input/no-kit", At: x.start(base),
					Message: fmt.Sprintf("no household here or below: a household is a folder with a .cue file that starts with `package %s` and has a line such as household: \"Alder\"", packageName)})
			}
			dirs, faults = append(dirs, found...), append(faults, fs...)
		case below:
			faults = append(faults, Fault{Rule: "input/path", Message: "/... goes after a folder, and this is a file", At: x.start(base)})
		case info.IsDir():
			if here := look(v.Of(base, base), x, base); !here.kits && !here.household && len(here.faults) == 0 {
				if found, _ := descend(v, x, base); len(found) > 0 {
					faults = append(faults, Fault{Rule: "input/no-kit", At: x.start(base), Message: elsewhere(x, base, found)})
					continue
				}
				if here.other == 0 {
					faults = append(faults, Fault{Rule: "input/no-kit", At: x.start(base), Message: noKit + beside(v, x, base)})
					continue
				}
			}
			dirs = append(dirs, base)
		case path.Ext(base) == ".cue":
			dirs = append(dirs, path.Dir(base))
		default:
			faults = append(faults, Fault{Rule: "input/path", Message: "this is not a kit file: kit files end in .cue", At: x.start(base)})
		}
	}
	slices.Sort(dirs)
	sortFaults(faults)
	return slices.Compact(dirs), faults
}

// elsewhere says that the households of a folder lie below it.
func elsewhere(x *files, base string, found []string) string {
	shown := x.show(found[0])
	if len(found) == 1 {
		return fmt.Sprintf("no kit in this folder, but there is one in %s; name that folder, or %s/... for all below this one", shown, strings.TrimSuffix(x.show(base), "/"))
	}
	return fmt.Sprintf("no kit in this folder, but there are %d below, such as %s; name one of them, or %s/... for all", len(found), shown, strings.TrimSuffix(x.show(base), "/"))
}

// noKit is said of a folder without a kit.
const noKit = "no kit in this folder: it has no .cue file that starts with `package " + packageName + "`"

// nearPath is a path that is there in the place of one that is not: the first name on the way that leads nowhere is
// misspelt; "" where nothing there is called nearly so.
func nearPath(tree fs.FS, name string) string {
	dir, rest := path.Dir(name), path.Base(name)
	for dir != "." {
		if _, err := fs.Stat(tree, dir); err == nil {
			break
		}
		dir, rest = path.Dir(dir), path.Join(path.Base(dir), rest)
	}
	wrong, after, _ := strings.Cut(rest, "/")
	entries, _ := fs.ReadDir(tree, dir)
	var names []string
	for _, e := range entries {
		if n := e.Name(); utf8.ValidString(n) && !strings.HasPrefix(n, ".") && (e.IsDir() || path.Ext(n) == ".cue") {
			names = append(names, n)
		}
	}
	near := words.Near(wrong, names)
	if near == "" {
		return ""
	}
	near = path.Join(dir, near, after)
	if _, err := fs.Stat(tree, near); err != nil {
		return ""
	}
	return near
}

// inWords is a path as it stands in a sentence: a dot alone would read as its end.
func inWords(p string) string {
	if p == "." {
		return "the folder that you are in (.)"
	}
	return p
}

// mostNeighbours are how many folders beside an empty one are looked into for a kit. Our own figure.
const mostNeighbours = 20

// beside ends a message about an empty folder with the household that it lies in, or the first one that lies beside it.
func beside(v *Viewer, x *files, base string) string {
	up := path.Dir(base)
	if up == base {
		return ""
	}
	here := look(v.Of(up, up), x, up)
	if here.household {
		return fmt.Sprintf("; the folder around it is a household: did you mean %s?", inWords(x.show(up)))
	}
	for _, dir := range here.below[:min(mostNeighbours, len(here.below))] {
		if look(v.Of(dir, dir), x, dir).household {
			return fmt.Sprintf("; did you mean %s?", inWords(x.show(dir)))
		}
	}
	return ""
}

// Base is the folder at which a pattern begins.
func Base(tree fs.FS, pattern string) string {
	base := path.Clean(strings.TrimSuffix(strings.TrimSuffix(pattern, "..."), "/"))
	if info, err := fs.Stat(tree, base); err == nil && !info.IsDir() {
		base = path.Dir(base)
	}
	return base
}

// Given answers in which of the folders that the patterns name a household's folder was found: the highest that holds it,
// or "" where none does. It is what Viewer.Of takes.
func Given(tree fs.FS, patterns []string) func(dir string) string {
	bases := map[string]bool{}
	for _, p := range patterns {
		bases[Base(tree, p)] = true
	}
	return func(dir string) (given string) {
		for d := dir; ; d = path.Dir(d) {
			if bases[d] {
				given = d
			}
			if d == "." {
				return given
			}
		}
	}
}

// householdLine tells a household's folder from one that only holds shared
// things, without evaluating; no other field of the schema has this name.
var (
	householdLine  = regexp.MustCompile(`(?m)^[ \t{]*"?household"?[ \t]*:`)
	namedHousehold = regexp.MustCompile(`(?m)^[ \t{]*"?household"?[ \t]*:[ \t]*"([^"\\\n]*)"?`)
)

func descend(v *Viewer, x *files, base string) (dirs []string, faults []Fault) {
	var kitsOnly []string // folders of kit files without a household line
	// Level by level, a few folders at a time: most of this is waiting for the disk.
	for level := []string{base}; len(level) > 0; {
		seen := make([]sight, len(level))
		next := make(chan int)
		var wg sync.WaitGroup
		for range min(lookers, len(level)) {
			wg.Go(func() {
				for i := range next {
					seen[i] = look(v.Of(level[i], base), x, level[i])
				}
			})
		}
		for i := range level {
			next <- i
		}
		close(next)
		wg.Wait()
		var below []string
		for i, s := range seen {
			switch {
			case s.household:
				dirs = append(dirs, level[i])
			case s.kits:
				kitsOnly = append(kitsOnly, level[i])
			}
			faults = append(faults, s.faults...)
			below = append(below, s.below...)
		}
		level = below
	}
	slices.Sort(dirs)
	above := map[string]bool{} // folders that stand above a household
	for _, d := range dirs {
		for d != "." && d != base && !above[path.Dir(d)] {
			d = path.Dir(d)
			above[d] = true
		}
	}
	for _, p := range kitsOnly { // shared things stand above a household; anything else is a household that forgot its line
		if !above[p] {
			dirs = append(dirs, p)
		}
	}
	return dirs, faults
}

// notUTF8 is told of a folder that no tree of Go's can open; see io/fs.ValidPath.
const notUTF8 = "the name of this folder is not UTF-8 text, so it cannot be opened; rename it"

// lookers is how many folders are looked at at once. Our own figure.
const lookers = 4

// sight is what one look at a folder shows.
type sight struct {
	// kits says that it has kit files, household that one of them names a household.
	kits, household bool
	// other counts the files that may be meant for a kit, whatever is wrong with them.
	other  int
	below  []string
	faults []Fault
}

func look(tree fs.FS, x *files, dir string) (s sight) {
	if !utf8.ValidString(dir) {
		return sight{faults: []Fault{{Rule: "input/path", Message: notUTF8, At: x.start(dir)}}}
	}
	entries, err := fs.ReadDir(tree, dir)
	if err != nil {
		return sight{faults: []Fault{{Rule: "input/file", Message: unreadable(dir, err), At: x.start(dir)}}}
	}
	for _, e := range entries {
		n := e.Name()
		if e.IsDir() {
			if n != "cue.mod" && n != "testdata" && !strings.HasPrefix(n, ".") && !strings.HasPrefix(n, "_") {
				s.below = append(s.below, path.Join(dir, n))
			}
			continue
		}
		if otherForm(n) != "" {
			s.other++
		}
		if path.Ext(n) != ".cue" || strings.HasPrefix(n, ".") {
			continue
		}
		s.other++
		b, err := glance(tree, path.Join(dir, n), e)
		if err != nil { // listed, so that it is told when the household is read
			s.household = true
			continue
		}
		pkg, _ := clause(b)
		s.kits = s.kits || pkg == packageName
		if s.household || !bytes.Contains(b, []byte("household")) {
			continue
		}
		// Whatever the package, where a name is written: a slip in that line must not make a family vanish.
		s.household = (pkg == packageName || pkg == "") && householdLine.Match(b) || namedHousehold.Match(b)
	}
	return s
}

// glance reads a kit file, up to the size at which kit files are refused.
func glance(tree fs.FS, name string, e fs.DirEntry) ([]byte, error) {
	if !e.Type().IsRegular() {
		info, err := fs.Stat(tree, name)
		if err != nil || !info.Mode().IsRegular() {
			return nil, cmp.Or[error](err, errSpecial)
		}
	}
	f, err := tree.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	b, err := readUpTo(f, info.Size(), maxFile+1)
	if err == nil && (len(b) > maxFile || !utf8.Valid(b)) {
		err = fs.ErrInvalid
	}
	return b, err
}

// Opening is where a household says its name, found without evaluating anything; failing that, where its first kit file or its folder begins.
func Opening(tree fs.FS, dir string, o Options) source.Span {
	x := newFiles(tree, dir, o)
	first := x.start(dir)
	for p, b := range x.kits() {
		if m := householdLine.FindIndex(b); m != nil {
			return x.texts[p].Span(m[0], m[1])
		}
		if first.File == x.show(dir) {
			first = x.start(p)
		}
	}
	return first
}

// Name is the name that a household writes down for itself, found without evaluating anything; "" where it writes none plainly.
func Name(tree fs.FS, dir, given string) string {
	for _, b := range newFiles(tree, dir, Options{Given: given}).kits() {
		if m := namedHousehold.FindSubmatch(b); m != nil {
			return string(m[1])
		}
	}
	return ""
}

// imports finds the imports of a file, imported those of a module; the names of CUE's own packages have no dot before their first slash.
var (
	imports  = regexp.MustCompile(`(?m)^[ \t]*import\s*(?:\([^)]*\)|[^"\n]*"[^"\n]*")`)
	imported = regexp.MustCompile(`"[^"/\n]*\.[^"\n]*"`)
)

// Wanders reports whether the household in folder dir may bring in something from anywhere because of what stands in
// folder at, its own or one above: by an import, or by a link to elsewhere.
func Wanders(tree fs.FS, dir, given, at string) bool {
	view := NewViewer(tree).Of(dir, given)
	entries, _ := fs.ReadDir(view, at)
	if slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Type()&fs.ModeSymlink != 0 }) {
		return true
	}
	for _, b := range newFiles(view, at, Options{}).kits() {
		if slices.ContainsFunc(imports.FindAll(b, -1), imported.Match) {
			return true
		}
	}
	return false
}

// kits walks the kit files of the folder that can be read, in the order of their names.
func (x *files) kits() iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		entries, _ := fs.ReadDir(x.tree, x.dir)
		for _, e := range entries {
			p := path.Join(x.dir, e.Name())
			if e.IsDir() || path.Ext(p) != ".cue" || strings.HasPrefix(e.Name(), ".") {
				continue
			}
			if b, err := fs.ReadFile(x, p); err == nil && !yield(p, b) {
				return
			}
		}
	}
}
