package lint_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/unit"
)

// The units in which amounts are said change words, and nothing else: no rule, level, place, limit, waiver or shortfall.
func TestUnitsChangeOnlyWords(t *testing.T) {
	tree, book := os.DirFS("../examples/harrow-valley"), rulebook(t)
	said := 0
	for _, name := range []string{"alder", "birch", "cedar"} {
		judged := func(units unit.System) (fs []finding.Finding, messages []string) {
			fs = household.Judge(t.Context(), tree, book, name, household.Options{On: day(t), Units: units}).Findings
			for i := range fs {
				messages = append(messages, fs[i].Message)
				fs[i].Message = ""
				for j := range fs[i].Because {
					messages = append(messages, fs[i].Because[j].Message)
					fs[i].Because[j].Message = ""
				}
			}
			return fs, messages
		}
		metric, inMetric := judged(unit.Metric)
		us, inUS := judged(unit.US)
		if diff := cmp.Diff(metric, us); diff != "" {
			t.Errorf("%s (-metric +us):\n%s", name, diff)
		}
		own, inOwn := judged("")
		if diff := cmp.Diff(inMetric, inOwn); diff != "" || len(own) != len(metric) {
			t.Errorf("%s writes in kilograms and hears something else:\n%s", name, diff)
		}
		for i := range inUS {
			if strings.Contains(inUS[i], " lb (") || strings.Contains(inUS[i], " oz (") {
				said++
			}
			if strings.Contains(inMetric[i], " oz (") {
				t.Errorf("%s: %s", name, inMetric[i])
			}
		}
	}
	if said == 0 {
		t.Error("no finding says an amount in US units")
	}
}

// A household hears the units of most of the masses that it writes.
func TestUnitsAsTheKitWrites(t *testing.T) {
	for _, c := range []struct {
		masses [3]string
		want   unit.System
	}{
		{[3]string{"2 lb", "1.5 kg", "8.5 oz"}, unit.US},
		{[3]string{"2 lb", "1.5 kg", "850 g"}, unit.Metric},
		{[3]string{"1 lb 4 oz", "1.5 kg", ""}, unit.Metric}, // as many of either
		{[3]string{"", "", ""}, unit.Metric},
		{[3]string{"8.5 oz", "", ""}, unit.US},
	} {
		text := `package kit

household: "Otter"
people: ana: age: "34 y"
packs: red: {carrier: "ana", compartments: main: {reach: "halted", items: {
`
		for i, m := range c.masses {
			text += "\t" + string(rune('a'+i)) + ": {"
			if m != "" {
				text += `mass: "` + m + `"`
			}
			text += "}\n"
		}
		m := household.Measure(fstest.MapFS{"otter/kit.cue": {Data: []byte(text + "}}}\n")}}, "otter", household.Options{On: day(t)})
		if got := m.Facts.Audit.Units; got != c.want || m.Household.Units != c.want {
			t.Errorf("%q: %s and %s, want %s", c.masses, got, m.Household.Units, c.want)
		}
	}
}
