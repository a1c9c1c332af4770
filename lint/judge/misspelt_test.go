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

	"kitmuster/lint/measure"
)

var field = regexp.MustCompile(`\.([a-z_]+)`)

// Every fact that any rule reads is known to the facts' schema: with one letter
// more, the rule is refused, at its own line.
func TestMisspeltFactsAreRefused(t *testing.T) {
	var shape any
	if err := util.Unmarshal([]byte(measure.Schema()), &shape); err != nil {
		t.Fatal(err)
	}
	facts := map[string]bool{}
	properties(shape, facts)
	base := Base()
	files, err := fs.Glob(base, "rules/base/*.rego")
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.rego") {
			continue
		}
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
		var done []string
		for i, line := range lines {
			if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "package") || strings.HasPrefix(line, "import") {
				continue
			}
			for _, m := range field.FindAllStringSubmatchIndex(line, -1) {
				name := line[m[2]:m[3]]
				if strings.HasPrefix(line, "finding."+name) || !facts[name] || slices.Contains(done, name) {
					continue
				}
				done = append(done, name)
				changed := slices.Clone(lines)
				changed[i] = line[:m[3]] + "q" + line[m[3]:]
				alone[file] = &fstest.MapFile{Data: []byte(strings.Join(changed, "\n"))}
				tried++
				_, problems := New(alone)
				at := fmt.Sprintf("%s:%d:", file, i+1)
				if !slices.ContainsFunc(problems, func(p Problem) bool { return strings.HasPrefix(p.String(), at) }) {
					t.Errorf("%s misspelt as %sq is not refused there: %v", at, name, problems)
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d facts were misspelt", tried)
	}
}

const limitsOfBase = "limits/base/data.json"
