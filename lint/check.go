// Package lint is the order of work: find the households, load, measure and
// judge each, and bring every verdict back to the family's lines.
package lint

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"kitmuster/lint/finding"
	"kitmuster/lint/forecast"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/near"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// Options say what is checked and how.
type Options struct {
	// Patterns are paths of the tree; see load.Find.
	Patterns []string
	// On is the audit date.
	On unit.Date
	// Season replaces the season each plan names; "" leaves it.
	Season string
	// Start replaces the time of day at which each plan begins; unset leaves it.
	Start kit.Opt[unit.Clock]
	// Against are official lists that every household is held against, beside those its plan names.
	Against []string
	// Show turns a path of the tree into the path that people see.
	Show func(string) string
	// Workers is how many households are worked on at once; 0 means one.
	Workers int
	// Run works on the household in one folder: Judge, or Judge behind a wall.
	Run func(ctx context.Context, dir string) Outcome
}

// Outcome is what came of one household.
type Outcome struct {
	Household finding.Household
	Findings  []finding.Finding
	// Faults are broken rules of a standard, at their own lines.
	Faults []judge.Problem
}

// Result is what a check has to say.
type Result struct {
	Run finding.Run
	// Faults are broken rules of a standard.
	Faults []judge.Problem
	// Unfit says that some input could not be judged, or some rule could not judge.
	Unfit bool
}

// Check judges every household that the patterns mean. It never fails as a
// whole: what cannot be judged is a finding of its own, and the others go on.
func Check(ctx context.Context, tree fs.FS, o Options) *Result {
	dirs, faults := load.Find(tree, o.Patterns, load.Options{Show: o.Show})
	res := &Result{Run: finding.Run{On: o.On.String(), Findings: PathFindings(faults)}, Unfit: len(faults) > 0}
	outcomes := make([]Outcome, len(dirs))
	next := make(chan int)
	var wg sync.WaitGroup
	for range max(1, min(o.Workers, len(dirs))) {
		wg.Go(func() {
			for i := range next {
				outcomes[i] = o.Run(ctx, dirs[i])
			}
		})
	}
	for i := range dirs {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, out := range outcomes {
		res.Run.Households = append(res.Run.Households, out.Household)
		res.Run.Findings = append(res.Run.Findings, out.Findings...)
		res.Faults = append(res.Faults, out.Faults...)
		res.Unfit = res.Unfit || !out.Household.Judged || len(out.Faults) > 0
	}
	slices.SortFunc(res.Faults, func(a, b judge.Problem) int { return strings.Compare(a.String(), b.String()) })
	res.Faults = slices.Compact(res.Faults)
	res.Run.Findings = finding.Sort(res.Run.Findings)
	return res
}

// Measured is one household, read and measured.
type Measured struct {
	Household finding.Household
	// Findings are faults of the input.
	Findings []finding.Finding
	// Facts and Ledger are nil where the household could not be read.
	Facts  *measure.Facts
	Ledger *measure.Ledger
	// Plan is what was taken for the forecast, and Forecast what came of it; nil as the facts are.
	Plan     *forecast.Input
	Forecast *forecast.Result
	Kit      *kit.Household
	// Locate answers where the family wrote a spot.
	Locate func(spot string) source.Place
	// own are the limits that the household made stricter, by name.
	own map[string]finding.Limit
}

// Measure reads and measures the household in folder dir, whatever a standard asks of it.
func Measure(tree fs.FS, dir string, o Options) *Measured { return measured(tree, dir, nil, o) }

// measured reads and measures a household with what it asks of the standard: stricter
// limits and official lists. Without a bench it asks for nothing.
func measured(tree fs.FS, dir string, bench *judge.Bench, o Options) *Measured {
	show := o.Show
	if show == nil {
		show = func(s string) string { return s }
	}
	l := load.Household(tree, dir, load.Options{Show: show})
	m := &Measured{Household: finding.Household{Path: show(dir)}, Locate: l.Locate}
	if l.Kit != nil {
		m.Household.Name = l.Kit.Name
		if o.Season != "" && !slices.ContainsFunc(l.Kit.Plan.Seasons, func(s kit.Season) bool { return s.Key == o.Season }) {
			m.Findings = append(m.Findings, unknownSeason(l, o.Season, m.Household))
			return m
		}
	}
	for _, f := range l.Faults {
		m.Findings = append(m.Findings, inputFinding(f, m.Household.Name, m.Household.Path))
	}
	if l.Kit == nil {
		return m
	}
	m.Household.Judged = true
	m.Kit = l.Kit
	mo := measure.Options{On: o.On, Season: o.Season, Start: o.Start}
	if bench != nil {
		m.demands(bench, o.Against, &mo)
	}
	m.Facts, m.Ledger, m.Plan, m.Forecast = measure.Forecast(l.Kit, mo)
	return m
}

func unknownSeason(l *load.Loaded, season string, h finding.Household) finding.Finding {
	var known []string
	for _, s := range l.Kit.Plan.Seasons {
		known = append(known, s.Key)
	}
	text := fmt.Sprintf("this household has no season %q under plan.seasons", season)
	if len(known) > 0 {
		text = near.Suggest(text, season, known, "there are")
	}
	return inputFinding(load.Fault{Rule: "input/season", Spot: "plan/seasons", Message: text, At: l.Locate("plan/seasons").At}, h.Name, h.Path)
}

// inputFinding says a fault of the input as a finding.
func inputFinding(f load.Fault, name, path string) finding.Finding {
	out := finding.Finding{Rule: f.Rule, Level: finding.Error, Message: f.Message, Household: name, Path: path, Spot: f.Spot, At: f.At}
	for _, r := range f.Also {
		out.Because = append(out.Because, finding.Because{Message: r.Message, At: r.At})
	}
	return out
}

// Judge works on the household in folder dir from its files to its findings.
func Judge(ctx context.Context, tree fs.FS, bench *judge.Bench, dir string, o Options) Outcome {
	m := measured(tree, dir, bench, o)
	out := Outcome{Household: m.Household, Findings: m.Findings}
	if m.Facts == nil {
		return out
	}
	verdicts, faults := bench.Judge(ctx, m.Facts, func(id string) bool { _, ok := m.Ledger.Entry(id); return ok })
	for _, f := range faults {
		out.Faults = append(out.Faults, f.Problem)
		out.Findings = append(out.Findings, m.brokenRule(f))
	}
	for _, v := range verdicts {
		out.Findings = append(out.Findings, m.finding(v))
	}
	m.waive(bench, o.On, &out)
	return out
}

// brokenRule says that a rule broke, where the household stands.
func (m *Measured) brokenRule(f judge.Fault) finding.Finding {
	text := fmt.Sprintf("rule %s broke, so what it has to say here is incomplete: %s", f.Rule.Name, f.Problem)
	return inputFinding(load.Fault{Rule: "input/rule", Spot: "household", Message: text, At: m.Locate("household").At}, m.Household.Name, m.Household.Path)
}

// drivers is how many driving inputs stand under a finding; the rest are counted.
const drivers = 5

// finding leads a verdict back to the family's lines.
func (m *Measured) finding(v judge.Verdict) finding.Finding {
	f := finding.Finding{
		Rule: v.Rule.Name, Level: v.Rule.Level, Message: v.Text, Household: m.Household.Name, Path: m.Household.Path, Spot: v.At,
		Remedy: v.Rule.Remedy, Caution: v.Rule.Caution,
	}
	at, _ := m.Ledger.Entry(v.At)
	p := m.Place(at.Spots)
	f.At = p.At
	if p.Used.Known() {
		f.Because = append(f.Because, finding.Because{Message: "used here", At: p.Used})
	}
	because := at.Inputs
	if len(v.Because) > 0 {
		because = m.reasons(v.Because)
	}
	for i, in := range because {
		if i == drivers {
			f.Because = append(f.Because, finding.Because{Message: fmt.Sprintf("and %d more", len(because)-drivers)})
			break
		}
		text := in.Label
		if a := in.AmountText(); a != "" {
			text += ": " + a
		}
		e, _ := m.Ledger.Entry(in.ID)
		f.Because = append(f.Because, finding.Because{Message: text, At: m.Place(e.Spots).At})
	}
	for _, l := range v.Rule.Limits {
		limit := finding.Limit{Name: l.Name, Value: l.Value, Source: l.Source}
		if own, ok := m.own[l.Name]; ok {
			limit = own
		}
		f.Limits = append(f.Limits, limit)
	}
	return f
}

// reasons are the things that a rule names as driving it; one sum alone stands for what it is made of.
func (m *Measured) reasons(ids []string) (out []measure.Input) {
	for _, id := range ids {
		e, _ := m.Ledger.Entry(id)
		if len(ids) == 1 && len(e.Inputs) > 0 {
			return e.Inputs
		}
		out = append(out, measure.Input{ID: id, Label: e.Label, Amount: e.Amount})
	}
	return out
}

// Place is the first of the spots that the family wrote; failing that, the nearest entry around the first.
func (m *Measured) Place(spots []string) source.Place {
	var around source.Place
	for _, s := range spots {
		p := m.Locate(s)
		if p.Origin != source.Absent {
			return p
		}
		if !around.At.Known() {
			around = p
		}
	}
	if !around.At.Known() {
		around = m.Locate("household")
	}
	return around
}

// PathFindings says faults of the paths as findings.
func PathFindings(faults []load.Fault) []finding.Finding {
	out := make([]finding.Finding, len(faults))
	for i, f := range faults {
		out[i] = inputFinding(f, "", f.At.File)
	}
	return out
}
