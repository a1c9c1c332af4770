package page_test

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// browser gives the folder that .ci/run fills with what looks at pages and calendars from outside.
func browser(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("KITMUSTER_BROWSER")
	if dir == "" {
		t.Skip("KITMUSTER_BROWSER names no folder with the browser's driver; .ci/run makes one")
	}
	return dir
}

// written gives the files of a kind that .ci/run had the program write.
func written(t *testing.T, pattern string) []string {
	t.Helper()
	dir := os.Getenv("KITMUSTER_PAGES")
	if dir == "" {
		t.Skip("KITMUSTER_PAGES names no folder with what the program wrote; .ci/run makes one")
	}
	var files []string
	if err := filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		if ok, _ := filepath.Match(pattern, filepath.Base(path)); ok {
			files = append(files, path)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if len(files) == 0 {
		t.Fatalf("no %s of the program is in %s", pattern, dir)
	}
	return files
}

type fault struct {
	Check, What string
	Where       []string
}

// said is what a script says of one file.
type said struct {
	File   string
	Faults []fault
	Unsure []string
	Time   struct{ Load, Opened, Jump, Nodes int }
	Words  int
	Print  struct{ A4, Letter int }
	UIDs   []string
}

// run lets a script look at files.
func run(t *testing.T, script string, args ...string) []said {
	t.Helper()
	cmd := exec.Command("node", append([]string{filepath.Join("testdata", script)}, args...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	var all []said
	if bad := json.Unmarshal(out, &all); bad != nil {
		t.Fatalf("%s: %v, %v\n%s", script, err, bad, out)
	}
	faults := slices.ContainsFunc(all, func(s said) bool { return len(s.Faults) > 0 })
	if (err != nil) != faults {
		t.Fatalf("%s ends with %v, and has said:\n%s", script, err, out)
	}
	return all
}

// control is one fault put into what is right: the checks that must object, with what the first of them says.
type control struct{ old, new, checks, says string }

// controls holds that a script objects to each fault, by the checks named and no other, and to nothing in what is right.
func controls(t *testing.T, script, right string, cases []control, args ...string) {
	t.Helper()
	b, err := os.ReadFile(right)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	files := []string{right}
	for n, c := range cases {
		if !strings.Contains(string(b), c.old) {
			t.Fatalf("%q is not there to be replaced", c.old)
		}
		files = append(files, filepath.Join(dir, fmt.Sprintf("%d%s", n, filepath.Ext(right))))
		if err := os.WriteFile(files[n+1], []byte(signed(strings.Replace(string(b), c.old, c.new, 1))), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for n, s := range run(t, script, append(args, files...)...) {
		if n == 0 {
			told(t, s)
			continue
		}
		objects(t, s, cases[n-1])
	}
}

// objects holds what a script says of a control against what it should.
func objects(t *testing.T, s said, c control) {
	t.Helper()
	var checks []string
	says := c.checks == ""
	for _, f := range s.Faults {
		if !slices.Contains(checks, f.Check) {
			checks = append(checks, f.Check)
		}
		says = says || strings.Contains(fmt.Sprint(f), c.says)
	}
	slices.Sort(checks)
	if got := strings.Join(checks, " "); got != c.checks || !says {
		t.Errorf("%q for %q: %q object, not %q with %q: %+v", c.new, c.old, got, c.checks, c.says, s.Faults)
	}
}

// told makes a failure of each fault.
func told(t *testing.T, s said) {
	t.Helper()
	for _, f := range s.Faults {
		t.Errorf("%s: %s (%s): %s", s.File, f.Check, strings.Join(f.Where, ", "), f.What)
	}
}

// signed gives a page whose policy allows the first script that stands in it.
func signed(page string) string {
	if _, script, ok := strings.Cut(page, "<script>"); ok {
		script, _, _ = strings.Cut(script, "</script>")
		sum := sha256.Sum256([]byte(script))
		return regexp.MustCompile("sha256-[^']*").ReplaceAllLiteralString(page, "sha256-"+base64.StdEncoding.EncodeToString(sum[:]))
	}
	return page
}

// The faults that the script must find, each put into a page that has none.
func TestBrowserControls(t *testing.T) {
	browser(t)
	const begin, end, script = "<main>", "</main>", "<script>"
	controls(t, "browser.js", "testdata/right.html", []control{
		{`<html lang="en">`, `<html>`, "axe", "html-has-lang"},
		{`<h1>`, `<h1 style="color: #999; background: #aaa">`, "axe", "color-contrast"},
		{`--ink: #ececec`, `--ink: #444`, "axe contrast", "[dark 320"},
		{`@page`, `@media (forced-colors: active) { h1 { forced-color-adjust: none; color: #999; background: #aaa } } @page`, "axe", "[light, forced colours"},
		{`aria-labelledby="loads" `, ``, "axe", "svg-img-alt"},
		{end, `<button></button>` + end, "axe", "button-name"},
		{end, `<p style="width: 40rem">Too wide</p>` + end, "scroll", "Too wide [light 320"},
		{end, `<p style="width: 5rem; overflow: hidden; white-space: nowrap">This line is longer than its box.</p>` + end, "cut", "longer than"},
		{end, `<div style="content-visibility: auto"><p style="width: 40rem">Skipped</p></div>` + end, "scroll", "Skipped [light 320"},
		{end, `<p style="font-size: 14px">Small and so it stays.</p>` + end, "text", "so it stays"},
		{`width="280" height="70"`, `width="140" height="35" viewBox="0 0 280 70"`, "small", "letters 8.0 px"},
		{`svg text { fill: var(--ink)`, `svg text { fill: #999`, "contrast", "2.85:1 where 4.5:1"}, // #999 on white, by hand: 1.05 / (0.3185 + 0.05)
		{`<text x="0" y="60">`, `<text x="0" y="20">`, "contrast", "<text>"},
		{`rect.mark { fill: var(--bar) }`, `rect.mark { fill: #d8d8d8 }`, "contrast", "<rect.mark>"},
		{`--limit: #a3261a`, `--limit: #d8d8d8`, "contrast", "<line.mark>"},
		{`.moves { animation: none }`, `.none { animation: none }`, "motion", "<p.moves>"},
		{end, `<img src="https://example.org/x.png" alt="x">` + end, "console csp request", "https://example.org/x.png"},
		{`<meta http-equiv="Content-Security-Policy"`, `<link rel="stylesheet" href="https://example.org/x.css"><meta name="policy"`, "console csp request", "no policy"},
		{"</body>", `<script>1</script></body>`, "console csp", "script-src-elem blocks inline"},
		{script, script + `console.log(1)` + "\n", "console", "log: 1"},
		{script, script + `alert('Look')` + "\n", "dialog", "alert: Look"},
		{script, script + `setTimeout(() => { throw Error('broken') })` + "\n", "error", "broken"},
		{script, script + `document.querySelector('h1').append(' Script only')` + "\n", "script", "Script only"},
		{`a.dataset.o - b.dataset.o`, `b.dataset.o - a.dataset.o`, "sort", "not in that order"},
		{`: rows`, `: [...rows].reverse()`, "sort", "not the order of the page"},
		{`body.append(...sorted)`, `body.append(...sorted) || sorted[0].remove()`, "sort", "rows before"},
		{`if (rows.length)`, `if (!rows.length)`, "sort", "nothing orders them"},
		{`tr, .whole {`, `tr { orphans: 1; widows: 1 } .whole {`, "print", "<tr> Item"},
		{`<p>And another`, `<p style="padding-top: 700px">And another`, "", ""},
		{`<section class="whole"><h2>At the end</h2><p>One paragraph.</p><p>`, `<section class="whole" style="break-inside: auto"><h2>At the end</h2><p>One paragraph.</p><p style="padding-top: 700px">`, "print", "<section.whole>"},
		{`<section class="whole"><h2>At the end</h2><p>One paragraph.</p><p>`, `<section class="whole"><h2>At the end</h2><p>One paragraph.</p><p style="padding-top: 1200px">`, "", ""},
	}, "--widths", "320")
}

// What the program wrote. A large page shows what a small one of its kind does, so only its looks and its speed are asked for.
func TestBrowser(t *testing.T) {
	browser(t)
	var small, large []string
	for _, file := range written(t, "*.html") {
		info, err := os.Stat(file)
		if err != nil {
			t.Fatal(err)
		}
		if info.Size() > 300<<10 {
			large = append(large, file)
		} else {
			small = append(small, file)
		}
	}
	var args []string
	if dir := os.Getenv("KITMUSTER_SHOTS"); dir != "" {
		args = []string{"--shots", dir}
	}
	for _, s := range run(t, "browser.js", append(args, small...)...) {
		told(t, s)
		t.Logf("%s: %d words, %d nodes, opened in %d ms, prints on %d and %d sheets; not known: %q", s.File, s.Words, s.Time.Nodes, s.Time.Opened, s.Print.A4, s.Print.Letter, s.Unsure)
	}
	if len(large) == 0 {
		return
	}
	for _, s := range run(t, "browser.js", append([]string{"--light"}, large...)...) {
		told(t, s)
	}
	for _, s := range run(t, "browser.js", append([]string{"--time"}, large...)...) {
		t.Logf("%s: %d nodes, opened in %d ms, at its end %d ms later", s.File, s.Time.Nodes, s.Time.Opened, s.Time.Jump)
		if s.Time.Opened > 2000 {
			t.Errorf("%s takes %d ms to open", s.File, s.Time.Opened)
		}
	}
}
