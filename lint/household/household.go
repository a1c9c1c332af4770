package household

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/forecast"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Options say how a household is measured and judged.
type Options struct {
	// On is the audit date.
	On unit.Date
	// Season replaces the season each plan names; "" leaves it.
	Season string
	// Start replaces the time of day at which each plan begins; unset leaves it.
	Start kit.Opt[unit.Clock]
	// Units are those in which amounts are said first; "" is as the kit writes most of its masses.
	Units unit.System
	// Against are official lists that every household is held against, beside those its plan names.
	Against []string
	// Memory is what is known of the household from another day, and takes what there is to be kept; nil remembers nothing.
	Memory *Memory `json:"-"`
	// Show turns a path of the tree into the path that people see; nil leaves it.
	Show func(string) string `json:"-"`
	// From is the level from which rules are asked in a what-if.
	From finding.Level
	// Steps are those of a remedy that are taken, by their numbers; empty takes all.
	Steps []int
	// Orders are what is written into the files, as the product that does it has them.
	Orders []string
}

// Outcome is what came of one household.
type Outcome struct {
	Household finding.Household
	// Standing is empty where the household could not be measured.
	Standing Standing
	Findings []finding.Finding
	// Extra is what a product makes of the household beside findings, such as its sheet or its packing list; nil where none is
	// asked for, or the household could not be measured.
	Extra any
	// Faults are broken rules of a standard, at their own lines.
	Faults []judge.Problem
	// At is where the household says its name.
	At source.Span
}

// Standing is how a household stands in the few figures that are held against those of other days; see finding.Trend.
type Standing struct {
	LoadPermille, WaterHours int64
	WaterKnown               bool
	PlanHours                int64
}

func standing(f *facts.Facts) Standing {
	s := Standing{PlanHours: f.Endurance.Hours}
	for i := range f.Carriers {
		if c := &f.Carriers[i]; len(c.Packs) > 0 {
			s.LoadPermille = max(s.LoadPermille, c.ShareP)
		}
	}
	for i := range f.Endurance.Stocks {
		if l := &f.Endurance.Stocks[i]; l.ID == "endurance/water" {
			s.WaterHours, s.WaterKnown = l.Lasts, !l.Unrecorded
		}
	}
	return s
}

// Measured is one household, read and measured.
type Measured struct {
	Household finding.Household
	// Findings are faults of the input.
	Findings []finding.Finding
	// Facts and Ledger are nil where the household could not be read.
	Facts  *facts.Facts
	Ledger *facts.Ledger
	// Plan is what was taken for the forecast, and Forecast what came of it; nil as the facts are.
	Plan     *forecast.Input
	Forecast *forecast.Result
	Kit      *kit.Household
	// Locate answers where the family wrote a spot.
	Locate func(spot string) source.Place
	// own are the limits that the household made stricter, by name.
	own    map[string]finding.Limit
	memory *Memory
}

// Measure reads and measures the household in folder dir, whatever a standard asks of it.
func Measure(tree fs.FS, dir string, o Options) *Measured { return MeasureFor(tree, dir, nil, o) }

// MeasureFor reads and measures a household with what it asks of the standard: stricter
// limits and official lists. Without a rulebook it asks for nothing.
func MeasureFor(tree fs.FS, dir string, rulebook *judge.Rulebook, o Options) *Measured {
	show := o.Show
	if show == nil {
		show = func(s string) string { return s }
	}
	l := o.Memory.load(tree, dir, load.Options{Show: show})
	m := &Measured{Household: finding.Household{Path: show(dir)}, Locate: l.Locate, memory: o.Memory}
	if l.Kit != nil {
		m.Household.Name = l.Kit.Name
		if len(l.Faults) == 0 && o.Season != "" && !slices.ContainsFunc(l.Kit.Plan.Seasons, func(s kit.Season) bool { return s.Key == o.Season }) {
			m.Findings = append(m.Findings, unknownSeason(l, o.Season, m.Household))
			return m
		}
	}
	l.Faults = append(l.Faults, unborn(l, o.On)...)
	for _, f := range l.Faults {
		m.Findings = append(m.Findings, InputFinding(f, m.Household.Name, m.Household.Path))
	}
	if l.Kit == nil {
		return m
	}
	m.Household.Judged = len(l.Faults) == 0
	m.Kit = l.Kit
	m.Household.Units = cmp.Or(o.Units, l.Kit.Units)
	mo := measure.Options{On: o.On, Season: o.Season, Start: o.Start, Units: o.Units}
	if rulebook != nil {
		m.demands(rulebook, o.Against, &mo)
	}
	m.Facts, m.Ledger, m.Plan, m.Forecast = measure.Forecast(l.Kit, mo)
	return m
}

// unborn are the births that are written as days still to come: the age is not known then, and nobody counts as an infant for it.
func unborn(l *load.Loaded, on unit.Date) (out []load.Fault) {
	if l.Kit == nil {
		return nil
	}
	add := func(spot, name string, born kit.Opt[unit.Date]) {
		if spot += "/born"; born.Set && born.Value > on {
			out = append(out, load.Fault{
				Rule: "input/value", Spot: spot, At: l.Locate(spot).At,
				Message: fmt.Sprintf("the birth of %s, %s, is after the day of this check, %s; write the day of birth, and who is not born yet as pregnant: due of the mother", name, born.Value, on),
			})
		}
	}
	for i := range l.Kit.People {
		add(l.Kit.People[i].Spot, l.Kit.People[i].Name, l.Kit.People[i].Born)
	}
	for i := range l.Kit.Animals {
		add(l.Kit.Animals[i].Spot, l.Kit.Animals[i].Name, l.Kit.Animals[i].Born)
	}
	return out
}

func unknownSeason(l *load.Loaded, season string, h finding.Household) finding.Finding {
	var known []string
	for _, s := range l.Kit.Plan.Seasons {
		known = append(known, s.Key)
	}
	text := fmt.Sprintf("this household has no season %q under plan.seasons", season)
	if len(known) > 0 {
		text = words.Suggest(text, season, known, "there are")
	}
	return InputFinding(load.Fault{Rule: "input/season", Spot: "plan/seasons", Message: text, At: l.Locate("plan/seasons").At}, h.Name, h.Path)
}

// InputFinding says a fault of the input as a finding.
func InputFinding(f load.Fault, name, path string) finding.Finding {
	out := finding.Finding{Rule: f.Rule, Level: finding.Error, Title: TitleOf(f.Rule), Message: f.Message, Household: name, Path: path, Spot: f.Spot, At: f.At}
	for _, r := range f.Also {
		out.Because = append(out.Because, finding.Because{Message: r.Message, At: r.At})
	}
	if e, ok := f.Sure(); ok && words.Clean(e.New) == e.New { // what cannot be seen is not offered
		out.Edit = &finding.Edit{At: e.At, New: e.New}
	}
	return out
}

// Judge works on the household in folder dir from its files to its findings.
func Judge(ctx context.Context, tree fs.FS, rulebook *judge.Rulebook, dir string, o Options) Outcome {
	return MeasureFor(tree, dir, rulebook, o).Judge(ctx, rulebook, o)
}

// Judge judges what MeasureFor has measured.
func (m *Measured) Judge(ctx context.Context, rulebook *judge.Rulebook, o Options) Outcome {
	out := m.Outcome()
	if m.Facts == nil {
		return out
	}
	out.Standing = standing(m.Facts)
	verdicts, faults := m.Verdicts(ctx, rulebook, finding.Note, o.On)
	for _, f := range faults {
		out.Faults = append(out.Faults, f.Problem)
		out.Findings = append(out.Findings, m.BrokenRule(f))
	}
	entries := entriesOf(m.Kit)
	for _, v := range verdicts {
		// What a rule says of the very field that cannot be read is an echo of the fault there. What it says of a whole entry is none: the
		// household without a name lacks what it lacks.
		if entries[v.At] || !slices.ContainsFunc(m.Findings, func(f finding.Finding) bool { return f.Spot == v.At && f.OfInput() }) {
			out.Findings = append(out.Findings, m.Finding(v))
		}
	}
	m.Waive(rulebook, o.On, &out)
	return out
}

// Verdicts are what the rules object to, of a level and graver, one for each lack (see judge.Settle). What a waiver covers stays as it is.
func (m *Measured) Verdicts(ctx context.Context, rulebook *judge.Rulebook, least finding.Level, on unit.Date) ([]judge.Verdict, []judge.Fault) {
	vs, faults := m.memory.judge(ctx, rulebook, least, m.Facts, func(id string) bool { _, ok := m.Ledger.Entry(id); return ok })
	vs = judge.Settle(vs, func(v *judge.Verdict) bool {
		return m.Waives(rulebook, v.Rule.Name, v.At, on)
	})
	return slices.DeleteFunc(vs, func(v judge.Verdict) bool { return v.Level.Rank() < least.Rank() }), faults
}

// entriesOf are the spots of the household, its plan, its people, animals, packs and things.
func entriesOf(h *kit.Household) map[string]bool {
	out := map[string]bool{"household": true, "plan": true}
	things := func(items []kit.Item) {
		for i := range items {
			out[items[i].Spot] = true
		}
	}
	for i := range h.People {
		out[h.People[i].Spot] = true
		things(h.People[i].OnBody)
	}
	for i := range h.Animals {
		out[h.Animals[i].Spot] = true
	}
	for i := range h.Packs {
		out[h.Packs[i].Spot] = true
		for j := range h.Packs[i].Compartments {
			things(h.Packs[i].Compartments[j].Items)
		}
	}
	return out
}

// Outcome is what is there before anything is judged or made.
func (m *Measured) Outcome() Outcome {
	return Outcome{Household: m.Household, Findings: m.Findings, At: m.Locate("household").At}
}

// BrokenRule says that a rule broke, where the household stands.
func (m *Measured) BrokenRule(f judge.Fault) finding.Finding {
	text := fmt.Sprintf("rule %s broke, so what it has to say here is incomplete: %s", f.Rule.Name, f.Problem)
	return InputFinding(load.Fault{Rule: "input/rule", Spot: "household", Message: text, At: m.Locate("household").At}, m.Household.Name, m.Household.Path)
}

// drivers is how many driving inputs stand under a finding; the rest are counted.
const Drivers = 5

// Finding leads a verdict back to the family's lines.
func (m *Measured) Finding(v judge.Verdict) finding.Finding {
	f := finding.Finding{
		Rule: v.Rule.Name, Level: v.Level, Title: v.Rule.Title, Message: v.Text, Household: m.Household.Name, Path: m.Household.Path, Spot: v.At,
		Remedy: v.Rule.Remedy, Caution: v.Rule.Caution, MayDo: len(v.Unrecorded) > 0,
	}
	if l := v.Rule.Lack; l != nil {
		f.Lack = &finding.Shortfall{What: l.What, Unit: l.Unit, Amount: v.Lack}
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
		if i == Drivers {
			f.Because = append(f.Because, finding.Because{Message: fmt.Sprintf("and %d more", len(because)-Drivers)})
			break
		}
		text := in.Label
		if a := in.Amount.In(m.Facts.Audit.Units); a != "" {
			text += ": " + a
		}
		e, _ := m.Ledger.Entry(in.ID)
		p := m.Place(e.Spots)
		if p.Used.Known() { // its words stand in something shared, such as a template, and do not say whose it is
			text += m.whose(e.Spots[0])
		}
		f.Because = append(f.Because, finding.Because{Message: text, At: p.At})
	}
	for _, l := range v.Rule.Limits {
		limit := finding.Limit{Name: l.Name, Value: l.Value, List: l.Unit == kinds.UnitList, Source: l.Source, Layer: l.Layer}
		if l.Layer != judge.BaseLayer {
			limit.At = l.At.Span()
		}
		if own, ok := m.own[l.Name]; ok {
			limit = own
		}
		f.Limits = append(f.Limits, limit)
	}
	return f
}

// whose says in which pack a spot lies, "" where it lies in none.
func (m *Measured) whose(spot string) string {
	keys := source.Keys(spot)
	if len(keys) < 3 || keys[0] != "packs" {
		return ""
	}
	for i := range m.Kit.Packs {
		if p := &m.Kit.Packs[i]; p.Key == keys[1] {
			return fmt.Sprintf(", in pack “%s”", p.Name)
		}
	}
	return ""
}

// reasons are the things that a rule names as driving it; one sum alone stands for what it is made of.
func (m *Measured) reasons(ids []string) (out []facts.Input) {
	for _, id := range ids {
		e, _ := m.Ledger.Entry(id)
		if len(ids) == 1 && len(e.Inputs) > 0 {
			return e.Inputs
		}
		out = append(out, facts.Input{ID: id, Label: e.Label, Amount: e.Amount})
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
		out[i] = InputFinding(f, "", f.At.File)
	}
	return out
}
