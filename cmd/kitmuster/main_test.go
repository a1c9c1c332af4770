package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"

	"kitmuster/lint/settings"
	"kitmuster/lint/testkit"
)

// The tests run the program as "kitmuster": testscript lays this test binary under that name into a folder of the PATH, where it is
// the program and nothing else. So nobody has to build it once more.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"kitmuster": main})
}

// sparing is what the default run adds to the environment of the program: one thread, and so one worker, since each worker compiles
// the rules once more. The long corpus and README's commands have as many as the machine.
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
	remembered := t.TempDir()
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *testkit.Update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Condition: func(name string) (bool, error) {
			if name == "long" {
				return testkit.Long(), nil
			}
			return false, fmt.Errorf("no condition is called %q", name)
		},
		Setup: func(e *testscript.Env) error {
			if !testkit.Long() { // the scripts share what was judged; in the long corpus each run judges for itself
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

// README.md shows real output: each console block is a command line after $ and what it prints.
func TestReadme(t *testing.T) {
	t.Parallel()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(root, "README.md")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	runs := 0
	got := console.ReplaceAllStringFunc(string(text), func(block string) string {
		var out bytes.Buffer
		out.WriteString("```console\n")
		for _, line := range strings.Split(block, "\n") {
			command, ok := strings.CutPrefix(line, "$ ")
			if !ok {
				continue
			}
			runs++
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
	if runs == 0 {
		t.Fatal("README.md shows no command")
	}
	if *testkit.Update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(text), got); diff != "" {
		t.Errorf("README.md shows other output than the program prints; go test ./cmd/kitmuster -update mends it (-README +program):\n%s", diff)
	}
}
