package judge

import (
	"context"
	"strings"
	"testing"
)

const valleyTest = `package rules.harrow_valley.flood_test

import data.lib.testing_test as t
import data.rules.harrow_valley.flood

test_dry_bags if {
	flood.finding.dry_bags == {{"at": "packs/rust", "text": "Rust needs 2 dry bags"}} with input as {"packs": [t.pack({})]}
}

test_dry_bags_of_a_household[bags] if {
	some bags in [3, 4]
	count(flood.finding.dry_bags) == 1 with input as {"packs": [t.pack({})], "limits": [{"area": "flood", "name": "bags", "list": false, "value": bags, "values": []}]}
}
`

// The tests of a standard run beside the helpers of the base, and what they come to is told at its place.
func TestTests(t *testing.T) {
	const file = "rules/harrow_valley/flood_test.rego"
	in := func(from, to string) map[string]string {
		if !strings.Contains(valleyTest, from) {
			t.Fatalf("%q is not there", from)
		}
		return map[string]string{file: strings.Replace(valleyTest, from, to, 1)}
	}
	for _, c := range []struct {
		why     string
		replace map[string]string
		tests   int
		want    string
	}{
		{"as they are", nil, 2, ""},
		{"a value that is not what comes", in("needs 2", "needs 3"), 2, "s/" + file + ":7:2: test_dry_bags fails: this does not hold"},
		{"one case of two", in("count(flood.finding.dry_bags) == 1", "count(flood.finding.dry_bags) == 1 - (4 - bags)"), 2, "s/" + file + ":10:1: test_dry_bags_of_a_household fails for 3"},
		{"left out", in("test_dry_bags if", "todo_test_dry_bags if"), 2, "s/" + file + ":6:1: todo_test_dry_bags is left out, and what is left out proves nothing; call it test_…"},
		{"no tests at all", map[string]string{file: "package rules.harrow_valley.flood_test\n"}, 0, "s/rules/harrow_valley/flood.rego:16:1: no test reaches this line\ns/rules/harrow_valley/flood.rego:18:2: "},
		{"a test of nobody's package", in("package rules.harrow_valley.flood_test", "package rules.base.flood_test"), 0, "s/" + file + ":1:1: package rules.base.flood_test: the tests of harrow-valley are in packages rules.harrow_valley.<area>_test"},
		{"a test that asks the clock", in("flood.finding.dry_bags == {", "time.now_ns() > 1\n\tflood.finding.dry_bags == {"), 0, "s/" + file + ":7:2: time.now_ns is not available to rules"},
		{"a test that does not parse", in("test_dry_bags if {", "test_dry_bags if if {"), 0, "s/" + file + ":6:"},
		{"a fact that there is not", in("test_dry_bags if {", "test_dry_bags if {\n\tinput.pakcs"), 0, "s/" + file + ":7:8: there is no pakcs here; did you mean packs?"},
		{"brackets without end", in("test_dry_bags if {", "x := "+strings.Repeat("[", 99)+"\ntest_dry_bags if {"), 0, "s/" + file + ":6:70: brackets may not be nested deeper"},
		{"a rule of the base", in("flood.finding.dry_bags == {", "data.rules.base.fire.finding.two_means\n\tflood.finding.dry_bags == {"), 2, "s/" + file + ":6:1: test_dry_bags fails"},
		{"blanks of one's own", in("flood.finding.dry_bags == {", "flood.finding.dry_bags ==  {"), 2, "s/" + file + ":7:1: the stock formatter writes \"\\tflood.finding.dry_bags == {{"},
		{"a call that is too large", in("flood.finding.dry_bags == {", "count(numbers.range(1, 5000000)) > 0\n\tflood.finding.dry_bags == {"), 2, "s/" + file + ":7:8: test_dry_bags broke: numbers.range would build more than 4194304 bytes or elements\n"},
		{"an empty line at the end", map[string]string{file: valleyTest + "\n"}, 2, "s/" + file + ":15:1: the stock formatter ends the file here"},
	} {
		replace := map[string]string{file: valleyTest}
		for name, text := range c.replace {
			replace[name] = text
		}
		tests, problems := Test(context.Background(), Layer{FS: Base()}, Layer{valleyStandard(replace), "s"})
		said := ""
		for _, p := range problems {
			if !strings.HasPrefix(p.String(), "s/rules/harrow_valley/flood") {
				t.Errorf("%s: %s", c.why, p)
			}
			said += p.String() + "\n"
		}
		if tests != c.tests || !strings.Contains(said, c.want) || c.want == "" && said != "" {
			t.Errorf("%s: %d tests, %s, want %d and %s", c.why, tests, said, c.tests, c.want)
		}
	}
}
