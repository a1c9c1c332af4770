package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/report"
	"kitmuster/lint/standard"
	"kitmuster/lint/unit"
)

// halfYear is how far an audit looks ahead where it is not told: groups look at everyone twice a year.
const halfYear = 183

// mostHistory is how many earlier states may be asked for, far more than a page can show. Our own figure.
const mostHistory = 1000

// auditing is what the flags of an audit say.
type auditing struct {
	in         *input
	bounds     bounds
	store      caching
	others     sharing
	until, dir string
	history    int
	// brief has the page print a wall sheet and a page for each household.
	brief bool
}

func (a *app) audit() *cobra.Command {
	x := &auditing{in: &input{}}
	cmd := &cobra.Command{
		Use:         "audit [PATH…] -o DIR",
		Annotations: map[string]string{partial: "yes"},
		Short:       "Write who is ready, why not, and what falls due, as pages, tables and a calendar",
		Long: `Judges the households at the paths (see check) as of a day and a season, and writes into the
folder DIR: audit.html, one page that needs no network and no script, with everyone at a
glance, what to do first, what falls due, and each household; audit.json; households.csv,
findings.csv and due.csv; and audit.ics, a calendar of what falls due until --until, an event
a day for each household, which updates an earlier import and never doubles it. If the page
would be too large it is an index, and each household has a page in DIR/households. The page
prints everything, or a wall sheet and a page for each household, as chosen on it; --brief
chooses the second.

A household is ready if no error is open, waived ones aside.

Exit code 0: every household was judged, whatever the findings. 2: something could not be
judged or written.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			x.in.paths = args
			return x.run(a, cmd)
		},
	}
	x.in.judged(cmd)
	x.in.says(cmd)
	cmd.Flags().StringVar(&x.until, "until", "", "look ahead until this `date` (half a year if not given)")
	cmd.Flags().StringVarP(&x.dir, "output", "o", "", "write into this `folder`, made if there is none")
	cmd.Flags().IntVar(&x.history, "history", 0, "show how every household stood in the last `N` audits that git has of DIR, or else in the last N days with a commit that changed something, each as of its day by the present standard")
	cmd.Flags().BoolVar(&x.brief, "brief", false, "have the page print a wall sheet and a page for each household, unless something else is chosen on it")
	x.in.heldAgainst(cmd)
	x.bounds.flags(cmd)
	x.store.flags(cmd)
	x.in.store = &x.store
	x.others.flags(cmd)
	return cmd
}

// place looks at the flags before anything is made, and gives the place to look at and the day to look ahead to.
func (x *auditing) place(a *app, cmd *cobra.Command) (p *place, last unit.Date, err error) {
	if err := openly(cmp.Or(x.bounds.Check(), x.store.check())); err != nil {
		return nil, 0, err
	}
	if x.dir == "" {
		return nil, 0, openly(errors.New("an audit is several files: name a folder for them, such as -o audit"))
	}
	if p, err = a.place(x.in); err != nil {
		return nil, 0, err
	}
	if cmd.Flags().Changed("history") && (x.history < 1 || x.history > mostHistory) {
		return nil, 0, openly(fmt.Errorf("--history %d: write how many earlier states are to be shown, from 1 to %d", x.history, mostHistory))
	}
	if !cmd.Flags().Changed("until") {
		return p, p.on + halfYear, nil
	}
	if last, err = unit.ParseDate(x.until); err != nil {
		return nil, 0, openly(fmt.Errorf("--until: %w", err))
	}
	if last < p.on {
		return nil, 0, openly(fmt.Errorf("--until %s is before the day of the audit, %s", last, p.on))
	}
	return p, last, nil
}

func (x *auditing) run(a *app, cmd *cobra.Command) error {
	p, last, err := x.place(a, cmd)
	if err != nil {
		return err
	}
	ctx, errs := cmd.Context(), cmd.ErrOrStderr()
	if err := knownLists(errs, x.in.rules, x.in.against); err != nil {
		return err
	}
	mask, err := x.others.mask(x.in.rules, errs)
	if err != nil {
		return err
	}
	target, err := newFolder(x.dir, mask != nil)
	if err != nil {
		return fmt.Errorf("-o %s: %w", x.dir, err)
	}
	defer target.drop()
	rulebook, err := x.in.rules.rulebook(errs)
	if err != nil {
		return err
	}
	states := p.states()
	defer states.close()
	o := lint.Options{
		Patterns: p.patterns, Options: x.in.one(p), Workers: runtime.GOMAXPROCS(0),
		Spool: temporary, Alias: alias(mask), Want: &audit.Product, Least: finding.Note,
	}
	j, res, end, err := a.judged(ctx, x.in, x.bounds, p, states, errs, p.disk.FS, o)
	if err != nil {
		return err
	}
	defer end()
	res.Run.Rules = household.Rules(rulebook)
	run := &res.Run
	if mask != nil {
		run = mask.Run(run)
	}
	if err := target.worth(run, aloud(errs)); err != nil {
		return err
	}
	au := &audit.Audit{
		Run: &res.Run, Season: x.in.season, Against: x.in.against, OnDay: int64(p.on), Until: last.String(), UntilDay: int64(last), Households: audit.Households(res),
	}
	if au.Standards, err = x.in.rules.ids(); err != nil {
		return err
	}
	earlier := &past{j: j, states: states, place: p, n: x.history, dir: x.dir}
	if au, err = earlier.added(ctx, au, mask, o); err != nil {
		return err
	}
	if err := j.differs(); err != nil {
		return err
	}
	if err := x.write(cmd, target, au, mask != nil); err != nil {
		return err
	}
	return verdict(&res.Run, res.Unfit, "never")
}

// write puts the audit into its folder and tells of it.
func (x *auditing) write(cmd *cobra.Command, target *pages, au *audit.Audit, shared bool) error {
	if err := au.Rank(); err != nil {
		return err
	}
	if err := target.write(au, shared, x.brief); err != nil {
		return err
	}
	if err := target.keep(); err != nil {
		return err
	}
	if err := report.AuditText(cmd.OutOrStdout(), au, filepath.ToSlash(x.dir)); err != nil {
		return fmt.Errorf("the summary could not be written: %w", plain(err))
	}
	if shared {
		fmt.Fprintln(aloud(cmd.ErrOrStderr()), "Left out, as they cannot be shown to others: due.csv and audit.ics.")
	}
	return nil
}

// ids are the standards that are judged by, the base first.
func (s *standards) ids() ([]audit.StandardID, error) {
	m, err := judge.ReadManifest(judge.Base())
	if err != nil {
		return nil, err
	}
	digest, err := standard.Digest(judge.Base())
	if err != nil {
		return nil, err
	}
	out := []audit.StandardID{{Name: m.Name, Version: m.Version, Digest: digest}}
	for _, r := range s.resolved {
		name, version, _ := strings.Cut(r.name, " ")
		out = append(out, audit.StandardID{Name: name, Version: version, Digest: r.digest})
	}
	return out, nil
}
