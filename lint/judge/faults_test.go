package judge

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestProbe(t *testing.T) {
	nest := strings.Repeat("[1 | ", 100) + "true" + strings.Repeat("]", 100)
	nest5 := strings.Repeat("{x | x := ", 5) + "1" + strings.Repeat("}", 5)
	line := "	pack.mass_mg < lib.limit(\"fire\", \"means\")\n"
	body := func(s string) map[string]string { return with(t, line, line+"\t"+s+"\n") }
	for name, c := range map[string]map[string]string{
		"ok":                    {},
		"no metadata":           with(t, "# METADATA", "# metadata"),
		"top typo":              with(t, "# title:", "# titel:"),
		"custom typo":           with(t, "remedy:", "remdy:"),
		"level":                 with(t, "level: error", "level: fatal"),
		"sources empty":         with(t, "[common practice]", "[]"),
		"no limits":             with(t, "#   limits: [fire.means]\n", ""),
		"limits unknown":        with(t, "[fire.means]", "[fire.meens, fire.means]"),
		"limits twice":          with(t, "[fire.means]", "[fire.means, fire.means]"),
		"limits unlisted":       with(t, "[fire.means]", "[]"),
		"limits unused":         with(t, "[fire.means]", "[fire.means, fire.spare]"),
		"limit call unknown":    body(`lib.limit("fire", "spair") > 1`),
		"limit call not const":  body(`lib.limit("fire", pack.name) > 1`),
		"fact typo":             body("pack.mas_mg > 1"),
		"fact typo 2":           body("pack.mass > 1"),
		"fact root":             body("input.pakcs != []"),
		"every typo":            body("every i in input.items { i.mas_mg > 1 }"),
		"object.get typo":       body(`object.get(pack, "nmae", "") == ""`),
		"helper typo":           body("lib.haf(1) > 1"),
		"helper data typo":      body("lib.haf"),
		"builtin forbidden":     body("time.now_ns() > 1"),
		"builtin typo":          body(`startwith(pack.name, "a")`),
		"strict unused":         body("x := 1"),
		"string vs num":         body(`pack.mass_mg == "a"`),
		"parse":                 body(`pack.mass_mg ==`),
		"nest 100":              body("x := " + nest + "\n\tcount(x) > 0"),
		"nest 5":                body("x := " + nest5 + "\n\tcount(x) > 0"),
		"long number":           body("pack.mass_mg < 1e999999999"),
		"data direct":           body("data.limits.base.fire.means.value > 1"),
		"data bare":             body("count(data) > 1"),
		"bare set":              with(t, "finding.two_means contains", "finding contains"),
		"typo finding":          with(t, "finding.two_means contains", "findings.two_means contains"),
		"complete":              with(t, "finding.two_means contains f if", "finding.two_means := f if"),
		"package":               with(t, "package rules.base.fire", "package rule.base.fire"),
		"package2":              with(t, "package rules.base.fire", "package rules.base"),
		"umlaut":                body(`"ä" == pack.nmae`),
		"second metadata":       {fireFile: small[fireFile] + strings.ReplaceAll(smallRule("two_means", "\tsome pack in input.packs\n\tf := {\"at\": pack.id, \"text\": pack.name}"), "note", "error")},
		"two files":             {"rules/base/more.rego": small[fireFile]},
		"function typo":         {fireFile: small[fireFile] + "\nheavy(p) if p.mass_m > 1\n"},
		"transitive":            {fireFile: strings.Replace(small[fireFile], line, "\t_few(pack)\n", 1) + "\n_few(p) if p.mass_mg < lib.limit(\"fire\", \"spare\")\n"},
		"yaml":                  with(t, "# title:", "#\ttitle:"),
		"limit field":           in(t, limitFile, `"source": "from memory"`, `"sorce": "from memory"`),
		"limit unit":            in(t, limitFile, `"permille"`, `"permile"`),
		"limit float":           in(t, limitFile, `150`, `15.5`),
		"limit json":            in(t, limitFile, `150,`, `150`),
		"limit dup":             in(t, limitFile, `"spare": {`, `"means": {`),
		"limit empty":           in(t, limitFile, `"share held back"`, `" "`),
		"limit elsewhere":       {"limits/data.json": "{}"},
		"lib reads elsewhere":   in(t, "lib/lib.rego", "data.limits[_]", "data.limits.other"),
		"manifest":              {".manifest": `{"roots": ["lib", "limits/base", "rules/other"]}`},
		"no lib":                {"lib/lib.rego": ""},
	} {
		_, ps := New(smallStandard(c))
		fmt.Println("==", name)
		for _, p := range ps {
			fmt.Println("  ", p)
		}
	}
	_ = cmp.Diff
}
