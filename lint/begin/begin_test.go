package begin

import (
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/lines"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
)

// typed is a family's evening, an answer a line, with slips, steps back, and things that are not known.
const typed = `Alder
Ana
forty
42
68
68 kg
heart pills
2

yes
1.2 kg
Bo
back
Ben
9 y
?
don't know

yes


Rex
cow
dog
24 kg


72
flood, fier
flood, fire
town
winter
8 °C
99999
2 °C
weather service, mean of January
47.5 N
6.5 km

house
north door of the "school"
Ines

yes
`

func talk(t *testing.T, a Answers, in string) (string, bool, []string) {
	t.Helper()
	var out strings.Builder
	var kept []string
	done, err := Talk(&lines.Talk{In: strings.NewReader(in), Out: &out, Width: 40}, a, func(now Answers) error {
		kept = append(kept, string(now.Text()))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(out.String()), " "), done, kept
}

func read(t *testing.T, files map[string][]byte) *load.Loaded {
	t.Helper()
	tree := fstest.MapFS{}
	for name, b := range files {
		tree[name] = &fstest.MapFile{Data: b, Mode: 0o644}
		if again, err := rewrite.Format(b); err != nil || string(again) != string(b) {
			t.Errorf("%s is not formatted: %v", name, err)
		}
	}
	return load.Household(tree, ".", load.Options{})
}

// An evening gives a kit in which everything that was said stands, and nothing else; whatever the line ends are.
func TestTalk(t *testing.T) {
	for _, end := range []string{"\n", "\r\n"} {
		a := Answers{}
		said, done, _ := talk(t, a, strings.ReplaceAll(typed, "\n", end))
		if !done {
			t.Fatal(said)
		}
		for _, want := range []string{
			`Not taken: age: no number before "forty"`, `Not taken: bodyMass: no unit after 68`, "Kept: 42 y", "Taken back: Bo", "Kept: Ben",
			`"cow" is none of the words here; there are: cat, dog, horse, other`, "did you mean fire?", "Not taken: night: no unit after 99999",
			"Kept: not known yet.", "Type the answer, or Enter alone",
		} {
			if !strings.Contains(said, want) {
				t.Errorf("never said %q in %s", want, said)
			}
		}
		files, err := Files(a)
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.Sorted(maps.Keys(files)); !slices.Equal(got, []string{"catalogue.cue", "household.cue", "pack_ana.cue", "pack_ben.cue"}) {
			t.Error(got)
		}
		l := read(t, files)
		if len(l.Faults) > 0 {
			t.Fatal(l.Faults)
		}
		for _, p := range l.Kit.Packs {
			for _, c := range p.Compartments {
				if len(c.Items) > 0 {
					t.Errorf("%s counts as packed", c.Items[0].Name)
				}
			}
		}
		all := string(files["household.cue"]) + string(files["pack_ana.cue"])
		for _, want := range []string{
			`bodyMass: "68 kg"`, "perDay: 2", "// Not known yet: bodyMass", `species:  "dog"`, `where: "north door of the \"school\""`, "// These figures are from: weather service, mean of January.",
			"// Not known yet: climb", "// whistle: _catalogue.whistle", `of: "heart_pills", doses: number`, "// Not known yet: phone", "outOfArea: true",
		} {
			if !strings.Contains(all, want) {
				t.Errorf("no %s in\n%s", want, all)
			}
		}
	}
}

// Wherever an evening ends, what was kept is all that was confirmed, and the next goes on from there to the same kit.
func TestAnyEnd(t *testing.T) {
	whole := Answers{}
	_, _, kept := talk(t, whole, typed)
	want, err := Files(whole)
	if err != nil {
		t.Fatal(err)
	}
	ls := strings.SplitAfter(typed, "\n")
	for _, i := range []int{0, 1, 5, 13, 20, 33, len(ls) - 3} {
		a := Answers{}
		_, done, now := talk(t, a, strings.Join(ls[:i], "")+"half")
		if done {
			t.Fatalf("done after %d lines", i)
		}
		if i > 0 && !slices.Equal(now, kept[:len(now)]) {
			t.Errorf("%d lines: kept otherwise", i)
		}
		again, err := Read(a.Text())
		if err != nil || !maps.Equal(again, a) {
			t.Fatalf("%d lines: %v\n%v\n%v", i, err, again, a)
		}
		if _, done, _ := talk(t, again, strings.Join(ls[i:], "")); !done {
			t.Fatalf("%d lines: not done", i)
		}
		got, err := Files(again)
		if err != nil || !maps.EqualFunc(got, want, slices.Equal) {
			t.Errorf("%d lines: another kit (%v)", i, err)
		}
	}
}

// One can go back to the very first question, and know nothing at all.
func TestBackAndUnknown(t *testing.T) {
	a := Answers{}
	said, done, _ := talk(t, a, "Alder\nAna\nback\nback\nback\nBirch\n\nAda\nquit\n")
	if done || !strings.Contains(said, "This is the first question.") || !strings.Contains(said, "A kit needs one person at least") || !maps.Equal(a, Answers{"household": "Birch", "person 1": "Ada"}) {
		t.Error(a, said)
	}
	Fill(a)
	files, err := Files(a)
	if err != nil {
		t.Fatal(err)
	}
	if l := read(t, files); l.Kit == nil || slices.ContainsFunc(l.Faults, func(f load.Fault) bool { return f.Rule != "input/missing" }) {
		t.Error(l.Faults)
	}
	if strings.Contains(string(files["household.cue"]), "carries") && !strings.Contains(string(files["household.cue"]), "// Not known yet: a pack") {
		t.Error(string(files["household.cue"]))
	}
}

var hidden = regexp.MustCompile(`(?m)^(\t+)// ([a-z_]+: (\{|_catalogue))`)

// Once the // is taken away everything that is suggested reads, but for the doses, which someone must count.
func TestSuggestedReads(t *testing.T) {
	a := Answers{}
	talk(t, a, typed)
	files, err := Files(a)
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range files {
		if strings.HasPrefix(name, "pack_") {
			b = hidden.ReplaceAll(b, []byte("$1$2"))
			if files[name], err = rewrite.Format(b); err != nil {
				t.Fatal(err)
			}
		}
	}
	l := read(t, files)
	for _, f := range l.Faults {
		if !strings.HasSuffix(f.Spot, "/medicine/doses") {
			t.Errorf("%s: %s", f.Spot, f.Message)
		}
	}
	if len(l.Faults) != 1 {
		t.Errorf("%d faults; the doses are still to be counted", len(l.Faults))
	}
	n := 0
	for _, p := range l.Kit.Packs {
		for _, c := range p.Compartments {
			n += len(c.Items)
		}
	}
	if n != 49 {
		t.Errorf("%d things", n)
	}
}

// A file of answers that is not one is told with its line; what it leaves out is not known.
func TestRead(t *testing.T) {
	for text, want := range map[string]string{
		"household: Alder\nperson 1: Ana\nperson 1 age: 42\nperson 1 weihgt: 68 kg\n": `line 4: "person 1 weihgt" is no question here; did you mean person 1 weight?`,
		"household: Alder\nperson 1: Ana\nperson 1 age: 42 kg\n":                      `line 3: person 1 age: age: "kg" is a unit of mass`,
		"household: [a]\n":                      "line 1: one question and its answer a line",
		"household: A\nhousehold: B\n":          `line 2: "household" is answered twice`,
		"- a\n":                                 "it has no answers",
		"a: &x b\nc: *x\n":                      "line 2: one question and its answer a line",
		"\t: {":                                 "it is not YAML: ",
		strings.Repeat("#", MostBytes+1):        "at most 256 kB",
		"person 1: Ana\nperson 1 pack: perhaps": `line 2: person 1 pack: "perhaps" is none of the words here`,
		"person 1: " + strings.Repeat("a", 61):  "line 1: person 1: a name may have 60 letters at most",
	} {
		if _, err := Read([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60q: %v, wanted %s", text, err, want)
		}
	}
	a, err := Read([]byte("person 1: Ana\nperson 1 weight: 150 lb\nduration: 72\n"))
	if err != nil || a["household"] != unknown || a["person 1 age"] != unknown || a["duration"] != "72 h" || a["animal 1"] != none {
		t.Error(a, err)
	}
}

// Nothing that is typed leaves a name's own quotes, and two of one name are told apart.
func TestNames(t *testing.T) {
	a := Answers{}
	said, _, _ := talk(t, a, "\"}, x: {\nJo Ann\n\n\n\n\nJo-Ann\n\n\n\n\njo ann\n花\n\n\n\ny\n")
	if !strings.Contains(said, "there is one called Jo Ann already") {
		t.Error(said)
	}
	Fill(a)
	files, err := Files(a)
	if err != nil {
		t.Fatal(err)
	}
	l := read(t, files)
	if l.Kit == nil || len(l.Kit.People) != 3 || l.Kit.Name != `"}, x: {` || l.Kit.People[2].Name != "花" {
		t.Errorf("%v\n%s", l.Faults, files["household.cue"])
	}
}

// FuzzTake: whatever is typed, there is a kit or a sentence.
func FuzzTake(f *testing.F) {
	f.Add("42 y\n*/ \"\\(x)\" `")
	f.Fuzz(func(t *testing.T, s string) {
		a := Answers{}
		if _, err := Talk(&lines.Talk{In: strings.NewReader(s + "\nquit\n"), Out: io.Discard}, a, func(Answers) error { return nil }); err != nil {
			t.Fatal(err)
		}
		Fill(a)
		if _, err := Files(a); err != nil {
			t.Fatal(err)
		}
		if _, err := Read(a.Text()); err != nil {
			t.Fatal(err)
		}
	})
}
