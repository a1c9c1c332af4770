package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// figureText writes a figure for people, and nothing where it simply is so.
func figureText(units unit.System, f *compare.Figure) string {
	if write := f.Unit.Row().Text; write != nil {
		return write(units, f.Value)
	}
	return ""
}

// changeText says a change in a line without its label.
func changeText(units unit.System, c compare.Change) string {
	switch {
	case c.Before == nil:
		return strings.TrimSuffix("new: "+figureText(units, c.Now), ": ")
	case c.Now == nil:
		return strings.TrimSuffix("gone: was "+figureText(units, c.Before), ": was ")
	}
	return fmt.Sprintf("%s → %s (%s)", figureText(units, c.Before), figureText(units, c.Now), signed(units, c.Now, c.Now.Value-c.Before.Value))
}

// signed writes by how much a figure differs.
func signed(units unit.System, f *compare.Figure, d int64) string {
	sign := "+"
	if d < 0 {
		sign, d = "-", -d
	}
	if write := f.Unit.Row().Change; write != nil {
		return sign + write(units, d)
	}
	return sign
}

// mostSpans is how many figures are told of households that differ by one change of a shared file. Our own figure.
const mostSpans = 6

// byOneChange are the changes that many households read, and which households are told with them.
func byOneChange(c *compare.Comparison) (many []compare.Alike, told map[string]bool) {
	told = map[string]bool{}
	for _, a := range c.Alike() {
		if len(a.Households) < manyHouseholds {
			continue
		}
		many = append(many, a)
		for _, h := range a.Households {
			told[h.Household.Path] = true
		}
	}
	return many, told
}

// spanText says by how much a figure differs in several households.
func spanText(s compare.Span) string {
	text := signed(unit.Metric, s.Figure, s.Least)
	if s.Most != s.Least {
		text += " to " + signed(unit.Metric, s.Figure, s.Most)
	}
	return fmt.Sprintf("%s: %s", s.Figure.Label, text)
}

// alikeText says how many households differ by a change alone, and by how much.
func alikeText(a *compare.Alike) string {
	s := fmt.Sprintf("%s read it and changed nothing of their own; figures differ in %d", words.Count(len(a.Households), "household"), a.Differ)
	for i, x := range a.Spans {
		if i == mostSpans {
			break
		}
		sep := "; "
		if i == 0 {
			sep = ": "
		}
		s += sep + spanText(x)
	}
	return s
}

// CompareText writes what changed between two states, for a terminal.
func CompareText(w io.Writer, c *compare.Comparison, o Options) error {
	b := bufio.NewWriter(w)
	next := byHousehold(c.Run)
	x, err := effectsOf(c.Run)
	if err != nil {
		return err
	}
	many, told := byOneChange(c)
	for i := range c.Households {
		h := &c.Households[i]
		if told[h.Household.Path] {
			continue
		}
		fs, err := next(h.Household.Path)
		if err != nil {
			return err
		}
		fmt.Fprintln(b, compareTitle(h))
		if len(h.Changes) == 0 {
			fmt.Fprintln(b, "  no figure differs")
		}
		group := ""
		for _, ch := range h.Changes {
			if g := ch.Group(); g != group {
				group = g
				fmt.Fprintf(b, "  %s\n", g)
			}
			fmt.Fprintf(b, "    %s: %s\n", words.Clean(ch.Label()), changeText(h.Household.Units, ch))
		}
		n := count(fs)
		fmt.Fprintf(b, "  findings: %d new, %d fixed, %d unchanged\n", n.New, n.Mended, n.Unchanged)
		for i := range fs {
			if f := &fs[i]; compared(f) {
				fmt.Fprintf(b, "    %s %s: %s [%s] (%s)", f.State.Word(), o.level(f.Level, string(f.Level)), words.Clean(f.Message), f.Rule, spoken(f))
				if s := since(f); s != "" {
					fmt.Fprint(b, ", "+words.Clean(s))
				}
				fmt.Fprintln(b)
			}
		}
		fmt.Fprintln(b)
	}
	t := &text{b: b, o: o, run: c.Run}
	for i := range many {
		t.wrapped("", "", "  ", finding.CauseWords(many[i].Causes))
		t.wrapped("", "  ", "    ", alikeText(&many[i]))
		t.rules("  ", x.of(many[i].Causes))
		fmt.Fprintln(b)
	}
	if len(many) > 0 {
		if len(x.all) > 0 {
			t.effects(x.all)
		}
		t.wrapped("", "", "", "What of one household differs: the same command with -- and its folder after it.")
	}
	for _, r := range remarks(c.Run) {
		fmt.Fprintln(b, words.Clean(r))
	}
	fmt.Fprintln(b, Count(c.Run))
	return b.Flush()
}

// compared reports whether a comparison names the finding; waived and unchanged ones are counted only.
func compared(f *finding.Finding) bool { return f.State != finding.Unchanged && f.Waived == nil }

func compareTitle(h *compare.Compared) string {
	name := words.Clean(h.Household.Name)
	if name == "" {
		name = "not readable"
	}
	s := fmt.Sprintf("%s (%s)", name, words.Clean(h.Household.Path))
	switch {
	case h.Was == "":
		s += ", new"
	case h.Was != h.Household.Path:
		s += ", was at " + words.Clean(h.Was)
	}
	return s
}

func count(fs []finding.Finding) (s finding.Summary) {
	for i := range fs {
		s.Finding(&fs[i])
	}
	return s
}

// byHousehold gives the findings of each household.
func byHousehold(run *finding.Run) func(path string) ([]finding.Finding, error) {
	byPath := map[string][]finding.Finding{} // a comparison is mostly of the few households that a change touches
	all, err := run.Findings.All()
	for _, f := range all {
		byPath[f.Path] = append(byPath[f.Path], f)
	}
	return func(path string) ([]finding.Finding, error) { return byPath[path], err }
}

// CompareMarkdown writes what changed between two states as CommonMark with tables (GitHub Flavored Markdown, tables
// extension), for a comment under a change.
func CompareMarkdown(w io.Writer, c *compare.Comparison, _ Options) error {
	b := bufio.NewWriter(w)
	next := byHousehold(c.Run)
	s := c.Run.Summary
	x, err := effectsOf(c.Run)
	if err != nil {
		return err
	}
	many, told := byOneChange(c)
	fmt.Fprintf(b, "## Evacuation kits: %d new, %d fixed, %d unchanged\n\nAs of %s, against %s.\n", s.New, s.Mended, s.Unchanged, c.Run.On, mark(c.Run.Since))
	for i := range many {
		if i == mostEffects {
			fmt.Fprintf(b, "\nWhat %s did is not listed here.\n", words.Count(len(many)-i, "more change"))
			break
		}
		fmt.Fprintf(b, "\n### %s\n\n%s.\n", mark(finding.CauseWords(many[i].Causes)), mark(alikeText(&many[i])))
		if rules := x.of(many[i].Causes); len(rules) > 0 {
			fmt.Fprintln(b)
			markdownRules(b, rules)
		}
	}
	if len(many) > 0 {
		markdownEffects(b, x.all)
	}
	for i := range c.Households {
		h := &c.Households[i]
		if told[h.Household.Path] {
			continue
		}
		fs, err := next(h.Household.Path)
		if err != nil {
			return err
		}
		fmt.Fprintf(b, "\n### %s\n", mark(compareTitle(h)))
		if len(h.Changes) > 0 {
			fmt.Fprint(b, "\n| | what | change |\n|---|---|---|\n")
		} else {
			fmt.Fprint(b, "\nNo figure differs.\n")
		}
		group := ""
		for _, ch := range h.Changes {
			head := ""
			if g := ch.Group(); g != group {
				group, head = g, g
			}
			fmt.Fprintf(b, "| %s | %s | %s |\n", head, mark(ch.Label()), mark(changeText(h.Household.Units, ch)))
		}
		said := false
		for i := range fs {
			f := &fs[i]
			if !compared(f) {
				continue
			}
			if !said {
				fmt.Fprintln(b)
				said = true
			}
			fmt.Fprintf(b, "- **%s %s** %s (%s, %s)%s\n", f.State.Word(), f.Level, mark(f.Message), mark(f.Rule), mark(spoken(f)), aside(f))
		}
	}
	for _, r := range remarks(c.Run) {
		fmt.Fprintf(b, "\n%s\n", mark(r))
	}
	fmt.Fprintf(b, "\n%s\n\nKitmuster advises, it does not certify: labels, local codes and licensed practice come first.\n", mark(Count(c.Run)))
	return b.Flush()
}

// mark escapes text for Markdown: every ASCII punctuation character may be escaped with a backslash (CommonMark 0.31,
// section 2.4); < and & become entities, so that no renderer can take them for HTML. Nothing becomes a link by itself
// (GitHub Flavored Markdown, section 6.9): neither what has :// in it, nor www., nor an address.
func mark(s string) string {
	var b strings.Builder
	text := words.Clean(s)
	for i, r := range text {
		next := text[i+utf8.RuneLen(r):]
		switch {
		case r == '<':
			b.WriteString("&lt;")
			continue
		case r == '&':
			b.WriteString("&amp;")
			continue
		case strings.ContainsRune("\\`*_{}[]#!|>~@", r), r == ':' && next != "" && next[0] != ' ', r == '.' && strings.HasSuffix(strings.ToLower(text[:i]), "www"):
			b.WriteRune('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

type jsonComparison struct {
	Tool       string         `json:"tool"`
	Version    string         `json:"version"`
	On         string         `json:"on"`
	ShareSafe  string         `json:"shareSafe,omitempty"`
	Since      string         `json:"since"`
	Households []jsonCompared `json:"households"`
	Remarks    []string       `json:"remarks"`
	Untouched  int            `json:"untouched"`
	Partial    string         `json:"partial,omitempty"`
	New        int            `json:"new"`
	Mended     int            `json:"mended"`
	Unchanged  int            `json:"unchanged"`
}

type jsonCompared struct {
	jsonHousehold
	Was      string        `json:"was"`
	Changes  []jsonChange  `json:"changes"`
	Causes   []jsonCause   `json:"causes,omitempty"`
	Findings []jsonFinding `json:"findings"`
}

type jsonChange struct {
	Group  string       `json:"group"`
	ID     string       `json:"id"`
	Label  string       `json:"label"`
	Unit   kinds.Figure `json:"unit,omitempty"`
	Before *int64       `json:"before"`
	Now    *int64       `json:"now"`
	Text   string       `json:"text"`
}

// CompareJSON writes what changed between two states as one object; before and now are null where the figure is not there.
func CompareJSON(w io.Writer, c *compare.Comparison, _ Options) error {
	s := c.Run.Summary
	out := jsonComparison{
		Tool: Tool, Version: c.Run.Version, On: c.Run.On, ShareSafe: c.Run.Shared, Since: c.Run.Since, Households: make([]jsonCompared, len(c.Households)), Remarks: append([]string{}, c.Run.Remarks...),
		Untouched: c.Run.Untouched, Partial: c.Run.Partial, New: s.New, Mended: s.Mended, Unchanged: s.Unchanged,
	}
	next := byHousehold(c.Run)
	for i := range c.Households {
		h := &c.Households[i]
		fs, err := next(h.Household.Path)
		if err != nil {
			return err
		}
		j := jsonCompared{jsonHousehold: jsonOf(h.Household), Was: h.Was, Changes: make([]jsonChange, len(h.Changes)), Causes: causes(h.Causes), Findings: findings(fs)}
		for k, ch := range h.Changes {
			jc := jsonChange{Group: ch.Group(), Label: ch.Label(), Text: changeText(h.Household.Units, ch)}
			if ch.Before != nil {
				jc.ID, jc.Unit, jc.Before = ch.Before.ID, ch.Before.Unit, &ch.Before.Value
			}
			if ch.Now != nil {
				jc.ID, jc.Unit, jc.Now = ch.Now.ID, ch.Now.Unit, &ch.Now.Value
			}
			j.Changes[k] = jc
		}
		out.Households[i] = j
	}
	return encode(w, out)
}
