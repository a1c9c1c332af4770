package lint_test

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rooms lists who may import whom among our own packages, lowest first; see DEVELOPERS.md.
var rooms = map[string][]string{
	"lint/atomicfile":    {},
	"lint/cache":         {"lint/atomicfile"},
	"lint/internal/edit": {},
	"lint/unit":          {"lint/internal/edit"},
	"lint/words":         {"lint/internal/edit", "lint/unit"},
	"lint/kinds":         {"lint/unit", "lint/words"},
	"lint/source":        {},
	"lint/wire":          {},
	"lint/finding":       {"lint/kinds", "lint/source", "lint/unit", "lint/words"},
	"lint/facts":         {"lint/kinds", "lint/unit"},
	"lint/body":          {},
	"lint/forecast":      {"lint/body", "lint/kinds"},
	"policies":           {},
	"lint/judge":         {"lint/facts", "lint/finding", "lint/kinds", "lint/source", "lint/wire", "lint/words", "policies"},
	"lint/kit":           {"lint/kinds", "lint/unit"},
	"schema":             {},
	"lint/load":          {"lint/internal/edit", "lint/kinds", "lint/kit", "lint/source", "lint/unit", "lint/wire", "lint/words", "schema"},
	"lint/rewrite":       {"lint/kit", "lint/load", "lint/source"},
	"lint/vocabulary":    {},
	"lint/measure":       {"lint/body", "lint/facts", "lint/forecast", "lint/kinds", "lint/kit", "lint/source", "lint/unit", "lint/vocabulary"},
	"lint/household":     {"lint/facts", "lint/finding", "lint/forecast", "lint/judge", "lint/kinds", "lint/kit", "lint/load", "lint/measure", "lint/source", "lint/unit", "lint/wire", "lint/words"},
	"lint/repo":          {"lint/words"},
	"lint":               {"lint/cache", "lint/finding", "lint/household", "lint/judge", "lint/kinds", "lint/kit", "lint/load", "lint/repo", "lint/source", "lint/unit"},
	"lint/compare":       {"lint", "lint/facts", "lint/finding", "lint/household", "lint/judge", "lint/kinds"},
	"lint/audit":         {"lint", "lint/facts", "lint/finding", "lint/forecast", "lint/household", "lint/judge", "lint/kinds", "lint/source", "lint/unit", "lint/words"},
	"lint/drill":         {"lint", "lint/facts", "lint/finding", "lint/household", "lint/judge", "lint/kinds", "lint/kit", "lint/measure", "lint/unit"},
	"lint/packing":       {"lint", "lint/facts", "lint/finding", "lint/household", "lint/judge", "lint/kinds", "lint/kit", "lint/measure", "lint/source", "lint/unit", "lint/words"},
	"lint/page":          {"lint/audit", "lint/finding", "lint/kinds", "lint/packing", "lint/source", "lint/unit", "lint/words"},
	"lint/remedy":        {"lint", "lint/finding", "lint/household", "lint/judge", "lint/kinds", "lint/kit", "lint/load", "lint/measure", "lint/rewrite", "lint/facts", "lint/source", "lint/unit"},
	"lint/lines":         {"lint/words"},
	"lint/begin":         {"lint/lines", "lint/load", "lint/rewrite", "lint/words"},
	"lint/table":         {},
	"lint/intake":        {"lint", "lint/finding", "lint/household", "lint/judge", "lint/kit", "lint/load", "lint/rewrite", "lint/source", "lint/table", "lint/unit", "lint/upkeep", "lint/vocabulary", "lint/words"},
	"lint/upkeep":        {"lint", "lint/facts", "lint/finding", "lint/household", "lint/judge", "lint/kinds", "lint/kit", "lint/lines", "lint/load", "lint/rewrite", "lint/source", "lint/unit", "lint/words"},
	"lint/trial":         {"lint", "lint/finding", "lint/household", "lint/judge", "lint/kinds"},
	"lint/private":       {"lint/audit", "lint/compare", "lint/drill", "lint/facts", "lint/finding", "lint/kinds", "lint/source", "lint/trial", "lint/words"},
	"lint/standard":      {"lint/finding", "lint/judge", "lint/kinds", "lint/load", "lint/source", "lint/words"},
	"lint/registry":      {"lint/atomicfile", "lint/judge", "lint/source", "lint/standard", "lint/words"},
	"lint/report":        {"lint/audit", "lint/compare", "lint/drill", "lint/facts", "lint/finding", "lint/forecast", "lint/kinds", "lint/packing", "lint/private", "lint/remedy", "lint/source", "lint/trial", "lint/unit", "lint/words"},
	"lint/sandbox":       {"lint", "lint/finding", "lint/household", "lint/load", "lint/words"},
	"lint/settings":      {"lint/repo", "lint/source", "lint/words"},
	"lint/testkit":       {}, // nobody lists it: only tests import it
	"lint/valley":        {},
	"cmd/kitmuster":      {"lint", "lint/atomicfile", "lint/audit", "lint/begin", "lint/cache", "lint/compare", "lint/drill", "lint/finding", "lint/household", "lint/intake", "lint/judge", "lint/kit", "lint/lines", "lint/load", "lint/packing", "lint/page", "lint/private", "lint/registry", "lint/remedy", "lint/repo", "lint/report", "lint/rewrite", "lint/sandbox", "lint/settings", "lint/standard", "lint/table", "lint/trial", "lint/unit", "lint/upkeep", "lint/words"},
	"cmd/valley":         {"lint/valley"},
}

// doors names the one package that may import each heavy library.
var doors = map[string]string{
	"cuelang.org/go":                   "lint/load",
	"github.com/open-policy-agent/opa": "lint/judge",
	"cuelabs.dev/go/oci/ociregistry":   "lint/registry",
	"github.com/spf13/cobra":           "cmd/kitmuster",
	"github.com/arran4/golang-ical":    "lint/report",
}

// syntax is what may be known of CUE by a room that changes files and evaluates nothing.
var syntax = []string{
	"cuelang.org/go/cue/ast", "cuelang.org/go/cue/format", "cuelang.org/go/cue/literal", "cuelang.org/go/cue/parser", "cuelang.org/go/cue/token",
}

type pkg struct {
	Dir, ImportPath string
	Imports         []string
	GoFiles         []string
}

func packages(t *testing.T) (out []pkg) {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=Dir,ImportPath,Imports,GoFiles", "kitmuster/...")
	b, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	dec := json.NewDecoder(strings.NewReader(string(b)))
	for {
		var p pkg
		if err := dec.Decode(&p); err == io.EOF {
			return out
		} else if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
}

func TestImportLaws(t *testing.T) {
	for _, p := range packages(t) {
		room := strings.TrimPrefix(p.ImportPath, "kitmuster/")
		allowed, ok := rooms[room]
		if !ok {
			t.Errorf("%s is a room that nobody agreed on: add it to the table of rooms and to DEVELOPERS.md", room)
		}
		for _, imp := range p.Imports {
			if own, is := strings.CutPrefix(imp, "kitmuster/"); is && !slices.Contains(allowed, own) {
				t.Errorf("%s may not import %s: see the table of rooms", room, own)
			}
			for lib, door := range doors {
				if (imp == lib || strings.HasPrefix(imp, lib+"/")) && room != door && !(room == "lint/rewrite" && slices.Contains(syntax, imp)) {
					t.Errorf("%s imports %s, which only %s may", room, imp, door)
				}
			}
		}
	}
}

// products are rooms of what is made of households, and of how it is shown. Nothing below them knows them: a new one touches its own
// room, the list of products in cmd/kitmuster, its command and its outputs.
var products = []string{"lint/audit", "lint/begin", "lint/compare", "lint/drill", "lint/packing", "lint/remedy", "lint/trial", "lint/upkeep", "lint/intake", "lint/private", "lint/report", "lint/page"}

func TestCoreKnowsNoProduct(t *testing.T) {
	core := map[string]bool{}
	var visit func(string)
	visit = func(room string) {
		if !core[room] {
			core[room] = true
			for _, r := range rooms[room] {
				visit(r)
			}
		}
	}
	visit("lint")
	for _, p := range products {
		if core[p] {
			t.Errorf("lint knows %s, directly or by way of others", p)
		}
	}
	if !core["lint/household"] || !core["lint/judge"] {
		t.Error("the rooms of the core were not gone through")
	}
}

// Only the command may end the program or ask for the time of day, and only repo touches the disk.
func TestClockExitAndDisk(t *testing.T) {
	forbidden := map[string]string{
		"os.Exit": "only cmd ends the program", "time.Now": "only cmd knows today", "time.Since": "only cmd knows today",
		"os.Open": "trees are read through the fs.FS handed in", "os.ReadFile": "trees are read through the fs.FS handed in", "os.ReadDir": "trees are read through the fs.FS handed in",
		"os.Getenv": "only cmd knows the environment",
	}
	for _, p := range packages(t) {
		if strings.HasPrefix(p.ImportPath, "kitmuster/cmd/") || p.ImportPath == "kitmuster/lint/testkit" {
			continue
		}
		store := p.ImportPath == "kitmuster/lint/cache" || p.ImportPath == "kitmuster/lint/atomicfile" // what is written is no tree
		for _, f := range p.GoFiles {
			file := filepath.Join(p.Dir, f)
			syntax, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(syntax, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if x, ok := s.X.(*ast.Ident); ok {
						name := x.Name + "." + s.Sel.Name
						itself := p.ImportPath == "kitmuster/lint/sandbox" && name == "os.ReadFile" // what the system says of this process
						if why := forbidden[name]; why != "" && !itself && !(store && (name == "os.Open" || name == "os.ReadDir" || name == "os.ReadFile")) {
							t.Errorf("%s/%s uses %s.%s: %s", p.ImportPath, f, x.Name, s.Sel.Name, why)
						}
					}
				}
				return true
			})
		}
	}
}

// What is shown to a person goes through the streams that main.go sets up, so that no text of a stranger can act on a terminal or
// a CI log. The worker's answers are no text.
func TestStreams(t *testing.T) {
	allowed := map[string][]string{"kitmuster/cmd/kitmuster": {"main.go", "wall.go"}, "kitmuster/cmd/valley": {"main.go"}}
	direct := []string{"os.Stdout", "os.Stderr", "fmt.Print", "fmt.Printf", "fmt.Println", "log.Print", "log.Printf", "log.Println", "log.Fatal", "log.Fatalf"}
	used := map[string]int{}
	for _, p := range packages(t) {
		for _, f := range p.GoFiles {
			syntax, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, f), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(syntax, func(n ast.Node) bool {
				name := ""
				switch n := n.(type) {
				case *ast.SelectorExpr:
					if x, ok := n.X.(*ast.Ident); ok {
						name = x.Name + "." + n.Sel.Name
					}
				case *ast.CallExpr:
					if x, ok := n.Fun.(*ast.Ident); ok && (x.Name == "print" || x.Name == "println") {
						name = direct[0]
					}
				}
				if slices.Contains(direct, name) {
					used[p.ImportPath+"/"+f]++
					if !slices.Contains(allowed[p.ImportPath], f) {
						t.Errorf("%s/%s uses %s: write to the command's own streams", p.ImportPath, f, name)
					}
				}
				return true
			})
		}
	}
	if n := used["kitmuster/cmd/kitmuster/wall.go"]; n != 1 {
		t.Errorf("wall.go uses the streams of the machine %d times; only the worker's answers may, once", n)
	}
}

// Chance makes outputs that nobody can make again: only the command, for a new key, and the valley, from its seed, may ask for it.
func TestChance(t *testing.T) {
	for _, p := range packages(t) {
		for _, imp := range p.Imports {
			chance := imp == "crypto/rand" && p.ImportPath != "kitmuster/cmd/kitmuster" || strings.HasPrefix(imp, "math/rand") && p.ImportPath != "kitmuster/lint/valley"
			if chance {
				t.Errorf("%s imports %s", p.ImportPath, imp)
			}
		}
	}
}

// Every example passes or lists what it finds, so that nobody takes a mistake for an example.
func TestExamplesAreFormatted(t *testing.T) {
	for _, dir := range []string{"../examples", "../schema"} {
		err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
			if err == nil && filepath.Ext(p) == ".cue" {
				b, err := os.ReadFile(p)
				if err != nil {
					return err
				}
				if strings.Contains(string(b), "\r") || strings.Contains(string(b), " \n") {
					return fmt.Errorf("%s has a carriage return or a blank at the end of a line", p)
				}
			}
			return err
		})
		if err != nil {
			t.Error(err)
		}
	}
}

// DEVELOPERS.md has a row for each room and for nothing else, and names files that there are.
func TestDevelopersNamesWhatThereIs(t *testing.T) {
	b, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	house, adding, _ := strings.Cut(string(b), "\n## To add something\n")
	for _, row := range regexp.MustCompile("(?m)^\\| `[^|]*\\|").FindAllString(house, -1) {
		for _, name := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(row, -1) {
			said[name[1]] = true
			if rooms[name[1]] == nil {
				t.Errorf("there is no room %s", name[1])
			}
		}
	}
	for room := range rooms {
		if !said[room] {
			t.Errorf("room %s has no row", room)
		}
	}
	names := regexp.MustCompile("`((?:cmd|lint|policies|schema)/[^` ]+)`").FindAllStringSubmatch(adding, -1)
	if len(names) < 30 {
		t.Errorf("only %d names of files", len(names))
	}
	for _, name := range names {
		if found, _ := filepath.Glob(filepath.Join("..", name[1])); len(found) == 0 && !strings.Contains(name[1], "/X") && !strings.Contains(name[1], "AREA") {
			t.Errorf("%s is not there", name[1])
		}
	}
}
