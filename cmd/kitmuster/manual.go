package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// manual writes what the help says as manual pages under a folder, which is made where there is none: in man1 one for the program and for each
// command, in man7 one for each topic. They tell no day, so that the same program writes the same bytes.
func manual(root *cobra.Command, dir string) error {
	var write func(cmd *cobra.Command) error
	write = func(cmd *cobra.Command) error {
		cmd.InitDefaultHelpFlag()
		in := filepath.Join(dir, fmt.Sprintf("man%d", section(cmd)))
		err := os.MkdirAll(in, 0o777)
		if err == nil {
			err = os.WriteFile(filepath.Join(in, fmt.Sprintf("%s.%d", pageName(cmd), section(cmd))), []byte(manualPage(cmd)), 0o666)
		}
		if err != nil {
			return openly(fmt.Errorf("--man %s: %w", dir, plain(err)))
		}
		for _, c := range explained(cmd) {
			if err := write(c); err != nil {
				return err
			}
		}
		return nil
	}
	return write(root)
}

// explained are the commands and topics under a command that its help lists, but for the terms, which lie beside the program.
func explained(cmd *cobra.Command) []*cobra.Command {
	return slices.DeleteFunc(slices.Clone(cmd.Commands()), func(c *cobra.Command) bool { return c.Hidden || c.Long == notices })
}

// section is that of the manual: 1 is for commands, 7 for whatever else there is to know.
func section(cmd *cobra.Command) int {
	if cmd.Runnable() || cmd.HasSubCommands() {
		return 1
	}
	return 7
}

// pageName is the name under which man finds the page.
func pageName(cmd *cobra.Command) string { return strings.ReplaceAll(cmd.CommandPath(), " ", "-") }

// manualPage is the page of a command or topic, in the macros that every man knows (groff_man(7), mandoc's man(7)).
func manualPage(cmd *cobra.Command) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say(`.TH "%s" "%d" "" "Kitmuster %s" "Kitmuster"`, roff(strings.ToUpper(pageName(cmd))), section(cmd), roff(cmd.Root().Version))
	say(".SH NAME\n%s \\- %s", roff(pageName(cmd)), roff(cmd.Short))
	if section(cmd) == 1 {
		say(".SH SYNOPSIS\n.B %s", roff(cmd.UseLine()))
	}
	say(".SH DESCRIPTION")
	paragraphs(say, cmd.Long)
	if section(cmd) == 1 {
		say(".SH OPTIONS")
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			if f.Hidden {
				return
			}
			what, usage := pflag.UnquoteUsage(f)
			name := `\-\-` + roff(f.Name)
			if f.Shorthand != "" {
				name = `\-` + roff(f.Shorthand) + `, ` + name
			}
			if what != "" {
				name += " " + roff(what)
			}
			if d := f.DefValue; d != "" && !slices.Contains([]string{"false", "0", "[]"}, d) {
				usage += fmt.Sprintf(" (default %s)", d)
			}
			say(".TP\n.B %s\n%s", name, roff(usage))
		})
	}
	var see []string
	if p := cmd.Parent(); p != nil {
		see = append(see, fmt.Sprintf("%s(%d)", roff(pageName(p)), section(p)))
	}
	for _, c := range explained(cmd) {
		see = append(see, fmt.Sprintf("%s(%d)", roff(pageName(c)), section(c)))
	}
	say(".SH SEE ALSO\n%s", strings.Join(see, ",\n"))
	return b.String()
}

// paragraphs writes a text of the help: a paragraph with a list or an indented line keeps its lines, others are filled.
func paragraphs(say func(string, ...any), text string) {
	for i, p := range strings.Split(strings.Trim(text, "\n"), "\n\n") {
		if i > 0 {
			say(".PP")
		}
		lines := strings.Split(strings.Trim(p, "\n"), "\n")
		kept := slices.ContainsFunc(lines, func(l string) bool {
			return strings.HasPrefix(l, " ") || strings.HasPrefix(l, "- ") || strings.HasPrefix(l, "|")
		})
		if kept {
			say(".nf")
		}
		for _, l := range lines {
			say("%s", roff(l))
		}
		if kept {
			say(".fi")
		}
	}
}

// typed are the characters that man would take for a command or set in another way.
var typed = map[rune]string{'\\': `\e`, '-': `\-`, '"': `\(dq`, '\'': `\(aq`, '`': `\(ga`, '^': `\(ha`, '~': `\(ti`}

// roff escapes a line of text, so that all of it is text; what is not ASCII stands there by its number, for any locale.
func roff(line string) string {
	var b strings.Builder
	if strings.HasPrefix(line, ".") {
		b.WriteString(`\&`)
	}
	for _, r := range line {
		switch escaped, ok := typed[r]; {
		case ok:
			b.WriteString(escaped)
		case r > unicode.MaxASCII:
			fmt.Fprintf(&b, `\[u%04X]`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
