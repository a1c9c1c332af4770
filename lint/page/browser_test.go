package page_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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
		if err := os.WriteFile(files[n+1], []byte(strings.Replace(string(b), c.old, c.new, 1)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for n, s := range run(t, script, append(args, files...)...) {
		if n == 0 {
			told(t, s)
			continue
		}
		c, checks, says := cases[n-1], []string{}, false
		for _, f := range s.Faults {
			if !slices.Contains(checks, f.Check) {
				checks = append(checks, f.Check)
			}
			says = says || strings.Contains(f.What, c.says)
		}
		slices.Sort(checks)
		if got := strings.Join(checks, " "); got != c.checks || !says {
			t.Errorf("%q for %q: %q object, not %q with %q: %+v", c.new, c.old, got, c.checks, c.says, s.Faults)
		}
	}
}

// told makes a failure of each fault.
func told(t *testing.T, s said) {
	t.Helper()
	for _, f := range s.Faults {
		t.Errorf("%s: %s (%s): %s", s.File, f.Check, strings.Join(f.Where, ", "), f.What)
	}
}

// The faults that the script must find, each put into a page that has none.
func TestBrowserControls(t *testing.T) {
	browser(t)
	const end = "</main>"
	open := func(policy string) string { return "default-src 'none'; " + policy }
	controls(t, "browser.js", "testdata/right.html", []control{
		{`<html lang="en">`, `<html>`, "axe", "html-has-lang"},
		{`<h1>`, `<h1 style="color: #999; background: #aaa">`, "axe", "color-contrast"},
		{`aria-labelledby="loads" `, ``, "axe", "svg-img-alt"},
		{end, `<button></button></main>`, "axe", "button-name"},
		{end, `<p style="width: 40rem">wide</p></main>`, "scroll", "40rem"},
		{end, `<p style="width: 5rem; overflow: hidden; white-space: nowrap">This line is longer than its box.</p></main>`, "cut", "longer than"},
		{end, `<p style="font-size: 14px">Small and so it stays.</p></main>`, "text", "so it stays"},
		{end, `<img src="https://example.org/x.png" alt="x"></main>`, "console csp request", "https://example.org/x.png"},
		{`default-src 'none'; style-src`, `img-src https:; style-src`, "", ""},
		{`document.querySelectorAll('.sortable thead th')`, `document.querySelectorAll('.sortable th')`, "console csp sort", "script-src-elem blocks inline"},
		{`script-src 'sha256-`, `script-src 'unsafe-inline' 'sha-`, "", open("")},
	}, "--widths", "320,1280")
}

// What the program wrote.
func TestBrowser(t *testing.T) {
	browser(t)
	var small, large []string
	for _, file := range written(t, "*.html") {
		info, err := os.Stat(file)
		if err != nil {
			t.Fatal(err)
		}
		if info.Size() > 1<<20 {
			large = append(large, file)
		} else {
			small = append(small, file)
		}
	}
	_, _ = small, large
}
