package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"strconv"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/trial"
	"kitmuster/lint/words"
)

// TrialText writes what another standard would mean, for a terminal.
func TrialText(w io.Writer, t *trial.Trial, o Options) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s tried on %s judged by %s, as of %s\n\n", standardText(t.New), words.Count(homes(t), "household"), standardText(t.Old), t.On)
	tallies(b, t)
	for i := range t.Households {
		triedText(b, &t.Households[i], o)
	}
	totals(b, t)
	ruleChanges(b, t.Rules)
	limitChanges(b, t.Limits)
	mind(b, t.Failed)
	if t.Shared != "" {
		fmt.Fprintf(b, "Share-safe: households have pseudonyms of %s; amounts, their sums and places are left out.\n", t.Shared)
	}
	fmt.Fprintln(b, trialCount(t))
	return b.Flush()
}

// standardText names a standard with the beginning of its digest.
func standardText(s trial.Standard) string {
	name := words.Clean(s.Name)
	if s.Digest == "" {
		return name
	}
	return fmt.Sprintf("%s (%s)", name, s.Digest[:min(len(s.Digest), len("sha256:")+12)])
}

// tallies is one line for each household.
func tallies(w io.Writer, t *trial.Trial) {
	tb := &table{head: []string{"household", "errors", "new", "fixed", "warnings", "new", "fixed", "notes", "new", "fixed", "waived"}}
	for i := range t.Households {
		h := &t.Households[i]
		row := []string{finding.Title(h.Household.Name, h.Household.Path)}
		switch {
		case h.Nowhere:
			row[0] += " (no household)"
		case !h.Household.Judged:
			row[0] += " (only partly checked)"
		}
		for _, y := range []trial.Tally{h.Errors, h.Warnings, h.Notes} {
			row = append(row, strconv.Itoa(y.New+y.Unchanged), some(y.New, "+"), some(y.Mended, "-"))
		}
		tb.row(append(row, some(h.Waived, ""))...)
	}
	if len(tb.rows) > 0 {
		tb.write(w, "")
		fmt.Fprintln(w)
	}
}

// some is a number with its sign, and nothing for none.
func some(n int, sign string) string {
	if n == 0 {
		return ""
	}
	return sign + strconv.Itoa(n)
}

// triedText is what differs for one household, in full.
func triedText(w io.Writer, h *trial.Tried, o Options) {
	if len(h.Findings) == 0 && len(h.Changed) == 0 && h.Doubt == "" && h.Household.Judged {
		return
	}
	fmt.Fprintf(w, "%s (%s)\n", finding.Title(h.Household.Name, h.Household.Path), words.Clean(h.Household.Path))
	switch {
	case h.Doubt != "":
		fmt.Fprintf(w, "  %s\n", h.Doubt)
	case !h.Household.Judged && !h.Nowhere:
		fmt.Fprintln(w, "  it could not be judged wholly under either standard; once the input is corrected, more may show")
	}
	say := func(word string, f *finding.Finding) {
		fmt.Fprintf(w, "  %s %s: %s [%s]%s\n", word, o.level(f.Level, string(f.Level)), words.Clean(f.Message), f.Rule, placeAfter(f.At))
	}
	for i := range h.Findings {
		say(h.Findings[i].State.Word(), &h.Findings[i])
	}
	for i := range h.Changed {
		c := &h.Changed[i]
		say("changed", &c.New)
		if c.Old.Message == c.New.Message && c.Old.Level == c.New.Level { // what it was is not told
			continue
		}
		was := ""
		if c.Old.Level != c.New.Level {
			was = string(c.Old.Level) + ": "
		}
		fmt.Fprintf(w, "    was: %s%s\n", was, words.Clean(c.Old.Message))
	}
	fmt.Fprintln(w)
}

// placeAfter is a place in brackets, where there is one.
func placeAfter(s source.Span) string {
	if !s.Known() {
		return ""
	}
	return " (" + place(s) + ")"
}

// totals is the sum of what is lacking.
func totals(w io.Writer, t *trial.Trial) {
	if len(t.Totals) == 0 {
		return
	}
	tb := &table{head: []string{"total", "old", "new", "difference", "households"}}
	for _, x := range t.Totals {
		sign, d := "+", x.New-x.Old
		if d < 0 {
			sign, d = "-", -d
		}
		diff := ""
		if d > 0 {
			diff = sign + amountText(x.Unit, d)
		}
		tb.row(words.Clean(x.What), amountText(x.Unit, x.Old), amountText(x.Unit, x.New), diff, strconv.Itoa(x.Households))
	}
	tb.write(w, "")
	unstated := 0
	for i := range t.Households {
		unstated += t.Households[i].Unstated
	}
	if unstated > 0 {
		fmt.Fprintf(w, "Not in these sums, as their rules state no amount: %s, new or changed, notes aside.\n", words.Count(unstated, "finding"))
	}
	fmt.Fprintln(w)
}

// amountText says an amount of a lack for people.
func amountText(of kinds.Unit, n int64) string {
	if write := of.Row().LackText; write != nil {
		return write(n)
	}
	return strconv.FormatInt(n, 10)
}

func ruleChanges(w io.Writer, rules []trial.RuleChange) {
	for _, r := range rules {
		text := r.Change
		switch r.Change {
		case "level":
			text = fmt.Sprintf("%s, was %s", r.New, r.Old)
		case "added", "in force again":
			text += ", " + string(r.New)
		}
		fmt.Fprintf(w, "rule %s: %s: %s\n", words.Clean(r.Name), text, oneLine(r.Title))
		switch {
		case r.Why != "" && r.New == "":
			fmt.Fprintf(w, "    %s\n", oneLine(r.Why))
		case r.Why != "":
			fmt.Fprintf(w, "    was switched off by %s\n", oneLine(r.Why))
		}
	}
	if len(rules) > 0 {
		fmt.Fprintln(w)
	}
}

func limitChanges(w io.Writer, limits []trial.LimitChange) {
	for _, l := range limits {
		from := ""
		if l.Old != "" && l.New != "" {
			from = words.Clean(l.Old) + " → "
		}
		fmt.Fprintf(w, "limit %s: %s: %s%s%s\n", l.Name, l.Change, from, words.Clean(cmp.Or(l.New, l.Old)), placeAfter(l.Now.At))
	}
	if len(limits) > 0 {
		fmt.Fprintln(w)
	}
}

// mind says, once for each rule that households newly fail, what to mind.
func mind(w io.Writer, rules []finding.Rule) {
	said := false
	for _, r := range rules {
		if r.Caution != "" {
			fmt.Fprintf(w, "caution [%s]: %s\n", words.Clean(r.Name), oneLine(r.Caution))
			said = true
		}
	}
	if said {
		fmt.Fprintln(w)
	}
}

// homes is how many households there are, aside from paths that lead to none.
func homes(t *trial.Trial) (n int) {
	for i := range t.Households {
		if !t.Households[i].Nowhere {
			n++
		}
	}
	return n
}

// trialCount is the last line.
func trialCount(t *trial.Trial) string {
	worse, better, unjudged := 0, 0, 0
	for i := range t.Households {
		h := &t.Households[i]
		if h.Errors.New+h.Warnings.New > 0 {
			worse++
		}
		if h.Errors.Mended+h.Warnings.Mended > 0 {
			better++
		}
		if !h.Household.Judged && !h.Nowhere {
			unjudged++
		}
	}
	s := fmt.Sprintf("Of %s, %d newly %s something and %d %s something fixed, notes aside.", words.Count(homes(t), "household"), worse, verb(worse, "fails", "fail"), better, verb(better, "has", "have"))
	if unjudged > 0 {
		s += fmt.Sprintf(" %s only partly checked.", words.Count(unjudged, "household"))
	}
	if t.Partial != "" {
		s += fmt.Sprintf(" This is not all: %s.", t.Partial)
	}
	return s
}

type jsonStandard struct {
	Name   string `json:"name"`
	Digest string `json:"digest,omitempty"`
}

type jsonTally struct {
	New       int `json:"new"`
	Mended    int `json:"mended"`
	Unchanged int `json:"unchanged"`
}

type jsonTried struct {
	jsonHousehold
	Nowhere  bool             `json:"nowhere,omitempty"`
	Errors   jsonTally        `json:"errors"`
	Warnings jsonTally        `json:"warnings"`
	Notes    jsonTally        `json:"notes"`
	Waived   int              `json:"waived"`
	Unstated int              `json:"unstated"`
	Doubt    string           `json:"doubt,omitempty"`
	Findings []jsonTrialFound `json:"findings"`
	Changed  []jsonShift      `json:"changed"`
}

type jsonTrialFound struct {
	State   finding.State `json:"state,omitempty"`
	Rule    string        `json:"rule"`
	Level   finding.Level `json:"level"`
	Message string        `json:"message"`
	Spot    string        `json:"spot"`
	At      *jsonSpan     `json:"at,omitempty"`
	Lack    *jsonLack     `json:"lack,omitempty"`
}

type jsonShift struct {
	Old jsonTrialFound `json:"old"`
	New jsonTrialFound `json:"new"`
}

type jsonTotal struct {
	What       string     `json:"what"`
	Unit       kinds.Unit `json:"unit"`
	Old        int64      `json:"old"`
	New        int64      `json:"new"`
	Households int        `json:"households"`
}

type jsonRuleChange struct {
	Name   string        `json:"name"`
	Title  string        `json:"title"`
	Change string        `json:"change"`
	Old    finding.Level `json:"old,omitempty"`
	New    finding.Level `json:"new,omitempty"`
	Why    string        `json:"why,omitempty"`
}

type jsonLimitChange struct {
	Name   string    `json:"name"`
	Change string    `json:"change"`
	Old    string    `json:"old,omitempty"`
	New    string    `json:"new,omitempty"`
	Source string    `json:"source,omitempty"`
	Layer  string    `json:"layer,omitempty"`
	At     *jsonSpan `json:"at,omitempty"`
}

type jsonFailed struct {
	Rule    string `json:"rule"`
	Title   string `json:"title"`
	Remedy  string `json:"remedy"`
	Caution string `json:"caution,omitempty"`
}

// TrialJSON writes a trial as one object.
func TrialJSON(w io.Writer, t *trial.Trial, _ Options) error {
	b := bufio.NewWriterSize(w, 1<<16)
	o := object{b: b, indent: "  "}
	b.WriteByte('{')
	o.field("tool", Tool)
	o.field("version", t.Version)
	o.field("on", t.On)
	o.given("shareSafe", t.Shared)
	o.given("partial", t.Partial)
	o.field("old", jsonStandard(t.Old))
	o.field("new", jsonStandard(t.New))
	o.open("households")
	for i := range t.Households {
		h := &t.Households[i]
		j := jsonTried{
			jsonHousehold: jsonOf(h.Household), Nowhere: h.Nowhere, Errors: jsonTally(h.Errors), Warnings: jsonTally(h.Warnings), Notes: jsonTally(h.Notes),
			Waived: h.Waived, Unstated: h.Unstated, Doubt: h.Doubt, Findings: make([]jsonTrialFound, len(h.Findings)), Changed: make([]jsonShift, len(h.Changed)),
		}
		for k := range h.Findings {
			j.Findings[k] = trialFound(&h.Findings[k])
		}
		for k := range h.Changed {
			j.Changed[k] = jsonShift{trialFound(&h.Changed[k].Old), trialFound(&h.Changed[k].New)}
			j.Changed[k].New.State = "" // that it is there under both says nothing here
		}
		o.element(j)
	}
	o.close()
	o.open("totals")
	for _, x := range t.Totals {
		o.element(jsonTotal(x))
	}
	o.close()
	o.open("rules")
	for _, r := range t.Rules {
		o.element(jsonRuleChange(r))
	}
	o.close()
	o.open("limits")
	for _, l := range t.Limits {
		o.element(jsonLimitChange{l.Name, l.Change, l.Old, l.New, l.Now.Source, l.Now.Layer, span(l.Now.At)})
	}
	o.close()
	o.open("failed")
	for _, r := range t.Failed {
		o.element(jsonFailed{r.Name, r.Title, r.Remedy, r.Caution})
	}
	o.close()
	return o.end("\n}\n")
}

func trialFound(f *finding.Finding) jsonTrialFound {
	return jsonTrialFound{f.State, f.Rule, f.Level, f.Message, f.Spot, span(f.At), lackOf(f.Lack)}
}

// oneLine is a standard's own text, which may be wrapped and may hold anything, in one line.
func oneLine(s string) string { return words.Clean(words.Line(s)) }
