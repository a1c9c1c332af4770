package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/judge"
	"kitmuster/lint/settings"
	"kitmuster/lint/testkit"
)

// The tests run the program as "kitmuster": testscript lays this test binary under that name into a folder of the PATH, where it is
// the program and nothing else. So nobody has to build it once more.
func TestMain(m *testing.M) {
	testscript.Main(tests{m}, map[string]func(){"kitmuster": func() {
		if self, err := os.Executable(); err == nil {
			if dir := filepath.Join(filepath.Dir(self), aheadDir); isDir(dir) {
				compiling = ahead(dir)
			}
		}
		main()
	}})
}

// aheadDir lies beside the program and holds compiled rules. There is none in the long corpus, where each run compiles for itself.
const aheadDir = "compiled-ahead"

type tests struct{ *testing.M }

func (m tests) Run() int {
	if program, err := exec.LookPath("kitmuster"); err == nil && !testkit.Long() {
		if err := os.Mkdir(filepath.Join(filepath.Dir(program), aheadDir), 0o700); err != nil {
			panic(err)
		}
	}
	return m.M.Run()
}

// ahead compiles what no program before has compiled, and leaves it for the others.
func ahead(dir string) func(*standards, io.Writer) error {
	return func(s *standards, errs io.Writer) (err error) {
		file := filepath.Join(dir, fmt.Sprintf("%x", sha256.Sum256([]byte(s.salt()))))
		if b, err := os.ReadFile(file); err == nil {
			if s.book, err = judge.Unpack(b); err != nil {
				return err
			}
			s.bytes = b
			s.keep()
			return nil
		}
		if err := s.compile(errs); err != nil {
			return err
		}
		if s.bytes == nil {
			if err := s.pack(); err != nil {
				return err
			}
		}
		_ = atomicfile.Write(file, s.bytes, 0o600) // some tests leave no room on the disk
		return nil
	}
}

// sparing is what the default run adds to the environment of the program: one thread, and so one worker, since each worker makes the
// rules ready once more. The long corpus and README's commands have as many as the machine.
func sparing() []string {
	if testkit.Long() {
		return nil
	}
	return []string{"GOMAXPROCS=1"}
}

// The scripts run the real program.
func TestScripts(t *testing.T) {
	examples, err := filepath.Abs("../../examples")
	if err != nil {
		t.Fatal(err)
	}
	remembered, whole := t.TempDir(), testkit.Whole(t)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *testkit.Update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Condition: func(name string) (bool, error) {
			if name == "long" {
				return whole, nil
			}
			return false, fmt.Errorf("no condition is called %q", name)
		},
		Setup: func(e *testscript.Env) error {
			if !whole { // the scripts share what was judged; in the long corpus each run judges for itself
				e.Vars = append(e.Vars, sparing()...)
				e.Setenv("XDG_CACHE_HOME", remembered)
				e.Setenv(cacheKey, "the key of all scripts, which seals nothing else")
			}
			if err := writeKeys(filepath.Join(e.WorkDir, "keys")); err != nil {
				return err
			}
			if err := os.CopyFS(filepath.Join(e.WorkDir, "examples"), os.DirFS(examples)); err != nil {
				return err
			}
			// The scripts go by the base; the one on the group's standard puts this back.
			return os.Rename(filepath.Join(e.WorkDir, "examples", "harrow-valley", settings.File), filepath.Join(e.WorkDir, "group.json"))
		},
	})
}

var console = regexp.MustCompile("(?s)```console\n(.*?)```")

// README.md and the pages of help show real output: each console block is a command line after $ and what it prints.
func TestReadme(t *testing.T) {
	t.Parallel()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append([]string{"README.md"}, helpPages()...) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			shows(t, root, filepath.Join(root, filepath.FromSlash(name)))
		})
	}
}

func helpPages() (out []string) {
	for _, name := range topics {
		out = append(out, "cmd/kitmuster/help/"+name+".md")
	}
	return out
}

// shows runs the commands of a page and holds it to what they print.
func shows(t *testing.T, root, file string) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	got := console.ReplaceAllStringFunc(string(text), func(block string) string {
		var out bytes.Buffer
		out.WriteString("```console\n")
		for _, line := range strings.Split(block, "\n") {
			command, ok := strings.CutPrefix(line, "$ ")
			if !ok {
				continue
			}
			out.WriteString(line + "\n")
			// go run builds the same program; without it comes the same without go run's own exit line.
			cmd := exec.Command("sh", "-c", strings.Replace(command, "go run ./cmd/kitmuster", "kitmuster", 1))
			cmd.Dir = root
			b, _ := cmd.CombinedOutput() // findings are an exit code of 1
			out.Write(b)
		}
		out.WriteString("```")
		return out.String()
	})
	if *testkit.Update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(text), got); diff != "" {
		t.Errorf("%s shows other output than the program prints; go test ./cmd/kitmuster -update rewrites it (-page +program):\n%s", filepath.Base(file), diff)
	}
}

var cueBlock = regexp.MustCompile("(?s)```cue\n(.*?)```")

// What README.md and the pages of help tell a family to write is read without a fault; what is no whole kit is laid over a small one.
func TestPagesShowWhatCanBeWritten(t *testing.T) {
	t.Parallel()
	blocks, files := 0, map[string]string{}
	for _, page := range append([]string{"README.md"}, helpPages()...) {
		text, err := os.ReadFile(filepath.Join("../..", filepath.FromSlash(page)))
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range cueBlock.FindAllStringSubmatch(string(text), -1) {
			if strings.HasPrefix(m[1], "package standard") {
				continue
			}
			blocks++
			in := fmt.Sprintf("%s/block%d", strings.TrimSuffix(filepath.Base(page), ".md"), i+1)
			if files[in+"/page.cue"] = m[1]; !strings.HasPrefix(m[1], "package kit") {
				files[in+"/page.cue"] = "package kit\n\n" + m[1]
				files[in+"/frame.cue"] = "package kit\n\nhousehold: \"Page\"\npeople: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\n"
			}
		}
	}
	dir := t.TempDir()
	testkit.Write(t, dir, files)
	said := runs(t, dir, "check", "--on", "2026-11-01", "--format", "json", "--fail-on", "never").json(t)
	if len(said.Households) != blocks {
		t.Errorf("%d households of %d blocks", len(said.Households), blocks)
	}
	for _, f := range said.Findings {
		if strings.HasPrefix(f.Rule, "input/") {
			t.Errorf("%s:%d: %s %s", f.At.File, f.At.Line, f.Rule, f.Message)
		}
	}
	if blocks < 8 {
		t.Errorf("%d blocks", blocks)
	}
}

// README.md is short enough to be read, and each page that there is is listed.
func TestPages(t *testing.T) {
	const most = 12 << 10 // bytes. Our own figure.
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if len(text) > most {
		t.Errorf("README.md has %d bytes, and at most %d go: move what few need into a page of help", len(text), most)
	}
	if !console.Match(text) {
		t.Error("README.md shows no command")
	}
	files, err := helpFiles.ReadDir("help")
	if err != nil || len(files) != len(topics) {
		t.Errorf("%d pages and %d topics, %v", len(files), len(topics), err)
	}
	for _, name := range topics {
		if !strings.Contains(string(text), "`"+name+"`") {
			t.Errorf("README.md does not name the topic %s", name)
		}
		if r := runs(t, ".", "help", name); r.code != 0 || !strings.Contains(r.out, "\n\n") || strings.Contains(r.out, "```") {
			t.Errorf("help %s: %d %s\n%s", name, r.code, r.errs, r.out)
		}
	}
}
