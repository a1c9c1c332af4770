package page

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// trend is how it went with everybody.
type trend struct {
	How  string
	Rows []*trendState
}

// trendState counts everybody on one day.
type trendState struct {
	Day, Now, Under                                         string
	Households, Ready, NotReady, Unjudged, Errors, Warnings int
}

func (t *trendState) add(x *finding.Trend) {
	t.Households++
	t.Errors += x.Errors
	t.Warnings += x.Warnings
	switch {
	case !x.Judged:
		t.Unjudged++
	case x.Errors > 0:
		t.NotReady++
	default:
		t.Ready++
	}
}

// pastTexts say where what was before is taken from.
var pastTexts = map[string]string{
	"audits":  "As the earlier audits in git say it, of several as of one day the last. Each was judged by the season and the standards that stand beside it: where these differ, so may the figures though no kit has changed.",
	"commits": "As it was committed, the last of each day with a change, judged as of that day by the season and the standards of this audit.",
}

// remember takes in how every household stood before.
func (b *book) remember() {
	if b.History == nil {
		return
	}
	b.before = map[string][]finding.Trend{}
	b.states = map[string]*trendState{}
	for i := range b.History.Households {
		c := &b.History.Households[i]
		b.before[c.Path] = c.Points
		for k := range c.Points {
			x := &c.Points[k]
			if !x.There {
				continue
			}
			if b.states[x.Day] == nil {
				b.states[x.Day] = &trendState{Day: x.Day, Under: words.Clean(x.Under)}
			}
			b.states[x.Day].add(x)
		}
	}
}

// trend is how it went with everybody, the earliest first and this audit last.
func (b *book) trend() *trend {
	if b.History == nil {
		return nil
	}
	t := &trend{How: pastTexts[b.Past]}
	for _, r := range b.History.Remarks {
		t.How += " " + words.Clean(r) + "."
	}
	if b.History.Partial != "" {
		t.How += " This is not all: " + words.Clean(b.History.Partial) + "."
	}
	for _, day := range slices.Sorted(maps.Keys(b.states)) {
		t.Rows = append(t.Rows, b.states[day])
	}
	if len(t.Rows) == 0 {
		t.How = strings.TrimSpace(t.How + " There is nothing earlier.")
	}
	b.now.Day, b.now.Now, b.now.Under = b.Run.On, "this audit", words.Clean(audit.Under(b.Season, b.Standards))
	if b.Past == "commits" {
		for _, r := range t.Rows {
			r.Under = b.now.Under
		}
	}
	t.Rows = append(t.Rows, &b.now)
	return t
}

// course is how it went with one household.
type course struct {
	Panels []panel
	Rows   []courseRow
}

type courseRow struct {
	Day, Errors, Warnings, Load, Water string
}

// course is how it went with a household, the earliest first and this audit last; nil where nothing earlier is known.
func (b *book) course(h *audit.Audited) *course {
	var all []finding.Trend
	for _, x := range slices.Backward(b.before[h.Household.Path]) {
		if x.There {
			all = append(all, x)
		}
	}
	if len(all) == 0 {
		return nil
	}
	now := h.Trend()
	now.Day = b.Run.On
	all = append(all, now)
	c := &course{}
	for i := range all {
		x := &all[i]
		row := courseRow{Day: x.Day, Errors: strconv.Itoa(x.Errors), Warnings: strconv.Itoa(x.Warnings), Load: "–", Water: "–"}
		if !x.Judged {
			row.Errors, row.Warnings = "only partly checked", "–"
		}
		if x.LoadPermille > 0 {
			row.Load = share(x.LoadPermille)
		}
		if x.WaterKnown {
			row.Water = fmt.Sprintf("%d of %d h", x.WaterHours, x.PlanHours)
		}
		c.Rows = append(c.Rows, row)
	}
	for _, line := range []struct {
		title string
		step  int64
		text  func(int64) string
		value func(*finding.Trend) (int64, bool)
	}{
		{"errors", 1, func(n int64) string { return strconv.FormatInt(n, 10) }, func(t *finding.Trend) (int64, bool) { return int64(t.Errors), t.Judged }},
		{"heaviest load, of body weight", 50, share, func(t *finding.Trend) (int64, bool) { return t.LoadPermille, t.LoadPermille > 0 }},
		{"hours of water", 12, func(n int64) string { return strconv.FormatInt(n, 10) }, func(t *finding.Trend) (int64, bool) { return t.WaterHours, t.WaterKnown }},
	} {
		if p, ok := lineOver(all, line.step, line.value, line.text); ok {
			p.Title = line.title + p.Title
			p.Alt = line.title + p.Alt
			c.Panels = append(c.Panels, p)
		}
	}
	return c
}

// lineOver draws one figure over days to scale, a mark for each state.
func lineOver(all []finding.Trend, least int64, value func(*finding.Trend) (int64, bool), text func(int64) string) (panel, bool) {
	var top int64
	for i := range all {
		if v, ok := value(&all[i]); ok {
			top = max(top, v)
		}
	}
	step := nice(top, least)
	end := max(step, (top+step-1)/step*step)
	day := func(t *finding.Trend) int64 { d, _ := unit.ParseDate(t.Day); return int64(d) } // states have days
	from := day(&all[0])
	p := panel{Hours: int(max(1, day(&all[len(all)-1])-from)), Height: panelHeight, Title: ", from 0 to " + text(end)}
	var said []string
	pen := "M"
	for i := range all {
		v, ok := value(&all[i])
		if !ok {
			pen = "M"
			continue
		}
		p.Course += fmt.Sprintf("%s%d %d", pen, day(&all[i])-from, 100-(v*100+end/2)/end)
		pen = "L"
		said = append(said, text(v)+" on "+all[i].Day)
	}
	p.Alt = ": " + strings.Join(said, ", ")
	return p, len(said) > 1
}
