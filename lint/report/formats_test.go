package report

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
)

var rules = []finding.Rule{
	{Name: "fire/two-means", Title: "Fewer than two means", Why: "One gets wet.\nAlways.", Remedy: "Add one.", Mend: finding.Fix{Work: finding.ToAdd, Thing: "fire"}, Level: finding.Warning, Sources: []string{"common practice, no source"}},
	{Name: "input/value", Title: "A value that cannot be", Why: "It bends sums.", Remedy: "Write {\"850 g\"}.", Mend: finding.Fix{Work: finding.ToWrite}, Level: finding.Error},
	{Name: "load/body-mass-cap", Title: "Too heavy", Why: "It hurts.", Remedy: "Lighten <it>.", Caution: "Ask a *practitioner*.", Level: finding.Error},
}

// made gives a run of findings, each completed by f.
func made(f func(*finding.Run), fs ...finding.Finding) *finding.Run {
	r := &finding.Run{Version: "v1.2.3", On: "2026-11-01", Rules: rules}
	if f != nil {
		f(r)
	}
	r.Count(r.Households, fs...)
	return r
}

var two = []finding.Household{{Name: "Alder", Path: "alder", Judged: true}, {Name: "Birch", Path: "birch", Judged: true}}

func spot(file string, line int) source.Span {
	return source.Span{File: file, Start: source.Point{Line: line, Col: 2}, End: source.Point{Line: line, Col: 9}}
}

// runs are runs of every kind that a check can give.
func runs() map[string]*finding.Run {
	states := slices.Clone(checked)
	states[0].State, states[1].State = finding.New, finding.Unchanged
	gone := states[0]
	gone.State, gone.At = finding.Mended, source.Span{}
	states[0].Causes = []finding.Cause{
		{Kind: finding.CauseValue, What: "mass of “" + strings.ToValidUTF8(hostileText, "?") + "”", Before: "]]> <b> |`[x](y) ::error::x", Now: "9 g", Was: spot(hostilePath, 3), At: spot(hostilePath, 4)},
		{Kind: finding.CauseGone, What: "“lamp”", Was: spot("catalogue.cue", 7)}, {Kind: finding.CauseNew, What: "“pot”", At: spot("catalogue.cue", 8)},
	}
	gone.Causes = []finding.Cause{{Kind: finding.CauseFile, Was: source.Span{File: "a.cue"}, At: source.Span{File: "a.cue"}, Count: 7}, {Kind: finding.CauseFiles, Count: 9}}
	hostile := finding.Finding{
		Rule: "input/value", Level: finding.Error, Path: hostilePath, Household: hostileText, Spot: "a~1b/" + hostileText, Message: hostileText, At: spot(hostilePath+"/kit.cue", 1),
		Because: []finding.Because{{Message: "and more"}, {Message: hostileText, At: spot("../x", 3)}, {Message: "{{0}} {1}"}},
		Limits:  []finding.Limit{{Name: "a.b", Value: hostileText, Source: "s"}, {Name: "a.c", Value: "1 %", Source: hostileText, At: spot(hostilePath, 4)}},
		Lack:    &finding.Shortfall{What: hostileText, Unit: "ml", Amount: 1_500},
		Remedy:  hostileText, Caution: hostileText, Waived: &finding.Waiver{Reason: hostileText, Until: "2027-01-01", Agreed: hostileText, At: spot(hostilePath, 5)},
	}
	file := finding.Finding{Rule: "input/path", Level: finding.Error, Path: "no\nwhere", Message: "there is no such file", At: source.Span{File: "no\nwhere"}}
	return map[string]*finding.Run{
		"empty":     made(nil),
		"clean":     made(func(r *finding.Run) { r.Households = two }),
		"usual":     made(func(r *finding.Run) { r.Households = run.Households }, checked...),
		"no rules":  made(func(r *finding.Run) { r.Households, r.Rules = run.Households, nil }, checked...),
		"hidden":    made(func(r *finding.Run) { r.Households, r.Least = run.Households, finding.Error }, append(slices.Clone(checked), finding.Finding{Rule: "x/y", Level: finding.Note, Path: "birch"})...),
		"all shown": made(func(r *finding.Run) { r.Households, r.Least = run.Households, finding.Note }, checked...),
		"states": made(func(r *finding.Run) {
			r.Households, r.Since, r.Untouched, r.Remarks = run.Households, "main", 4, []string{"the household at x is gone", hostileText}
		}, append(states, gone, finding.Finding{Rule: "x/y", Level: finding.Note, Path: "birch"})...),
		"part": made(func(r *finding.Run) {
			r.Households, r.Part, r.Partial = two, "3/8", "interrupted after 2 of 9 households"
		}, checked...),
		"share-safe": made(func(r *finding.Run) {
			r.Households = []finding.Household{{Name: "household-bcdf", Path: "folder-bcdf", Judged: true}}
			r.Shared = "key-bcdf"
		}, finding.Finding{Rule: "x/y", Level: finding.Error, Message: "a title", Household: "household-bcdf", Path: "folder-bcdf", Spot: "packs/*", Waived: &finding.Waiver{}}),
		"slips": made(func(r *finding.Run) { r.Households = two },
			finding.Finding{Rule: "input/value", Level: finding.Error, Path: "alder", At: spot("alder/kit.cue", 3), Edit: &finding.Edit{At: spot("alder/kit.cue", 3), New: "\"1 g\""}},
			finding.Finding{Rule: "input/value", Level: finding.Error, Path: "birch", At: spot("birch/é kit.cue", 4), Edit: &finding.Edit{At: source.Span{File: "birch/é kit.cue", Start: source.Point{Line: 4, Col: 7}, End: source.Point{Line: 4, Col: 7}}, New: "]]> {0} [here](1) <b>"}},
			finding.Finding{Rule: "input/value", Level: finding.Error, Path: "birch", At: spot("birch/kit.cue", 9), Edit: &finding.Edit{At: spot("birch/kit.cue", 9)}}),
		"hostile":  made(func(r *finding.Run) { r.Households = []finding.Household{{Name: hostileText, Path: hostilePath}} }, hostile, file),
		"absolute": made(nil, finding.Finding{Rule: "x/y", Level: finding.Note, Path: "p", At: spot("/p/kit.cue", 1)}),
		"a point":  made(nil, finding.Finding{Rule: "x/y", Level: finding.Note, Path: "p", At: source.Span{File: "p", Start: source.Point{Line: 7, Col: 1}}}),
	}
}

const (
	hostileText = "]]> <!-- --> &lt; {0} [here](1) \x00 \x1b[31m \xff\xed\xa0\x80 \u202Egnp.exe \uFFFE \u2028 'q' \"q\" `c`"
	hostilePath = "-a:b/100% #1?/né\nline \\ ]]>"
)

func written(t *testing.T, f func(io.Writer, *finding.Run, Options) error, r *finding.Run) string {
	t.Helper()
	var b bytes.Buffer
	if err := f(&b, r, Options{FailOn: finding.Error}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

type reader func(io.ReaderAt, int64) (*finding.Run, error)

func readBack(t *testing.T, f reader, s string) *finding.Run {
	t.Helper()
	r, err := f(strings.NewReader(s), int64(len(s)))
	if err != nil {
		t.Fatalf("%v\n%s", err, s)
	}
	return r
}

// What is written can be read and written again with the same bytes, and counts the same.
func TestReadIsTheReverseOfWrite(t *testing.T) {
	for name, r := range runs() {
		for form, f := range map[string]struct {
			write func(io.Writer, *finding.Run, Options) error
			read  reader
		}{"json": {JSON, ReadJSON}, "sarif": {SARIF, ReadSARIF}} {
			t.Run(name+" "+form, func(t *testing.T) {
				first := written(t, f.write, r)
				back := readBack(t, f.read, first)
				if diff := cmp.Diff(first, written(t, f.write, back)); diff != "" {
					t.Error(diff)
				}
				if diff := cmp.Diff(r.Summary, back.Summary); diff != "" {
					t.Error(diff)
				}
				if got, want := Count(back), Count(r); got != want {
					t.Errorf("got %s, want %s", got, want)
				}
				if !json.Valid([]byte(first)) {
					t.Error("this is not JSON")
				}
			})
		}
	}
}

// Parts of a repository, read back and put together by path, give the bytes that one run gives.
func TestPartsGiveTheWhole(t *testing.T) {
	var hs []finding.Household
	var fs []finding.Finding
	for i := range 9 {
		h := finding.Household{Name: fmt.Sprintf("H%d", i%7), Path: fmt.Sprintf("h%d", i), Judged: i != 4} // two names stand there twice
		hs = append(hs, h)
		for k := range i % 4 {
			fs = append(fs, finding.Finding{Rule: "a/b", Level: finding.Error, Household: h.Name, Path: h.Path, Spot: "packs/rust", Message: hostileText, At: spot(h.Path+"/kit.cue", k+1)})
		}
	}
	fs = append(fs, finding.Finding{Rule: "input/path", Level: finding.Error, Path: "x", Message: "no kit"})
	for form, f := range map[string]struct {
		write func(io.Writer, *finding.Run, Options) error
		read  reader
	}{"json": {JSON, ReadJSON}, "sarif": {SARIF, ReadSARIF}} {
		whole := made(func(r *finding.Run) { r.Households = hs }, fs...)
		var merged finding.Run
		var all []finding.Finding
		for n := range 3 {
			part := made(func(r *finding.Run) {
				r.Part = fmt.Sprintf("%d/3", n+1)
				for i := n; i < len(hs); i += 3 {
					r.Households = append(r.Households, hs[i])
				}
			}, slices.DeleteFunc(slices.Clone(fs), func(f finding.Finding) bool { return int(f.Path[len(f.Path)-1])%3 != n })...)
			back := readBack(t, f.read, written(t, f.write, part))
			if back.Part != part.Part {
				t.Errorf("part %q came back as %q", part.Part, back.Part)
			}
			found, err := back.Findings.All()
			if err != nil {
				t.Fatal(err)
			}
			merged.Version, merged.On, merged.Rules = back.Version, back.On, back.Rules
			merged.Households, all = append(merged.Households, back.Households...), append(all, found...)
		}
		slices.SortFunc(merged.Households, func(a, b finding.Household) int { return strings.Compare(a.Path, b.Path) })
		slices.SortStableFunc(all, func(a, b finding.Finding) int { return strings.Compare(a.Path, b.Path) })
		merged.Count(merged.Households, all...)
		if diff := cmp.Diff(written(t, f.write, whole), written(t, f.write, &merged)); diff != "" {
			t.Errorf("%s: %s", form, diff)
		}
	}
}

// JSON brings findings back whole.
func TestReadJSONGivesTheFindings(t *testing.T) {
	for name, r := range runs() {
		if name == "hostile" || name == "hidden" { // invalid UTF-8 and what is hidden do not come back
			continue
		}
		back := readBack(t, ReadJSON, written(t, JSON, r))
		want, _ := r.Findings.All()
		for range 2 { // it may be walked again
			got, err := back.Findings.All()
			if diff := cmp.Diff(want, got); diff != "" || err != nil {
				t.Errorf("%s: %v %s", name, err, diff)
			}
		}
	}
}

func TestReadRefuses(t *testing.T) {
	good := map[string]string{"json": written(t, JSON, runs()["states"]), "sarif": written(t, SARIF, runs()["states"])}
	readers := map[string]reader{"json": ReadJSON, "sarif": ReadSARIF}
	for _, c := range []struct{ form, old, new, want string }{
		{"json", `"tool": "kitmuster"`, `"tool": "other"`, `line 2, column 18: this was written by "other", not by kitmuster`},
		{"json", `"on"`, `"off"`, `unknown field "off"`},
		{"json", `"version": "v1.2.3",`, ``, `field "version" is missing`},
		{"json", `"tool": "kitmuster",`, `"tool": "kitmuster", "tool": "kitmuster",`, `field "tool" stands there twice`},
		{"json", `"level": "error"`, `"level": "grave"`, `"grave" is not a level`},
		{"json", `"state": "new"`, `"state": "old"`, `"old" is not a state`},
		{"json", `"since": "main",`, ``, `since does not say against what`},
		{"json", `"errors": 1`, `"errors": 2`, `the summary does not count what the file holds`},
		{"json", `"line": 8`, `"line": -8`, `count from 1`},
		{"json", `"line": 8`, `"line": 1e99`, `1e99`},
		{"json", `"households": [`, `"households": null, "x": [`, `unknown field "x"`},
		{"json", `"findings": [`, `"findings": {`, `a list is wanted here`},
		{"json", "}\n}\n", "}\n} {}", `more follows`},
		{"json", "}\n}\n", "}\n", `the file ends too early`},
		{"json", good["json"], "", `line 1, column 1: the file ends too early`},
		{"json", good["json"], "[]", `an object is wanted here`},
		{"json", good["json"], good["sarif"], `unknown field "$schema"`},
		{"sarif", `"version": "2.1.0"`, `"version": "2.2.0"`, `SARIF version "2.2.0" is not read`},
		{"sarif", `"name": "kitmuster"`, `"name": "other"`, `this was written by "other"`},
		{"sarif", `"unicodeCodePoints"`, `"utf16CodeUnits"`, `columns of "utf16CodeUnits" are not read`},
		{"sarif", `"baselineState":"new"`, `"baselineState":"updated"`, `"updated" is not a baseline state`},
		{"sarif", `"uri":"alder/kit.cue"`, `"uri":"alder/%zz"`, `invalid URL escape`},
		{"sarif", `"uri":"alder/kit.cue"`, `"uri":"alder/%6bit.cue"`, `is not a path as kitmuster writes it`},
		{"sarif", `"startLine":8`, `"startLine":0`, `count from 1`},
		{"sarif", `"id":1,"physicalLocation"`, `"id":7,"physicalLocation"`, `reason 1 is missing`},
		{"sarif", `"results": [`, `"results": [{"ruleId":"x","level":"error","locations":[{},{}]},`, `one location`},
		{"sarif", `"work": "add"`, `"work": "hurry"`, `"hurry" is no work that settles a finding`},
		{"sarif", "    }\n  ]\n}\n", "    }, {}\n  ]\n}\n", `a second run`},
	} {
		bad := strings.Replace(good[c.form], c.old, c.new, 1)
		if bad == good[c.form] {
			t.Errorf("%s: %q is not there to be replaced", c.form, c.old)
			continue
		}
		_, err := readers[c.form](strings.NewReader(bad), int64(len(bad)))
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "line ") && !strings.Contains(c.want, "summary") && !strings.Contains(c.want, "since") {
			t.Errorf("%q for %q: got %v, want %q", c.new, c.old, err, c.want)
		}
	}
}

// endless never ends a string.
type endless struct{ head string }

func (e endless) ReadAt(b []byte, at int64) (int, error) {
	for i := range b {
		if b[i] = 'a'; at+int64(i) < int64(len(e.head)) {
			b[i] = e.head[at+int64(i)]
		}
	}
	return len(b), nil
}

func TestAnEndlessValueIsRefused(t *testing.T) {
	if _, err := ReadJSON(endless{`{"tool": "`}, 1<<40); err == nil || !strings.Contains(err.Error(), "a value of more than 64 MiB") {
		t.Error(err)
	}
}

// A file that changes between two walks is an error of the walk.
func TestAFileThatChanges(t *testing.T) {
	b := []byte(written(t, JSON, runs()["usual"]))
	r, err := ReadJSON(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	copy(b[bytes.Index(b, []byte(`"findings"`)):], `"finding"`)
	if _, err := r.Findings.All(); err == nil {
		t.Error("nothing is said")
	}
}

// A path and its URI (RFC 3986): reversible, relative, of allowed characters only.
func TestURI(t *testing.T) {
	for path, want := range map[string]string{
		"a/kit.cue": "a/kit.cue", "a b": "a%20b", "100%": "100%25", "a#b?c": "a%23b%3Fc", "a\nb": "a%0Ab", "né水": "n%C3%A9%E6%B0%B4",
		"../up/kit.cue": "../up/kit.cue", "-rf": "-rf", "c:kit": "c%3Akit", "a/b:c": "a/b%3Ac", `a\b`: "a%5Cb", "\xff": "%FF", "/abs/kit.cue": "file:///abs/kit.cue", "//host/x": "file:////host/x", ".": ".", "a+b&c=d": "a%2Bb%26c%3Dd",
	} {
		got := uri(path)
		if got != want {
			t.Errorf("%q: got %s, want %s", path, got, want)
		}
		if back, err := pathOf(got); back != path || err != nil {
			t.Errorf("%q came back as %q, %v", path, back, err)
		}
	}
}

// sarifRead is a log as a reader that knows nothing of this program sees it.
func sarifRead(t *testing.T, r *finding.Run) (run map[string]any, results []map[string]any) {
	t.Helper()
	var log map[string]any
	if err := json.Unmarshal([]byte(written(t, SARIF, r)), &log); err != nil {
		t.Fatal(err)
	}
	run = log["runs"].([]any)[0].(map[string]any)
	for _, x := range run["results"].([]any) {
		results = append(results, x.(map[string]any))
	}
	return run, results
}

func TestSARIFResult(t *testing.T) {
	_, results := sarifRead(t, runs()["usual"])
	got := results[0]
	delete(got, "partialFingerprints")
	want := map[string]any{
		"ruleId": "load/body-mass-cap", "ruleIndex": 2.0, "level": "error", "message": map[string]any{"text": `too heavy\u001b[2J`},
		"locations": []any{map[string]any{
			"physicalLocation": map[string]any{
				"artifactLocation": map[string]any{"uri": "alder/kit.cue", "uriBaseId": "ROOT"},
				"region":           map[string]any{"startLine": 8.0, "startColumn": 9.0, "endLine": 8.0, "endColumn": 18.0},
			},
			"logicalLocations": []any{map[string]any{"fullyQualifiedName": "Alder/people/ana/load", "kind": "property"}},
		}},
		"relatedLocations": []any{map[string]any{
			"id": 1.0, "message": map[string]any{"text": "stove: 400 g"},
			"physicalLocation": map[string]any{
				"artifactLocation": map[string]any{"uri": "alder/kit.cue", "uriBaseId": "ROOT"},
				"region":           map[string]any{"startLine": 9.0, "startColumn": 1.0, "endLine": 9.0, "endColumn": 2.0},
			},
		}},
		"suppressions": []any{},
		"properties": map[string]any{
			"household": "Alder", "path": "alder", "spot": "people/ana/load", "title": "No load above the cap", "remedy": "Lighten it.", "caution": "Ask a practitioner.",
			"because": []any{map[string]any{"id": 2.0, "message": "and 3 more"}},
			"limits":  []any{map[string]any{"name": "load.adult_cap", "value": "15 %", "source": "common practice, no source", "layer": "base"}},
		},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	waived := results[1]["suppressions"].([]any)[0].(map[string]any)
	if waived["kind"] != "inSource" || waived["justification"] != "ordered (until 2026-12-01)" || waived["location"] == nil {
		t.Error(waived)
	}
}

// SARIF 2.1.0, 3.27.23 and 3.27.24: suppressions are given for all results or for none, and so is the baseline state.
func TestAllResultsHaveWhatOneHas(t *testing.T) {
	for name, r := range runs() {
		_, results := sarifRead(t, r)
		for _, x := range results {
			if x["suppressions"] == nil || (x["baselineState"] != nil) != (r.Since != "") {
				t.Errorf("%s: %v %v", name, x["suppressions"], x["baselineState"])
			}
		}
	}
	_, results := sarifRead(t, runs()["states"])
	var got []any
	for _, x := range results {
		got = append(got, x["baselineState"])
	}
	if diff := cmp.Diff([]any{"new", "unchanged", "absent", "new"}, got); diff != "" {
		t.Error(diff)
	}
}

func TestSARIFRun(t *testing.T) {
	for _, c := range []struct {
		run           string
		ok            bool
		notifications int
		id            string
	}{
		{"clean", true, 0, "kitmuster/check/2026-11-01"},
		{"usual", false, 1, "kitmuster/check/2026-11-01"},
		{"part", false, 1, "kitmuster/check/3-of-8/2026-11-01"},
		{"hostile", false, 1, "kitmuster/check/2026-11-01"},
	} {
		run, _ := sarifRead(t, runs()[c.run])
		inv := run["invocations"].([]any)[0].(map[string]any)
		n, _ := inv["toolExecutionNotifications"].([]any)
		if inv["executionSuccessful"] != c.ok || len(n) != c.notifications {
			t.Errorf("%s: %v", c.run, inv)
		}
		if got := run["automationDetails"].(map[string]any)["id"]; got != c.id {
			t.Errorf("%s: %v", c.run, got)
		}
	}
	// A path that leads to no household is no finding of one, and is not judged either.
	run, _ := sarifRead(t, made(func(r *finding.Run) { r.Households = two }, finding.Finding{Rule: "input/path", Level: finding.Error, Path: "x"}))
	if inv := run["invocations"].([]any)[0].(map[string]any); inv["executionSuccessful"] != false {
		t.Error(inv)
	}
}

func TestSemantic(t *testing.T) {
	for v, want := range map[string]string{
		"v1.2.3": "1.2.3", "v0.0.0-20261101120000-abcdefabcdef+dirty": "0.0.0-20261101120000-abcdefabcdef+dirty", "(devel)": "", "v1": "", "": "",
	} {
		if got := semantic(v); got != want {
			t.Errorf("%s: got %q, want %q", v, got, want)
		}
	}
}

// Nothing that a family writes is a placeholder, a link or markup (SARIF 2.1.0, 3.11.4 to 3.11.6).
func TestSARIFMessages(t *testing.T) {
	if got, want := message("{0} [a](1) <b>").Text, "{{0}} [a] (1) <b>"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := markdown("<b> *x* [a](1) {0}"), `&lt;b\> \*x\* \[a\](1) \{{0\}}`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func fingerprintsOf(t *testing.T, r *finding.Run) (out []string) {
	t.Helper()
	_, results := sarifRead(t, r)
	for _, x := range results {
		out = append(out, x["partialFingerprints"].(map[string]any)["kitmuster/v1"].(string))
	}
	return out
}

// A fingerprint stays when lines, words and folders change, and tells findings apart.
func TestFingerprints(t *testing.T) {
	f := finding.Finding{Rule: "a/b", Level: finding.Error, Household: "Alder", Path: "alder", Spot: "packs/rust", Message: "one", At: spot("alder/kit.cue", 1)}
	one := func(change func(*finding.Finding)) string {
		g := f
		change(&g)
		return fingerprintsOf(t, made(func(r *finding.Run) { r.Households = []finding.Household{{Name: g.Household, Path: g.Path}} }, g))[0]
	}
	base := one(func(*finding.Finding) {})
	for name, same := range map[string]func(*finding.Finding){
		"line": func(g *finding.Finding) { g.At.Start.Line = 9 }, "wording": func(g *finding.Finding) { g.Message = "two" }, "folder": func(g *finding.Finding) { g.Path = "moved" },
		"level": func(g *finding.Finding) { g.Level = finding.Note }, "waiver": func(g *finding.Finding) { g.Waived = &finding.Waiver{} },
	} {
		if one(same) != base {
			t.Errorf("another %s gives another fingerprint", name)
		}
	}
	for name, other := range map[string]func(*finding.Finding){
		"rule": func(g *finding.Finding) { g.Rule = "a/c" }, "spot": func(g *finding.Finding) { g.Spot = "packs/blue" }, "household": func(g *finding.Finding) { g.Household = "Birch" },
		"no name": func(g *finding.Finding) { g.Household = "" },
	} {
		if one(other) == base {
			t.Errorf("another %s gives the same fingerprint", name)
		}
	}
	// Of two households with one name, each is known by its folder; twice the same is numbered; what is mended comes last.
	twin, again, mended := f, f, f
	twin.Path, again.Message, mended.Message, mended.State = "bough", "three", "aaa", finding.Mended
	both := []finding.Household{{Name: "Alder", Path: "alder"}, {Name: "Alder", Path: "bough"}}
	got := fingerprintsOf(t, made(func(r *finding.Run) { r.Households = both }, mended, f, again, twin))
	if unique := slices.Compact(slices.Sorted(slices.Values(got))); len(unique) != 4 {
		t.Errorf("%v are not all different", got)
	}
	if without := fingerprintsOf(t, made(func(r *finding.Run) { r.Households = both }, f, again, twin)); !slices.Equal(got[1:], without) {
		t.Errorf("a mended finding renumbers the others: %v, %v", got, without)
	}
}

type xmlSuites struct {
	Suites []struct {
		Name     string `xml:"name,attr"`
		Package  string `xml:"package,attr"`
		ID       int    `xml:"id,attr"`
		Time     string `xml:"timestamp,attr"`
		Tests    int    `xml:"tests,attr"`
		Failures int    `xml:"failures,attr"`
		Errors   int    `xml:"errors,attr"`
		Skipped  int    `xml:"skipped,attr"`
		Cases    []struct {
			Name    string   `xml:"name,attr"`
			Class   string   `xml:"classname,attr"`
			Failure *xmlSaid `xml:"failure"`
			Error   *xmlSaid `xml:"error"`
			Skipped *xmlSaid `xml:"skipped"`
		} `xml:"testcase"`
		Out string `xml:"system-out"`
	} `xml:"testsuite"`
}

type xmlSaid struct {
	Type    string `xml:"type,attr"`
	Message string `xml:"message,attr"`
	Text    string `xml:",chardata"`
}

func junitRead(t *testing.T, r *finding.Run, o Options) (out xmlSuites) {
	t.Helper()
	var b bytes.Buffer
	if err := JUnit(&b, r, o); err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(b.Bytes(), &out); err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	for i, s := range out.Suites {
		failures, errors, skips := 0, 0, 0
		for _, c := range s.Cases {
			failures, errors, skips = failures+tally(c.Failure), errors+tally(c.Error), skips+tally(c.Skipped)
		}
		if s.ID != i || s.Tests != len(s.Cases) || s.Failures != failures || s.Errors != errors || s.Skipped != skips || s.Time != "2026-11-01T00:00:00" {
			t.Errorf("suite %d does not count itself: %+v", i, s)
		}
	}
	return out
}

func tally(x *xmlSaid) int {
	if x == nil {
		return 0
	}
	return 1
}

// short says in a line what each suite holds.
func (x xmlSuites) short() (out []string) {
	for _, s := range x.Suites {
		line := s.Name + ":"
		for _, c := range s.Cases {
			what := "passed"
			switch {
			case c.Failure != nil:
				what = "failure " + c.Failure.Type
			case c.Error != nil:
				what = "error " + c.Error.Type
			case c.Skipped != nil:
				what = "skipped"
			}
			line += fmt.Sprintf(" [%s | %s | %s]", c.Class, c.Name, what)
		}
		out = append(out, line)
	}
	return out
}

func TestJUnit(t *testing.T) {
	lone := finding.Finding{Rule: "input/path", Level: finding.Error, Path: "a.txt", Message: "no kit"}
	gone := finding.Finding{Rule: "a/b", Level: finding.Error, Household: "Cedar", Path: "cedar", Message: "was so", State: finding.Mended}
	note := finding.Finding{Rule: "a/b", Level: finding.Note, Household: "Alder", Path: "alder", Message: "small", State: finding.New}
	for name, c := range map[string]struct {
		run    *finding.Run
		failOn finding.Level
		want   []string
	}{
		"clean": {runs()["clean"], finding.Error, []string{"Alder: [household | nothing found | passed]", "Birch: [household | nothing found | passed]"}},
		"usual": {runs()["usual"], finding.Error, []string{
			"Alder: [load | load/body-mass-cap people/ana/load | failure load/body-mass-cap] [fire | fire/two-means packs/rust | skipped]",
			"birch: [household | household judged | error unjudged]",
		}},
		"never": {runs()["part"], "", []string{
			"run: [run | run whole | error partial]",
			"Alder: [load | load/body-mass-cap people/ana/load | passed] [fire | fire/two-means packs/rust | skipped]", "Birch: [household | nothing found | passed]",
		}},
		"paths and what is gone": {made(func(r *finding.Run) { r.Households, r.Since = two, "main" }, lone, note, note, gone), finding.Note, []string{
			"Alder: [a | a/b | failure a/b] [a | a/b (2) | failure a/b]", "Birch: [household | nothing found | passed]",
			"Cedar: [a | a/b (fixed) | passed]", "paths: [input | input/path | error input/path]",
		}},
		"only the new fail": {runs()["states"], finding.Error, []string{
			"run: [run | run whole | passed]",
			"Alder: [load | load/body-mass-cap people/ana/load | failure load/body-mass-cap] [fire | fire/two-means packs/rust | skipped] [load | load/body-mass-cap people/ana/load (fixed) | passed]",
			"birch: [household | household judged | error unjudged] [x | x/y | passed]",
		}},
	} {
		if diff := cmp.Diff(c.want, junitRead(t, c.run, Options{FailOn: c.failOn}).short()); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	s := junitRead(t, runs()["usual"], Options{FailOn: finding.Error}).Suites[0]
	if f := s.Cases[0].Failure; f.Message != `too heavy\u001b[2J` || !strings.HasPrefix(f.Text, "\nerror, not met: No load above the cap\n  alder/kit.cue:8:9 [load/body-mass-cap] spot people/ana/load\n    too heavy\\u001b[2J\n") || !strings.Contains(f.Text, "\n  Caution: Ask a practitioner.\n") {
		t.Errorf("%+v", f)
	}
	if m := s.Cases[1].Skipped.Message; m != "waived: ordered (until 2026-12-01)" || !strings.Contains(s.Out, "waived warning: fire/two-means") {
		t.Errorf("%s; %s", m, s.Out)
	}
}

// The same run, whatever was written before, gives the same bytes; and a walk that breaks breaks the writing.
func TestAWalkThatBreaks(t *testing.T) {
	r := runs()["usual"]
	broken := *r
	broken.Findings = func(yield func(*finding.Finding, error) bool) {
		if yield(&checked[0], nil) {
			yield(nil, io.ErrUnexpectedEOF)
		}
	}
	for _, f := range Formats {
		if first, again := written(t, f.Write, r), written(t, f.Write, r); first != again {
			t.Errorf("%s differs", f.Name)
		}
		if err := f.Write(io.Discard, &broken, Options{}); err != io.ErrUnexpectedEOF {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
}

// One household at a time is in memory, however many there are.
func TestNoFormatGathersTheRun(t *testing.T) {
	const households, each = 2_000, 10
	r := made(nil)
	for i := range households {
		r.Summary.Households++
		r.Households = append(r.Households, finding.Household{Name: fmt.Sprintf("h%04d", i), Path: fmt.Sprintf("h%04d", i), Judged: true})
	}
	var before, after runtime.MemStats
	r.Findings = func(yield func(*finding.Finding, error) bool) {
		for i := range households {
			for k := range each {
				f := finding.Finding{Rule: "a/b", Level: finding.Error, Household: r.Households[i].Name, Path: r.Households[i].Path, Message: strings.Repeat("x", 1000+k)}
				if !yield(&f, nil) {
					return
				}
			}
		}
		runtime.GC()
		runtime.ReadMemStats(&after)
	}
	for _, f := range Formats {
		runtime.GC()
		runtime.ReadMemStats(&before)
		if err := f.Write(io.Discard, r, Options{FailOn: finding.Error}); err != nil {
			t.Fatal(err)
		}
		const all = households * each * 1000
		if grown := int64(after.HeapAlloc) - int64(before.HeapAlloc); grown > all/10 {
			t.Errorf("%s holds %d kB at the end of %d kB of findings", f.Name, grown>>10, all>>10)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, r := range runs() {
		for _, write := range []func(io.Writer, *finding.Run, Options) error{JSON, SARIF} {
			var b bytes.Buffer
			if err := write(&b, r, Options{}); err != nil {
				f.Fatal(err)
			}
			f.Add(b.Bytes())
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		for _, c := range []struct {
			read  reader
			write func(io.Writer, *finding.Run, Options) error
		}{{ReadJSON, JSON}, {ReadSARIF, SARIF}} {
			r, err := c.read(bytes.NewReader(b), int64(len(b)))
			if err != nil {
				continue
			}
			first := written(t, c.write, r) // what was read at all is written in our own form, and that comes back as it is
			if again := written(t, c.write, readBack(t, c.read, first)); first != again {
				t.Errorf("%s\n%s", first, again)
			}
		}
	})
}
