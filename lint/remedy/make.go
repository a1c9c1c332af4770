package remedy

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
)

// Product is what a remedy makes of a household: a *Remedied.
var Product = lint.Product{Name: "remedy", Make: Make}

// again is how often the search begins anew without what could not be written. Our own figure.
const again = 6

// Make works out a remedy for the household in folder dir: findings of the level o.From and graver are to be cleared. The
// outcome's Extra is a *Remedied.
func Make(ctx context.Context, tree fs.FS, rulebook *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := household.MeasureFor(tree, dir, rulebook, o)
	all := m.Outcome()
	out := &Remedied{Household: m.Household, Until: o.From}
	if all.Extra = out; m.Facts == nil || slices.ContainsFunc(m.Findings, func(f finding.Finding) bool { return f.OfInput() }) {
		return all
	}
	is := m.Judge(ctx, rulebook, o)
	out.Household = is.Household
	if len(is.Faults) > 0 || !is.Household.Judged { // a rule that broke, or a waiver that cannot be read
		all.Faults, all.Household = is.Faults, is.Household
		all.Findings = slices.DeleteFunc(is.Findings, func(f finding.Finding) bool { return !f.OfInput() })
		return all
	}
	out.Before = stateOf(m, rulebook, &is)
	s := &searching{ctx: ctx, m: m, rulebook: rulebook, o: o, until: o.From, start: m.Kit, banned: map[string]bool{}}
	w := &writing{searching: s, tree: tree, dir: dir, is: &is, out: out}
	for range again {
		best, trade := s.search()
		if w.write(best) {
			out.Trade = w.trade(trade)
			w.only(best, o.Steps)
			break
		}
	}
	out.Refused = slices.DeleteFunc(out.Refused, func(x Refused) bool { // what goes elsewhere after all
		return slices.ContainsFunc(out.Steps, func(s Step) bool { return s.Spot == x.Spot })
	})
	out.Tried, out.Ended = s.tried, s.ended
	return all
}

// writing brings a change into the files.
type writing struct {
	*searching
	tree fs.FS
	dir  string
	is   *household.Outcome
	out  *Remedied
	// was leads the spots of moved things back to where they lie now.
	was map[string]string
}

// write writes the changes of a state; it reports false where one of them must be left to a hand, and bans that.
func (w *writing) write(best *tryout) bool {
	w.out.Steps, w.out.Files, w.was = nil, nil, map[string]string{}
	if len(best.moves) == 0 {
		w.out.After, w.out.Remains = w.out.Before, w.remaining(w.is)
		return true
	}
	d, err := rewrite.Open(w.tree, w.dir, load.Options{Show: w.o.Show})
	if err != nil {
		w.refuse("", "the files of this household", err)
		w.out.After, w.out.Remains = w.out.Before, w.remaining(w.is)
		return true
	}
	before := w.is.Findings
	var measured *household.Measured
	var now household.Outcome
	for _, m := range w.ordered(best.moves) {
		step, edits := w.step(d, m)
		if err := d.Do(edits...); err != nil {
			w.refuse(m.thing, step.Text, err)
			w.ban(m)
			return false
		}
		if step.To != "" {
			w.was[step.To] = m.thing
		}
		measured = household.MeasureFor(d.Tree(), w.dir, w.rulebook, w.o)
		now = measured.Judge(w.ctx, w.rulebook, w.o)
		for _, f := range before {
			if f.Level.Rank() >= w.until.Rank() && f.Waived == nil && !slices.ContainsFunc(now.Findings, func(o finding.Finding) bool { return o.Rule == f.Rule && w.old(o.Spot) == w.old(f.Spot) }) {
				step.Clears = append(step.Clears, w.cleared(f))
			}
		}
		before = now.Findings
		w.out.Steps = append(w.out.Steps, step)
	}
	for _, i := range fresh(w.sayings(w.start, w.is.Findings), w.sayings(d.Kit(), now.Findings)) {
		if f := &now.Findings[i]; f.Rule != "waiver/unused" && f.Waived == nil {
			w.refuse("", "the change as a whole", &rewrite.Refusal{Spot: f.Spot, At: f.At, Text: "once it was written, there was a finding that was not there before: " + f.Message})
			w.out.Steps = nil
			w.ban(best.moves[len(best.moves)-1])
			return false
		}
	}
	w.out.Remains = w.remaining(&now)
	w.out.After = stateOf(measured, w.rulebook, &now)
	w.out.Files = d.Files()
	return true
}

// only writes some steps of a proposal, by their numbers. Steps that lean on one that is left out are not written: what they bring is
// told instead.
func (w *writing) only(best *tryout, numbers []int) {
	if len(numbers) == 0 || len(w.out.Steps) == 0 {
		return
	}
	var some []move
	for i, m := range w.ordered(best.moves) {
		if slices.Contains(numbers, i+1) {
			some = append(some, m)
		}
	}
	if len(some) == len(best.moves) {
		return
	}
	if len(some) == 0 || !w.write(&tryout{moves: some}) {
		w.out.Steps, w.out.Files = nil, nil
		w.out.After, w.out.Remains = w.out.Before, w.remaining(w.is)
	}
}

// trade says a change that brings something, in words.
func (w *writing) trade(t *tryout) *Trade {
	if t == nil {
		return nil
	}
	out := &Trade{Left: len(t.open)}
	d, err := rewrite.Open(w.tree, w.dir, load.Options{Show: w.o.Show})
	if err != nil {
		return nil
	}
	for _, m := range w.ordered(t.moves) {
		s, _ := w.step(d, m)
		out.Steps = append(out.Steps, s.Text)
	}
	for _, v := range t.fresh {
		out.Brings = append(out.Brings, Brought{v.Rule.Name, v.Level, v.Text})
	}
	return out
}

// ordered puts the changes in the order in which hands make them: what is taken out first.
func (w *writing) ordered(moves []move) []move {
	rank := func(m move) int {
		return slices.Index([]string{actHand, actLeave, actEmpty, actMove, actTake, actFill}, m.act)
	}
	out := slices.Clone(moves)
	slices.SortStableFunc(out, func(a, b move) int { return rank(a) - rank(b) })
	return out
}

func (w *writing) refuse(spot, text string, err error) {
	r := (*rewrite.Refusal)(nil)
	errors.As(err, &r)
	w.out.Refused = append(w.out.Refused, Refused{Spot: spot, Text: text, At: r.At, Why: r.Text})
}

// sayings are findings as they are known again.
func (w *writing) sayings(h *kit.Household, fs []finding.Finding) []said {
	out, scope := make([]said, len(fs)), scopes(h)
	for i, f := range fs {
		out[i] = said{f.Rule, w.old(f.Spot), scope(f.Spot), f.Level.Rank(), lackOf(f)}
	}
	return out
}

func lackOf(f finding.Finding) int64 {
	if f.Lack == nil {
		return 0
	}
	return f.Lack.Amount
}

// old is the spot that a thing has as it is.
func (w *writing) old(spot string) string {
	for to, was := range w.was {
		if rest, ok := strings.CutPrefix(spot, to); ok && (rest == "" || rest[0] == '/') {
			return was + rest
		}
	}
	return spot
}

func (w *writing) cleared(f finding.Finding) Cleared {
	for _, o := range w.is.Findings { // at its line as it is
		if o.Rule == f.Rule && o.Spot == w.old(f.Spot) {
			f = o
		}
	}
	return Cleared{f.Rule, f.Title, f.Spot, f.Level, f.At}
}

func (w *writing) remaining(o *household.Outcome) (out []finding.Finding) {
	for _, f := range o.Findings {
		if f.Level.Rank() < w.until.Rank() || f.Waived != nil {
			continue
		}
		f.At = w.m.Locate(w.old(f.Spot)).At // the line as it is now: nothing is written yet
		for _, was := range w.is.Findings {
			if was.Rule == f.Rule && was.Spot == w.old(f.Spot) {
				f.At = was.At
			}
		}
		out = append(out, f)
	}
	return finding.Sort(out)
}

// step is a change in words, and the edits that write it.
func (w *writing) step(d *rewrite.Draft, m move) (Step, []rewrite.Step) {
	if m.act == actHand {
		p := w.start.Packs[slices.IndexFunc(w.start.Packs, func(p kit.Pack) bool { return p.Spot == m.thing })]
		to := w.start.People[slices.IndexFunc(w.start.People, func(p kit.Person) bool { return p.Spot == m.to })]
		s := Step{Act: m.act, Text: fmt.Sprintf("Let %s carry %s", to.Name, kit.Called(&p)), Spot: m.thing, At: w.m.Locate(m.thing + "/carrier").At}
		return s, []rewrite.Step{{Do: rewrite.Set, Spot: m.thing + "/carrier", Value: to.Key}}
	}
	ts := things(w.start)
	t := ts[slices.IndexFunc(ts, func(t thing) bool { return t.Spot == m.thing })]
	s := Step{Act: m.act, Spot: m.thing, At: w.m.Locate(m.thing).At, MassMG: t.All().Milligrams()}
	name := named(t.Item, m.count)
	switch m.act {
	case actFill:
		text, _ := d.Value(m.thing + "/container/capacity")
		s.MassMG = 0
		s.Text = fmt.Sprintf("Fill %s in %s: %v", name, t.at.name, text)
		if t.Count > 1 {
			s.Text += " each"
		}
		return s, []rewrite.Step{{Do: rewrite.Set, Spot: m.thing + "/water", Value: text}}
	case actEmpty:
		s.MassMG = 0
		s.Text = fmt.Sprintf("Pour out the water in %s in %s", name, t.at.name)
		return s, []rewrite.Step{{Do: rewrite.Remove, Spot: m.thing + "/water"}}
	}
	ps := places(w.start)
	to := ps[slices.IndexFunc(ps, func(p place) bool { return p.spot == m.to })]
	s.To = d.Free(group(to), keyOf(m.thing))
	switch {
	case m.act == actLeave:
		s.Text = fmt.Sprintf("Leave %s at home, out of %s", name, t.at.name)
	case m.act == actTake:
		s.Text = fmt.Sprintf("Take %s along from home, in %s", name, to.name)
	default:
		s.Text = fmt.Sprintf("Move %s from %s to %s", name, t.at.name, to.name)
	}
	if m.count == 0 {
		return s, []rewrite.Step{{Do: rewrite.Move, Spot: m.thing, To: s.To}}
	}
	s.MassMG = (t.Each().Milligrams()) * m.count
	return s, []rewrite.Step{
		{Do: rewrite.Copy, Spot: m.thing, To: s.To},
		{Do: rewrite.Set, Spot: m.thing + "/count", Value: int(t.Count - m.count)},
		{Do: rewrite.Set, Spot: s.To + "/count", Value: int(m.count)},
	}
}

// named is a thing with how many of it.
func named(it *kit.Item, count int64) string {
	switch {
	case count > 0:
		return fmt.Sprintf("%d of the %d %s", count, it.Count, it.Name)
	case it.Count > 1:
		return fmt.Sprintf("all %d %s", it.Count, it.Name)
	}
	return it.Name
}

// group is the spot of the entries of a place.
func group(p place) string {
	switch {
	case p.spot == home:
		return home
	case p.pack == nil:
		return p.spot + "/onBody"
	}
	return p.spot + "/items"
}

func stateOf(m *household.Measured, rulebook *judge.Rulebook, o *household.Outcome) (out State) {
	for _, f := range o.Findings {
		if f.Waived != nil {
			continue
		}
		switch f.Level {
		case finding.Error:
			out.Errors++
		case finding.Warning:
			out.Warnings++
		default:
			out.Notes++
		}
	}
	out.PlanHours = m.Facts.Endurance.Hours
	for i := range m.Facts.Carriers {
		if c := &m.Facts.Carriers[i]; len(c.Packs) > 0 {
			out.Carriers = append(out.Carriers, Carrier{c.Name, c.LoadMG, c.ShareP, m.CapOf(rulebook, c), c.LoadKnown})
		}
	}
	least := map[string]finding.Stock{}
	for i := range m.Facts.Endurance.Stocks {
		s := &m.Facts.Endurance.Stocks[i]
		k := household.StockOf(m.Facts, s)
		x := finding.Stock{Kind: k, Lasts: s.Lasts, Known: s.Known}
		if o, ok := least[string(k)]; !ok || o.Known && (!x.Known || x.Lasts < o.Lasts) {
			least[string(k)] = x
		}
	}
	for _, s := range least {
		out.Stocks = append(out.Stocks, s)
	}
	slices.SortFunc(out.Stocks, func(a, b finding.Stock) int { return cmp.Compare(a.Kind, b.Kind) })
	return out
}
