package judge

import (
	"maps"
	"strings"
	"testing"
	"testing/fstest"
)

const (
	fireFile  = "rules/base/fire.rego"
	limitFile = "limits/base/data.json"
)

// The small standard of the tests: one helper file, two limits, one rule. Its
// lines are counted on by the tests of faults.
var small = map[string]string{
	"lib/lib.rego": `package lib

limit(area, name) := data.limits[_][area][name].value

half(n) := n / 2
`,
	limitFile: `{
  "fire": {
    "means": {
      "value": 2,
      "unit": "count",
      "meaning": "different means of fire in each pack",
      "source": "common practice, no source", "stricter": "higher"
    },
    "spare": {
      "value": 150,
      "unit": "permille",
      "meaning": "share held back",
      "source": "from memory", "stricter": "lower"
    }
  }
}
`,
	fireFile: `package rules.base.fire

import data.lib

# METADATA
# title: Too few means
# description: One wet box of matches must not be the end of warmth.
# custom:
#   level: error
#   remedy: Add another means.
#   mend: {work: add}
#   sources: [common practice]
#   limits: [fire.means]
#   passes: a
#   fails: b
finding.two_means contains f if {
	some pack in input.packs
	pack.mass_mg < lib.limit("fire", "means")
	f := {"at": pack.id, "text": sprintf("%s is light", [pack.name]), "because": [pack.id]}
}
`,
}

// smallStandard is the small standard with files changed or added; an empty text drops a file.
func smallStandard(changes map[string]string) fstest.MapFS {
	files := maps.Clone(small)
	maps.Copy(files, changes)
	out := fstest.MapFS{}
	for name, text := range files {
		if text != "" {
			out[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return out
}

// with is the rule file of the small standard with one part replaced.
func with(t testing.TB, old, text string) map[string]string { return in(t, fireFile, old, text) }

func in(t testing.TB, file, old, text string) map[string]string {
	t.Helper()
	if strings.Count(small[file], old) != 1 {
		t.Fatalf("%q is not in %s exactly once", old, file)
	}
	return map[string]string{file: strings.Replace(small[file], old, text, 1)}
}

// smallRule writes one rule with METADATA and no limits around a body.
func smallRule(name, body string) string {
	return `
# METADATA
# title: T
# description: D
# custom:
#   level: note
#   remedy: R
#   mend: {work: move}
#   sources: [common practice]
#   limits: []
#   passes: a
#   fails: b
finding.` + name + ` contains f if {
` + body + `
}
`
}

func smallBench(t testing.TB, changes map[string]string) *Rulebook {
	t.Helper()
	b, problems := New(smallStandard(changes))
	for _, p := range problems {
		t.Error(p)
	}
	if b == nil {
		t.FailNow()
	}
	return b
}
