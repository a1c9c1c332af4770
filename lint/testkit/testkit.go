// Package testkit is what the tests of several packages share: the -update flag, what the default run leaves to .ci/run, repositories made
// by git, and files to compare with. Only tests import it; see the law in lint/laws_test.go. It does not lie in an internal folder of
// lint, since the tests of cmd and of policies need it as well.
package testkit

import (
	"flag"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Update says that files which tests compare with are to be rewritten from what the program now gives.
var Update = flag.Bool("update", false, "rewrite the files that tests compare with, after a wanted change")

// LongVar names the environment variable under which the long corpus runs too; .ci/run sets it.
const LongVar = "KITMUSTER_LONG"

// Long reports whether the long corpus runs.
func Long() bool { return os.Getenv(LongVar) != "" }

// Command is the shell line that runs a test with all its cases.
func Command(t testing.TB) string {
	name, _, _ := strings.Cut(t.Name(), "/")
	dir, err := os.Getwd() // a test runs in the folder of its package
	if err != nil {
		dir = "."
	}
	for top := dir; top != filepath.Dir(top); top = filepath.Dir(top) {
		if _, err := os.Stat(filepath.Join(top, "go.mod")); err == nil {
			dir, _ = filepath.Rel(top, dir)
			break
		}
	}
	return LongVar + "=1 go test -run '^" + name + "$' ./" + filepath.ToSlash(dir)
}

// Whole is Long for a test that does less by default in some way of its own: the test log says so, as for Some. What .ci/run runs of the long
// corpus are the tests that say so.
func Whole(t testing.TB) bool {
	t.Helper()
	if !Long() {
		t.Log("less than all; to run all: " + Command(t))
	}
	return Long()
}

// NeedsLong skips a test unless the long corpus runs.
func NeedsLong(t testing.TB) {
	t.Helper()
	if !Long() {
		t.Skip("part of the long corpus; to run it: " + Command(t))
	}
}

// Some gives the first n of the cases, or all of them where the long corpus runs. The test log says how many are left out, and which
// command runs them.
func Some[T any](t testing.TB, n int, cases []T) []T {
	t.Helper()
	if Long() || n >= len(cases) {
		return cases
	}
	t.Logf("%d of %d cases; to run all: %s", n, len(cases), Command(t))
	return cases[:n]
}

// Spread is Some with cases from everywhere: evenly spread, the last among them.
func Spread[T any](t testing.TB, n int, cases []T) []T {
	t.Helper()
	if Long() || n >= len(cases) {
		return cases
	}
	var out []T
	for i := range n {
		out = append(out, cases[(i+1)*len(cases)/n-1])
	}
	t.Logf("%d of %d cases; to run all: %s", n, len(cases), Command(t))
	return out
}

// SomeOf gives the names of the cases that the default run tries, or of all, in order, where the long corpus runs; it is said as for Some.
func SomeOf[V any](t testing.TB, cases map[string]V, names ...string) []string {
	t.Helper()
	for _, n := range names {
		if _, ok := cases[n]; !ok {
			t.Fatalf("no case is named %q", n)
		}
	}
	rest := []string{}
	for _, n := range slices.Sorted(maps.Keys(cases)) {
		if !slices.Contains(names, n) {
			rest = append(rest, n)
		}
	}
	return Some(t, len(names), slices.Concat(names, rest))
}

// GitEnv is the environment of a git that nothing on this machine has configured, with an author and a committer. home is where it
// looks for more; no such folder need exist.
func GitEnv(home string) []string {
	return []string{
		"PATH=" + os.Getenv("PATH"), "HOME=" + home, "GIT_CONFIG_GLOBAL=" + os.DevNull, "GIT_CONFIG_NOSYSTEM=1",
		"GIT_AUTHOR_NAME=Ada", "GIT_AUTHOR_EMAIL=ada@example.org", "GIT_COMMITTER_NAME=Ada", "GIT_COMMITTER_EMAIL=ada@example.org",
	}
}

// Git runs git in a folder and gives what it writes, without the last line end. more comes after GitEnv, and wins. The test fails
// where git does, and is skipped where there is no git.
func Git(t testing.TB, dir string, more []string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed")
	}
	cmd := exec.Command("git", args...)
	cmd.Dir, cmd.Env = dir, append(GitEnv(filepath.Join(dir, "nobody")), more...)
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("git %q: %v\n%s%s", args, err, out, errs.String())
	}
	return strings.TrimSuffix(string(out), "\n")
}

// Write writes files under a folder, which is made where it is missing; names have slashes.
func Write(t testing.TB, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		p := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}
