package main

import (
	"encoding/json"
	"html"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/testkit"
)

// A split audit leaves no page of a household that is in it no longer, and touches nothing that is not its own.
func TestAuditTakesItsOldPagesAway(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "audit")
	write := func(files map[string]string) {
		t.Helper()
		p, err := newFolder(dir, false)
		if err != nil {
			t.Fatal(err)
		}
		defer p.drop()
		for name, text := range files {
			w, err := p.create(name)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.WriteString(w, text); err != nil {
				t.Fatal(err)
			}
			if err := w.Close(); err != nil {
				t.Fatal(err)
			}
		}
		if err := p.keep(); err != nil {
			t.Fatal(err)
		}
	}
	ours := `<!DOCTYPE html><meta name="generator" content="kitmuster audit">`
	write(map[string]string{"audit.html": ours, "households/h-0123456789abcdef01234567.html": ours, "households/h-aaaaaaaaaaaaaaaaaaaaaaaa.html": ours})
	for name, text := range map[string]string{"h-bbbbbbbbbbbbbbbbbbbbbbbb.html": "somebody's own", "h-notours.html": ours, "notes.txt": ours} {
		if err := os.WriteFile(filepath.Join(dir, "households", name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(map[string]string{"audit.html": ours, "households/h-aaaaaaaaaaaaaaaaaaaaaaaa.html": ours})
	if got := listed(t, filepath.Join(dir, "households")); !slices.Equal(got, []string{"h-aaaaaaaaaaaaaaaaaaaaaaaa.html", "h-bbbbbbbbbbbbbbbbbbbbbbbb.html", "h-notours.html", "notes.txt"}) {
		t.Error(got)
	}
}

// An audit that is not kept leaves nothing behind, and what lay there stays as it was.
func TestAuditIsWrittenWholeOrNotAtAll(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "audit")
	p, err := newFolder(dir, false)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.create("households/h-aaaaaaaaaaaaaaaaaaaaaaaa.html"); err != nil {
		t.Fatal(err)
	}
	p.drop()
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Error(err, listed(t, dir))
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	old := `<meta name="generator" content="kitmuster audit for others">`
	if err := os.WriteFile(filepath.Join(dir, "audit.html"), []byte(old), 0o666); err != nil {
		t.Fatal(err)
	}
	if p, err = newFolder(dir, true); err != nil {
		t.Fatal(err)
	}
	if _, err := p.create("audit.html"); err != nil {
		t.Fatal(err)
	}
	p.drop()
	if b, err := os.ReadFile(filepath.Join(dir, "audit.html")); string(b) != old || len(listed(t, dir)) != 1 {
		t.Error(string(b), err, listed(t, dir))
	}
}

func listed(t *testing.T, dir string) (names []string) {
	t.Helper()
	all, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		names = append(names, e.Name())
	}
	return names
}

// What is in the folder already decides what may be written there.
func TestAuditLosesNobodysFiles(t *testing.T) {
	own, others := `<meta name="generator" content="kitmuster audit">`, `<meta name="generator" content="kitmuster audit for others">`
	for _, c := range []struct {
		reason, name, text string
		shared             bool
		says               string
	}{
		{"an audit anew", "audit.html", own, false, ""},
		{"an audit for others anew", "audit.html", others, true, ""},
		{"something else beside it", "notes.txt", "mine", false, ""},
		{"something else that would be shown along", "notes.txt", "mine", true, "it holds a file that is none of an audit's and would be shown along"},
		{"what only looks like the part of a file", ".due.csv.7-0.part", "mine", true, "it holds a file that is none of an audit's and would be shown along"},
		{"a file in the place of the pages' folder", "households", "mine", false, "it holds households, which is no folder"},
		{"a page of somebody's own", "audit.html", "mine", false, "it holds audit.html, and no audit that this program wrote"},
		{"a table of somebody's own", "due.csv", "mine", false, "it holds due.csv, and no audit"},
		{"a folder of that name", "audit.ics", "", false, "it holds audit.ics, which is no ordinary file"},
		{"what is private where others look", "audit.html", others, false, "it holds an audit for others, and this one is not"},
		{"what others may see beside what they may not", "audit.html", own, true, "it holds an audit that is not for others"},
	} {
		dir := t.TempDir()
		write := func() error { return os.WriteFile(filepath.Join(dir, c.name), []byte(c.text), 0o666) }
		if c.text == "" {
			write = func() error { return os.Mkdir(filepath.Join(dir, c.name), 0o777) }
		}
		if err := write(); err != nil {
			t.Fatal(err)
		}
		if _, err := newFolder(dir, c.shared); (err == nil) != (c.says == "") || err != nil && !strings.HasPrefix(err.Error(), c.says) {
			t.Errorf("%s: %v", c.reason, err)
		}
	}
}

// A part of an audit does not take the place of a whole one, and an audit of nobody is none.
func TestAuditThatIsNotWorthIt(t *testing.T) {
	run := func(partial string, judged ...bool) *finding.Run {
		r := &finding.Run{Partial: partial, Findings: finding.List(finding.Finding{Rule: "input/path", Level: finding.Error, Message: "there is no such folder", Path: "aldre"})}
		for _, j := range judged {
			r.Households = append(r.Households, finding.Household{Path: "a", Judged: j})
		}
		return r
	}
	for _, c := range []struct {
		reason  string
		earlier bool
		run     *finding.Run
		says    string
	}{
		{"all is judged", true, run("", true, true), ""},
		{"one is not judged", true, run("", true, false), ""},
		{"interrupted, with nothing there yet", false, run("interrupted after 1 of 2 households", true), ""},
		{"interrupted, with an audit there", true, run("interrupted after 1 of 2 households", true), "interrupted after 1 of 2 households; the audit that is there stays as it was"},
		{"nobody is judged", false, run("", false, false), "no household could be judged, so no audit is written"},
		{"nobody is found", false, run(""), "no household could be judged, so no audit is written"},
	} {
		var errs strings.Builder
		err := (&pages{dir: "out", earlier: c.earlier}).worth(c.run, &errs)
		if (err == nil) != (c.says == "") || err != nil && err.Error() != c.says {
			t.Errorf("%s: %v", c.reason, err)
		}
		if strings.HasPrefix(c.says, "nobody") && !strings.Contains(errs.String(), "there is no such folder") {
			t.Errorf("%s: what was found is not told: %s", c.reason, errs.String())
		}
	}
}

// The command that an audit names for a household is one that runs from where the audit ran, and has to do with it.
func TestAuditNamesTheNextCommand(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../examples/harrow-valley")); err != nil {
		t.Fatal(err)
	}
	testkit.Write(t, dir, map[string]string{
		"a slip/kit.cue":  "package kit\n\nhousehold: \"Slip\"\npeople: ana: {age: 42 y, bodyMass: \"60 kg\"}\n",
		"a heavy/kit.cue": "package kit\n\nhousehold: \"Heavy\"\npeople: ana: {age: \"42 y\", bodyMass: \"60 kg\"}\npacks: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: lid: {reach: \"halted\", items: {anvil: mass: \"9 kg\"}}}\n",
	})
	const on = "2026-11-01"
	if got := runs(t, dir, "audit", "--on", on, "-o", "audit", "./..."); got.code == exitUnfit && !strings.Contains(got.out, "5 households") {
		t.Fatalf("exit %d\n%s\n%s", got.code, got.out, got.errs)
	}
	b, err := os.ReadFile(filepath.Join(dir, "audit/audit.json"))
	if err != nil {
		t.Fatal(err)
	}
	var audited struct {
		Households []struct{ Path, Command string }
	}
	if err := json.Unmarshal(b, &audited); err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile(filepath.Join(dir, "audit/audit.html"))
	if err != nil {
		t.Fatal(err)
	}
	commands := map[string]string{}
	for _, h := range audited.Households {
		commands[h.Path] = h.Command
		if !strings.Contains(string(page), "<p class=cmd>Next: <code>"+html.EscapeString(h.Command)+"</code>") {
			t.Errorf("the page does not name %q", h.Command)
		}
		args := strings.Fields(strings.NewReplacer("'a slip'", "a␣slip", "'a heavy'", "a␣heavy").Replace(h.Command))
		last := len(args) - 1
		if args[last] = strings.ReplaceAll(args[last], "␣", " "); args[last] != h.Path {
			t.Fatalf("%q is for %q", h.Command, h.Path)
		}
		if got := runsWith(t, dir, []string{"HOME=" + t.TempDir()}, append(args[1:], "--on", on)...); got.code == exitUnfit && h.Path != "a slip" || !strings.Contains(got.out, strings.ToUpper(filepath.Base(h.Path)[:1])) {
			t.Errorf("%s: exit %d\n%s\n%s", h.Command, got.code, got.out, got.errs)
		}
	}
	want := map[string]string{
		"alder": "kitmuster renew --until 2027-05-03 alder", "birch": "kitmuster check --show error birch", "cedar": "kitmuster check --show error cedar",
		"a slip": "kitmuster check --fix --show error 'a slip'", "a heavy": "kitmuster remedy 'a heavy'",
	}
	if diff := cmp.Diff(want, commands); diff != "" {
		t.Error(diff)
	}
}
