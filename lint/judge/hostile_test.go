package judge

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"runtime/metrics"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/open-policy-agent/opa/v1/rego"

	"kitmuster/lint/facts"
	"kitmuster/lint/testkit"
)

// hostile is a group's standard with one hostile rule in lines 14 and following, and an innocent one in a file of its own.
func hostile(body, helpers string) fstest.MapFS {
	const note = `# METADATA
# title: t
# description: d
# custom:
#   level: note
#   remedy: r
#   mend: {work: move}
#   sources: [s]
#   limits: []
#   passes: a
#   fails: b
`
	tree := valleyStandard(nil)
	tree["rules/harrow_valley/evil.rego"] = &fstest.MapFile{Data: []byte("package rules.harrow_valley.evil\n\n" + note + "finding.evil contains f if {\n" + body + "\n}\n" + helpers)}
	return tree
}

// below is what the standards of strangers lie on: rules of two areas of the base, which compile fast, and the whole base where the long
// corpus runs.
func below(t *testing.T) fs.FS {
	t.Helper()
	if testkit.Whole(t) {
		return Base()
	}
	out := fstest.MapFS{}
	if err := fs.WalkDir(Base(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Dir(p) == "rules/base" && p != "rules/base/fire.rego" && p != "rules/base/load.rego" {
			return err
		}
		text, err := fs.ReadFile(Base(), p)
		out[p] = &fstest.MapFile{Data: text}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return out
}

// peak watches how much the heap grows until stop is called.
func peak() (stop func() uint64) {
	read := func() uint64 {
		s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		metrics.Read(s)
		return s[0].Value.Uint64()
	}
	runtime.GC()
	from, done, out := read(), make(chan bool), make(chan uint64)
	go func() {
		most := from
		for {
			select {
			case <-done:
				out <- most - from
				return
			case <-time.After(2 * time.Millisecond):
				most = max(most, read())
			}
		}
	}()
	return func() uint64 { close(done); return <-out }
}

// Hostile rules of a group's standard: each is refused when the standard is read, or stopped while judging and named at its
// own line, in bounded time and memory, and all other rules answer. The figures stand in the output of the test.
func TestHostileRules(t *testing.T) {
	mib := strings.Repeat("a", 1<<16)
	const any = "\n\tf := {\"at\": \"household\", \"text\": sprintf(\"%d\", [count(x)])}"
	for _, c := range testkit.Spread(t, 10, []struct{ why, body, helpers, want string }{
		{"an endless comprehension", "\tx := [1 | some i in numbers.range(1, 1000000); some j in numbers.range(1, 1000000); i + j == 0]" + any, "", ":14:1: rule harrow-valley:evil/evil was stopped after 500ms"},
		{"an endless every", "\tevery i in numbers.range(1, 2000000) { every j in numbers.range(1, 2000000) { i + j > 0 } }\n\tf := {\"at\": \"household\", \"text\": \"x\"}", "", ":14:1: rule harrow-valley:evil/evil was stopped after 500ms"},
		{"a huge range", "\tx := numbers.range(1, 1000000000000)" + any, "", ":15:7: rule harrow-valley:evil/evil broke: numbers.range would build more than"},
		{"a range of texts that grows", "\ty := \"" + mib + "\"\n\tx := [concat(\"\", [y, y, y, y, y, y, y, y, y, y, y, y, y, y, y, y, sprintf(\"%d\", [i])]) | some i in numbers.range(1, 1000000)]" + any, "", ":14:1: rule harrow-valley:evil/evil was stopped"},
		{"a comprehension that grows", "\tx := [[i, j] | some i in numbers.range(1, 1000000); some j in numbers.range(1, 1000000)]" + any, "", ":14:1: rule harrow-valley:evil/evil was stopped"},
		{"texts that double", "\tx := s26" + any, "\ns0 := \"ab\"\n" + doubling(26), "would build more than"},
		{"lists that double", "\tx := l40" + any, "\nl0 := [1]\n" + doubledLists(40), ":14:1: rule harrow-valley:evil/evil was stopped"},
		{"numbers that double", "\tx := [n20]" + any, "\nn0 := 9999999999\n" + squares(20), "would work on a number of more than"},
		{"a rule that calls itself", "\tx := loop(1)" + any, "\nloop(n) := loop(n + 1)\n", ":19:1: rule data.rules.harrow_valley.evil.loop is recursive"},
		{"recursion through data", "\tx := data.rules.harrow_valley" + any, "", "is recursive"},
		{"walking what holds itself", "\tx := [1 | walk(input, [p, v]); walk(v, [q, w]); walk(w, [r, u]); walk(u, _)]" + any, "", ""},
		{"a pattern that would backtrack for ever elsewhere", "\tx := [1 | regex.match(`^(a+)+(a+)+(a+)+$`, " + fmt.Sprintf("%q", strings.Repeat("a", 30000)) + ")]" + any, "", ""},
		{"a large pattern", "\tx := [1 | regex.match(`" + strings.Repeat("[a-z]{0,999}", 100) + "`, \"b\")]" + any, "", "regex.match would work through 1 bytes with a pattern of 1200; a pattern has at most 1000"},
		{"a pattern over a long text", "\tx := [1 | regex.match(`" + strings.Repeat("[a-z]{0,999}", 50) + "`, \"" + mib + "\")]" + any, "", "regex.match would work through 65536 bytes with a pattern of 600"},
		{"many patterns", "\tx := [1 | some i in numbers.range(1, 1000000); regex.match(`" + strings.Repeat("[a-z]{0,999}", 20) + "[0-9]`, concat(\"\", [" + fmt.Sprintf("%q", mib[:4000]) + ", sprintf(\"%d\", [i])]))]" + any, "", ":14:1: rule harrow-valley:evil/evil was stopped after 500ms"},
		{"a giant message", fmt.Sprintf("\ty := %q\n\tf := {\"at\": \"household\", \"text\": concat(\"\", [y, y, y, y, y, y, y, y])}", mib), "", ":14:1: rule harrow-valley:evil/evil: a text has 524288 bytes, and at most 65536 go"},
		{"a hundred thousand findings", "\tsome i in numbers.range(1, 100000)\n\tf := {\"at\": \"household\", \"text\": sprintf(\"%d\", [i])}", "", ":14:1: rule harrow-valley:evil/evil: it gave 100000 findings, and at most 10000 go"},
		{"long findings, many", fmt.Sprintf("\ty := %q\n\tsome i in numbers.range(1, 1000)\n\tf := {\"at\": \"household\", \"text\": concat(\"\", [y, sprintf(\"%%d\", [i])])}", mib[:60000]), "", ":14:1: rule harrow-valley:evil/evil: its findings are longer than 4194304 bytes together"},
		{"reasons without end", "\tf := {\"at\": \"household\", \"text\": \"x\", \"because\": [\"household\" | some i in numbers.range(1, 200000)]}", "", ":14:1: rule harrow-valley:evil/evil: its findings name more than 100000 reasons together"},
		{"no object", "\tf := \"everything is well\"", "", `:14:1: rule harrow-valley:evil/evil: an element is {"at": …, "text": …}, not "everything is well"`},
		{"an ID of nobody", "\tf := {\"at\": \"people/mayor\", \"text\": \"x\"}", "", `:14:1: rule harrow-valley:evil/evil: "at" names "people/mayor", which is no ID of the kit`},
		{"two values for one helper", "\tx := [odd(1)]" + any, "\nodd(n) := 1 if n > 0\n\nodd(n) := 2 if n < 2\n", ":21:1: rule harrow-valley:evil/evil broke: function data.rules.harrow_valley.evil.odd produced conflicting values"},
		{"two values for one rule", "\tx := [odd]" + any, "\nodd := 1 if count(input.packs) > 0\n\nodd := 2 if count(input.packs) > 0\n", ":21:1: rule harrow-valley:evil/evil broke: rule data.rules.harrow_valley.evil.odd produced conflicting values: 1 at"},
		{"a huge range in the place of another function", "\tx := numb(1, 1000000000000) with numb as numbers.range" + any, "\nnumb(a, b) := [a, b]\n", ":15:7: rule harrow-valley:evil/evil broke: numbers.range would build more than"},
		{"a bounded function in a helper's head", "\tx := wide" + any, "\nwide contains concat(\"\", [y | some i in numbers.range(1, 100); y := \"" + mib + "\"])\n", "concat would build more than"},
		{"the environment", "\tx := opa.runtime()" + any, "", "opa.runtime is not available to rules"},
		{"chance", "\tx := [rand.intn(\"x\", 3)]" + any, "", "rand.intn is not available to rules"},
		{"another program", "\tx := rego.parse_module(\"a\", \"package a\")" + any, "", "rego.parse_module is not available to rules"},
		{"the network", "\tx := net.lookup_ip_addr(\"a\")" + any, "", "net.lookup_ip_addr is not available to rules"},
	}) {
		t.Run(c.why, func(t *testing.T) {
			stop, from := peak(), time.Now()
			b, problems := NewLayers(Layer{FS: below(t)}, Layer{hostile(c.body, c.helpers), "s"})
			read := time.Since(from)
			facts := &facts.Facts{Packs: []facts.Pack{{ID: "packs/rust", Name: "Rust"}}}
			var said []string
			others := 0
			if b != nil {
				b.WatchHeap()
				if strings.HasSuffix(c.want, "was stopped") && !testkit.Long() { // by its memory; filling all that it may have takes long
					b.maxHeap = 96 << 20
				}
				if strings.Contains(c.want, "500ms") { // the time itself is held in the tests of the program
					b.deadline = 500 * time.Millisecond
				} else {
					b.deadline = 20 * time.Second
				}
				vs, faults := b.Judge(context.Background(), facts, func(id string) bool { return id == "household" || id == "packs/rust" })
				for _, f := range faults {
					if strings.HasPrefix(f.Rule.Name, "harrow-valley:evil/") {
						said = append(said, f.Problem.String())
					}
				}
				for _, v := range vs {
					if v.Rule.Name == "harrow-valley:flood/dry-bags" {
						others++
					}
				}
				if others != 1 {
					t.Errorf("the innocent rule gave %d findings", others)
				}
			}
			for _, p := range problems {
				said = append(said, p.String())
			}
			whole, heap := time.Since(from), stop()
			all := strings.Join(said, "\n")
			t.Logf("read in %v, all in %v, heap %d MiB: %s", read.Round(time.Millisecond), whole.Round(time.Millisecond), heap>>20, all[:min(len(all), 150)])
			if c.want != "" && (!strings.Contains(all, c.want) || !strings.Contains(all, "s/rules/harrow_valley/evil.rego:")) {
				t.Errorf("want %s", c.want)
			}
			if whole > 30*time.Second || heap > 2<<30 {
				t.Error("not bounded")
			}
			if len(all) > 4000 {
				t.Errorf("the complaint has %d bytes", len(all))
			}
		})
	}
}

// The bounds are a rulebook's own: whoever else uses the engine in the same process has its functions whole.
func TestBoundsAreOurOwn(t *testing.T) {
	baseBook(t).Judge(context.Background(), &facts.Facts{}, func(string) bool { return true })
	rs, err := rego.New(rego.Query("count(numbers.range(1, 5000000))")).Eval(context.Background())
	if err != nil || len(rs) != 1 {
		t.Fatalf("%v, %v", rs, err)
	}
}

// A function that a test or rule puts in the place of a bounded one is called instead of it.
func TestBoundedFunctionReplaced(t *testing.T) {
	b, problems := NewLayers(Layer{FS: below(t)}, Layer{hostile("\tx := numbers.range(1, 1000000000000) with numbers.range as numb\n\tf := {\"at\": \"household\", \"text\": sprintf(\"%d\", [x])}", "\nnumb(a, b) := b - a\n"), "s"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	vs, faults := b.Judge(context.Background(), &facts.Facts{}, func(string) bool { return true })
	if len(faults) > 0 || !slices.ContainsFunc(vs, func(v Verdict) bool { return v.Rule.Name == "harrow-valley:evil/evil" && v.Text == "999999999999" }) {
		t.Errorf("%v, %v", vs, faults)
	}
}

func doubling(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "\ns%d := concat(\"\", [s%d, s%[2]d])\n", i+1, i)
	}
	return b.String()
}

func doubledLists(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "\nl%d := [x | some _ in [1, 2]; some x in l%d]\n", i+1, i)
	}
	return b.String()
}

func squares(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "\nn%d := n%d * n%[2]d\n", i+1, i)
	}
	return b.String()
}

// A rule under which the heap grows too far is stopped long before its time is up; one that lets go of what it makes is not.
func TestMemoryOfARule(t *testing.T) {
	for why, c := range map[string]struct{ body, want string }{
		"kept":     {"\tx := [concat(\"\", [t, sprintf(\"%d\", [i])]) | some i in numbers.range(1, 1000000)]", "was stopped: it needed more than 128 MiB"},
		"let go":   {"\tx := count([1 | some i in numbers.range(1, 3000); startswith(concat(\"\", [t, sprintf(\"%d\", [i])]), \"b\")])", ""},
		"no great": {"\tx := count([i | some i in numbers.range(1, 1000)])", ""},
	} {
		b, problems := NewLayers(Layer{FS: below(t)}, Layer{hostile(c.body+"\n\tx != 0\n\tfalse\n\tf := {\"at\": \"a\", \"text\": \"b\"}", "\nt := \""+strings.Repeat("a", 1<<16)+"\"\n"), "s"})
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		b.deadline, b.maxHeap = time.Minute, 128<<20
		_, faults := b.Judge(context.Background(), &facts.Facts{}, func(string) bool { return true })
		said := ""
		for _, f := range faults {
			said += f.Problem.Text
		}
		if (c.want == "") != (said == "") || !strings.Contains(said, c.want) {
			t.Errorf("%s: %q, want %q", why, said, c.want)
		}
	}
}

// Where the heap is not watched, what else the program does is nobody's fault.
func TestMemoryOfTheHost(t *testing.T) {
	body := "\tx := count([1 | some i in numbers.range(1, 3000); some j in numbers.range(1, 3000); i + j == 0])\n\tx != 0\n\tfalse\n\tf := {\"at\": \"a\", \"text\": \"b\"}"
	b, problems := NewLayers(Layer{FS: below(t)}, Layer{hostile(body, ""), "s"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	host := func() (stop func()) {
		done, ended := make(chan bool), make(chan int)
		go func() {
			var held [][]byte
			for {
				select {
				case <-done:
					ended <- len(held)
					return
				case <-time.After(5 * time.Millisecond):
					held = append(held, make([]byte, 16<<20))
					if len(held) == 64 {
						held = nil
					}
				}
			}
		}()
		return func() { close(done); <-ended }
	}
	b.deadline = time.Second
	stop := host()
	_, faults := b.Judge(context.Background(), &facts.Facts{}, func(string) bool { return true })
	stop()
	if len(faults) != 1 || !strings.Contains(faults[0].Problem.Text, "was stopped after 1s") {
		t.Errorf("%v", faults)
	}
}

// A standard all of whose rules run away takes the time of three; the base answers for every household all the same.
func TestAStandardThatRunsAway(t *testing.T) {
	tree := hostile("\tcount([1 | some i in numbers.range(1, 1000000); some j in numbers.range(1, 1000000); i + j == 0]) > 0\n\tf := {\"at\": \"a\", \"text\": \"b\"}", "")
	const file = "rules/harrow_valley/evil.rego"
	text := string(tree[file].Data)
	for i := range 5 {
		name := fmt.Sprintf("rules/harrow_valley/evil%d.rego", i)
		tree[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, "harrow_valley.evil", fmt.Sprintf("harrow_valley.evil%d", i), 1))}
	}
	b, problems := NewLayers(Layer{FS: below(t)}, Layer{tree, "s"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	b.deadline = 200 * time.Millisecond
	_, faults := b.Judge(context.Background(), &facts.Facts{Packs: []facts.Pack{{ID: "packs/rust", Name: "Rust"}}}, func(string) bool { return true })
	stopped, unasked := 0, 0
	for _, f := range faults {
		switch {
		case strings.Contains(f.Problem.Text, "was stopped after"):
			stopped++
		case strings.Contains(f.Problem.Text, "was not run: 3 rules of harrow-valley had to be stopped before"):
			unasked++
		default:
			t.Error(f.Problem)
		}
	}
	if stopped != 3 || unasked != 4 { // the sixth, all the same, and the innocent one after it
		t.Errorf("%d stopped, %d not asked", stopped, unasked)
	}
}

// What no bound is for: sets of long words are subtracted as by the stock engine.
func TestBoundsLetWordsThrough(t *testing.T) {
	body := "\tx := {\"shelter:tent\", \"documents:money\", \"1e999\"} - {\"shelter:tent\"}\n\tf := {\"at\": \"household\", \"text\": concat(\" \", sort(x))}"
	b, problems := NewLayers(Layer{FS: below(t)}, Layer{hostile(body, ""), "s"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var said []string
	vs, faults := b.Judge(t.Context(), &facts.Facts{}, func(id string) bool { return id == "household" })
	for _, f := range faults {
		if strings.HasPrefix(f.Rule.Name, "harrow-valley:") {
			t.Error(f.Problem)
		}
	}
	for _, v := range vs {
		if v.Rule.Name == "harrow-valley:evil/evil" {
			said = append(said, v.Text)
		}
	}
	if want := []string{"1e999 documents:money"}; !slices.Equal(said, want) {
		t.Errorf("%q, want %q", said, want)
	}
}
