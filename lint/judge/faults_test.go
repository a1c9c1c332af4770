package judge

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Every kind of fault of a standard, with the whole of what is said and where.
func TestFaultsOfAStandard(t *testing.T) {
	const line = "\tpack.mass_mg < lib.limit(\"fire\", \"means\")\n"
	// expr is the small standard with one more expression, in line 19 of its rule file.
	expr := func(s string) map[string]string { return with(t, line, line+"\t"+s+"\n") }
	const at = fireFile + ":"
	for _, c := range []struct {
		why     string
		changes map[string]string
		want    []string
	}{
		// METADATA.
		{"the marker in small letters is a mere comment", with(t, "# METADATA", "# metadata"),
			[]string{at + "16:1: rule fire/two-means has no METADATA; write a block `# METADATA` with title, description and custom (level, remedy, mend, sources, limits, caution, lack, passes, fails) right above it"}},
		{"the engine drops unknown keys without a word", with(t, "# title:", "# titel:"),
			[]string{at + "5:1: METADATA of rule fire/two-means lacks title; write `title: what is wrong`", at + `6:3: METADATA has an unknown key "titel"; did you mean title?`}},
		{"an unknown custom key", with(t, "remedy:", "remdy:"),
			[]string{at + "5:1: METADATA of rule fire/two-means lacks custom.remedy; write `remedy: what to do`", at + "10:5: METADATA of rule fire/two-means has an unknown key custom.remdy; did you mean remedy?"}},
		{"no level", with(t, "#   level: error\n", ""),
			[]string{at + "5:1: METADATA of rule fire/two-means lacks custom.level; write `level: error, warning or note`"}},
		{"an unknown level", with(t, "level: error", "level: fatal"),
			[]string{at + `9:5: METADATA of rule fire/two-means: "fatal" is not a level; write error, warning or note`}},
		{"no source", with(t, "[common practice]", "[]"),
			[]string{at + "12:5: METADATA of rule fire/two-means: custom.sources must be a list of texts with at least one entry"}},
		{"a year that YAML reads as a number", with(t, "[common practice]", "[2019]"),
			[]string{at + "12:5: METADATA of rule fire/two-means: custom.sources must be a list of texts with at least one entry"}},
		{"an empty caution", with(t, "#   passes: a\n", "#   passes: a\n#   caution: \"\"\n"),
			[]string{at + "15:5: METADATA of rule fire/two-means: custom.caution must be a text that is not empty"}},
		{"an amount in no unit", with(t, "#   passes: a\n", "#   passes: a\n#   lack: {what: water, unit: litres}\n"),
			[]string{at + "15:5: METADATA of rule fire/two-means: custom.lack says what each finding states an amount of, such as {what: water at the start, unit: ml}; what has at most 40 characters on one line, the unit is one of mg, ml, j, min, days, count, milli"}},
		{"no work", with(t, "#   mend: {work: add}\n", ""),
			[]string{at + "5:1: METADATA of rule fire/two-means lacks custom.mend; write `mend: {work: W}, what settles a finding, where W is one of write, decide, move, leave, check, exchange, add`"}},
		{"a work that is none", with(t, "{work: add}", "{work: wriet}"),
			[]string{at + `11:5: METADATA of rule fire/two-means: "wriet" is no work that settles a finding; did you mean write?`}},
		{"a work that is like none", with(t, "{work: add}", "{work: hurry}"),
			[]string{at + `11:5: METADATA of rule fire/two-means: "hurry" is no work that settles a finding; there are: add, check, decide, exchange, leave, move, write`}},
		{"a bare work", with(t, "{work: add}", "add"),
			[]string{at + "11:5: METADATA of rule fire/two-means: custom.mend says which work settles a finding, such as {work: add, thing: fire}; the work is one of write, decide, move, leave, check, exchange, add"}},
		{"two works", with(t, "{work: add}", "{work: [add, move]}"),
			[]string{at + "11:5: METADATA of rule fire/two-means: custom.mend says which work settles a finding, such as {work: add, thing: fire}; the work is one of write, decide, move, leave, check, exchange, add"}},
		{"a misspelt key below mend, which is written over two lines", with(t, "{work: add}", "\n#     work: add\n#     thign: fire"),
			[]string{at + `11:5: METADATA of rule fire/two-means: custom.mend has an unknown key "thign"; did you mean thing?`}},
		{"a misspelt capability", with(t, "{work: add}", "{work: add, thing: treat_water}"),
			[]string{at + `11:5: METADATA of rule fire/two-means: custom.mend: no capability is called "treat_water"; did you mean treat-water?`}},
		{"a capability that is like none", with(t, "{work: add}", "{work: exchange, thing: 3}"),
			[]string{at + `11:5: METADATA of rule fire/two-means: custom.mend: no capability is called "3"; there are water, food and: ` + strings.Join(kinds.Texts(kinds.CapabilityList()), ", ")}},
		{"a thing where nothing comes along", with(t, "{work: add}", "{work: move, thing: fire}"),
			[]string{at + "11:5: METADATA of rule fire/two-means: the work move brings nothing along, so custom.mend has no thing and no get; only exchange and add have"}},
		{"a shopping list of what nobody gets", with(t, "{work: add}", "{work: decide, get: whistle}"),
			[]string{at + "11:5: METADATA of rule fire/two-means: the work decide brings nothing along, so custom.mend has no thing and no get; only exchange and add have"}},
		{"a shopping list in two lines", with(t, "{work: add}", `{work: add, get: "whistle\nmirror"}`),
			[]string{at + "11:5: METADATA of rule fire/two-means: custom.mend: get names what is brought, as on a shopping list, in at most 40 characters on one line"}},
		{"one thing for so many litres", with(t, "{work: add}", "{work: add, thing: fire}\n#   lack: {what: water, unit: ml}"),
			[]string{at + "11:5: METADATA of rule fire/two-means: custom.lack is in ml, so no one thing settles a finding; take the thing out of custom.mend"}},
		{"water without saying how much", with(t, "{work: add}", "{work: add, thing: water}"),
			[]string{at + "11:5: METADATA of rule fire/two-means: custom.lack has to say how much water is brought, in ml; write it, or take the thing out of custom.mend"}},
		{"no example", with(t, "#   fails: b\n", ""),
			[]string{at + "5:1: METADATA of rule fire/two-means lacks custom.fails; write `fails: a short kit in CUE that breaks the rule`"}},
		{"two blocks for one rule: the second would be lost", map[string]string{fireFile: small[fireFile] + smallRule("two_means", "\tsome pack in input.packs\n\tf := {\"at\": pack.id, \"text\": pack.name}")},
			[]string{at + "22:1: rule fire/two-means has METADATA already, above line 16"}},
		{"a text that looks like the key", with(t, "#   level: error\n", "#   caution: |\n#     level: x\n#   level: fatal\n"),
			[]string{at + `11:5: METADATA of rule fire/two-means: "fatal" is not a level; write error, warning or note`}},
		{"keys on one line, after a letter of two bytes", with(t, `custom:
#   level: error
#   remedy: Add another means.
#   mend: {work: add}
#   sources: [common practice]
#   limits: [fire.means]
#   passes: a
#   fails: b`, "custom: {remedy: é, level: fatal, mend: {work: add}, sources: [a], limits: [fire.means], passes: a, fails: b}"),
			[]string{at + `8:24: METADATA of rule fire/two-means: "fatal" is not a level; write error, warning or note`}},
		{"an unknown key with no blank before it", with(t, "# title:", "#titel: x\n# title:"),
			[]string{at + `6:2: METADATA has an unknown key "titel"; did you mean title?`}},
		{"a tab in YAML", with(t, "# title:", "#\ttitle:"),
			[]string{at + "6:1: yaml: found character that cannot start any token"}},

		// Where rules stand and what they are called.
		{"a set that nobody collects", with(t, "finding.two_means contains", "findings.two_means contains"),
			[]string{at + "16:1: only finding rules carry custom METADATA, and nobody collects findings.two_means; write `finding.<rule_name> contains f if { … }`"}},
		{"one set for all", with(t, "finding.two_means contains", "finding contains"),
			[]string{at + "16:1: write a rule as `finding.<rule_name> contains f if { … }` with a plain lower_case name"}},
		{"one value", with(t, "finding.two_means contains f if", "finding.two_means := f if"),
			[]string{at + "16:1: write a rule as `finding.<rule_name> contains f if { … }` with a plain lower_case name"}},
		{"a name with capitals", with(t, "finding.two_means contains", "finding.twoMeans contains"),
			[]string{at + "16:1: write a rule as `finding.<rule_name> contains f if { … }` with a plain lower_case name"}},
		{"a package of nobody", with(t, "package rules.base.fire", "package rules.base"),
			[]string{at + "1:1: package rules.base: a file holds rules in package rules.<standard>.<area>, or helpers in package lib"}},
		{"one name in two files: the engine would merge them", map[string]string{"rules/base/more.rego": small[fireFile]},
			[]string{"rules/base/more.rego:16:1: rule fire/two-means is already defined at rules/base/fire.rego:16"}},
		{"a package outside the bundle's roots", map[string]string{".manifest": `{"roots": ["lib", "limits/base", "rules/other"]}`},
			[]string{at + "1:1: package rules.base.fire lies outside the roots of .manifest: lib, limits/base, rules/other"}},

		// Facts and helpers.
		{"a misspelt fact", expr("pack.mas_mg > 1"), []string{at + "19:7: there is no mas_mg here; did you mean mass_mg?"}},
		{"a fact without its unit", expr("pack.water > 1"), []string{at + "19:7: there is no water here; did you mean water_mg?"}},
		{"the column counts characters, not bytes", expr(`"ä" == pack.nmae`), []string{at + "19:14: there is no nmae here; did you mean name?"}},
		{"the top of the facts", expr("input.pakcs != []"), []string{at + "19:8: there is no pakcs here; did you mean packs?"}},
		{"a number against a text", expr(`pack.mass_mg == "a"`), []string{at + "19:2: this can never hold: one side is number, the other string"}},
		{"inside every", expr("every i in input.items { i.mas_mg > 1 }"), []string{at + "19:29: no fact or helper has a field mas_mg; did you mean mass_mg?"}},
		{"inside a function", map[string]string{fireFile: small[fireFile] + "\nheavy(p) if p.mass_m > 1\n"}, []string{at + "22:15: no fact or helper has a field mass_m; did you mean mass_mg?"}},
		{"inside walk", expr("walk(input.items, [_, v])\n\tv.nmae == \"\""), []string{at + "20:4: no fact or helper has a field nmae; did you mean name?"}},
		{"object.get", expr(`object.get(pack, "nmae", "") == ""`), []string{at + "19:19: no fact or helper has a field nmae; did you mean name?"}},
		{"a misspelt helper function", expr("lib.haf(1) > 1"), []string{at + "19:2: there is no function data.lib.haf; did you mean data.lib.half?"}},
		{"a misspelt helper", expr("lib.haf"), []string{at + "19:6: nothing is called data.lib.haf; did you mean data.lib.half?"}},
		{"a misspelt built-in", expr(`startwith(pack.name, "a")`), []string{at + "19:2: there is no function startwith; did you mean startswith?"}},
		{"a built-in that is not on the list", expr("time.now_ns() > 1"), []string{at + "19:2: time.now_ns is not available to rules; capabilities.json lists the functions that are"}},
		{"a built-in that is not on the list, by with", expr("pack.name == \"\" with time.now_ns as 1"), []string{at + "19:23: with keyword target must reference existing input, data, or a function"}},
		{"an unused variable", expr("x := 1"), []string{at + "19:2: assigned var x unused"}},

		// Shapes that the engine's compiler would not get through.
		{"a hundred comprehensions", expr("x := " + strings.Repeat("[1 | ", 100) + "true" + strings.Repeat("]", 100)), []string{at + "19:322: brackets may not be nested deeper than 64"}},
		{"five comprehensions", expr("count(" + strings.Repeat("{x | x := ", 5) + "1" + strings.Repeat("}", 5) + ") > 0"), []string{at + "19:48: comprehensions and every may not be nested deeper than 4; move the inner part into a helper"}},
		{"a long body", expr(strings.Repeat("pack.mass_mg > 1\n\t", 200) + "true"), []string{at + "17:2: a body may not hold more than 200 expressions"}},
		{"many else", map[string]string{fireFile: small[fireFile] + "\nx := 1 if input.packs == [1]" + strings.Repeat(" else := 2 if input.packs == [2]", 51) + "\n"}, []string{at + "22:1: a rule may not have more than 50 else branches"}},
		{"many rules", map[string]string{fireFile: small[fireFile] + strings.Repeat("x := 1\n", 1000)}, []string{at + "1020:1: a file may not hold more than 1000 rules"}},
		{"a large file", map[string]string{fireFile: small[fireFile] + strings.Repeat("#\n", 1<<19)}, []string{at + "1:1: a file of a standard may not be larger than 1 MiB"}},

		// Limits.
		{"METADATA lists no such limit", with(t, "[fire.means]", "[fire.meens, fire.means]"), []string{at + "13:5: METADATA of rule fire/two-means: no limit is called fire.meens; did you mean fire.means?"}},
		{"listed twice", with(t, "[fire.means]", "[fire.means, fire.means]"), []string{at + "13:5: METADATA of rule fire/two-means lists limit fire.means twice"}},
		{"used, not listed", with(t, "[fire.means]", "[]"), []string{at + "13:5: METADATA of rule fire/two-means does not list limit fire.means, which it uses at rules/base/fire.rego:18:17; add it to custom.limits"}},
		{"listed, not used", with(t, "[fire.means]", "[fire.means, fire.spare]"), []string{at + "13:5: METADATA of rule fire/two-means lists limit fire.spare, which nothing in the file uses"}},
		{"used by a helper", map[string]string{fireFile: strings.Replace(small[fireFile], line, line+"\t_few(pack)\n", 1) + "\n_few(p) if p.mass_mg < lib.limit(\"fire\", \"spare\")\n"},
			[]string{at + "13:5: METADATA of rule fire/two-means does not list limit fire.spare, which it uses at rules/base/fire.rego:23:24; add it to custom.limits"}},
		{"used by a helper that the rule does not call", map[string]string{fireFile: small[fireFile] + "\n_few(p) if p.mass_mg < lib.limit(\"fire\", \"spare\")\n"}, nil},
		{"a rule asks for an unknown limit", expr(`lib.limit("fire", "spair") > 1`), []string{at + "19:2: no limit is called fire.spair; did you mean fire.spare?"}},
		{"a limit by a name that only runs know", expr(`lib.limit("fire", pack.name) > 1`), []string{at + "19:2: write area and name of a limit as constant texts, so that the limits of a rule can be listed"}},
		{"past lib.limit", expr("data.limits.base.fire.means.value > 1"), []string{at + `19:2: rules read limits through lib.limit("area", "name")`}},
		{"no helpers at all", map[string]string{"lib/lib.rego": ""}, []string{at + "18:17: there is no function data.lib.limit"}},
		{"lib.limit reads another place", in(t, "lib/lib.rego", "data.limits[_]", "data.limits.other"),
			[]string{limitFile + `:3:5: lib.limit("fire", "means") does not give the value that is written here`, limitFile + `:9:5: lib.limit("fire", "spare") does not give the value that is written here`}},
		{"a misspelt key", in(t, limitFile, `"source": "from memory"`, `"sorce": "from memory"`),
			[]string{limitFile + `:9:5: limit fire.spare needs "source", a text`, limitFile + `:13:7: limit fire.spare has an unknown key "sorce"; did you mean source?`}},
		{"an empty meaning", in(t, limitFile, `"share held back"`, `" "`), []string{limitFile + `:9:5: limit fire.spare needs "meaning", a text`}},
		{"an unknown unit", in(t, limitFile, `"permille"`, `"permile"`), []string{limitFile + `:11:7: limit fire.spare: unit "permile" is unknown; did you mean permille?`}},
		{"a fraction", in(t, limitFile, `150`, `15.5`), []string{limitFile + ":10:7: limit fire.spare: the value must be a whole number of the unit"}},
		{"no comma", in(t, limitFile, `150,`, `150`), []string{limitFile + `:11:7: this is not JSON: invalid character '"' after object key:value pair`}},
		{"one name twice, in another case", in(t, limitFile, `"spare": {`, `"Means": {`), []string{limitFile + `:9:5: "means" and "Means" differ only in upper and lower case, and some readers take them for one; keep one`}},
		{"one name twice: JSON would keep the last", in(t, limitFile, `"spare": {`, `"means": {`), []string{limitFile + `:9:5: "means" is written twice`}},
		{"data elsewhere", map[string]string{"limits/data.json": "{}"}, []string{"limits/data.json:1:1: a standard's data is its limits and official lists; write them into limits/<standard>/data.json and lists/<standard>/data.json"}},
	} {
		t.Run(c.why, func(t *testing.T) {
			rulebook, problems := New(smallStandard(c.changes))
			var got []string
			for _, p := range problems {
				got = append(got, p.String())
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
			if (rulebook == nil) != (len(c.want) > 0) {
				t.Errorf("a rulebook: %v", rulebook != nil)
			}
		})
	}
}

// A group's standard stands beside the base: its rules show its name, and it
// may not reach into what the base owns.
func TestTwoStandards(t *testing.T) {
	own := "package rules.river_circle.water_gear\n\nimport data.lib\n" + smallRule("no_bag", "\tsome pack in input.packs\n\tlib.half(pack.mass_mg) < 1\n\tf := {\"at\": pack.id, \"text\": \"light\"}")
	group := func(name, text string) fstest.MapFS { return fstest.MapFS{name: {Data: []byte(text)}} }
	b, problems := New(smallStandard(nil), group("rules/river_circle/gear.rego", own))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var names []string
	for _, r := range b.Rules() {
		names = append(names, r.Name+" "+r.Area)
	}
	if diff := cmp.Diff([]string{"fire/two-means fire", "river-circle:water-gear/no-bag water-gear"}, names); diff != "" {
		t.Error(diff)
	}
	if got, want := b.NoRule("fire/two-meens"), `no rule is called "fire/two-meens"; did you mean fire/two-means?`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if r, ok := b.Rule("fire/two-means"); !ok || r.Line != 16 || r.EndLine != 20 || r.File != fireFile {
		t.Errorf("%+v, %v", r, ok)
	}
	for file, c := range map[string]struct{ text, want string }{
		"extra/lib.rego":           {"package lib\n\nlimit(_, _) := 1\n", "extra/lib.rego:1:1: package lib belongs to another standard"},
		fireFile:                   {own, fireFile + ":1:1: another standard has a file of this path; put rules below rules/<standard>"},
		"limits/circle/data.json":  {`{"fire": {"means": {"value": 3, "unit": "days", "meaning": "m", "source": "s", "stricter": "higher"}}}`, "limits/circle/data.json:1:11: limit fire.means has the unit \"count\" in base; write it in the same unit"},
		"rules/circle/broken.rego": {"package rules.circle.fire\n\nx := := 1\n", "rules/circle/broken.rego:3:6: unexpected assign token"},
	} {
		_, problems := New(smallStandard(nil), group(file, c.text))
		if len(problems) == 0 || problems[0].String() != c.want {
			t.Errorf("%s: %v, want %s", file, problems, c.want)
		}
	}
}

// What a rule that breaks or errs is told, word for word, beside what is kept.
func TestFaultsOfVerdicts(t *testing.T) {
	facts := &facts.Facts{Packs: []facts.Pack{{ID: "a", Name: "A", MassMG: 1}, {ID: "b", Name: "B", MassMG: 1}}}
	const where, element = fireFile + ":16:1: rule fire/two-means: ", `{"at": pack.id, "text": sprintf("%s is light", [pack.name]), "because": [pack.id]}`
	for _, c := range []struct {
		why, element string
		kept         int
		want         string
	}{
		{"sound", element, 2, ""},
		{"a set of IDs is a list of IDs", `{"at": pack.id, "text": "x", "because": {pack.id}}`, 2, ""},
		{"no because", `{"at": pack.id, "text": "x"}`, 2, ""},
		{"one of two at fault", `{"at": replace(pack.id, "b", "c"), "text": "x"}`, 1, where + `"at" names "c", which is no ID of the kit`},
		{"both at fault", `{"at": pack.name, "text": "x"}`, 0, where + `"at" names "A", which is no ID of the kit (and 1 more of its elements are at fault)`},
		{"no text", `{"at": "a"}`, 0, where + `an element lacks "text"`},
		{"no place", `{"text": "x"}`, 0, where + `an element lacks "at"`},
		{"a text of blanks", `{"at": "a", "text": " "}`, 0, where + `"text" is empty`},
		{"a sprintf mistake, said all the same", `{"at": "a", "text": sprintf("%d g", ["x"])}`, 1, where + `the text "%!d(string=x) g" holds a sprintf mistake`},
		{"a kit's own text that is none", `{"at": "a", "text": "pack %!x, 100 %! full"}`, 1, ""},
		{"a number for a text", `{"at": "a", "text": 3}`, 0, where + `"text" must be a text, not 3`},
		{"an unknown key", `{"at": "a", "text": "x", "leve": "note"}`, 0, where + `an element has an unknown key "leve"; there are at, text, because, lack, level and unrecorded`},
		{"an amount of nobody knows what", `{"at": "a", "text": "x", "lack": 3}`, 0, where + `"lack" is an amount, and METADATA does not say of what; write custom.lack`},
		{"an unknown reason", `{"at": "a", "text": "x", "because": ["z"]}`, 0, where + `"because" names "z", which is no ID of the kit`},
		{"a reason that is no text", `{"at": "a", "text": "x", "because": [1]}`, 0, where + `"because" lists IDs, not 1`},
		{"a bare reason", `{"at": "a", "text": "x", "because": "a"}`, 0, where + `"because" must be a list of IDs, not "a"`},
		{"a bare text", `"light"`, 0, where + `an element is {"at": …, "text": …}, not "light"`},
		{"a built-in that fails", `{"at": "a", "text": sprintf("%d", [pack.mass_mg / (pack.mass_mg - 1)])}`, 0, fireFile + ":19:42: rule fire/two-means broke: div: divide by zero"},
		{"a result without measure", `{"at": "a", "text": sprintf("%d", [count(numbers.range(1, 100000000000))])}`, 0, fireFile + ":19:48: rule fire/two-means broke: numbers.range would build more than 4194304 bytes or elements"},
	} {
		t.Run(c.why, func(t *testing.T) {
			b := smallBench(t, with(t, element, c.element))
			vs, faults := b.Judge(context.Background(), facts, func(id string) bool { return id == "a" || id == "b" })
			got := ""
			for _, f := range faults {
				got += f.Problem.String()
			}
			if diff := cmp.Diff(c.want, got); diff != "" || len(vs) != c.kept {
				t.Errorf("%d verdicts, want %d; fault -want +got:\n%s", len(vs), c.kept, diff)
			}
		})
	}
}

// A finding of a milder case than its rule says so itself; METADATA states the gravest, and rules are filtered by that.
func TestLowerLevels(t *testing.T) {
	facts := &facts.Facts{Packs: []facts.Pack{{ID: "a", Name: "A", MassMG: 1}}}
	const where, element = fireFile + ":16:1: rule fire/two-means: ", `{"at": pack.id, "text": sprintf("%s is light", [pack.name]), "because": [pack.id]}`
	const wrong = where + `"level" is "warning" or a lower one, not `
	for _, c := range []struct {
		level string
		want  finding.Level
		fault string
	}{
		{"", finding.Warning, ""},
		{`, "level": "warning"`, finding.Warning, ""},
		{`, "level": "note"`, finding.Note, ""},
		{`, "level": "error"`, "", wrong + `"error"; METADATA states the highest`},
		{`, "level": "info"`, "", wrong + `"info"; METADATA states the highest`},
		{`, "level": 1`, "", wrong + `1; METADATA states the highest`},
	} {
		changes := with(t, element, `{"at": "a", "text": "x"`+c.level+`}`)
		changes[fireFile] = strings.Replace(changes[fireFile], "level: error", "level: warning", 1)
		b := smallBench(t, changes)
		known := func(id string) bool { return id == "a" }
		vs, faults := b.Judge(context.Background(), facts, known)
		got, kept := "", finding.Level("")
		for _, f := range faults {
			got += f.Problem.String()
		}
		for _, v := range vs {
			kept = v.Level
		}
		if got != c.fault || kept != c.want {
			t.Errorf("%q: level %q, fault %q; want %q, %q", c.level, kept, got, c.want, c.fault)
		}
		if from, _ := b.JudgeFrom(context.Background(), finding.Warning, facts, known); (len(from) == 1) != (c.want == finding.Warning) {
			t.Errorf("%q: from warnings on, %d verdicts", c.level, len(from))
		}
	}
}

// A rule that says what its findings state an amount of has every one of them state it, as a whole number.
func TestAmounts(t *testing.T) {
	facts := &facts.Facts{Packs: []facts.Pack{{ID: "a", Name: "A", MassMG: 1}}}
	const where, element = fireFile + ":17:1: rule fire/two-means: ", `{"at": pack.id, "text": sprintf("%s is light", [pack.name]), "because": [pack.id]}`
	for _, c := range []struct {
		lack string
		want int64
		why  string
	}{
		{`, "lack": 3`, 3, ""},
		{`, "lack": 1000000000000`, maxLack, ""},
		{"", 0, `an element has no "lack", the amount that custom.lack in METADATA promises`},
		{`, "lack": 0`, 0, `"lack" is a whole number of ml from 1 to 1000000000000, not 0`},
		{`, "lack": -1`, 0, `"lack" is a whole number of ml from 1 to 1000000000000, not -1`},
		{`, "lack": 0.5`, 0, `"lack" is a whole number of ml from 1 to 1000000000000, not 0.5`},
		{`, "lack": 1000000000001`, 0, `"lack" is a whole number of ml from 1 to 1000000000000, not 1000000000001`},
		{`, "lack": "3 L"`, 0, `"lack" is a whole number of ml from 1 to 1000000000000, not "3 L"`},
	} {
		changes := with(t, element, `{"at": "a", "text": "x"`+c.lack+`}`)
		changes[fireFile] = strings.Replace(changes[fireFile], "#   passes: a\n", "#   passes: a\n#   lack: {what: water at the start, unit: ml}\n", 1)
		b := smallBench(t, changes)
		vs, faults := b.Judge(context.Background(), facts, func(id string) bool { return id == "a" })
		switch {
		case c.why == "" && (len(vs) != 1 || vs[0].Lack != c.want || *vs[0].Rule.Lack != finding.Shortfall{What: "water at the start", Unit: "ml"}):
			t.Errorf("%s: %+v, %v", c.lack, vs, faults)
		case c.why != "" && (len(vs) > 0 || len(faults) != 1 || faults[0].Problem.String() != where+c.why):
			t.Errorf("%s: %+v, %v", c.lack, vs, faults)
		}
	}
}

// A run that is called off says so for every rule, and gives no half answer.
func TestCalledOff(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(errors.New("the editor went on"))
	vs, faults := smallBench(t, nil).Judge(ctx, packs(1, 1), knows)
	if len(vs) > 0 || len(faults) != 1 || faults[0].Problem.String() != fireFile+":16:1: rule fire/two-means was not run: the editor went on" {
		t.Error(vs, faults)
	}
}

// One call may not build what no deadline can stop; the rest of the kit's rules are judged.
func TestBoundedBuiltins(t *testing.T) {
	long := strings.Repeat("a", 4000)
	for name, expression := range map[string]string{
		"concat":        fmt.Sprintf(`concat("%s", digits)`, long),
		"replace":       fmt.Sprintf(`replace("%s", "", "%s")`, long, long),
		"numbers.range": `numbers.range(1, 5000000)`,
		"sprintf":       `sprintf("%9999999d", [1])`,
		"sprintf again": fmt.Sprintf(`sprintf("%s", ["%s"])`, strings.Repeat("%[1]s", 1100), long),
		"sprintf star":  `sprintf("%*d", [9999999, 1])`,
		"to_number":     `to_number(concat("", ["1e", "999999999"]))`,
	} {
		text := "package rules.base.fire\n\ndigits := [sprintf(\"%d\", [n]) | some n in numbers.range(1, 2000)]\n" +
			smallRule("huge", "\tx := "+expression+"\n\tf := {\"at\": \"a\", \"text\": sprintf(\"%d\", [count([x])])}") +
			smallRule("other", "\tsome p in input.packs\n\tf := {\"at\": p.id, \"text\": \"x\"}")
		vs, faults := smallBench(t, map[string]string{fireFile: text}).Judge(context.Background(), packs(1, 1), knows)
		called, _, _ := strings.Cut(name, " ")
		if len(faults) != 1 || !strings.Contains(faults[0].Problem.Text, "broke: "+called+" would ") {
			t.Errorf("%s: %v", name, faults)
		}
		if len(vs) != 1 || vs[0].Rule.Name != "fire/other" {
			t.Errorf("%s hides the other rule: %v", name, vs)
		}
	}
	half := make([]*ast.Term, maxResult/2+1)
	for i := range half {
		half[i] = ast.InternedTerm(1)
	}
	list := ast.ArrayTerm(half...)
	err := boundedBuiltins[boundedPrefix+"array concat"].Func(topdown.BuiltinContext{}, []*ast.Term{list, list}, func(*ast.Term) error { return nil })
	var halt topdown.Halt
	if !errors.As(err, &halt) {
		t.Errorf("array.concat: %v", err)
	}
}
