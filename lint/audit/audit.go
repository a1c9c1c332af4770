package audit

import (
	"iter"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// Audited is one household of an audit, or a path that leads to none.
type Audited struct {
	Household finding.Household
	// Nowhere says that it is a path that leads to no household.
	Nowhere bool
	// Summary counts the findings.
	Summary  finding.Summary
	Findings []finding.Finding
	// Sheet is nil where the household could not be measured.
	Sheet *Sheet
}

// Audit is what an audit has to show.
type Audit struct {
	Run *finding.Run
	// Standards are those in force, the base first.
	Standards []StandardID
	// Season is the season of --season, "" where each household's own counts. Until is the last day that is looked at, and
	// OnDay and UntilDay are both days since 1970-01-01.
	Season string
	Until  string
	// Against are official lists that every household is compared with, beside the lists that it names itself.
	Against         []string
	OnDay, UntilDay int64
	// First is what to do first, errors before warnings; Rank works it out.
	First []First
	// Brief says that findings do not name their rules, so that there is nothing to put in order.
	Brief bool
	// History is how every household stood before, nil where no history was requested; Past says where it was taken from.
	History *finding.History
	Past    string
	// Households walks all households in order. It may be walked again; an error ends the walk.
	Households iter.Seq2[*Audited, error]
}

// Trend is the line of a household in this audit, as History has those of earlier states.
func (a *Audited) Trend() finding.Trend {
	n := a.Summary
	t := finding.Trend{Path: a.Household.Path, There: true, Judged: a.Household.Judged, Errors: n.Errors, Warnings: n.Warnings, Notes: n.Notes, Waived: n.Waived}
	if s := a.Sheet; s != nil && t.Judged {
		t.LoadPermille, t.WaterHours, t.WaterKnown, t.PlanHours = s.LoadP, s.WaterHours, s.WaterKnown, (s.Minutes+59)/60
	}
	return t
}

// mostSteps is how many things to do first are named; the others are counted. Our own figure.
const mostSteps = 12

// Rank works out what to do first.
func (a *Audit) Rank() error {
	if a.Brief {
		return nil
	}
	rules := map[string]finding.Rule{}
	for _, r := range a.Run.Rules {
		rules[r.Name] = r
	}
	var ranking Ranking
	for h, err := range a.Households {
		if err != nil {
			return err
		}
		ranking.Add(h)
	}
	a.First = nil
	for _, l := range []finding.Level{finding.Error, finding.Warning} {
		if f := ranking.Steps(l, rules, mostSteps); len(f.Steps) > 0 {
			a.First = append(a.First, f)
		}
	}
	return nil
}

// StandardID is a standard with its version and digest.
type StandardID struct {
	Name, Version, Digest string
}

// Standing is what an audit says of a household, in two words at most.
type Standing string

// The standings, best first.
const (
	Ready    Standing = "ready"
	NotReady Standing = "not ready"
	Unjudged Standing = "only partly checked"
)

// Standing is not ready where an error is open that no waiver covers. What could not be read wholly is only partly checked.
func (a *Audited) Standing() Standing {
	switch {
	case !a.Household.Judged:
		return Unjudged
	case a.Summary.Errors > 0:
		return NotReady
	}
	return Ready
}

// LeansUntil is the first day on which a waiver over an error ends, YYYY-MM-DD; "" where none covers one.
func (a *Audited) LeansUntil() (day string) {
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Waived != nil && f.Waived.Until != "" && f.Level == finding.Error && (day == "" || f.Waived.Until < day) {
			day = f.Waived.Until
		}
	}
	return day
}

// Under says by what an audit judges: its season, and its standards with versions.
func Under(season string, standards []StandardID) string {
	out := []string{"each household's season"}
	if season != "" {
		out[0] = "season " + season
	}
	for _, s := range standards {
		out = append(out, strings.TrimSpace(s.Name+" "+s.Version))
	}
	return strings.Join(out, ", ")
}

// Subject is a subject that rules are about, as an audit puts areas of rules together.
type Subject struct {
	Name string
	// Areas are the areas of rules that belong to it.
	Areas []string
}

// Subjects are all there are, in the order of a kit: what it weighs and holds, who it is for, what is written of it.
var Subjects = []Subject{
	{"load", []string{"load", "vehicle"}},
	{"water", []string{"water"}},
	{"food", []string{"food", "infant"}},
	{"endurance", []string{"endurance"}},
	{"fire", []string{"fire"}},
	{"shelter and clothing", []string{"shelter", "clothing", "shoes", "heat"}},
	{"first aid and medicine", []string{"first-aid", "medication", "care", "mobility", "pregnancy"}},
	{"light and power", []string{"light", "power"}},
	{"signals and radio", []string{"signals", "radio"}},
	{"navigation", []string{"navigation"}},
	{"tools", []string{"tools"}},
	{"hygiene", []string{"hygiene"}},
	{"papers and money", []string{"documents", "money"}},
	{"access", []string{"access"}},
	{"low profile", []string{"low-profile"}},
	{"children", []string{"children", "growth"}},
	{"animals", []string{"animals"}},
	{"separation", []string{"separation", "hazard", "people"}},
	{"safety", []string{"safety"}},
	{"dates and practice", []string{"dates", "practice", "waiver"}},
	{"data and lists", []string{"data", "lists", "limit"}},
	{"reading the files", []string{"input"}},
	{"held back", []string{"personal"}}, // in a report for others that covers few households
	{"the group's own", nil},
}

// SubjectOf returns the index of a rule's subject. A group's rule in an area of the base belongs there; other rules of the group have
// the last subject.
func SubjectOf(rule string) int {
	if _, r, ok := strings.Cut(rule, ":"); ok {
		rule = r
	}
	area, _, _ := strings.Cut(rule, "/")
	if i := slices.IndexFunc(Subjects, func(s Subject) bool { return slices.Contains(s.Areas, area) }); i >= 0 {
		return i
	}
	return len(Subjects) - 1
}

// SubjectTally counts what is open in one subject, and what is waived.
type SubjectTally struct {
	Errors, Warnings, Notes, Waived int
}

// Worst is the gravest level that is open, with how many of it; "" where nothing is.
func (t SubjectTally) Worst() (finding.Level, int) {
	switch {
	case t.Errors > 0:
		return finding.Error, t.Errors
	case t.Warnings > 0:
		return finding.Warning, t.Warnings
	case t.Notes > 0:
		return finding.Note, t.Notes
	}
	return "", 0
}

// Nowhere says in words how many paths lead to no household, "" where all lead to one.
func Nowhere(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "; 1 path leads to no household"
	}
	return "; " + words.Count(n, "path") + " lead to no household"
}

// BySubject counts by subject, in the order of Subjects.
func (a *Audited) BySubject() []SubjectTally {
	out := make([]SubjectTally, len(Subjects))
	for i := range a.Findings {
		f := &a.Findings[i]
		t := &out[SubjectOf(f.Rule)]
		switch {
		case f.Waived != nil:
			t.Waived++
		case f.Level == finding.Error:
			t.Errors++
		case f.Level == finding.Warning:
			t.Warnings++
		default:
			t.Notes++
		}
	}
	return out
}

// DueWithin returns the dates up to a day, in their order, and how many of them lie before another day.
func (s *Sheet) DueWithin(on, until int64) (due []Due, past int) {
	for _, d := range s.Due {
		if d.Day <= until {
			due = append(due, d)
			if d.Day < on {
				past++
			}
		}
	}
	return due, past
}
