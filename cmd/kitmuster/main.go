// Command kitmuster measures and judges household evacuation kits. This package is flags, streams and exit codes, one file a subcommand.
//
// Every product that a household can be asked for is in products (making.go); what is made travels packed in lint.Answer.Extra, since
// kits are evaluated in worker processes (package sandbox). Settings of a household are a household.Options. encoded writes every field
// down that the job does not say itself, both for the workers and for the key of the cache. Entries of the cache are sealed with a key
// from outside of the repository (cache.go), so that no commit can put an answer there.
//
// One writer stands before each stream (stream.go): it cleans standard output and standard error of every command, and a law test keeps
// others off the machine's own streams.
//
// standards.go finds and pins the standards that judge, and hands them to the workers by digest.
//
// An audit's folder is its own: audit.go writes all files or none, knows its own pages by how they begin, and refuses to replace
// someone else's file, to put a part in the place of a whole, or to let audits for others and not for others meet in one folder.
package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/household"
	"kitmuster/lint/repo"
	"kitmuster/lint/sandbox"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Exit codes: see the help of check.
const (
	exitClean    = 0
	exitFindings = 1
	exitUnfit    = 2
)

// exit ends the program with a code after everything has been said.
type exit struct{ code int }

func (e exit) Error() string { return fmt.Sprintf("exit %d", e.code) }

func main() { os.Exit(run(os.Args[1:])) }

// run is the program for the given arguments; it gives the exit code.
func run(args []string) int {
	// Kits are many small evaluations: collecting garbage less often is worth a third of the time.
	debug.SetGCPercent(400)
	log.SetOutput(io.Discard) // what libraries log is nothing that a user can act on
	out, errs := newStream(os.Stdout), newStream(os.Stderr)
	defer errs.Close()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, func() {
		stop() // a second signal ends the program at once
		endIdle(errs)
	})
	if err := sandbox.Cramped(); err != nil {
		fmt.Fprintf(errs, "kitmuster: %v\n", err)
		return exitUnfit
	}
	a := command(time.Now().UTC)
	a.root.SetOut(out)
	a.root.SetErr(errs)
	err := a.execute(ctx, args)
	err = cmp.Or(err, out.Close())
	var e exit
	switch {
	case err == nil:
		return exitClean
	case errors.As(err, &e):
		return e.code
	}
	// A message quotes what was read, where a tab is a control character as any other.
	fmt.Fprintf(errs, "kitmuster: %s\n", strings.ReplaceAll(err.Error(), "\t", `\u0009`))
	return exitUnfit
}

// idle is how long an interrupted run may go on without writing anything. Our own figure: a person who interrupts waits a second, and
// what has been judged until then is written meanwhile.
const idle = 900 * time.Millisecond

// endIdle ends the program once it has been idle, as where a file blocks.
func endIdle(errs io.Writer) {
	last := time.Now()
	for time.Since(last) < idle {
		time.Sleep(idle / 20)
		if w := time.Unix(0, lastWrite.Load()); w.After(last) {
			last = w
		}
	}
	atomicfile.DropAll()
	fmt.Fprintln(errs, "kitmuster: interrupted; what was written is not whole")
	os.Exit(exitUnfit)
}

// partial marks a command that says what it has when it is interrupted.
const partial = "partial"

// app holds what every subcommand needs from the machine.
type app struct {
	root *cobra.Command
	now  func() time.Time
	// args are what the program was called with; inside says that it runs for another process of this program, see walled.
	args   []string
	inside bool
}

func command(now func() time.Time) *app {
	a := &app{now: now, root: &cobra.Command{
		Use:   "kitmuster",
		Short: "Measures and judges household evacuation kits",
		Long: `Kitmuster reads household evacuation kits from CUE files, measures them, judges them
with rules, and points each finding to the line to change.

It advises, it does not certify: labels, local codes and licensed practice come first.`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          commandFault,
		Version:       version(),
		PersistentPreRun: func(cmd *cobra.Command, _ []string) {
			if cmd.Annotations[partial] == "" { // with nothing to say halfway, the first signal ends it
				signal.Reset(os.Interrupt, syscall.SIGTERM)
			}
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := cmd.Help(); err != nil {
				return err
			}
			return exit{exitUnfit}
		},
	}}
	a.root.CompletionOptions.HiddenDefaultCmd = true
	a.root.AddCommand(a.check(), a.measure(), a.forecast(), a.drill(), a.audit(), a.list(), a.remedy(), a.newKit(), a.importTable(), a.export(), a.describe(), a.weigh(), a.renew(), a.compare(), a.merge(), a.rules(), a.schema(), a.standard(), a.worker(), a.walledCommand())
	a.root.AddCommand(helpTopics()...)
	a.root.SetHelpCommand(a.help())
	a.root.SetUsageTemplate(usage(a.root.UsageTemplate()))
	a.root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	a.root.SetFlagErrorFunc(flagFault)
	complete(a.root)
	showExamples(a.root)
	return a
}

func (a *app) execute(ctx context.Context, args []string) error {
	a.args = args
	a.root.SetArgs(args)
	return a.root.ExecuteContext(ctx)
}

// input is what the flags and paths of a command say about what to read.
type input struct {
	paths  []string
	on     string
	season string
	root   string
	units  string
	// against are official lists that everyone is held against, where the command has a flag for them.
	against []string
	// rules are the standards of a command that judges; nil for one that does not.
	rules *standards
	// store is the cache of a command with flags for it.
	store *caching
}

func (in *input) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&in.on, "on", "", "audit `date`, year-month-day (today, UTC, if not given)")
	cmd.Flags().StringVar(&in.season, "season", "", "plan for this `season` of the households instead of the one they name")
	cmd.Flags().StringVar(&in.root, "root", ".", "write the paths of files relative to this `folder`")
}

// judged adds the flag for standards, for commands that judge.
func (in *input) judged(cmd *cobra.Command) {
	in.flags(cmd)
	in.rules = &standards{}
	in.rules.addTo(cmd)
}

// says adds the flag for the units in which amounts are said.
func (in *input) says(cmd *cobra.Command) {
	cmd.Flags().StringVar(&in.units, "units", "", "say amounts in these `units` first, us or metric (if not given, as each household writes most of its masses)")
}

// heldAgainst adds the flag for official lists.
func (in *input) heldAgainst(cmd *cobra.Command) {
	cmd.Flags().StringSliceVar(&in.against, "against", nil, "compare every household with these official `lists` too; kitmuster rules --lists names them")
}

// one are the settings of each household.
func (in *input) one(p *place) household.Options {
	return household.Options{On: p.on, Season: in.season, Units: unit.System(in.units), Against: in.against, Show: p.disk.Show}
}

// place is an input made ready: a tree, paths in it, a day.
type place struct {
	disk     *repo.Disk
	patterns []string
	on       unit.Date
}

func (a *app) place(in *input) (*place, error) {
	p := &place{}
	if in.units != "" {
		if err := oneOf("units", in.units, string(unit.US), string(unit.Metric)); err != nil {
			return nil, err
		}
	}
	today := a.now().Format(time.DateOnly)
	if in.on == "" {
		in.on = today
	}
	on, err := unit.ParseDate(in.on)
	if err != nil {
		return nil, fmt.Errorf("--on: %w", err)
	}
	p.on = on
	wd, err := os.Getwd()
	if err != nil {
		return nil, fmt.Errorf("the working directory is not known: %w", err)
	}
	root, err := filepath.Abs(in.root)
	if err != nil {
		return nil, fmt.Errorf("--root: %w", err)
	}
	if info, err := os.Stat(root); err != nil || !info.IsDir() {
		return nil, fmt.Errorf("--root %s: there is no such folder", in.root)
	}
	if p.disk, err = repo.NewDisk(wd, root); err != nil {
		return nil, err
	}
	if len(in.paths) == 0 {
		in.paths = []string{"./..."}
	}
	var bases []string // the folders and files that the paths begin at
	for _, arg := range in.paths {
		base, below := strings.CutSuffix(arg, "...")
		if below && base == "" {
			base = "."
		}
		if base == "" {
			return nil, errors.New(`an empty path; write "." for this folder`)
		}
		t, err := p.disk.Path(base)
		if err != nil {
			return nil, err
		}
		if below {
			t += "/..."
		}
		p.patterns = append(p.patterns, t)
		if !filepath.IsAbs(base) {
			base = filepath.Join(wd, base)
		}
		bases = append(bases, filepath.Clean(base))
	}
	if in.rules != nil {
		if err := in.rules.find(p.disk, wd, bases); err != nil {
			return nil, err
		}
		if err := in.rules.open(a.now()); err != nil {
			return nil, err
		}
		a.remember(in)
	}
	return p, nil
}

// remember opens the cache of a command that judges. One without flags for it keeps nothing but compiled rules, and says nothing of it; a
// walled process has no key.
func (a *app) remember(in *input) {
	errs := in.rules.errs
	if in.store == nil {
		in.store, errs = &caching{size: usualCache, rulesOnly: true, off: a.inside}, io.Discard
	}
	in.store.open(a, in, errs)
	in.rules.store = in.store
}

// oneOf reads a flag that takes one of a few words.
func oneOf(flag, value string, allowed ...string) error {
	if slices.Contains(allowed, value) {
		return nil
	}
	if near := words.Near(value, allowed); near != "" {
		return openly(fmt.Errorf("--%s %q: did you mean %s?", flag, value, near))
	}
	return openly(fmt.Errorf("--%s %q: write one of %s", flag, value, strings.Join(allowed, ", ")))
}
