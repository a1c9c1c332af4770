package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Each command and topic of the help has a manual page, which says the same and holds no line that man would take for anything but text or a
// macro that it knows.
func TestManual(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "share", "man")
	if r := runs(t, t.TempDir(), "help", "--man", dir); r.code != exitClean || r.out+r.errs != "" {
		t.Fatal(r.code, r.out+r.errs)
	}
	read := func(name string) string {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	macros := []string{"TH", "SH", "PP", "TP", "B", "nf", "fi"}
	pages := 0
	for _, s := range []string{"man1", "man7"} {
		entries, err := os.ReadDir(filepath.Join(dir, s))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			pages++
			text := read(s + "/" + e.Name())
			if !strings.HasPrefix(text, `.TH "KITMUSTER`) || !strings.Contains(text, "\n.SH NAME\nkitmuster") || strings.Count(text, "\n.nf\n") != strings.Count(text, "\n.fi\n") {
				t.Errorf("%s begins with\n%.300s", e.Name(), text)
			}
			for line := range strings.Lines(text) {
				macro, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
				if strings.HasPrefix(line, ".") && !slices.Contains(macros, macro[1:]) || strings.HasPrefix(line, "'") {
					t.Errorf("%s: man does not know %q", e.Name(), line)
				}
			}
		}
	}
	root := command(nil).root
	var each func(*cobra.Command)
	each = func(cmd *cobra.Command) {
		if cmd.Hidden || cmd.Name() == "licences" {
			return
		}
		pages--
		name := strings.ReplaceAll(cmd.CommandPath(), " ", "-")
		page := "man7/" + name + ".7"
		if cmd.Runnable() || cmd.HasSubCommands() {
			page = "man1/" + name + ".1"
		}
		text := read(page)
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if !f.Hidden && !strings.Contains(text, `\-\-`+strings.ReplaceAll(f.Name, "-", `\-`)) {
				t.Errorf("%s does not name --%s", page, f.Name)
			}
		})
		for _, c := range cmd.Commands() {
			each(c)
		}
	}
	each(root)
	if pages != 1 { // that of help, which is added as a command is run
		t.Errorf("%d pages more than there are commands and topics, and help", pages)
	}
	if check := read("man1/kitmuster-check.1"); !strings.Contains(check, "\n.B \\-\\-units units\n") || !strings.Contains(check, "\n.SH SEE ALSO\nkitmuster(1)\n") {
		t.Error(check)
	}
	if kits := read("man7/kitmuster-kits.7"); !strings.Contains(kits, "\n.nf\n    household: \\(dqAlder\\(dq\n") {
		t.Error(kits)
	}

	if r := runs(t, t.TempDir(), "help", "--man", dir, "check"); r.code != exitUnfit || !strings.Contains(r.errs, `leave "check" out`) {
		t.Error(r)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if r := runs(t, t.TempDir(), "help", "--man", file); r.code != exitUnfit || !strings.HasPrefix(r.errs, "kitmuster: --man "+file) {
		t.Error(r)
	}
}

// What man would take for a macro, an escape or another character is text.
func TestRoff(t *testing.T) {
	for text, want := range map[string]string{
		".TH x": `\&.TH x`, "'br": `\(aqbr`, `a\nb`: `a\enb`, "--on": `\-\-on`, "`x^~": `\(gax\(ha\(ti`, `say "x"`: `say \(dqx\(dq`, "PATH…, 😀": `PATH\[u2026], \[u1F600]`,
	} {
		if got := roff(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
