package load

import (
	"maps"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

// Each fault of a module file is told at its own line, with what to write, and with no path of the machine: for a kit and for a
// group's standard.
func TestFaultsOfModules(t *testing.T) {
	const module, language = "module: \"a.example/kits@v0\"\n", "language: version: \"v0.17.0\"\n"
	file := func(text string) map[string]string { return map[string]string{"cue.mod/module.cue": text} }
	local := func(text string) map[string]string {
		return map[string]string{"cue.mod/module.cue": module + language, "cue.mod/local-module.cue": text}
	}
	for why, c := range map[string]struct {
		files map[string]string
		want  string
	}{
		"no version of the language":    {file(module), `cue.mod/module.cue:1:1: there is no language version; write language: version: "v0.17.`},
		"nothing":                       {file(""), `cue.mod/module.cue:1:1: there is no language version; write `},
		"a version that is none":        {file(module + "language: version: \"seventeen\"\n"), `cue.mod/module.cue:2:20: language version "seventeen" in module.cue is not valid semantic version; write language: version: `},
		"a version to come":             {file(module + "language: version: \"v0.99.0\"\n"), `cue.mod/module.cue:2:20: language version "v0.99.0" declared in module.cue is too new`},
		"a version of long ago":         {file(module + "language: version: \"v0.3.0\"\n"), `cue.mod/module.cue:2:20: cannot find schema suitable`},
		"a version in braces":           {file(module + "language: {\n\tversion: \"x\"\n}\n"), `cue.mod/module.cue:3:11: language version "x"`},
		"no module":                     {file(language), `cue.mod/module.cue:1:1: there is no module; write the name`},
		"a module's name with blanks":   {file("module: \"A B!\"\n" + language), `cue.mod/module.cue:1:9: module path "A B!" is not valid`},
		"a module's version in full":    {file("module: \"a.example/kits@1.2\"\n" + language), `cue.mod/module.cue:1:9: module path a.example/kits@1.2 should contain`},
		"a number for a name":           {file("module: 3\n" + language), `cue.mod/module.cue:1:9: this value does not fit here; `},
		"an unknown field":              {file(module + language + "foo: 1\n"), `cue.mod/module.cue:3:6: unknown field "foo"; module.cue has module, language, source, deps and custom`},
		"text that does not end":        {file("module: \"a.example/kits@v0\n" + language), `cue.mod/module.cue:1:9: string literal not terminated; `},
		"braces that do not end":        {file(module + "language: {\n"), `cue.mod/module.cue:3:1: expected '}'`},
		"something to work out":         {file("module: \"a\" + \"b\"\n" + language), `cue.mod/module.cue:1:9: expressions not allowed in data mode; `},
		"an import":                     {file("import \"strings\"\n" + module + language), `cue.mod/module.cue:1:1: imports not allowed in data mode; `},
		"two names":                     {file(module + "module: \"b.example/kits@v0\"\n" + language), `cue.mod/module.cue:`},
		"a need with a bad version":     {file(module + language + "deps: \"b.example/x\": v: \"zzz\"\n"), `cue.mod/module.cue:3:1: cannot make version from module "b.example/x"`},
		"a source that is none":         {file(module + language + "source: kind: \"svn\"\n"), `cue.mod/module.cue:3:15: this value does not fit here; `},
		"a need replaced":               {file(module + language + "deps: \"b.example/x@v0\": {v: \"v0.1.0\", replaceWith: \"./y\"}\n"), `cue.mod/module.cue:1:1: the module "b.example/x@v0" is replaced here; `},
		"no UTF-8":                      {file("module: \"a\xff\"\n"), `cue.mod/module.cue:1:11: module.cue is not UTF-8 text from here on; save it as UTF-8`},
		"the folder is a file":          {map[string]string{"cue.mod": "x"}, `cue.mod:1:1: cue.mod is a file; make it a folder`},
		"the file is a folder":          {map[string]string{"cue.mod/module.cue/x": ""}, `cue.mod/module.cue:1:1: module.cue cannot be read: is a directory; `},
		"the local file's type":         {local("deps: \"x\": 3\n"), `cue.mod/local-module.cue:1:12: conflicting values`},
		"the local file's syntax":       {local("deps: {\n"), `cue.mod/local-module.cue:2:1: expected '}'`},
		"too large":                     {file(strings.Repeat("// x\n", maxFile/5+1)), `cue.mod/module.cue:1:1: module.cue has `},
		"the local file is not UTF-8":   {local("\xff"), `cue.mod/local-module.cue:1:1: local-module.cue is not UTF-8`},
		"the local file is too large":   {local(strings.Repeat("// x\n", maxFile/5+1)), `cue.mod/local-module.cue:1:1: local-module.cue has `},
		"the local folder of that name": {map[string]string{"cue.mod/module.cue": module + language, "cue.mod/local-module.cue/x": ""}, `cue.mod/local-module.cue:1:1: local-module.cue cannot be read: is a directory; `},
	} {
		const above = "home/ida/clone"
		tree := func(dir string, more map[string]string) fstest.MapFS {
			out := fstest.MapFS{}
			for _, m := range []map[string]string{c.files, more} {
				for name, text := range m {
					out[dir+name] = &fstest.MapFile{Data: []byte(text)}
				}
			}
			return out
		}
		kits := tree(above+"/", map[string]string{"valley/alder/kit.cue": small})
		maps.Copy(kits, tree("", nil)) // what lies further up has no say
		show := func(p string) string { return strings.TrimPrefix(p, above+"/") }
		household := Household(kits, above+"/valley/alder", Options{Show: show}).Faults
		_, standard := ReadStandard(tree("", map[string]string{StandardFile: upperHarrow}), Options{})
		for of, faults := range map[string][]Fault{"household": household, "standard": standard} {
			got := ""
			if len(faults) == 1 {
				got = faults[0].At.String() + ": " + faults[0].Message
			}
			if !strings.HasPrefix(got, c.want) || strings.Contains(got, "ida") || regexp.MustCompile(`(^|[ (])/`).MatchString(got) {
				t.Errorf("%s, %s: %v\nwant %s", why, of, faults, c.want)
			}
		}
	}
}
