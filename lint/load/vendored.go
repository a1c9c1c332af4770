package load

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/build"
	"cuelang.org/go/cue/errors"
	"cuelang.org/go/cue/load"
	"cuelang.org/go/cue/parser"
	"cuelang.org/go/cue/token"
	"cuelang.org/go/mod/modfile"
)

// CUE's loader finds packages that a repository keeps under cue.mod (gen, usr and pkg), but reads them from the disk only, and a household
// is read from a tree: of a commit, or behind a wall. So these packages are put together here, in the way of CUE's loader and through the
// same door as everything else: nothing outside of the repository, and no more bytes than a household may have.

// vendorFolders are where a package may lie, under cue.mod; what lies in several of them is one package.
var vendorFolders = []string{"gen", "usr", "pkg"}

// instance loads the package of kits in a folder.
func (x *files) instance(dir string) *build.Instance {
	v := &vendored{files: x, dir: dir, open: map[string]bool{}}
	inst := load.Instances([]string{"."}, v.config(packageName))[0]
	if inst.Err == nil || !strings.Contains(errors.Details(inst.Err, nil), "cannot get absolute path") || !v.module() {
		return inst
	}
	v.context = build.NewContext(build.Loader(v.load))
	return load.Instances([]string{"."}, v.config(packageName))[0]
}

// vendored loads what a household imports, packages of its repository and those under cue.mod.
type vendored struct {
	files *files
	dir   string
	// root is the folder of the module, name its path, version its language.
	root, name, version string
	context             *build.Context
	open                map[string]bool // what is being loaded
}

func (v *vendored) config(pkg string) *load.Config {
	return &load.Config{
		Dir:      "/" + strings.TrimPrefix(v.dir, "."),
		FS:       v.files,
		Package:  pkg,
		Registry: noRegistry{aHousehold},
		Env:      []string{},
		Context:  v.context,
	}
}

// module finds the module around the household; false where there is none that can be read.
func (v *vendored) module() bool {
	for v.root = v.dir; ; v.root = path.Dir(v.root) {
		f, err := v.files.parseModule(path.Join(v.root, moduleFolder, moduleFile), modfile.ParseNonStrict)
		if err == nil && f != nil {
			v.name = ast.ParseImportPath(f.QualifiedModule()).Path
			if f.Language != nil {
				v.version = f.Language.Version
			}
			return true
		}
		if err != nil || v.root == "." {
			return false
		}
	}
}

// load is a build.LoadFunc.
func (v *vendored) load(pos token.Pos, name string) *build.Instance {
	ip := ast.ParseImportPath(name)
	if first, _, _ := strings.Cut(ip.Path, "/"); !strings.Contains(first, ".") {
		return nil // of CUE itself
	}
	if v.open[name] {
		return v.failed(name, errors.Newf(pos, "import cycle"))
	}
	v.open[name] = true
	defer delete(v.open, name)
	if ip.Path == v.name || strings.HasPrefix(ip.Path, v.name+"/") {
		return load.Instances([]string{name}, v.config(""))[0]
	}
	inst := v.context.NewInstance("/"+path.Join(v.root, moduleFolder, vendorFolders[0], ip.Path), nil)
	inst.PkgName, inst.ImportPath, inst.DisplayPath = ip.Qualifier, name, name
	some := false
	for _, f := range vendorFolders {
		base := path.Join(v.root, moduleFolder, f)
		some = v.add(inst, path.Join(base, ip.Path)) || some
	}
	if !some && inst.Err == nil {
		return v.failed(name, errors.Newf(pos, "cannot find package %q", name))
	}
	_ = inst.Complete() // the instance keeps the error
	return inst
}

func (v *vendored) failed(name string, err errors.Error) *build.Instance {
	inst := v.context.NewInstance(v.dir, nil)
	inst.ImportPath, inst.DisplayPath = name, name
	inst.ReportError(err)
	return inst
}

// add adds the files of the package in a folder; false where there are none.
func (v *vendored) add(inst *build.Instance, dir string) (some bool) {
	entries, _ := fs.ReadDir(v.files, dir)
	for _, e := range entries {
		n := e.Name()
		if e.IsDir() || path.Ext(n) != ".cue" || strings.HasPrefix(n, ".") || strings.HasPrefix(n, "_") || strings.HasSuffix(n, "_tool.cue") || strings.HasSuffix(n, "_test.cue") {
			continue
		}
		b, err := fs.ReadFile(v.files, path.Join(dir, n))
		if err != nil {
			inst.ReportError(errors.Promote(err, "load"))
			continue
		}
		if pkg, _ := clause(b); pkg != inst.PkgName {
			continue
		}
		options := []parser.Option{parser.ParseComments}
		if v.version != "" {
			options = append(options, parser.Version(v.version))
		}
		f, err := parser.ParseFile("/"+path.Join(dir, n), b, options...)
		if err != nil {
			inst.ReportError(errors.Promote(err, "load"))
			continue
		}
		if setAside(f) {
			continue
		}
		if err := inst.AddSyntax(f); err != nil {
			inst.ReportError(err)
			continue
		}
		some = true
	}
	return some
}

// setAside reports whether a file says before its package that it is left out: always, or unless a tag is given, and none is.
func setAside(f *ast.File) bool {
	return slices.ContainsFunc(f.Decls, func(d ast.Decl) bool {
		a, ok := d.(*ast.Attribute)
		if !ok {
			return false
		}
		name, body := a.Split()
		return name == "ignore" || name == "if" && !strings.HasPrefix(strings.TrimSpace(body), "!")
	})
}
