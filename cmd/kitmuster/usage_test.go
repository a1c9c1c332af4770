package main

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
)

// A wrong word on the command line is told in the program's words, with what was meant.
func TestWrongWords(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"chek":                        `there is no command "chek" here; did you mean check?`,
		"stand":                       `there is no command "stand" here; did you mean standard or standards?`,
		"validate":                    `there is no command "validate" here; did you mean check?`,
		"weight alder":                `there is no command "weight" here; did you mean measure?`,
		"init":                        `there is no command "init" here; did you mean help kits?`,
		"standard init":               `there is no command "init" here; there are base, build, new, pack, pull, push, show, test, trial and verify`,
		"check --date 2026-11-01":     "there is no flag --date; did you mean --on?",
		"measure --today 2026-11-01":  "there is no flag --today; did you mean --on?",
		"check --severity error":      "there is no flag --severity; did you mean --show?",
		"check --json":                "there is no flag --json; did you mean --format json?",
		"rules --date 2026-11-01":     "there is no flag --date; did you mean --on?",
		"standard tets":               `there is no command "tets" here; did you mean test?`,
		"standard xyzzy":              `there is no command "xyzzy" here; there are base, build, new, pack, pull, push, show, test, trial and verify`,
		"help wavers":                 `there is no command "wavers" here; did you mean waivers?`,
		"help standard tets":          `there is no command "tets" here; did you mean test?`,
		"help kits plans":             `help explains one command or topic at a time, and "plans" comes after kits`,
		"check --shar":                "there is no flag --shar; did you mean --share-key or --share-safe?",
		"check --shar-safe":           "there is no flag --shar-safe; did you mean --share-safe?",
		"check --colour":              "there is no flag --colour; kitmuster check --help lists those that there are",
		"check -x":                    "there is no flag -x; kitmuster check --help lists those that there are",
		"check --on":                  "--on needs its value after it: a date",
		"check --time-limit 1":        "--time-limit 1: write a number with its unit and no blank between, such as 20s, 1m30s or 2h",
		"check --cache-size much":     `--cache-size much: "much" is not an amount of memory; write it like 512MiB or 3GiB`,
		"check --untouched=perhaps":   "--untouched perhaps: write it without a value",
		"audit --history x -o a":      "--history x: write a whole number",
		"measure --share-safe=really": "--share-safe really: write it without a value",
	} {
		r := runs(t, t.TempDir(), strings.Fields(line)...)
		if r.code != exitUnfit || r.errs != "kitmuster: "+want+"\n" || r.out != "" {
			t.Errorf("%s: %d\n%s\nwant %s", line, r.code, r.errs+r.out, want)
		}
	}
}

// Help explains a command or a topic, and the version is said.
func TestHelp(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"help":              "Topics, for kitmuster help TOPIC:\n  audits ",
		"help check":        "kitmuster check [PATH…] [flags]",
		"help standard new": "kitmuster standard new NAME [flags]",
		"help changes":      "\n\nBase standard 2.2.0\n\nAnimals in a carrier",
		"help waivers":      "When you cannot fix something now",
		"waivers":           "When you cannot fix something now",
		"--version":         "kitmuster " + version(),
	} {
		if r := runs(t, t.TempDir(), strings.Fields(line)...); r.code > 0 && line != "help" || !strings.Contains(r.out, want) {
			t.Errorf("%s: %d\n%s%s", line, r.code, r.errs, r.out)
		}
	}
}

// Each command that people call has an example, which names that command and flags that it has.
func TestExamples(t *testing.T) {
	t.Parallel()
	left := maps.Clone(examples)
	var walk func(cmd *cobra.Command)
	walk = func(cmd *cobra.Command) {
		for _, c := range cmd.Commands() {
			walk(c)
		}
		if cmd.Hidden || !cmd.Runnable() || cmd.Name() == "help" {
			return
		}
		text := left[cmd.CommandPath()]
		delete(left, cmd.CommandPath())
		for line := range strings.SplitSeq(text, "\n") {
			found, rest, err := cmd.Root().Find(strings.Fields(line)[1:])
			if err != nil || found.CommandPath() != cmd.CommandPath() && !cmd.HasSubCommands() {
				t.Errorf("%s: the example is %q: %v", cmd.CommandPath(), line, err)
				continue
			}
			if err := found.ParseFlags(rest); err != nil {
				t.Errorf("%s: %v", line, err)
			}
		}
		if r := runs(t, t.TempDir(), append(strings.Fields(cmd.CommandPath())[1:], "--help")...); !strings.Contains(r.out, "Examples:\n  "+text[:strings.IndexByte(text+"\n", '\n')]) {
			t.Errorf("%s shows no example:\n%s", cmd.CommandPath(), r.out)
		}
	}
	walk(command(time.Now).root)
	if len(left) > 0 {
		t.Errorf("examples of no command: %v", left)
	}
}

// Shells complete commands, values of flags, rules, limits and lists.
func TestCompletion(t *testing.T) {
	t.Parallel()
	for line, want := range map[string][]string{
		"ch":                         {"check"},
		"check --format ":            {"text", "lines", "json", "sarif", "sarif-open", "junit", "annotations", "markdown"},
		"list --format ":             {"text", "html", "csv"},
		"compare --format ":          {"text", "markdown", "json"},
		"check --fail-on ":           {"error", "warning", "note", "never"},
		"measure --units ":           {"us", "metric"},
		"check --against ready-b":    {"ready-basic"},
		"rules fire/two":             {"fire/two-means"},
		"rules input/quan":           {"input/quantity"},
		"rules --limits load.adult_": {"load.adult_cap"},
		"rules --lists bbk":          {"bbk-pack"},
		"help wai":                   {"waivers"},
	} {
		args := strings.Split(line, " ")
		r := runs(t, t.TempDir(), append([]string{"__complete"}, args...)...)
		var got []string
		for l := range strings.Lines(r.out) {
			if word, _, _ := strings.Cut(strings.TrimSpace(l), "\t"); strings.HasPrefix(word, args[len(args)-1]) && !strings.HasPrefix(word, ":") {
				got = append(got, word)
			}
		}
		if r.code != 0 || !slices.Equal(got, want) {
			t.Errorf("%q: %d, %q, want %q\n%s", line, r.code, got, want, r.out+r.errs)
		}
	}
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		if r := runs(t, t.TempDir(), "completion", shell); r.code != 0 || !strings.Contains(r.out, "kitmuster") {
			t.Errorf("%s: %d %s", shell, r.code, r.errs)
		}
	}
}
