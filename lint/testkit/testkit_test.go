package testkit

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// The default run tries the first cases, the long corpus all, each once.
func TestSome(t *testing.T) {
	all := map[string]int{"a": 1, "b": 2, "c": 3}
	t.Setenv(LongVar, "")
	if got := SomeOf(t, all, "c", "a"); !slices.Equal(got, []string{"c", "a"}) {
		t.Errorf("by default: %q", got)
	}
	if got := Some(t, 5, []int{1, 2}); len(got) != 2 {
		t.Errorf("of fewer than are tried: %v", got)
	}
	if got := Spread(t, 3, []int{0, 1, 2, 3, 4, 5, 6}); !slices.Equal(got, []int{1, 3, 6}) {
		t.Errorf("spread: %v", got)
	}
	t.Setenv(LongVar, "1")
	if got := Spread(t, 1, []int{1, 2, 3}); !slices.Equal(got, []int{1, 2, 3}) {
		t.Errorf("the long corpus, spread: %v", got)
	}
	if got := SomeOf(t, all, "c", "a"); !slices.Equal(got, []string{"c", "a", "b"}) {
		t.Errorf("the long corpus: %q", got)
	}
	if got, want := Command(t), LongVar+"=1 go test -run '^TestSome$' ./lint/testkit"; got != want {
		t.Errorf("%s; want %s", got, want)
	}
}

// A repository needs nothing of the machine's own settings: no author, no branch, no hook.
func TestGit(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("GIT_DIR", filepath.Join(dir, "elsewhere"))
	Write(t, dir, map[string]string{"a/b.txt": "text"})
	Git(t, dir, nil, "init", "-q")
	Git(t, dir, nil, "add", "-A")
	Git(t, dir, []string{"GIT_COMMITTER_DATE=2026-10-05T08:00:00Z"}, "commit", "-q", "-m", "one")
	if got := Git(t, dir, nil, "log", "--format=%an %cs", "--name-only"); got != "Ada 2026-10-05\n\na/b.txt" {
		t.Errorf("%q", got)
	}
	if _, err := os.Stat(filepath.Join(dir, "elsewhere")); err == nil {
		t.Error("git went by the environment of the test")
	}
}
