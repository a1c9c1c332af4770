package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"kitmuster/lint/testkit"
)

var hidden = regexp.MustCompile(`(?m)^(\t+)// ([a-z_]+: \{(can|container))`)

const alder = `household: Alder
person 1: Ana
person 1 age: 42
person 1 weight: 68 kg
person 1 pack: yes
person 1 pack weight: 1.2 kg
duration: 72 h
hazards: flood
season: winter
day: 8 °C
night: 2 °C
weather from: weather service, mean of January
latitude: 47.5 N
distance: 6.5 km
`

// A year of a household: it begins, packs, weighs, renews in spring and in autumn, and its group is audited.
func TestAYearOfAHousehold(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	testkit.Write(t, dir, map[string]string{"answers.yaml": alder})
	typed := func(stdin string, args ...string) ran {
		t.Helper()
		cmd, end := program(t, dir, args...)
		cmd.Env = append(cmd.Env, "XDG_CACHE_HOME="+filepath.Join(dir, "cache")) // changes are written down there while they are made
		cmd.Stdin = strings.NewReader(stdin)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		return end()
	}
	must := func(r ran, code int, want ...string) {
		t.Helper()
		said := strings.Join(strings.Fields(r.out+r.errs), " ")
		for _, w := range want {
			if r.code != code || !strings.Contains(said, w) {
				t.Fatalf("exit %d, wanted %d and %q in\n%s%s", r.code, code, w, r.out, r.errs)
			}
		}
	}
	must(typed("", "new", "--on", "2026-03-01", "--answers", "answers.yaml", "kit"), exitClean, "Written into kit: household.cue and pack_ana.cue.", "Nothing counts as packed yet.", "Alder, kit: not ready", "Next: kitmuster check kit")
	// Nothing that is still to be packed is taken to be there.
	must(runs(t, dir, "check", "--on", "2026-03-01", "--long", "kit"), exitFindings, "no food is recorded", "no plasters")
	// They pack what they have, and write the day of the food.
	name := filepath.Join(dir, "kit/pack_ana.cue")
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	b = hidden.ReplaceAll(b, []byte("$1$2"))
	text := strings.Replace(string(b), "// ready_food: {food: {}}", `ready_food: {food: energy: "450 kcal", expires: "2026-09-30"}`, 1)
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	must(typed("1210\n9\nq\n", "weigh", "--on", "2026-03-02", "kit"), exitClean, "2 readings kept")
	must(typed("", "renew", "--on", "2026-03-03", "kit"), exitClean, "nothing is past its day")
	must(typed("2027-04-30\n", "renew", "--on", "2026-10-05", "kit"), exitClean, "Kept: ready")
	must(typed("2028-05-31\n", "renew", "--on", "2027-05-02", "kit"), exitClean, "Kept: ready")
	if b, err = os.ReadFile(name); err != nil || !strings.Contains(string(b), `expires: "2028-05-31"`) || strings.Count(string(b), `weighed: "2026-03-02"`) != 1 && strings.Count(string(b), `"2026-03-02"`) != 2 {
		t.Errorf("%v\n%s", err, b)
	}
	must(runs(t, dir, "audit", "--on", "2027-05-03", "-o", "audit", "./..."), exitClean, "1 household as of 2027-05-03", "1 not ready")
	if b, err = os.ReadFile(filepath.Join(dir, "audit/audit.html")); err != nil || !strings.Contains(string(b), "Next: <code>kitmuster check --show error kit<") {
		t.Errorf("%v: the audit names no next command", err)
	}

	// Who begins again is told so, and nothing is touched.
	must(typed("", "new", "kit"), exitUnfit, "there is a kit in this folder already", "kitmuster check kit")
	must(typed("", "new", "a", "b"), exitUnfit, "one kit at a time")
	must(typed("", "new", "--answers", "none.yaml", "c"), exitUnfit, "--answers none.yaml: no such file")
	must(typed("Birch\n\nBea\nba", "new", "birch"), exitClean, "Stopped. What you answered is in birch", "Go on with: kitmuster new birch")
	must(typed("", "new", "--answers", "answers.yaml", "birch"), exitUnfit, "holds answers already")
	testkit.Write(t, dir, map[string]string{"birch/mine.cue": "package kit\n"})
	must(typed(strings.Repeat("\n", 30), "new", "birch"), exitUnfit, "Going on with what", "mine.cue is there already; nothing was written")
	if _, err := os.Stat(filepath.Join(dir, "birch/household.cue")); err == nil {
		t.Error("written all the same")
	}
}
