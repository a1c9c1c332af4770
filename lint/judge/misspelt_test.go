package judge

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/open-policy-agent/opa/v1/util"

	"kitmuster/lint/facts"
	"kitmuster/lint/testkit"
)

// read is where a file reads a fact: the line, from 0, and the byte after the name.
type read struct {
	line, end int
	name      string
}

var field = regexp.MustCompile(`\.([a-z_]+)`)

// Every fact that any rule reads is known to the facts' schema: with one letter
// more, the rule is refused, at its own line.
func TestMisspeltFactsAreRefused(t *testing.T) {
	var shape any
	if err := util.Unmarshal([]byte(facts.Schema()), &shape); err != nil {
		t.Fatal(err)
	}
	facts := map[string]bool{}
	properties(shape, facts)
	base := Base()
	files, err := fs.Glob(base, "rules/base/*.rego")
	if err != nil {
		t.Fatal(err)
	}
	files = slices.DeleteFunc(files, func(file string) bool { return strings.HasSuffix(file, "_test.rego") })
	tried := 0
	some := testkit.Spread(t, 8, files)
	for _, file := range some {
		alone := fstest.MapFS{}
		for _, name := range []string{file, "lib/lib.rego", limitsOfBase} {
			b, err := fs.ReadFile(base, name)
			if err != nil {
				t.Fatal(err)
			}
			alone[name] = &fstest.MapFile{Data: b}
		}
		if _, problems := New(alone); len(problems) > 0 {
			t.Fatal(problems)
		}
		lines := strings.Split(string(alone[file].Data), "\n")
		var reads []read // each fact where the file first reads it
		for i, line := range lines {
			if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "package") || strings.HasPrefix(line, "import") {
				continue
			}
			for _, m := range field.FindAllStringSubmatchIndex(line, -1) {
				name := line[m[2]:m[3]]
				if strings.HasPrefix(line, "finding."+name) || !facts[name] || slices.ContainsFunc(reads, func(r read) bool { return r.name == name }) {
					continue
				}
				reads = append(reads, read{i, m[3], name})
			}
		}
		tried += len(reads)
		// refused misspells some, no two in one line, and gives those that are told at their own lines.
		refused := func(some []read) (told []read, problems []Problem) {
			changed := slices.Clone(lines)
			for _, r := range some {
				changed[r.line] = changed[r.line][:r.end] + "q" + changed[r.line][r.end:]
			}
			alone[file] = &fstest.MapFile{Data: []byte(strings.Join(changed, "\n"))}
			_, problems = New(alone)
			for _, r := range some {
				at := fmt.Sprintf("%s:%d:", file, r.line+1)
				if slices.ContainsFunc(problems, func(p Problem) bool { return strings.HasPrefix(p.String(), at) && strings.Contains(p.Text, r.name+"q") }) {
					told = append(told, r)
				}
			}
			return told, problems
		}
		// Compiling is what takes long, so many are tried at once. One fault may hide another; whatever is not told among others is
		// tried again among those that are left, and last by itself.
		for len(reads) > 0 {
			var some []read
			for _, r := range reads {
				if !slices.ContainsFunc(some, func(s read) bool { return s.line == r.line }) {
					some = append(some, r)
				}
			}
			told, _ := refused(some)
			if len(told) == 0 {
				break
			}
			reads = slices.DeleteFunc(reads, func(r read) bool { return slices.Contains(told, r) })
		}
		for _, r := range reads {
			if told, problems := refused([]read{r}); len(told) == 0 {
				t.Errorf("%s:%d: %s misspelt as %[3]sq is not refused there: %v", file, r.line+1, r.name, problems)
			}
		}
	}
	if tried < 3*len(some) {
		t.Errorf("only %d facts were misspelt", tried)
	}
}

const limitsOfBase = "limits/base/data.json"
