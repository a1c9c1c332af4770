package standard

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/judge"
	"kitmuster/lint/load"
)

// fresh is a new standard, some of its files replaced, as read.
func fresh(t *testing.T, replace map[string]string) (fstest.MapFS, *load.Standard) {
	t.Helper()
	tree := fstest.MapFS{}
	for name, b := range New("harrow-valley", "2.0.0") {
		tree[name] = &fstest.MapFile{Data: b}
	}
	for name, text := range replace {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	s, faults := load.ReadStandard(tree, load.Options{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return tree, s
}

// The same source gives the same files, whatever lies there of earlier ones; and what they say is fresh then.
func TestBuild(t *testing.T) {
	tree, s := fresh(t, nil)
	b, problems := Build(tree, s, "s")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	want := []string{ManifestFile, ReadmeFile, "limits/harrow_valley/data.json"}
	if diff := cmp.Diff(want, b.Stale(tree)); diff != "" {
		t.Error(diff)
	}
	for name, text := range b.Files {
		tree[name] = &fstest.MapFile{Data: text}
	}
	tree["limits/harrow_valley/data.json"].Data = []byte(`{"a": 1}`)
	again, problems := Build(tree, s, "s")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if diff := cmp.Diff(want[2:], again.Stale(tree)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(b.Files, again.Files); diff != "" {
		t.Error(diff)
	}
}

// What a group wrote is text in the page: it makes no HTML, no link, no heading and no further column.
func TestReadmeIsText(t *testing.T) {
	const odd = "<script>alert(1)</script> | [x](http://odd.example) # `y` \u202e"
	tree, s := fresh(t, nil)
	s.Title, s.Description = odd, "first\n\n## second "+odd
	s.Limits[0].Meaning, s.Limits[0].Source = odd, odd
	s.Off = map[string]string{"practice/shakedown": odd}
	b, problems := Build(tree, s, "s")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	page := string(b.Files[ReadmeFile])
	for _, bad := range []string{"<script", "](http", "\n## second", "\u202e"} {
		if strings.Contains(strings.ReplaceAll(page, `\]`, ""), bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, "| bulk.most") && strings.Count(strings.ReplaceAll(line, `\|`, ""), "|") != 8 {
			t.Errorf("another number of columns: %s", line)
		}
	}
}

// A fence is longer than any within an example.
func TestFence(t *testing.T) {
	var w bytes.Buffer
	fenced(func(format string, args ...any) { w.WriteString(args[1].(string) + "\n") }, "Passes", "a\n```\nb")
	if w.String() != "````\n" {
		t.Errorf("%q", w.String())
	}
}

// What is wrong with what was made is told where it was written.
func TestBuildProblems(t *testing.T) {
	source := string(New("harrow-valley", "2.0.0")[load.StandardFile])
	in := func(from, to string) map[string]string {
		if !strings.Contains(source, from) {
			t.Fatalf("%q is not there", from)
		}
		return map[string]string{load.StandardFile: strings.Replace(source, from, to, 1)}
	}
	for _, c := range []struct {
		why     string
		replace map[string]string
		want    string
	}{
		{"no mass", in(`"25 kg"`, `"25 km"`), `s/standard.cue:10:12: limit bulk.most: value: "km" is a unit of length`},
		{"finer than the limit can be", in("\tsource:", "\tleast: \"0.1 mg\"\n\tsource:"), "s/standard.cue:14:9: limit bulk.most: least: 0.1 mg is finer than the limit can be"},
		{"out of its own range", in("\tsource:", "\tleast: \"26 kg\"\n\tsource:"), "s/standard.cue:9:15: limit bulk.most: its value is out of its own range"},
		{"another unit than the base's", in("limits: bulk", "limits: medication: days: {value: \"5 h\", unit: \"min\", stricter: \"higher\", meaning: \"m\", source: \"s\"}\nlimits: bulk"), `s/standard.cue:9:21: limit medication.days has the unit "days" in base`},
		{"a rule that is not there", in("limits: bulk", "off: \"fire/no-means\": \"x\"\nlimits: bulk"), "s/standard.cue:9:23: off: no rule of an earlier standard is called fire/no-means"},
		{"a rule of the heart", in("limits: bulk", "off: \"fire/two-means\": \"x\"\nlimits: bulk"), "s/standard.cue:9:24: off: fire/two-means is of the heart"},
		{"another base", in(`"2.0.0"`, `"3.0.0"`), "s/standard.cue:5:14: harrow-valley 0.1.0 needs version 3.0.0"},
		{"a page of somebody's", map[string]string{ReadmeFile: "# Our standard\n"}, "s/README.md:1:1: this page was not made by kitmuster standard build"},
		{"an empty page", map[string]string{ReadmeFile: ""}, "s/README.md:1:1: this page was not made"},
		{"data beside the data", map[string]string{"rules/data.json": "{}"}, "s/rules/data.json:1:1: a standard's data is its limits"},
		{"a rule of another name", map[string]string{"rules/upper/x.rego": "package rules.upper.x\n\ny := 1\n"}, "s/rules/upper/x.rego:1:1: package rules.upper.x"},
	} {
		tree, s := fresh(t, c.replace)
		b, problems := Build(tree, s, "s")
		said := ""
		for _, p := range problems {
			said += p.String() + "\n"
		}
		if b != nil || !strings.Contains(said, c.want) {
			t.Errorf("%s: %s, want %s", c.why, said, c.want)
		}
	}
}

// What a standard is and changes, for programs.
func TestDescribe(t *testing.T) {
	tree, s := fresh(t, map[string]string{load.StandardFile: strings.Replace(string(New("harrow-valley", "2.0.0")[load.StandardFile]), "limits: bulk",
		"limits: medication: days: {value: \"5 days\", unit: \"days\", stricter: \"higher\", meaning: \"m\", source: \"s\"}\noff: \"practice/shakedown\": \"we walk\"\nlimits: bulk", 1)})
	b, problems := Build(tree, s, "s")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	want := &Described{Name: "harrow-valley", Version: "0.1.0", Needs: "2.0.0", Base: must(judge.ReadManifest(judge.Base())).Version, Digest: "d", Signed: true,
		Rules: []RuleLine{{"harrow-valley:bulk/too-heavy", "warning", "Each pack is light enough to lift over an obstacle", "s/rules/harrow_valley/bulk.rego:21"}},
		Limits: []LimitLine{
			{Name: "bulk.most", Change: "added", Value: "25 kg", Meaning: "most mass of one pack, no matter who carries it", Source: "common practice, no source", At: "s/standard.cue:11:15"},
			{Name: "medication.days", Change: "loosened", Value: "5 days", Before: "7 days", Meaning: "m", Source: "s", At: "s/standard.cue:9:21"},
		},
		Off: []SwitchedOff{{"practice/shakedown", "we walk"}}}
	if diff := cmp.Diff(want, Describe(b.Rulebook, "d", true)); diff != "" {
		t.Error(diff)
	}
}

// Over replaces files and leaves the folder as it was.
func TestOver(t *testing.T) {
	tree := sample()
	over, err := Over(tree, map[string][]byte{"standard.cue": []byte("x"), "new/file": []byte("y")})
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"standard.cue": "x", "new/file": "y", "rules/a/b.rego": "package rules.a.b\n"} {
		if got, err := fs.ReadFile(over, name); string(got) != want || err != nil {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	if _, err := fs.Stat(over, ".git/config"); err == nil {
		t.Error("what is hidden came along")
	}
	if string(tree["standard.cue"].Data) != "package standard\n" {
		t.Error("the folder has changed")
	}
}
