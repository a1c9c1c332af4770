package main

import (
	"regexp"
	"strings"
	"testing"

	"kitmuster/lint/judge"
)

// The newest entry of help changes is that of the base standard in this program; a rule that any says is gone is, and those that it points to
// are there.
func TestChanges(t *testing.T) {
	t.Parallel()
	b, err := helpFiles.ReadFile("help/changes.md")
	if err != nil {
		t.Fatal(err)
	}
	book, problems := judge.New(judge.Base())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	_, newest, _ := strings.Cut(string(b), "\n## ")
	head, entry, _ := strings.Cut(newest, "\n")
	if want := "Base standard " + book.Standards()[0].Version; head != want {
		t.Errorf("the newest entry is %q, want %q", head, want)
	}
	name := regexp.MustCompile("`([a-z-]+/[a-z-]+)`")
	gone, there := 0, 0
	for line := range strings.Lines(strings.ReplaceAll(entry, "\n  ", " ")) {
		old, now, ok := strings.Cut(line, "`: ")
		if !ok || !strings.HasPrefix(line, "- `") {
			continue
		}
		for _, m := range name.FindAllStringSubmatch(old+"`", -1) {
			gone++
			if _, ok := book.Rule(m[1]); ok {
				t.Errorf("%s is said to be gone, and is there", m[1])
			}
		}
		for _, m := range name.FindAllStringSubmatch(now, -1) {
			there++
			if _, ok := book.Rule(m[1]); !ok {
				t.Errorf("%s is said to stand for what is gone, and is not there", m[1])
			}
		}
	}
	if gone == 0 || there == 0 {
		t.Errorf("it names %d rules that are gone and %d that stand for them", gone, there)
	}
}
