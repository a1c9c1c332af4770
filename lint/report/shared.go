package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/private"
	"kitmuster/lint/words"
)

// Shared is what measuring, forecasting or drilling has to show to others; see package private.
type Shared struct {
	Version, On string
	// Key names the key of the pseudonyms.
	Key string
	// Did is what was done: "measured", "forecast" or "drilled".
	Did string
	// Remark is said of all figures; "" where there is nothing to say.
	Remark     string
	Households []private.Shared
	// Findings are faults of the input.
	Findings []finding.Finding
}

// SharedText writes a few lines for each household.
func SharedText(w io.Writer, s *Shared, o Options) error {
	b := bufio.NewWriter(w)
	for i := range s.Households {
		if h := &s.Households[i]; h.Read {
			s.household(b, h)
		}
	}
	fmt.Fprintf(b, "Share-safe: households have pseudonyms of %s. Each figure is that of the person or animal who fares worst.\n", s.Key)
	fmt.Fprintln(b, "They are calculations for averages of healthy adults, neither a promise nor medical advice; nobody who is alone or hurt should carry on because a table says so.")
	if s.Remark != "" {
		fmt.Fprintln(b, s.Remark)
	}
	if err := b.Flush(); err != nil || len(s.Findings) == 0 {
		return err
	}
	run := &finding.Run{Version: s.Version, On: s.On, Shared: s.Key}
	hs := make([]finding.Household, len(s.Households))
	for i := range s.Households {
		hs[i] = s.Households[i].Household
	}
	run.Count(hs, s.Findings...)
	return Lines(w, run, o)
}

func (s *Shared) household(w io.Writer, h *private.Shared) {
	say := func(format string, args ...any) { fmt.Fprintf(w, "  "+format+"\n", args...) }
	fmt.Fprintf(w, "%s (%s), %s as of %s\n", finding.Title(h.Household.Name, h.Household.Path), h.Household.Path, s.Did, s.On)
	if h.Load > 0 {
		say("heaviest load: %d %% of its carrier's body weight", h.Load)
	}
	if len(h.Can) > 0 {
		say("ways in the household: %s", capabilityWords(h.Can))
	}
	if len(h.Fates) == 0 {
		say("lasts: %s", lastsShared(h.Stocks, h.Hours))
	} else {
		fatesShared(w, h)
	}
	if h.WaterLimit != "" {
		say("why water is short: %s", h.WaterLimit.Row().Told)
	}
	if h.Heat > 0 {
		say("worst heat category on the way: %d of the 5 of the US Army's work, rest and fluid table", h.Heat)
	}
	for i := range h.Fates {
		f := &h.Fates[i]
		if len(f.Gone) > 0 {
			say("%s: gone for all: %s", f.Kind.Row().Words, capabilityWords(f.Gone))
		}
		for _, n := range f.New {
			say("%s: new %s: %s [%s]", f.Kind.Row().Words, n.Level, words.Clean(n.Message), n.Rule)
		}
	}
	if len(h.Single) > 0 {
		say("depends on one item: %s", capabilityWords(h.Single))
	}
	fmt.Fprintln(w)
}

// capabilityWords lists capabilities in plain words.
func capabilityWords(all []kinds.Capability) string {
	words := make([]string, len(all))
	for i, c := range all {
		words[i] = c.Words()
	}
	return strings.Join(words, ", ")
}

func hoursOf(s finding.Stock, of int) string {
	switch {
	case !s.Known:
		return "not known"
	case s.Lasts >= int64(of):
		return "to the end"
	}
	return fmt.Sprintf("%d h", s.Lasts)
}

// lastsShared lists how long the stocks last.
func lastsShared(stocks []finding.Stock, of int) string {
	words := []string{}
	for _, s := range stocks {
		words = append(words, s.Kind.Row().ToldWords+" "+hoursOf(s, of))
	}
	return fmt.Sprintf("%s (of %d h)", strings.Join(words, ", "), of)
}

// fatesShared is the table of drills.
func fatesShared(w io.Writer, h *private.Shared) {
	t := &table{head: []string{"drill", "plan"}}
	for _, s := range h.Stocks {
		t.head = append(t.head, s.Kind.Row().ToldWords)
	}
	row := func(name string, hours int, stocks []finding.Stock) {
		cells := []string{name, fmt.Sprintf("%d h", hours)}
		for _, want := range h.Stocks {
			cell := "-"
			for _, s := range stocks {
				if s.Kind == want.Kind {
					cell = hoursOf(s, hours)
				}
			}
			cells = append(cells, cell)
		}
		t.row(cells...)
	}
	row("as it is", h.Hours, h.Stocks)
	for _, f := range h.Fates {
		row(f.Kind.Row().Words, f.Hours, f.Stocks)
	}
	t.write(w, "  ")
}

type jsonSharedRun struct {
	Tool       string        `json:"tool"`
	Version    string        `json:"version"`
	On         string        `json:"on"`
	ShareSafe  string        `json:"shareSafe"`
	Did        string        `json:"did"`
	Remarks    []string      `json:"remarks,omitempty"`
	Households []jsonShared  `json:"households"`
	Findings   []jsonFinding `json:"findings"`
}

type jsonShared struct {
	Name string `json:"name"`
	Path string `json:"path"`
	Read bool   `json:"read"`
	// Hours is how long the plan is.
	Hours      int                `json:"hours,omitempty"`
	Load       int64              `json:"heaviest_load_percent,omitempty"`
	Can        []kinds.Capability `json:"can,omitempty"`
	Stocks     []jsonLasting      `json:"stocks,omitempty"`
	WaterLimit kinds.WaterLimit   `json:"water_limit,omitempty"`
	Heat       int64              `json:"heat_category,omitempty"`
	Drills     []jsonSharedFate   `json:"drills,omitempty"`
	Single     []kinds.Capability `json:"hangs_on_one_item,omitempty"`
}

type jsonSharedFate struct {
	Kind   kinds.ToldDrill    `json:"kind"`
	Hours  int                `json:"hours"`
	Stocks []jsonLasting      `json:"stocks"`
	Gone   []kinds.Capability `json:"gone"`
	New    []jsonFinding      `json:"new"`
}

// SharedJSON writes the same as one object.
func SharedJSON(w io.Writer, s *Shared, _ Options) error {
	out := jsonSharedRun{Tool: Tool, Version: s.Version, On: s.On, ShareSafe: s.Key, Did: s.Did, Households: make([]jsonShared, len(s.Households)), Findings: findings(s.Findings)}
	if s.Remark != "" {
		out.Remarks = []string{s.Remark}
	}
	stocks := func(in []finding.Stock) []jsonLasting {
		out := make([]jsonLasting, len(in))
		for i, x := range in {
			out[i] = jsonLasting{Stock: x.Kind, Hours: x.Lasts, Known: x.Known}
		}
		return out
	}
	for i := range s.Households {
		h := &s.Households[i]
		j := jsonShared{
			Name: h.Household.Name, Path: h.Household.Path, Read: h.Read, Hours: h.Hours, Load: h.Load, Can: h.Can, Stocks: stocks(h.Stocks), WaterLimit: h.WaterLimit, Heat: h.Heat, Single: h.Single,
		}
		for _, f := range h.Fates {
			j.Drills = append(j.Drills, jsonSharedFate{f.Kind, f.Hours, stocks(f.Stocks), append([]kinds.Capability{}, f.Gone...), findings(f.New)})
		}
		out.Households[i] = j
	}
	return encode(w, out)
}
