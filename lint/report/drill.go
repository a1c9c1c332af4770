package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"kitmuster/lint/drill"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/words"
)

// DrillsText writes, for each household, a table of drills and of what each costs, the new
// findings of each, and the single points of failure.
func DrillsText(w io.Writer, d *Made[drill.Drilled], o Options) error {
	return d.text(w, o, drilled, func(w io.Writer, h *drill.Drilled) {
		drillPage{w, d.Run.On, o, words.Amounts{Units: h.Household.Units}}.household(h)
	})
}

// drilled reports whether a household was.
func drilled(h *drill.Drilled) bool { return h.Base.Hours > 0 }

type drillPage struct {
	io.Writer
	on      string
	o       Options
	amounts words.Amounts
}

func (p drillPage) say(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

func (p drillPage) household(h *drill.Drilled) {
	p.say("%s (%s), drilled as of %s", words.Clean(h.Household.Name), words.Clean(h.Household.Path), p.on)
	p.say("  hours until each stock first runs short, and in brackets how many fewer than as it is (of a stock that lasts to the end as it is: than the plan of that row has);")
	p.say("  of several stocks of a kind the one that loses most is named; new: findings that are not there as it is")
	p.say("")
	p.table("drill", append([]drill.Fate{h.Base}, h.Drills...), true)
	p.uncarried("  ", h.Base.Uncarried)
	for i := range h.Drills {
		p.drill(&h.Base, &h.Drills[i])
	}
	if len(h.Pairs) > 0 {
		p.say("")
		p.table("two packs lost", h.Pairs, false)
		for i := range h.Pairs {
			if all := gone(&h.Pairs[i]); len(all) > 0 {
				p.say("  %s: %s: %s", words.Clean(h.Pairs[i].Text), goneWord(&h.Pairs[i]), strings.Join(all, ", "))
			}
		}
	}
	if h.PairsOf > 0 {
		p.say("")
		p.say("  two packs lost: not drilled, as there are more than %d packs", h.PairsOf)
	}
	p.points(h.Points)
	p.say("")
	p.say("  A drill is a calculation for averages of healthy adults, not a promise. Practise on the ground what matters; nobody who is alone or hurt should carry on because a table says so.")
}

// table shows how long the stocks last in each drill.
func (p drillPage) table(head string, fates []drill.Fate, judged bool) {
	t := &table{head: []string{head, "plan"}}
	for _, l := range fates[0].Lasts {
		t.head = append(t.head, string(l.Kind))
	}
	if judged {
		t.head = append(t.head, "new findings")
	}
	for i := range fates {
		f := &fates[i]
		row := []string{words.Clean(f.Text), minutes(f.Minutes)}
		for _, base := range fates[0].Lasts {
			cell := "-"
			for _, l := range f.Lasts {
				if l.Kind == base.Kind {
					cell = lastingCell(f, &l)
				}
			}
			row = append(row, cell)
		}
		if judged {
			cell := ""
			if f.Key != "" {
				cell = fmt.Sprint(len(f.New))
			}
			row = append(row, cell)
		}
		t.row(row...)
	}
	t.write(p, "  ")
}

// lastingCell says how long a stock lasts, how much less that is, and which it is of several.
func lastingCell(f *drill.Fate, l *finding.Stock) string {
	switch {
	case !l.Known:
		return "not known"
	case l.Unrecorded:
		return "not recorded"
	}
	text := words.AtLeast(l.Least, fmt.Sprintf("%d h", l.Lasts))
	if l.Lasts == int64(f.Hours) {
		text = minutes(f.Minutes) // the last hour may be a part of one
	}
	switch {
	case l.LostMin%60 > 0:
		text += fmt.Sprintf(" (-%s)", minutes(l.LostMin))
	case l.LostMin > 0:
		text += fmt.Sprintf(" (-%d)", l.LostMin/60)
	}
	if l.Of != "" && l.Lasts < int64(f.Hours) { // else all of them last
		text += " " + words.Clean(l.Of)
	}
	return text
}

// uncarried says whom the loads know nothing of.
func (p drillPage) uncarried(indent string, who []drill.Uncarried) {
	for _, u := range who {
		if u.Walks {
			p.say("%swho carries %s is not recorded, so they are taken to walk", indent, words.Clean(u.Name))
		} else {
			p.say("%s", indent+uncarriedWords(p.amounts, u.Name, u.MassMG))
		}
	}
}

func uncarriedWords(in words.Amounts, name string, massMG int64) string {
	return fmt.Sprintf("who carries %s is not recorded; the loads leave out these %s", words.Clean(name), in.Mass(massMG))
}

// goneWord is for whom what nobody has any more is gone.
func goneWord(f *drill.Fate) string {
	if f.People == 1 {
		return "gone"
	}
	return "gone for all of them"
}

// gone are the capabilities that nobody has any more.
func gone(f *drill.Fate) (all []string) {
	for _, l := range f.Lost {
		if l.All {
			all = append(all, string(l.Capability))
		}
	}
	return all
}

// losses says what nobody can do any more, and what single people no longer can on their own.
func (p drillPage) losses(f *drill.Fate) {
	all := gone(f)
	alone := map[string][]string{}
	var order []string
	for _, l := range f.Lost {
		if l.All {
			continue
		}
		who := words.Clean(words.List(l.Who))
		if alone[who] == nil {
			order = append(order, who)
		}
		alone[who] = append(alone[who], string(l.Capability))
	}
	if len(all) > 0 {
		p.say("    %s: %s", goneWord(f), strings.Join(all, ", "))
	}
	for _, who := range order {
		p.say("    gone for %s alone: %s", who, strings.Join(alone[who], ", "))
	}
}

// leftShown is how many things that stay behind the text names.
const leftShown = 6

// drill shows what one drill takes against as it is, and its new findings.
func (p drillPage) drill(base, f *drill.Fate) {
	var uncarried []drill.Uncarried
	for _, u := range f.Uncarried {
		if !slices.Contains(base.Uncarried, u) {
			uncarried = append(uncarried, u)
		}
	}
	if len(f.Lost) == 0 && len(f.New) == 0 && len(f.Left) == 0 && len(uncarried) == 0 {
		return
	}
	p.say("")
	p.say("  %s", words.Clean(f.Text))
	if len(f.Left) > 0 {
		n := min(len(f.Left), leftShown)
		more := ""
		if n < len(f.Left) {
			more = fmt.Sprintf(" and %d more", len(f.Left)-n)
		}
		why := "cannot be handed over within the others' caps and"
		if f.Takers == 0 {
			why = "cannot be handed over, as nobody else carries a pack, and"
		}
		p.say("    %s (%s) %s %s behind: %s%s", words.Count(len(f.Left), "thing"), p.amounts.Mass(f.LeftMG), why, verb(len(f.Left), "stays", "stay"), words.Clean(words.List(f.Left[:n])), more)
	}
	p.uncarried("    ", uncarried)
	p.losses(f)
	for _, n := range f.New {
		p.say("    %s: %s: %s [%s]", place(n.At), p.o.level(n.Level, string(n.Level)), words.Clean(n.Message), n.Rule)
	}
}

// pointsShown is how many single points of failure the text names.
const pointsShown = 15

func (p drillPage) points(points []finding.Point) {
	p.say("")
	if len(points) == 0 {
		p.say("  no single item's loss takes a capability from anyone")
		return
	}
	p.say("  single points of failure: what is gone with one item")
	for _, x := range points[:min(pointsShown, len(points))] {
		p.say("    %s: %s: %s", place(x.At), words.Clean(x.Name), words.Clean(x.Words()))
	}
	if n := len(points) - pointsShown; n > 0 {
		p.say("    and %d more, which the JSON form lists", n)
	}
}

type jsonDrilled struct {
	Name    string      `json:"name"`
	Path    string      `json:"path"`
	Drilled bool        `json:"drilled"`
	Base    *jsonFate   `json:"base,omitempty"`
	Drills  []jsonFate  `json:"drills,omitempty"`
	Pairs   []jsonFate  `json:"pairs,omitempty"`
	PairsOf int         `json:"pairs_only_up_to_packs,omitempty"`
	Points  []jsonPoint `json:"points,omitempty"`
}

type jsonFate struct {
	Key    string        `json:"key,omitempty"`
	Text   string        `json:"text"`
	Hours  int           `json:"hours"` // begun ones are whole
	Min    int64         `json:"minutes"`
	Stocks []jsonLasting `json:"stocks"`
	Lost   []jsonLoss    `json:"lost"`
	Handed *bool         `json:"handed_over,omitempty"`
	Left   []string      `json:"left_behind,omitempty"`
	LeftMG int64         `json:"left_behind_mg,omitempty"`
	// Uncarried are those whom nobody is written to carry any more, or never was.
	Uncarried []jsonUncarried `json:"uncarried,omitempty"`
	New       []jsonFinding   `json:"new"`
}

// jsonLasting is one stock of a kind: of several, the one that loses most, which Of names, or for others the first to be short.
type jsonLasting struct {
	Stock kinds.Stock `json:"stock"`
	Of    string      `json:"of,omitempty"`
	Hours int64       `json:"hours"`
	// LostMin is against as it is; of what lasts to the end as it is, against the end of the drill's own plan. Others do not hear it.
	LostMin *int64 `json:"minutes_lost,omitempty"`
	Known   bool   `json:"known"` // whether it is known what the plan asks
	// Least: there may be more, which is not recorded; Unrecorded: nothing of it is, and Hours says nothing.
	Least      bool `json:"least,omitempty"`
	Unrecorded bool `json:"unrecorded,omitempty"`
}

type jsonUncarried struct {
	Name   string `json:"name"`
	MassMG int64  `json:"body_mass_mg"`
	Walks  bool   `json:"walks"`
}

type jsonLoss struct {
	Capability kinds.Capability `json:"capability"`
	Everybody  bool             `json:"everybody"`
	Alone      []string         `json:"alone"`
}

type jsonPoint struct {
	Item   string     `json:"item"`
	Name   string     `json:"name"`
	At     *jsonSpan  `json:"at,omitempty"`
	Losses []jsonLoss `json:"losses"`
}

// DrillsJSON writes all of it as one object.
func DrillsJSON(w io.Writer, d *Made[drill.Drilled], _ Options) error {
	return d.json(w, func(h *drill.Drilled) any {
		j := jsonDrilled{Name: h.Household.Name, Path: h.Household.Path, Drilled: drilled(h)}
		if j.Drilled {
			base := fates([]drill.Fate{h.Base})
			j.Base, j.Drills, j.Pairs, j.PairsOf = &base[0], fates(h.Drills), fates(h.Pairs), h.PairsOf
			for _, p := range h.Points {
				j.Points = append(j.Points, jsonPoint{p.Item, p.Name, span(p.At), lossesJSON(p.Losses)})
			}
		}
		return j
	})
}

func fates(fs []drill.Fate) []jsonFate {
	out := make([]jsonFate, len(fs))
	for i, f := range fs {
		j := jsonFate{Key: f.Key, Text: f.Text, Hours: f.Hours, Min: f.Minutes, Stocks: make([]jsonLasting, len(f.Lasts)), Lost: lossesJSON(f.Lost), Left: f.Left, LeftMG: f.LeftMG, New: findings(f.New)}
		if f.Kind.Row().HandsOver {
			j.Handed = &f.Handed
		}
		for _, u := range f.Uncarried {
			j.Uncarried = append(j.Uncarried, jsonUncarried(u))
		}
		for k, l := range f.Lasts {
			j.Stocks[k] = jsonLasting{l.Kind, l.Of, l.Lasts, &l.LostMin, l.Known, l.Least, l.Unrecorded}
		}
		out[i] = j
	}
	return out
}

func lossesJSON(ls []finding.Loss) []jsonLoss {
	out := make([]jsonLoss, len(ls))
	for i, l := range ls {
		out[i] = jsonLoss{l.Capability, l.All, append([]string{}, l.Who...)}
	}
	return out
}
