package report

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"github.com/rogpeppe/go-internal/diff"

	"kitmuster/lint/finding"
	"kitmuster/lint/remedy"
	"kitmuster/lint/words"
)

// RemedyText writes, for each household, the steps with what they clear, the household before and after, and what no step clears.
func RemedyText(w io.Writer, r *Made[remedy.Remedied], o Options) error {
	return r.text(w, o, func(*remedy.Remedied) bool { return true }, func(w io.Writer, h *remedy.Remedied) {
		remedyPage{w, r.Run.On, o, words.Amounts{Units: h.Household.Units}}.household(h)
	})
}

// remedied reports whether a remedy was looked for.
func remedied(h *remedy.Remedied) bool { return h.Before.PlanHours > 0 }

type remedyPage struct {
	io.Writer
	on      string
	o       Options
	amounts words.Amounts
}

func (p remedyPage) say(format string, args ...any) {
	fmt.Fprintln(p, strings.TrimRight(fmt.Sprintf(format, args...), " "))
}

func (p remedyPage) household(h *remedy.Remedied) {
	if !remedied(h) {
		p.say("%s (%s): there is no remedy until these are corrected:", words.Clean(h.Household.Name), words.Clean(h.Household.Path))
		return
	}
	p.say("%s (%s), a remedy as of %s: %s", words.Clean(h.Household.Name), words.Clean(h.Household.Path), p.on, p.headline(h))
	for i := range h.Steps {
		p.step(i+1, &h.Steps[i])
	}
	if len(h.Steps) > 0 {
		p.say("")
		p.sides(h)
	}
	if len(h.Remains) > 0 {
		p.say("")
		p.say("  Left, for you to decide, to fetch or to record:")
		for i := range h.Remains {
			f := &h.Remains[i]
			p.say("    %s: %s: %s [%s]", place(f.At), p.o.level(f.Level, string(f.Level)), words.Clean(f.Message), f.Rule)
			if f.Remedy != "" {
				p.say("      %s", words.Clean(f.Remedy))
			}
		}
	}
	if t := h.Trade; t != nil {
		p.say("")
		p.say("  This would leave %s, but bring something that was not there. It is yours to weigh, and to write:", cmp.Or(nonzero(t.Left, h.Until), "none"))
		for _, s := range t.Steps {
			p.say("    %s", words.Clean(s))
		}
		for _, b := range t.Brings {
			p.say("    brings %s: %s [%s]", p.o.level(b.Level, string(b.Level)), words.Clean(b.Text), b.Rule)
		}
	}
	if len(h.Refused) > 0 {
		p.say("")
		p.say("  What would have served, but is changed by hand only:")
		for _, x := range h.Refused {
			p.say("    %s: %s: %s", place(x.At), words.Clean(x.Text), words.Clean(x.Why))
		}
	}
	if h.Before.Errors+h.Before.Warnings+h.Before.Notes == 0 {
		return
	}
	p.say("")
	switch {
	case len(h.Steps) == 1 && len(h.Remains) == 0:
		p.say("  No smaller change does it: one step is the least. It is the best of %s that were tried.", words.Count(h.Tried, "change"))
	case h.Ended:
		p.say("  The best of %s, which is as many as are tried; a smaller change, or one that clears more, may exist.", words.Count(h.Tried, "change"))
	case h.Tried > 1:
		p.say("  The best of %s that were tried; a smaller one may exist.", words.Count(h.Tried, "change"))
	}
	if len(h.Steps) > 0 {
		p.say("  A remedy is arithmetic, not advice. The person who carries decides what they can carry; ask a practitioner where someone is ill, pregnant, old or")
		p.say("  small, and try the packs on before you rely on them.")
	}
}

func (p remedyPage) headline(h *remedy.Remedied) string {
	open := levels(h.Until, h.Before)
	if open == "" {
		return "nothing to clear"
	}
	if len(h.Steps) == 0 {
		return open + ", and no change of place was found that clears any"
	}
	left := levels(h.Until, h.After)
	return fmt.Sprintf("%s now, %s with %s", open, cmp.Or(left, "none"), words.Count(len(h.Steps), "step"))
}

// levels counts the findings from a level on; "" where there are none.
func levels(until finding.Level, s remedy.State) string {
	var out []string
	add := func(n int, l finding.Level) {
		if n > 0 && l.Rank() >= until.Rank() {
			out = append(out, words.Count(n, string(l)))
		}
	}
	add(s.Errors, finding.Error)
	add(s.Warnings, finding.Warning)
	add(s.Notes, finding.Note)
	return words.And(out)
}

// nonzero counts findings from a level on; "" where there are none.
func nonzero(n int, until finding.Level) string {
	switch {
	case n == 0:
		return ""
	case until == finding.Error:
		return words.Count(n, "error")
	}
	return words.Count(n, "finding")
}

func (p remedyPage) step(n int, s *remedy.Step) {
	p.say("")
	mass := ""
	if s.MassMG > 0 {
		mass = " (" + p.amounts.Mass(s.MassMG) + ")"
	}
	p.say("  %d. %s%s", n, words.Clean(s.Text), mass)
	p.say("     %s", place(s.At))
	for _, c := range s.Clears {
		p.say("     clears %s, not met: %s [%s]", p.o.level(c.Level, string(c.Level)), words.Clean(c.Title), c.Rule)
	}
}

// sides shows the household before and after, side by side.
func (p remedyPage) sides(h *remedy.Remedied) {
	t := &table{head: []string{"", "now", "with the steps"}}
	load := func(c remedy.Carrier) string {
		return fmt.Sprintf("%s, %s of %s", atLeast(!c.Known, p.amounts.Mass(c.LoadMG)), words.Percent(c.SharePermille, 1000), words.Percent(c.CapPermille, 1000))
	}
	for _, b := range h.Before.Carriers {
		for _, a := range h.After.Carriers {
			if a.Name == b.Name {
				t.row(words.Clean(b.Name)+", load", load(b), load(a))
			}
		}
	}
	lasts := func(s finding.Stock, plan int64) string {
		switch {
		case !s.Known:
			return "not known"
		case s.Lasts >= plan:
			return "to the end"
		}
		return fmt.Sprintf("%d h", s.Lasts)
	}
	for _, b := range h.Before.Stocks {
		for _, a := range h.After.Stocks {
			if x, y := lasts(b, h.Before.PlanHours), lasts(a, h.After.PlanHours); a.Kind == b.Kind && x != y {
				t.row(string(b.Kind)+" lasts", x, y)
			}
		}
	}
	t.row("errors", fmt.Sprint(h.Before.Errors), fmt.Sprint(h.After.Errors))
	t.row("warnings", fmt.Sprint(h.Before.Warnings), fmt.Sprint(h.After.Warnings))
	t.row("notes", fmt.Sprint(h.Before.Notes), fmt.Sprint(h.After.Notes))
	t.write(p, "  ")
}

// RemedyDiff writes the change of the files as a unified diff.
func RemedyDiff(w io.Writer, r *Made[remedy.Remedied], _ Options) error {
	for h, err := range r.Households {
		if err != nil {
			return err
		}
		for _, f := range h.Files {
			for line := range strings.Lines(string(diff.Diff("a/"+f.Shown, f.Old, "b/"+f.Shown, f.New))) {
				if strings.HasPrefix(line, "diff ") { // the line of git's that says nothing more
					continue
				}
				parts := strings.Split(strings.TrimSuffix(line, "\n"), "\t") // which indent, and are no danger here
				for i := range parts {
					parts[i] = words.Clean(parts[i])
				}
				fmt.Fprintln(w, strings.Join(parts, "\t"))
			}
		}
	}
	return nil
}

type jsonRemedied struct {
	Name    string           `json:"name"`
	Path    string           `json:"path"`
	Done    bool             `json:"worked_out"`
	Until   finding.Level    `json:"until,omitempty"`
	Steps   []jsonRemedyStep `json:"steps"`
	Before  *jsonState       `json:"before,omitempty"`
	After   *jsonState       `json:"after,omitempty"`
	Remains []jsonFinding    `json:"remains"`
	Refused []jsonRefused    `json:"by_hand"`
	Trade   *jsonTrade       `json:"trade,omitempty"`
	Tried   int              `json:"changes_tried"`
	Ended   bool             `json:"search_ended_at_its_bound"`
}

type jsonRemedyStep struct {
	Act    string        `json:"act"`
	Text   string        `json:"text"`
	Spot   string        `json:"spot"`
	To     string        `json:"to,omitempty"`
	MassMG int64         `json:"mass_mg,omitempty"`
	At     *jsonSpan     `json:"at,omitempty"`
	Clears []jsonCleared `json:"clears"`
}

type jsonCleared struct {
	Rule  string        `json:"rule"`
	Level finding.Level `json:"level"`
	Spot  string        `json:"spot"`
	At    *jsonSpan     `json:"at,omitempty"`
}

type jsonState struct {
	Errors   int           `json:"errors"`
	Warnings int           `json:"warnings"`
	Notes    int           `json:"notes"`
	Carriers []jsonCarried `json:"carriers"`
	Stocks   []jsonLasting `json:"stocks"`
}

type jsonCarried struct {
	Name   string `json:"name"`
	LoadMG int64  `json:"load_mg"`
	Least  bool   `json:"at_least,omitempty"`
	Share  int64  `json:"share_permille"`
	Cap    int64  `json:"cap_permille"`
}

// jsonTrade is a change that clears more and brings something that was not there.
type jsonTrade struct {
	Steps  []string      `json:"steps"`
	Left   int           `json:"leaves"`
	Brings []jsonBrought `json:"brings"`
}

type jsonBrought struct {
	Rule    string        `json:"rule"`
	Level   finding.Level `json:"level"`
	Message string        `json:"message"`
}

type jsonRefused struct {
	Text string    `json:"text"`
	Why  string    `json:"why"`
	At   *jsonSpan `json:"at,omitempty"`
}

// RemedyJSON writes all of it as one object.
func RemedyJSON(w io.Writer, r *Made[remedy.Remedied], _ Options) error {
	return r.json(w, func(h *remedy.Remedied) any {
		j := jsonRemedied{Name: h.Household.Name, Path: h.Household.Path, Done: remedied(h), Steps: []jsonRemedyStep{}, Remains: findings(h.Remains), Refused: []jsonRefused{}, Tried: h.Tried, Ended: h.Ended}
		if !j.Done {
			return j
		}
		before, after := stateJSON(h.Before), stateJSON(h.After)
		j.Until, j.Before, j.After = h.Until, &before, &after
		for _, s := range h.Steps {
			x := jsonRemedyStep{Act: s.Act, Text: s.Text, Spot: s.Spot, To: s.To, MassMG: s.MassMG, At: span(s.At), Clears: []jsonCleared{}}
			for _, c := range s.Clears {
				x.Clears = append(x.Clears, jsonCleared{c.Rule, c.Level, c.Spot, span(c.At)})
			}
			j.Steps = append(j.Steps, x)
		}
		if t := h.Trade; t != nil {
			j.Trade = &jsonTrade{t.Steps, t.Left, []jsonBrought{}}
			for _, b := range t.Brings {
				j.Trade.Brings = append(j.Trade.Brings, jsonBrought{b.Rule, b.Level, b.Text})
			}
		}
		for _, x := range h.Refused {
			j.Refused = append(j.Refused, jsonRefused{x.Text, x.Why, span(x.At)})
		}
		return j
	})
}

func stateJSON(s remedy.State) jsonState {
	out := jsonState{s.Errors, s.Warnings, s.Notes, []jsonCarried{}, []jsonLasting{}}
	for _, c := range s.Carriers {
		out.Carriers = append(out.Carriers, jsonCarried{c.Name, c.LoadMG, !c.Known, c.SharePermille, c.CapPermille})
	}
	for _, x := range s.Stocks {
		out.Stocks = append(out.Stocks, jsonLasting{Stock: x.Kind, Hours: x.Lasts, Known: x.Known})
	}
	return out
}
