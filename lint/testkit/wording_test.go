package testkit

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"strconv"
	"strings"
	"testing"
)

// What the program says, its help and pages, README.md and the outputs that tests compare with are plain words. The texts of the
// rules have a test of their own in package policies.
func TestPlainWords(t *testing.T) {
	root := os.DirFS("../..")
	seen := map[string]int{}
	check := func(file string, line int, text string) {
		seen[path.Ext(file)]++
		if words, instead := Stumble(text); words != "" {
			t.Errorf("%s:%d: %q; write %s: %s", file, line, words, instead, strings.TrimSpace(text))
		}
	}
	err := fs.WalkDir(root, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		switch {
		case d.IsDir() && (file == ".git" || file == "lint/valley" || file == "lint/testkit" || file == "lint/testdata/trade" || file == "lint/testdata/shortages" || file == "policies"):
			return fs.SkipDir // a made-up valley, kits as strangers write them, and what others look at
		case d.IsDir(), strings.HasSuffix(file, "_test.go"):
			return nil
		case path.Ext(file) == ".go":
			return literals(root, file, check)
		case file == "README.md", strings.HasPrefix(file, "cmd/kitmuster/help/"), path.Ext(file) == ".html", path.Ext(file) == ".txtar":
			b, err := fs.ReadFile(root, file)
			for i, line := range strings.Split(string(b), "\n") {
				check(file, i+1, line)
			}
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for ext, least := range map[string]int{".go": 2000, ".md": 500, ".html": 150, ".txtar": 2000} {
		if seen[ext] < least {
			t.Errorf("only %d texts of %s were looked at", seen[ext], ext)
		}
	}
}

// literals checks the texts of a Go file; one word is a key and no text.
func literals(root fs.FS, file string, check func(file string, line int, text string)) error {
	b, err := fs.ReadFile(root, file)
	if err != nil {
		return err
	}
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, file, b, 0)
	if err != nil {
		return err
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if _, tag := n.(*ast.Field); tag {
			return false
		}
		if x, ok := n.(*ast.BasicLit); ok && x.Kind == token.STRING {
			if text, err := strconv.Unquote(x.Value); err == nil && strings.Contains(strings.TrimSpace(text), " ") {
				check(file, files.Position(x.Pos()).Line, text)
			}
		}
		return true
	})
	return nil
}

func TestStumble(t *testing.T) {
	for _, text := range []string{
		"1 is asked", "2 too few", "3 kg too much: leave some", "who bears the pack", "the load is borne", "this mends it", "Whoever carries it",
		"got at while walking", "0 things", "a lack of water", "5 kg in all", "%s's pack", "pack “kite”'s belt", "{{.Name}}'s load",
	} {
		if words, instead := Stumble(text); words == "" || instead == "" {
			t.Errorf("%q is let through", text)
		}
	}
	for _, text := range []string{"too much can be read", "one quote too many; write a", "mend: {work: add}", "custom.mend has no thing", `"state": "mended"`, "the family's own cap", "you asked git"} {
		if words, _ := Stumble(text); words != "" {
			t.Errorf("%q: %q is a plain word there", text, words)
		}
	}
}
