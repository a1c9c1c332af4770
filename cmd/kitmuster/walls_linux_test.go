package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/testkit"
)

// neighbour is a household with much to say.
const neighbour = `package kit

household: "Neighbour"
people: ana: {age: "40 y", bodyMass: "70 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", weighed: "2026-10-01"}
plan: seasons: hot: {day: "31 °C", night: "18 °C", daylight: "15 h"}
`

const hostileHead = "package kit\n\nhousehold: \"Hostile\"\npeople: ana: {age: \"40 y\", bodyMass: \"70 kg\"}\n"

// hostile are the households of testdata/walls and those that are too large to lie there.
func hostile(t *testing.T) map[string]map[string]string {
	t.Helper()
	items := func(from, n int) string {
		var b strings.Builder
		b.WriteString("package kit\n\npacks: rust: items: {\n")
		for i := range n {
			fmt.Fprintf(&b, "\ti%d: mass: \"1 g\"\n", from+i)
		}
		return b.String() + "}\n"
	}
	one := func(text string) map[string]string { return map[string]string{"kit.cue": hostileHead + text} }
	rep := strings.Repeat
	out := map[string]map[string]string{
		"sum of 200,000":       one("_x: 1" + rep("+1", 200_000) + "\n"),
		"deep lists":           one("_x: " + rep("[", 250_000) + rep("]", 250_000) + "\n"),
		"deep brackets":        one("_x: " + rep("(", 400_000) + "1" + rep(")", 400_000) + "\n"),
		"deep structs":         one("_x: " + rep("{a:", 200_000) + "1" + rep("}", 200_000) + "\n"),
		"deep path":            one("_x: " + rep("a:", 400_000) + "1\n"),
		"many minus signs":     one("_x: " + rep("-", 900_000) + "1\n"),
		"very long line":       one("// " + rep("x", 1_000_000) + "\n_x: y\n"),
		"fault on a long line": one("_s: \"" + rep("ä", 400_000) + "\", pakcs: {}\n"),
		"giant name":           one("packs: rust: {mass: \"1 kg\", carrier: \"" + rep("a", 900_000) + "\"}\n"),
		"giant label":          one("packs: " + rep("a", 900_000) + ": {mass: \"1 kg\", carrier: \"ana\"}\n"),
		"brackets left open":   one(rep("{[(", 300_000)),
		"quotes left open":     one(rep("\"\\(", 200_000)),
		"not CUE at all":       one(rep("\x00\x01", 100_000)),
		"more than 1 MiB":      one("// " + rep("x", 2<<20) + "\n"),
		"100,000 items": {
			"kit.cue": hostileHead + "packs: rust: {mass: \"1 kg\", carrier: \"ana\"}\n",
			"a.cue":   items(0, 35_000), "b.cue": items(35_000, 35_000), "c.cue": items(70_000, 30_000),
		},
		"10,000 files": one("_x: _f9999\n"),
		"embedded, large": {
			"kit.cue": "@extern(embed)\n\n" + hostileHead + "_x: _ @embed(file=data.json)\n", "data.json": "[" + rep("[1,2,3,4,5,6,7,8],", 2_000) + "1]",
		},
		"embedded, deep": {
			"kit.cue": "@extern(embed)\n\n" + hostileHead + "_x: _ @embed(file=data.json)\n", "data.json": rep("[", 400_000) + rep("]", 400_000),
		},
		"embedded, aliases": {
			"kit.cue": "@extern(embed)\n\n" + hostileHead + "_x: _ @embed(file=data.yaml)\n",
			"data.yaml": "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n" + func() (s string) {
				for i := range 12 {
					s += fmt.Sprintf("a%d: &a%[1]d [%s]\n", i+1, strings.TrimSuffix(rep(fmt.Sprintf("*a%d, ", i), 10), ", "))
				}
				return s
			}(),
		},
	}
	for i := range 10_000 {
		out["10,000 files"][fmt.Sprintf("f%d.cue", i)] = fmt.Sprintf("package kit\n\n_f%d: %[1]d\n", i)
	}
	names, err := filepath.Glob("testdata/walls/*.cue")
	if err != nil || len(names) == 0 {
		t.Fatalf("testdata/walls: %v, %d files", err, len(names))
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(n), ".cue")] = map[string]string{"kit.cue": string(b)}
	}
	return out
}

// Whatever one household holds, it is answered or named as not judged at its own line, within the bounds on time and
// memory, and its neighbour is judged as if it were alone.
func TestWalls(t *testing.T) {
	const limit, memory = 1500 * time.Millisecond, 512 << 20
	alone := judgedIn(t, wallTree(t, nil), limit, memory)
	if len(alone.out.Findings) == 0 || alone.code != exitFindings {
		t.Fatalf("the neighbour alone: exit %d\n%s", alone.code, alone.said)
	}
	two := make(chan bool, 2) // as many at once, whatever the machine: each has two workers
	all := hostile(t)
	for _, name := range testkit.SomeOf(t, all, "nested_for", "list_doubling", "not CUE at all") {
		files := all[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			two <- true
			defer func() { <-two }()
			got := judgedIn(t, wallTree(t, files), limit, memory)
			var said []string
			var theirs []json.RawMessage
			for _, f := range got.out.Findings {
				var at struct {
					Rule, Path, Message string
					At                  struct{ File string }
				}
				if err := json.Unmarshal(f, &at); err != nil {
					t.Fatal(err)
				}
				switch {
				case at.Path == "neighbour":
					theirs = append(theirs, f)
					continue
				case at.Path != "hostile" || at.At.File != "hostile" && !strings.HasPrefix(at.At.File, "hostile/"):
					t.Errorf("a finding elsewhere than at its household: %.500s", f)
				case strings.Contains(at.Message, "broke"):
					t.Errorf("it broke the program: %.500s", at.Message)
				}
				said = append(said, fmt.Sprintf("[%s] %.70s", at.Rule, at.Message))
			}
			if diff := cmp.Diff(linesIn(alone.out.Findings), linesIn(theirs)); diff != "" {
				t.Errorf("the neighbour is judged otherwise than alone (-alone +beside):\n%.3000s", diff)
			}
			judged := false
			for _, h := range got.out.Households {
				judged = judged || h.Path == "hostile" && h.Judged
			}
			switch {
			case len(got.out.Households) != 2 || len(said) == 0:
				t.Errorf("it is not named: %s", got.said)
			case !judged && got.code != exitUnfit || judged && got.code != exitFindings:
				t.Errorf("exit %d, judged %v", got.code, judged)
			case got.said != "":
				t.Errorf("standard error: %s", got.said)
			}
			// Twice for the start of the program on a busy machine.
			if most := 2*limit + 20*time.Second; got.took > most {
				t.Errorf("it took %v; at most %v is asked", got.took, most)
			}
			// What a process of this program has before it judges anything comes on top.
			if most := int64(memory + 300<<20); got.peak > most {
				t.Errorf("%d MiB at the most; %d is asked", got.peak>>20, most>>20)
			}
			if len(said) == 0 {
				said = []string{""}
			}
			t.Logf("%-22s %5.1f s %4d MiB  %d said: %s", name, got.took.Seconds(), got.peak>>20, len(said), said[0])
		})
	}
}

// What goes into itself without end is told from what is merely large.
func TestTooDeep(t *testing.T) {
	t.Parallel()
	tree := wallTree(t, map[string]string{"kit.cue": hostileHead + "_x: " + strings.Repeat("a:", 400_000) + "1\n"})
	got := judgedIn(t, tree, time.Minute, 256<<20)
	if all := strings.Join(linesIn(got.out.Findings), "\n"); !strings.Contains(all, "it nests too deep to be followed") {
		t.Errorf("exit %d\n%.2000s", got.code, all)
	}
}

// lines is findings as a list of texts.
func linesIn(fs []json.RawMessage) (out []string) {
	for _, f := range fs {
		out = append(out, string(f))
	}
	return out
}

// wallTree writes the neighbour and perhaps a hostile household.
func wallTree(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	all := map[string]string{"cue.mod/module.cue": "module: \"harrow-valley.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n", "neighbour/kit.cue": neighbour}
	for n, text := range files {
		all["hostile/"+n] = text
	}
	testkit.Write(t, dir, all)
	return dir
}

// judgement is what a run of check came to.
type judgement struct {
	code int
	out  struct {
		Households []struct {
			Path   string
			Judged bool
		}
		Findings []json.RawMessage
	}
	said string
	took time.Duration
	// peak is the most memory that the program or one of its workers held, in bytes; no less than this test
	// itself held when it started them.
	peak int64
}

// judgedIn runs check in a folder.
func judgedIn(t *testing.T, dir string, limit time.Duration, memory int) (j judgement) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "kitmuster", "check", "--no-cache", "--on", "2026-11-01", "--format", "json",
		"--time-limit", limit.String(), "--memory-limit", fmt.Sprintf("%dMiB", memory>>20), "./...")
	cmd.Dir, cmd.Env = dir, append(os.Environ(), sparing()...)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	start := time.Now()
	_ = cmd.Run()
	j.took, j.code, j.said = time.Since(start), cmd.ProcessState.ExitCode(), errs.String()
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		j.peak = int64(u.Maxrss) << 10 // KiB on Linux, of the process and what it has waited for; see getrusage(2)
	}
	if err := json.Unmarshal(out.Bytes(), &j.out); err != nil {
		t.Fatalf("exit %d, and no JSON: %v\n%.1000s\n%.1000s", j.code, err, out.Bytes(), j.said)
	}
	return j
}
