package main

import (
	"context"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// echoes is a standard whose one rule breaks on each household, with the names of its people in what the engine says.
var echoes = map[string]string{
	".manifest": `{"revision": "1.0.0", "rego_version": 1, "roots": ["rules/circle"], "metadata": {"name": "circle", "needs": "2.0.0"}}`,
	"rules/circle/echo.rego": `package rules.circle.echo

# METADATA
# title: An echo
# description: It says its text in the wrong form.
# custom:
#   level: error
#   remedy: None.
#   mend: {work: write}
#   sources: [nobody]
#   limits: []
#   passes: "packs: {}"
#   fails: "packs: {}"
finding.names contains f if {
	some p in input.people
	f := {"at": p.id, "text": sprintf("%d", [p.name])}
}
`,
}

// sharedFaults are runs for others that fail or complain, each for another reason. Every folder, file, name, branch and word that is not
// the program's has a token in it; @words are keys, see canary.fill. flags follow the command; hint is what standard error says at least.
var sharedFaults = []struct {
	name, hint string
	args       []string
	// only are the commands it is about; all of everyShared where empty.
	only []string
}{
	{name: "kits that cannot be read whole"},
	{name: "a path that leads nowhere", args: []string{"@nowhere/@file.cue"}},
	{name: "a broken rule that quotes the kit", hint: "circle 1.0.0, rules/circle/echo.rego:14:1: rule circle:echo/names broke on some household", args: []string{"--standard", "@echoes"}, only: []string{"check", "audit"}},
	{name: "a broken rule of a trial", hint: "rule circle:echo/names broke", args: []string{"@echoes", "@a/..."}, only: []string{"standard trial"}},
	{name: "a standard that is none", args: []string{"--standard", "@nowhere"}, hint: "--standard: it did not work", only: []string{"check", "audit", "compare", "drill"}},
	{name: "a standard that does not compile", args: []string{"--standard", "@halves"}, hint: "circle 1.0.0, rules/circle/echo.rego:1:", only: []string{"check", "audit", "compare", "drill"}},
	{name: "another season", args: []string{"--season", "@autumn"}},
	{name: "a root that is not there", args: []string{"--root", "@nowhere"}, hint: "--root: it did not work"},
	{name: "a cache that is a file", args: []string{"--cache", "@a/@kit.cue"}, hint: "messages are held back", only: []string{"check", "audit", "compare"}},
	{name: "an output into no folder", args: []string{"--output", "json=@nowhere/@out"}, hint: "--output: it did not work", only: []string{"check"}},
	{name: "a revision that is not there", args: []string{"--since", "@revision"}, hint: "--since: it did not work", only: []string{"check"}},
	{name: "a commit that is not there", args: []string{"--at", "@revision"}, hint: "--at: it did not work", only: []string{"check"}},
	{name: "a branch", args: []string{"--since", "@branch"}, only: []string{"check"}},
	{name: "a key that is none", args: []string{"--share-key", "@a/@kit.cue"}, hint: "does not hold a key"},
	{name: "a key in no folder", args: []string{"--share-key", "@nowhere/@key"}, hint: "no such file or directory"},
	{name: "over the time limit", args: []string{"--time-limit", "200ms", "@endless"}, only: []string{"check", "audit", "compare", "standard trial"}},
	{name: "not enough time to say", args: []string{"--time-limit", "1ms"}, hint: "write a time from 100ms", only: []string{"check", "audit", "compare", "standard trial"}},
	{name: "a format that is none", args: []string{"--format", "xml"}, hint: "xml", only: []string{"compare", "standard trial"}},
	{name: "a folder with somebody's files", args: []string{"-o", "@a"}, hint: "-o: it holds a file that is none of an audit's", only: []string{"audit"}},
	{name: "a folder that is a file", args: []string{"-o", "@a/@kit.cue"}, hint: "-o: this is a file", only: []string{"audit"}},
	{name: "a folder in none", args: []string{"-o", "@nowhere/@out"}, hint: "-o: it did not work", only: []string{"audit"}},
	{name: "nobody could be judged", args: []string{"-o", "@fresh", "@broken/..."}, hint: "no household could be judged", only: []string{"audit"}},
	{name: "a history with a bad state", args: []string{"-o", "@audits", "--history", "3"}, only: []string{"audit"}},
	{name: "settings that are none", hint: "it did not work", only: []string{"check", "audit", "compare", "drill"}, args: []string{"@settings/..."}},
	{name: "settings that want another version", hint: "it did not work", only: []string{"check", "audit", "compare", "drill"}, args: []string{"@pinned/..."}},
}

// everyShared are all commands that have --share-safe, with what each needs to run.
var everyShared = map[string][]string{
	"check": nil, "measure": nil, "forecast": nil, "drill": nil, "audit": {"-o", "@out"}, "compare": {"HEAD", "--"}, "standard trial": {"@whole"},
}

// What a run for others says on either stream names nobody, whatever goes wrong.
func TestShareSafeErrors(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("git"); err != nil || runtime.GOOS == "windows" {
		t.Skip("git is not installed, or errors have other words here")
	}
	c := &canary{t: t, dir: filepath.Join(t.TempDir(), "repo"), keys: map[string]string{}}
	if err := os.Mkdir(c.dir, 0o777); err != nil {
		t.Fatal(err)
	}
	person := "people: @ana: {name: \"§\", age: \"40 y\", bodyMass: \"61.37 kg\"}\npacks: @red: {name: \"§\", carrier: \"@ana\", mass: \"1.437 kg\"}\n"
	c.write("@a/@kit.cue", "package kit\n\nhousehold: \"§\"\n"+person)
	for name, text := range broken {
		c.write("@broken/@in"+name+"/@file.cue", "package kit\n\n"+text)
	}
	c.write("@settings/@b/@kit.cue", "package kit\n\nhousehold: \"§\"\n"+person)
	c.write("@settings/kitmuster.json", `{"standards": [{"from": "@nowhere", "version": "@version", "@field": 1}]}`)
	c.write("@pinned/@b/@kit.cue", "package kit\n\nhousehold: \"§\"\n"+person)
	c.write("@pinned/kitmuster.json", `{"standards": [{"from": "../@whole", "version": "@version"}]}`)
	c.write("@endless/@kit.cue", strings.Replace(endlessKit(t), "household:", "_@hidden: \"§\"\nhousehold:", 1))
	for name, text := range echoes {
		c.write("@echoes/"+name, text)
		c.write("@whole/"+name, strings.Replace(text, "p.id", "\"household\"", 1))
		c.write("@halves/"+name, strings.Replace(text, "package", "pakage", 1))
	}
	s := &sharer{t: t, dir: c.dir}
	s.git("init", "-q", "-b", c.fill("@branch"))
	c.write("@audits/audit.json", `{"@field": 1}`)
	s.git("add", "-A")
	s.git("commit", "-q", "-m", "kits")
	if err := os.RemoveAll(filepath.Join(c.dir, c.fill("@audits"))); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	defer cancel()
	whole, tried, seen := testkit.Whole(t), 0, map[string]bool{}
	for i, x := range sharedFaults {
		commands := x.only
		if len(commands) == 0 {
			commands = slices.Sorted(maps.Keys(everyShared))
		}
		if !whole { // some faults by one command each, and each command by some fault
			if i%4 != 0 && !slices.ContainsFunc(commands, func(c string) bool { return !seen[c] }) {
				continue
			}
			at := i % len(commands)
			for k, command := range commands {
				if !seen[command] {
					at = k
				}
			}
			commands = commands[at:][:1]
		}
		for _, command := range commands {
			needs := everyShared[command]
			args := strings.Fields(command)
			args = append(args, "--share-safe", "--on", valley.On)
			if !slices.Contains(x.args, "--share-key") {
				args = append(args, "--share-key", c.fill("../@share"))
			}
			if command == "audit" && slices.Contains(x.args, "-o") || x.name == "a broken rule of a trial" {
				needs = nil // the fault takes its place
			}
			var flags, paths []string
			for i := 0; i < len(x.args); i++ {
				if strings.HasPrefix(x.args[i], "-") {
					flags = append(flags, x.args[i], c.fill(x.args[i+1]))
					i++
				} else {
					paths = append(paths, c.fill(x.args[i]))
				}
			}
			if len(paths) == 0 {
				paths = []string{c.fill("@a/..."), c.fill("@broken/...")}
			}
			args = append(args, flags...)
			for _, n := range needs {
				args = append(args, c.fill(n))
			}
			args = append(args, paths...)
			cmd := exec.CommandContext(ctx, "kitmuster", args...)
			var out, errs strings.Builder
			cmd.Dir, cmd.Stdout, cmd.Stderr = c.dir, &out, &errs
			cmd.Env = append(os.Environ(), "XDG_CACHE_HOME="+filepath.Join(t.TempDir(), "cache"), "XDG_CONFIG_HOME="+filepath.Join(t.TempDir(), "config"))
			cmd.Env = append(cmd.Env, sparing()...)
			_ = cmd.Run()
			tried++
			seen[command] = true
			if code := cmd.ProcessState.ExitCode(); code < 0 || code > exitUnfit {
				t.Errorf("%s, %s: exit %d\n%s", command, x.name, code, errs.String())
			}
			if !strings.Contains(errs.String(), x.hint) {
				t.Errorf("%s, %s: standard error does not say %q:\n%s", command, x.name, x.hint, errs.String())
			}
			said := spelt(map[string]string{"out": out.String(), "err": errs.String()})
			for _, tok := range c.tokens {
				if strings.Contains(said, tok) {
					t.Errorf("%s, %s: %s is told\n%.600s\n%.600s", command, x.name, tok, errs.String(), out.String())
					break
				}
			}
			if err := os.RemoveAll(filepath.Join(c.dir, c.fill("@out"))); err != nil {
				t.Fatal(err)
			}
			if err := os.RemoveAll(filepath.Join(c.dir, c.fill("@audits"))); err != nil {
				t.Fatal(err)
			}
		}
	}
	if len(seen) < len(everyShared) || whole && tried < 60 {
		t.Errorf("only %d runs, of %d commands", tried, len(seen))
	}
	t.Logf("%d runs", tried)
}

// endlessKit is a household that is never finished.
func endlessKit(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("testdata/walls/nested_for.cue")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
