package lint_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/load"
	"kitmuster/lint/source"
	"kitmuster/lint/testkit"
)

// The corpus of the trade: whole households that do not exist, in testdata/trade. The first line of each file says what it is:
//
//	// careful: a winter flood …   packed as someone would who does this for a living
//	// faults: a winter flood …    with faults planted
//
// A planted fault stands at the item or field to change, or where what is missing should be said:
//
//	// fault RULE|RULE: what is wrong ; fault RULE: what else is wrong
//
// It is found if one of its rules objects in this household, and found at its spot if that finding starts on this line or says that the
// thing of this line is used there. Where the right spot is on no line of its own, as of a thing that a catalogue's set brings along, or
// of what is missing in a pack, RULE@SPOT names it. One finding finds one fault, or several of one line.
//
// Findings on careful households are surplus. Each has its argument in argued.txt: what a sensible reader would make of it. With -update,
// arguments that nothing needs go, and each finding without one gets a line to be argued; until it is, the test fails.
const (
	trade       = "testdata/trade"
	tradeGolden = trade + "/golden.txt"
	tradeArgued = trade + "/argued.txt"
)

// corpus is what stands in testdata/trade, in memory.
func corpus(t testing.TB) fstest.MapFS {
	t.Helper()
	tree, disk := fstest.MapFS{}, os.DirFS(trade)
	for _, pattern := range []string{"*.cue", "*/*.cue"} {
		names, err := fs.Glob(disk, pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			b, err := fs.ReadFile(disk, name)
			if err != nil {
				t.Fatal(err)
			}
			tree[name] = &fstest.MapFile{Data: b}
		}
	}
	return tree
}

// tradeTree is the corpus as far as the schema of this program knows it.
func tradeTree(t testing.TB) fstest.MapFS {
	t.Helper()
	tree := corpus(t)
	for _, dir := range tradeDirs(t, tree) {
		known(t, tree, dir)
	}
	return tree
}

// tradeDirs are the folders of the households.
func tradeDirs(t testing.TB, tree fstest.MapFS) []string {
	t.Helper()
	dirs, faults := load.Find(tree, []string{"..."}, load.Options{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return dirs
}

// known blanks the lines that end in "// new" and say what the schema of this program does not know.
func known(t testing.TB, tree fstest.MapFS, dir string) (left []int) {
	t.Helper()
	files, err := fs.Glob(tree, path.Join(dir, "*.cue"))
	if err != nil || len(files) != 1 {
		t.Fatal(dir, files, err)
	}
	file := files[0]
	for {
		l := load.Household(tree, dir, load.Options{})
		if len(l.Faults) == 0 {
			return left
		}
		lines := strings.Split(string(tree[file].Data), "\n")
		before := len(left)
		for _, f := range l.Faults {
			n := f.At.Start.Line
			if f.At.File != file || !strings.Contains(lines[n-1], "// new") {
				t.Fatalf("%s: %s [%s]", f.At, f.Message, f.Rule)
			}
			if !slices.Contains(left, n) {
				left = append(left, n)
			}
		}
		for _, n := range left[before:] {
			lines[n-1] = ""
		}
		tree[file] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n"))}
	}
}

// A planted fault.
type planted struct {
	line  int
	rules []string
	spots []string // of each rule, or ""
	what  string

	by *finding.Finding // the finding that found it, or nil
	at bool             // at its spot
}

var plantedWords = regexp.MustCompile(`fault ([a-zA-Z0-9_/|@-]+): (.*)`)

// plantedIn reads the faults that the text of a household names.
func plantedIn(t testing.TB, file, text string) (out []*planted) {
	t.Helper()
	for i, line := range strings.Split(text, "\n") {
		_, comment, _ := strings.Cut(line, " // ")
		for part := range strings.SplitSeq(comment, " ; ") {
			m := plantedWords.FindStringSubmatch(part)
			switch {
			case m != nil:
				p := &planted{line: i + 1, what: m[2]}
				for r := range strings.SplitSeq(m[1], "|") {
					rule, spot, _ := strings.Cut(r, "@")
					p.rules, p.spots = append(p.rules, rule), append(p.spots, spot)
				}
				out = append(out, p)
			case strings.Contains(part, "fault "):
				t.Errorf("%s:%d: a fault is written as // fault RULE: what is wrong", file, i+1)
			}
		}
	}
	return out
}

// stands reports whether a finding is at the spot of a fault: it starts on its line, is about a thing used there, or has the spot named.
func (p *planted) stands(f *finding.Finding, file string) bool {
	at := func(s source.Span) bool { return s.File == file && s.Start.Line == p.line }
	return at(f.At) || slices.ContainsFunc(f.Because, func(b finding.Because) bool { return b.Message == "used here" && at(b.At) }) ||
		p.spots[slices.Index(p.rules, f.Rule)] == f.Spot
}

// hunt leads findings to planted faults, and gives the findings that found none. Those at a spot come first.
func hunt(file string, faults []*planted, found []finding.Finding) (rest []finding.Finding) {
	used := make([]int, len(found)) // the line of the faults that each finding found
	for _, near := range []bool{true, false} {
		for _, p := range faults {
			for i := range found {
				f := &found[i]
				if p.by == nil && slices.Contains(p.rules, f.Rule) && (used[i] == 0 || used[i] == p.line) && p.stands(f, file) == near {
					p.by, p.at, used[i] = f, near, p.line
				}
			}
		}
	}
	for i := range found {
		if used[i] == 0 {
			rest = append(rest, found[i])
		}
	}
	return rest
}

// An argument says what a sensible reader makes of findings on careful households.
type argument struct {
	verdict, household, rule, why string // household may be *, which stands for any

	used bool
}

// notArgued begins the reason of an argument that -update has written.
const notArgued = "NOT ARGUED"

func (a *argument) String() string {
	return fmt.Sprintf("%s %s %s: %s\n", a.verdict, a.household, a.rule, a.why)
}

// arguments are the lines of argued.txt: a verdict, a household, a rule and the reason.
type arguments []*argument

func argued(t testing.TB) (out arguments) {
	t.Helper()
	b, err := os.ReadFile(tradeArgued)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(b)) {
		head, why, _ := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
		w := strings.Fields(head)
		if len(w) != 3 || why == "" || !slices.Contains([]string{"useful", "doubtful", "false"}, w[0]) {
			t.Fatalf("%s: a line is VERDICT HOUSEHOLD RULE: why, not %s", tradeArgued, line)
		}
		out = append(out, &argument{verdict: w[0], household: w[1], rule: w[2], why: why})
	}
	return out
}

// about is the argument about a finding on the household in folder dir; a new one where there is none.
func (as *arguments) about(dir string, f *finding.Finding) *argument {
	i := slices.IndexFunc(*as, func(a *argument) bool { return (a.household == dir || a.household == "*") && a.rule == f.Rule })
	if i < 0 {
		a := &argument{verdict: "doubtful", household: dir, rule: f.Rule, why: notArgued + ": " + f.Message}
		if f.Level == finding.Error {
			a.verdict = "false"
		}
		*as, i = append(*as, a), len(*as)
	}
	(*as)[i].used = true
	return (*as)[i]
}

// settle says what is left to argue, and what is argued for nothing; with -update the file is rewritten.
func (as arguments) settle(t *testing.T) {
	t.Helper()
	var text strings.Builder
	for _, a := range as {
		switch {
		case !a.used && !*testkit.Update:
			t.Errorf("%s: no finding needs this argument: %s", tradeArgued, a)
		case a.used && strings.HasPrefix(a.why, notArgued):
			t.Errorf("%s: %s", tradeArgued, a)
		}
		if a.used {
			text.WriteString(a.String())
		}
	}
	if *testkit.Update {
		if err := os.WriteFile(tradeArgued, []byte(text.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// The figures of the corpus. A smaller number is better of all but found and at.
type tradeFigures struct{ planted, found, at, careful, errors, warnings, notes, falseErrors, doubtful, most int }

func (f tradeFigures) String() string {
	return fmt.Sprintf(`recall: %d of %d planted faults found, %d.%d %%
at the item or field to change: %d of %d found, %d.%d %%
surplus on %d careful households: %d errors (%d false), %d warnings (%d doubtful or false, at most %d in one household), %d notes
`, f.found, f.planted, f.found*1000/f.planted/10, f.found*1000/f.planted%10, f.at, f.found, f.at*1000/f.found/10, f.at*1000/f.found%10,
		f.careful, f.errors, f.falseErrors, f.warnings, f.doubtful, f.most, f.notes)
}

var digits = regexp.MustCompile(`\d+`)

// ints are the whole numbers in the first lines of a golden page, in order.
func ints(page string) (out []int) {
	for _, s := range digits.FindAllString(page, -1) {
		n, _ := strconv.Atoi(s)
		out = append(out, n)
	}
	return out
}

// worse names the figures that are worse than those of a golden page.
func (f tradeFigures) worse(golden string) (out []string) {
	_, golden, _ = strings.Cut(golden, "recall: ")
	was := ints("recall: " + golden)
	if len(was) < 15 {
		return nil
	}
	for _, c := range []struct {
		what    string
		is, was int
		more    bool // is better
	}{
		{"faults found", f.found * was[1], was[0] * f.planted, true},
		{"at the item or field", f.at * was[1], was[4] * f.planted, true},
		{"false errors", f.falseErrors, was[10], false},
		{"doubtful warnings", f.doubtful, was[12], false},
		{"findings on careful households", f.errors + f.warnings + f.notes, was[9] + was[11] + was[14], false},
	} {
		if c.more && c.is < c.was || !c.more && c.is > c.was {
			out = append(out, c.what)
		}
	}
	return out
}

// What someone of the trade would see is seen, and what they would let pass is let pass. The golden page says of every household what is
// found, missed and said besides; go test ./lint -update rewrites it, and fails once where a figure has become worse.
func TestTrade(t *testing.T) {
	var sum tradeFigures
	var details bytes.Buffer
	b, arguments := rulebook(t), argued(t)
	tree := corpus(t)
	var unknown []string
	for _, dir := range tradeDirs(t, tree) {
		file := path.Join(dir, "household.cue")
		text := string(tree[file].Data)
		kind, about, _ := strings.Cut(strings.TrimPrefix(strings.SplitN(text, "\n", 2)[0], "// "), ": ")
		faults := plantedIn(t, file, text)
		if kind != "careful" && kind != "faults" || (len(faults) > 0) != (kind == "faults") {
			t.Fatalf("%s: the first line says careful or faults, and faults are planted in the latter: %q, %d", file, kind, len(faults))
		}
		for _, p := range faults {
			for _, r := range p.rules {
				named(t, b, r)
			}
		}
		if n := len(known(t, tree, dir)); n > 0 {
			unknown = append(unknown, fmt.Sprintf("%s %d", dir, n))
		}
		o := household.Judge(t.Context(), tree, b, dir, household.Options{On: day(t)})
		if len(o.Faults) > 0 {
			t.Fatal(o.Faults)
		}
		found := finding.Sort(o.Findings)
		rest := hunt(file, faults, found)
		fmt.Fprintf(&details, "\n== %s (%s): %s\n", dir, kind, about)
		if kind == "faults" {
			n, at := 0, 0
			for _, p := range faults {
				how := "MISSED"
				if p.by != nil {
					n++
					how = "elsewhere, " + p.by.Rule + " at " + p.by.Spot
					if p.at {
						at++
						how = "at the spot, " + p.by.Rule
					}
				}
				fmt.Fprintf(&details, "  %d %s (%s): %s\n", p.line, p.what, strings.Join(p.rules, "|"), how)
			}
			fmt.Fprintf(&details, "  %d of %d found, %d at the spot; besides: %s\n", n, len(faults), at, levels(rest))
			for _, f := range rest {
				if f.Level == finding.Error {
					fmt.Fprintf(&details, "  besides: error %s %s\n", f.Rule, f.Spot)
				}
			}
			sum.planted, sum.found, sum.at = sum.planted+len(faults), sum.found+n, sum.at+at
			continue
		}
		sum.careful++
		doubtful := 0
		for _, f := range rest {
			a := arguments.about(dir, &f)
			fmt.Fprintf(&details, "  %s: %s %s: %s: %s\n", f.Level, f.Rule, f.Spot, a.verdict, a.why)
			switch {
			case f.Level == finding.Error:
				sum.errors++
				if a.verdict != "useful" {
					sum.falseErrors++
				}
			case f.Level == finding.Warning:
				sum.warnings++
				if a.verdict != "useful" {
					doubtful++
				}
			default:
				sum.notes++
			}
		}
		fmt.Fprintf(&details, "  %s\n", levels(rest))
		sum.doubtful, sum.most = sum.doubtful+doubtful, max(sum.most, doubtful)
	}
	arguments.settle(t)
	if sum.planted < 60 || sum.careful < 12 {
		t.Fatalf("%d faults, %d careful households", sum.planted, sum.careful)
	}
	page := fmt.Sprintf("The corpus of the trade, as of %s.\n\n%v", on, sum)
	if len(unknown) > 0 {
		page += fmt.Sprintf("lines left out, since the schema does not know what they say: %s\n", strings.Join(unknown, ", "))
	}
	page += details.String()
	t.Logf("the corpus of the trade:\n%v", sum)

	golden, err := os.ReadFile(tradeGolden)
	if err != nil && !*testkit.Update {
		t.Fatal(err)
	}
	for _, w := range sum.worse(string(golden)) {
		t.Errorf("worse than on the golden page: %s", w)
	}
	if *testkit.Update {
		if err := os.WriteFile(tradeGolden, []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(string(golden), page); diff != "" {
		t.Errorf("the golden page differs; go test ./lint -run TestTrade -update rewrites it (-page +now):\n%s", diff)
	}
}

// levels counts findings by level.
func levels(fs []finding.Finding) string {
	count := map[finding.Level]int{}
	for i := range fs {
		count[fs[i].Level]++
	}
	return fmt.Sprintf("%d errors, %d warnings, %d notes", count[finding.Error], count[finding.Warning], count[finding.Note])
}
