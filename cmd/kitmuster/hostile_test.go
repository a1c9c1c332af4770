package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"kitmuster/lint/valley"
)

// hostileText is what a family might write to break a page, a table or a calendar.
const hostileText = "=cmd|'/C calc'!A0 \"'><script>alert(1)</script><svg onload=alert(2)><img src=http://kit.example/x onerror=alert(3)><a href=\"javascript:alert(4)\">x</a>" +
	"</style></title></textarea><!-- {{.}} \u202eevil\u2066\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\n"

// A kit whose every text is hostile, written out by the real program: the pages hold it as text, and nothing of it runs or breaks
// anything. Where KITMUSTER_PAGES names a folder, the files are left there for the browser and for the reader of calendars.
func TestHostileKit(t *testing.T) {
	text, err := json.Marshal(hostileText)
	if err != nil {
		t.Fatal(err)
	}
	kit := regexp.MustCompile(`@(\w+)`).ReplaceAllString(canaryKit, "$1")
	kit = strings.ReplaceAll(strings.TrimPrefix(kit, "// §\n"), "§", string(text[1:len(text)-1]))
	dir := t.TempDir()
	folder := filepath.Join(dir, `a "><b onclick=x>&`)
	if err := os.Mkdir(folder, 0o777); err != nil { // not every system has such names
		if folder = filepath.Join(dir, "a"); os.Mkdir(folder, 0o777) != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(folder, "kit.cue"), []byte(kit), 0o666); err != nil {
		t.Fatal(err)
	}
	pages := os.Getenv("KITMUSTER_PAGES")
	if pages == "" {
		pages = t.TempDir()
	}
	out := filepath.Join(pages, "hostile")
	run := func(args ...string) {
		t.Helper()
		cmd := exec.Command("kitmuster", args...)
		cmd.Dir = dir
		if b, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, b)
		}
	}
	run("audit", "--on", valley.On, "-o", out, "./...")
	run("list", "--on", valley.On, "--format", "html", "-o", filepath.Join(pages, "hostile-list.html"), "./...")
	for _, name := range []string{filepath.Join(out, "audit.html"), filepath.Join(pages, "hostile-list.html")} {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := html.Parse(strings.NewReader(string(b)))
		if err != nil {
			t.Fatal(err)
		}
		shown := ""
		for n := range doc.Descendants() {
			if n.Type == html.ElementNode {
				if slices.Contains([]string{"img", "iframe", "object", "embed", "link", "base", "form", "textarea"}, n.Data) {
					t.Errorf("%s: an element %s", filepath.Base(name), n.Data)
				}
				for _, a := range n.Attr {
					if strings.HasPrefix(a.Key, "on") || a.Key == "src" || a.Key == "href" && !strings.HasPrefix(a.Val, "#") {
						t.Errorf("%s: %s=%q", filepath.Base(name), a.Key, a.Val)
					}
				}
			}
			if n.Type == html.TextNode && n.Parent.Data != "script" && n.Parent.Data != "style" {
				shown += n.Data
			}
		}
		if !strings.Contains(shown, "<script>alert(1)</script><svg onload=alert(2)>") || strings.ContainsAny(shown, "\u202e\u2066") {
			t.Errorf("%s does not show what was written, or shows it the other way round", filepath.Base(name))
		}
	}
}
