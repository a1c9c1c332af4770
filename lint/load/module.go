package load

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	cueerrors "cuelang.org/go/cue/errors"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/mod/modfile"

	"kitmuster/lint/source"
)

const (
	moduleFolder = "cue.mod"
	moduleFile   = "module.cue"
	localFile    = "local-module.cue"
)

// moduleFaults says what is wrong with the module that a folder belongs to, each at its own place. CUE's loader names no place for
// most of it, and the file by its path on this machine. It runs only once the loader has failed; nothing where the fault is elsewhere.
func (x *files) moduleFaults(dir string) []Fault {
	top := dir
	for {
		if _, err := fs.Stat(x.tree, path.Join(top, moduleFolder)); err == nil {
			break
		}
		if top == "." {
			return nil
		}
		top = path.Dir(top)
	}
	name := path.Join(top, moduleFolder, moduleFile)
	whole, err := x.parseModule(name, modfile.ParseNonStrict)
	if err != nil || whole == nil {
		return x.moduleFault(name, err)
	}
	for _, dep := range slices.Sorted(maps.Keys(whole.Deps)) {
		if whole.Deps[dep].ReplaceWith != "" {
			return x.moduleFault(name, fmt.Errorf("the module %q is replaced here; write that into cue.mod/%s", dep, localFile))
		}
	}
	local := path.Join(top, moduleFolder, localFile)
	_, err = x.parseModule(local, func(b []byte, shown string) (*modfile.File, error) { return modfile.ParseLocal(b, shown, whole) })
	return x.moduleFault(local, err)
}

// parseModule reads a module file; nil where there is none.
func (x *files) parseModule(name string, parse func([]byte, string) (*modfile.File, error)) (*modfile.File, error) {
	if err := x.read(name); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	return parse(x.texts[name].Bytes, path.Base(name))
}

// moduleExample is what a module file says at least.
func moduleExample() string {
	return fmt.Sprintf("module: %q and language: version: %q", "village.example/kits@v0", cue.LanguageVersion())
}

// Of the reasons that the library gives, the ones that a person can meet; what it says beside is passed on, without a path of this machine.
var (
	onVersion  = regexp.MustCompile(`^language version|suitable for reading module file with language version|language\.version`)
	onModule   = regexp.MustCompile(`^(empty )?module path`)
	modulePath = regexp.MustCompile(`^(invalid module file( syntax| value)?)( \S*\.cue)?: `)
	onField    = regexp.MustCompile(`^#?(?:File\.)?([\w."@/-]+): `)
)

// moduleFault leads an error of a module file to its place.
func (x *files) moduleFault(name string, err error) []Fault {
	switch {
	case len(x.refused) > 0:
		return x.refused
	case err == nil:
		return nil
	case x.texts[name] == nil:
		return []Fault{{Rule: "input/module", Message: path.Base(name) + " cannot be read: " + plainError(err) + "; it is a file that says " + moduleExample(), At: x.start(name)}}
	}
	f := Fault{Rule: "input/module", At: x.start(name)}
	text := strings.TrimSpace(err.Error())
	if es := cueerrors.Errors(err); len(es) > 0 {
		text = text0(es[0])
		for _, p := range cueerrors.Positions(es[0]) {
			if p.Filename() == path.Base(name) {
				f.At = x.texts[name].Span(p.Offset(), p.Offset())
				break
			}
		}
		if p := es[0].Path(); len(p) > 0 {
			f.At = x.moduleField(name, f.At, trimPath(p)...)
			if format, _ := es[0].Msg(); format == "field not allowed" {
				f.Message = fmt.Sprintf("unknown field %q; module.cue has module, language, source, deps and custom", strings.Join(trimPath(p), "."))
				return []Fault{f}
			}
		}
	}
	text = modulePath.ReplaceAllString(strings.TrimPrefix(text, ": "), "")
	switch {
	case errors.Is(err, modfile.ErrNoLanguageVersion):
		f.Message = fmt.Sprintf("there is no language version; write language: version: %q", cue.LanguageVersion())
		return []Fault{f}
	case strings.HasPrefix(text, "empty module path"):
		f.Message = `there is no module; write the name of this repository's module, such as module: "village.example/kits@v0"`
		return []Fault{f}
	case onVersion.MatchString(text):
		f.At = x.moduleField(name, f.At, "language", "version")
		f.Message = fmt.Sprintf("%s; write language: version: %q", text, cue.LanguageVersion())
		return []Fault{f}
	case onModule.MatchString(text):
		f.At = x.moduleField(name, f.At, "module")
	case strings.Contains(text, "of module") || strings.Contains(text, "from module"):
		f.At = x.moduleField(name, f.At, "deps")
	case strings.Contains(text, "empty disjunction"):
		text = "this value does not fit here"
	}
	if m := onField.FindStringSubmatch(text); m != nil {
		f.At = x.moduleField(name, f.At, strings.Split(m[1], ".")...)
	}
	f.Message = text + "; a module file says, for one, " + moduleExample()
	return []Fault{f}
}

// moduleField is where a field of a module file stands, or its nearest that is there; else what is given.
func (x *files) moduleField(name string, or source.Span, keys ...string) source.Span {
	file, err := parser.ParseFile(name, x.texts[name].Bytes)
	if err != nil {
		return or
	}
	decls := file.Decls
	for _, key := range keys {
		var next []ast.Decl
		for _, d := range decls {
			fd, ok := d.(*ast.Field)
			if !ok {
				continue
			}
			if l, _, err := ast.LabelName(fd.Label); err != nil || l != key {
				continue
			}
			at := fd.Value
			or = x.texts[name].Span(at.Pos().Offset(), at.End().Offset())
			if s, ok := at.(*ast.StructLit); ok {
				or = x.texts[name].Span(fd.Label.Pos().Offset(), fd.Label.End().Offset())
				next = s.Elts
			}
			break
		}
		decls = next
	}
	return or
}
