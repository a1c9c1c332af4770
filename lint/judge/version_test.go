package judge

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/testkit"
)

// Whoever keeps a standard over the base relies on its version: rules, levels and limits change with a new one only. What a version says stands in
// testdata/base.txt, which -update rewrites once policies/.manifest has a new version; cmd/kitmuster/help/changes.md tells people about it.
func TestBaseChangesWithItsVersion(t *testing.T) {
	const golden = "testdata/base.txt"
	book, problems := New(Base())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	version := book.Standards()[0].String()
	got := []string{version}
	for _, r := range book.Rules() {
		got = append(got, fmt.Sprintf("rule %s: %s", r.Name, r.Level))
	}
	for _, l := range book.Limits() {
		got = append(got, fmt.Sprintf("limit %s = %s", l.Name, l.Value))
	}
	slices.Sort(got[1:])
	b, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSuffix(string(b), "\n"), "\n")
	diff := cmp.Diff(want, got)
	switch {
	case diff == "":
	case want[0] == version:
		t.Errorf("rules, levels or limits are no longer those of %s; give policies/.manifest a new version (the first number where one is gone or a ready kit may fail, else the second), say so in cmd/kitmuster/help/changes.md, and run this with -update:\n%s", version, diff)
	case *testkit.Update:
		if err := os.WriteFile(golden, []byte(strings.Join(got, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("testdata/base.txt is of %s; run this with -update:\n%s", want[0], diff)
	}
}
