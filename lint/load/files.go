package load

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"cuelang.org/go/cue/build"
	"cuelang.org/go/mod/modfile"
	"cuelang.org/go/mod/module"

	"kitmuster/lint/source"
)

// Bounds on what is read for one household, far above any real kit: they keep
// a hostile or broken file from eating the machine. Our own figures.
const (
	maxFile  = 1 << 20 // bytes of one file
	maxTotal = 8 << 20 // bytes of all files of a household, shared ones included
)

// files is the one door to a household's tree: CUE reads through it too. It
// bounds what is read and keeps every text for the positions.
type files struct {
	tree  fs.FS
	dir   string
	show  func(string) string
	texts map[string]*source.Text
	total int
	// refused holds a fault for each file that the door did not let through.
	refused []Fault
	// of is how texts call what is read.
	of subject
}

// subject names what is read: all of its kind, one file of it, and its files together.
type subject struct{ many, file, files string }

var (
	aHousehold = subject{"kits", "a kit file", "this household's files"}
	aStandard  = subject{"standards", "a file of a standard", "this standard's files"}
)

// newFiles is the door to what the household in folder dir may read of a tree; see Viewer.
func newFiles(tree fs.FS, dir string, o Options) *files {
	return &files{tree: seen(tree, dir, o.Given), dir: dir, show: o.show, texts: map[string]*source.Text{}, of: aHousehold}
}

// Open implements fs.FS.
func (x *files) Open(name string) (fs.File, error) {
	if t := x.texts[name]; t != nil {
		return source.NewMemory(path.Base(name), t.Bytes), nil
	}
	// This comes before opening: opening a pipe waits for its writer.
	if info, err := fs.Stat(x.tree, name); err == nil && !info.IsDir() && !info.Mode().IsRegular() {
		return nil, x.refuse(name, "is not an ordinary file; "+x.of.many+" are read from ordinary files only")
	}
	f, err := x.tree.Open(name)
	if err != nil {
		if errors.Is(err, fs.ErrPermission) {
			return nil, x.refuse(name, "cannot be read: permission denied; give yourself the right to read it")
		}
		if dir := path.Dir(name); path.Base(dir) == moduleFolder { // trees differ in what they say of a file below a file
			if info, err := fs.Stat(x.tree, dir); err == nil && !info.IsDir() {
				return nil, x.refuse(dir, "is a file; make it a folder with a file module.cue in it that says "+moduleExample())
			}
		}
		return nil, x.door(name, err)
	}
	info, err := f.Stat()
	if err != nil || info.IsDir() {
		return f, err
	}
	defer f.Close()
	if info.Size() > maxFile {
		return nil, x.tooLarge(name, info.Size())
	}
	b, err := readUpTo(f, info.Size(), maxFile+1)
	if err != nil {
		return nil, x.refuse(name, "cannot be read: "+plainError(err))
	}
	if len(b) > maxFile {
		return nil, x.tooLarge(name, int64(len(b)))
	}
	if x.total += len(b); x.total > maxTotal {
		return nil, x.refuse(name, fmt.Sprintf("brings %s over %d MiB; split the household or move what it does not need elsewhere", x.of.files, maxTotal>>20))
	}
	b = bytes.TrimPrefix(b, []byte("\uFEFF")) // CUE counts its places without it
	x.texts[name] = source.NewText(x.show(name), b)
	if at := invalid(b); at >= 0 {
		f := Fault{Rule: "input/file", Message: path.Base(name) + " is not UTF-8 text from here on; save it as UTF-8", At: x.texts[name].Span(at, at+1)}
		x.refused = append(x.refused, f)
		return nil, &fs.PathError{Op: "read", Path: name, Err: errors.New("not UTF-8 text")}
	}
	return source.NewMemory(path.Base(name), b), nil
}

// read makes sure that the text of a file is known.
func (x *files) read(name string) error {
	f, err := x.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	if x.texts[name] == nil {
		return errors.New("is a directory")
	}
	return nil
}

// ReadDir implements fs.ReadDirFS.
func (x *files) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(x.tree, name)
	return entries, x.door(name, err)
}

// Stat implements fs.StatFS.
func (x *files) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(x.tree, name)
	return info, x.door(name, err)
}

// door remembers what a household may not read; any other error stays as it is.
func (x *files) door(name string, err error) error {
	if b := (*barred)(nil); errors.As(err, &b) {
		return x.refuse(name, b.why)
	}
	return err
}

func (x *files) tooLarge(name string, size int64) error {
	return x.refuse(name, fmt.Sprintf("has %d MiB; %s may have at most %d MiB: split it, or move what is not a kit elsewhere", (size+1<<20-1)>>20, x.of.file, maxFile>>20))
}

// refuse remembers why a file is not read and gives CUE an error to stop at.
func (x *files) refuse(name, why string) error {
	f := Fault{Rule: "input/file", Message: path.Base(name) + " " + why, At: x.wanted(name)}
	if !slices.ContainsFunc(x.refused, func(o Fault) bool { return o.At == f.At && o.Message == f.Message }) {
		x.refused = append(x.refused, f)
	}
	return &fs.PathError{Op: "read", Path: name, Err: errors.New(why)}
}

// wanted is where the household's own files name a file, in an embed or an import; else the start of that file.
func (x *files) wanted(name string) source.Span {
	for _, p := range slices.Sorted(maps.Keys(x.texts)) {
		t := x.texts[p]
		for _, m := range asking.FindAllSubmatchIndex(t.Bytes, -1) {
			for i := 2; i < len(m); i += 2 {
				if m[i] < 0 {
					continue
				}
				what := strings.Trim(string(t.Bytes[m[i]:m[i+1]]), `"`)
				embedded, _ := path.Match(path.Join(path.Dir(p), what), name)
				folder, _, _ := strings.Cut(what, ":") // of an import: the end of its path is a folder
				if embedded || i == 4 && strings.HasSuffix("/"+folder, "/"+path.Base(path.Dir(name))) {
					return t.Span(m[0], m[1])
				}
			}
		}
	}
	return x.start(name)
}

// asking finds embed attributes, with the file or pattern that they name, and imported paths.
var asking = regexp.MustCompile(`@embed\([^)]*?\b(?:file|glob)=("[^"\n]*"|[^,)\s]*)[^)]*\)|"([^"\n]*\.[^"/\n]*/[^"\n]*)"`)

// readUpTo reads a file that is said to have so many bytes, whatever it has, but at most so many.
func readUpTo(f io.Reader, size, most int64) ([]byte, error) {
	b := bytes.NewBuffer(make([]byte, 0, min(size, most)+bytes.MinRead))
	_, err := b.ReadFrom(io.LimitReader(f, most))
	return b.Bytes(), err
}

// invalid is the offset of the first byte that is not UTF-8, or -1.
func invalid(b []byte) int {
	if utf8.Valid(b) {
		return -1
	}
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// start is the first place of a file, whether or not its text is known.
func (x *files) start(name string) source.Span {
	p := source.Point{Line: 1, Col: 1}
	return source.Span{File: x.show(name), Start: p, End: p}
}

// unreadable says why a folder cannot be listed.
func unreadable(dir string, err error) string {
	if b := (*barred)(nil); errors.As(err, &b) {
		return path.Base(dir) + " " + b.why
	}
	return "the folder cannot be read: " + plainError(err)
}

func plainError(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

// treePath is the path in the tree of a file that CUE names.
func treePath(name string) string { return strings.TrimPrefix(name, "/") }

// ours reports whether a file that CUE names lies in the household's own folder.
func (x *files) ours(name string) bool { return path.Dir(treePath(name)) == x.dir }

// text gives the text of a file that CUE names; nil where it was not read.
// CUE names embedded data files relative to the package's folder.
func (x *files) text(name string) *source.Text {
	name = treePath(name)
	if t := x.texts[name]; t != nil {
		return t
	}
	return x.texts[path.Join(x.dir, name)]
}

// check looks at the folder's own files before CUE does, for what CUE would
// pass over in silence or report unhelpfully.
func (x *files) check(dir string) (out []Fault) {
	entries, err := fs.ReadDir(x.tree, dir)
	if err != nil {
		return []Fault{{Rule: "input/file", Message: unreadable(dir, err), At: x.start(dir)}}
	}
	kits := 0
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || path.Ext(name) != ".cue" || strings.HasPrefix(name, ".") {
			continue
		}
		p := path.Join(dir, name)
		if err := x.read(p); err != nil {
			if len(x.refused) == 0 {
				out = append(out, Fault{Rule: "input/file", Message: name + " cannot be read: " + plainError(err), At: x.start(p)})
			}
			continue
		}
		t := x.texts[p]
		pkg, at := clause(t.Bytes)
		here := t.Span(at[0], at[1])
		switch {
		case strings.HasPrefix(name, "_"), strings.HasSuffix(name, "_tool.cue"), strings.HasSuffix(name, "_test.cue"):
			out = append(out, Fault{Rule: "input/file", Message: fmt.Sprintf("CUE leaves out files named like %s; rename it", name), At: x.start(p)})
		case pkg == packageName:
			kits++
		case pkg == "":
			out = append(out, Fault{Rule: "input/package", Message: fmt.Sprintf("no package line; write `package %s` as the first line", packageName), At: here})
		default:
			out = append(out, Fault{Rule: "input/package", Message: fmt.Sprintf("package %s is not read; write `package %s`, or move the file to a folder of its own", pkg, packageName), At: here})
		}
	}
	if len(x.refused) > 0 {
		return append(x.refused, out...)
	}
	if kits == 0 && len(out) == 0 {
		for _, e := range entries {
			if why := otherForm(e.Name()); why != "" && !e.IsDir() {
				return append(out, Fault{Rule: "input/no-kit", Message: why, At: x.start(path.Join(dir, e.Name()))})
			}
		}
		out = append(out, Fault{Rule: "input/no-kit", Message: noKit, At: x.start(dir)})
	}
	return out
}

// otherForm says of a file whose name is that of a kit, but for its end, how to make it one; "" of any other.
func otherForm(name string) string {
	first, _, _ := strings.Cut(name, ".")
	if f := strings.ToLower(first); f != "kit" && f != "household" {
		return ""
	}
	switch strings.ToLower(path.Ext(name)) {
	case ".json":
		return fmt.Sprintf("a kit file ends in .cue; rename %s to %s.cue, write `package %s` as its first line, and leave the rest as it is", name, first, packageName)
	case ".yaml", ".yml", ".toml":
		return fmt.Sprintf("a kit file ends in .cue; write what is in %s in a file %s.cue, whose first line is `package %s`", name, first, packageName)
	}
	return fmt.Sprintf("a kit file ends in .cue; rename %s to %s.cue", name, first)
}

var packageClause = regexp.MustCompile(`(?m)^(?:\x{FEFF})?[ \t]*package[ \t]+([\pL_$#][\pL\pN_$]*)`)

// clause finds the package clause of a kit file: the name and where it stands.
func clause(b []byte) (name string, at [2]int) {
	if m := packageClause.FindSubmatchIndex(b[:min(len(b), 64<<10)]); m != nil {
		return string(b[m[2]:m[3]]), [2]int{m[2], m[3]}
	}
	return "", [2]int{0, 0}
}

// leftOut reports files of the folder that CUE did not use.
func (x *files) leftOut(inst *build.Instance) (out []Fault) {
	for _, f := range append(slices.Clone(inst.IgnoredFiles), inst.InvalidFiles...) {
		p := treePath(f.Filename)
		if path.Ext(p) != ".cue" || !x.ours(p) || strings.HasPrefix(path.Base(p), ".") {
			continue
		}
		why := "its build attribute is not met"
		if f.ExcludeReason != nil {
			why = f.ExcludeReason.Error()
		}
		out = append(out, Fault{Rule: "input/file", Message: fmt.Sprintf("%s is left out by CUE (%s), so what it says would be lost; take the condition away", path.Base(p), why), At: x.start(p)})
	}
	return out
}

// noRegistry refuses every module from outside: what is read is read without a network.
type noRegistry struct{ of subject }

func (r noRegistry) refuse(m string) error {
	return fmt.Errorf("module %s is not in this repository, and %s are read without a network; copy what you need into the repository", m, r.of.many)
}

func (r noRegistry) ModFile(_ context.Context, m module.Version) (*modfile.File, error) {
	return nil, r.refuse(m.String())
}

func (r noRegistry) Fetch(_ context.Context, m module.Version) (module.SourceLoc, error) {
	return module.SourceLoc{}, r.refuse(m.String())
}

// ModuleVersions says that there is none, so that CUE goes on to name the import that it cannot find.
func (noRegistry) ModuleVersions(context.Context, string) ([]string, error) { return nil, nil }

// textOf finds a text by the path that people see.
func (x *files) textOf(shown string) *source.Text {
	for _, t := range x.texts {
		if t.File == shown {
			return t
		}
	}
	return nil
}
