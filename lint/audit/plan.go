package audit

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Plan gathers over a group what to do in five steps and what to buy, household by household. Notes are left out.
type Plan struct {
	rules   map[string]finding.Rule
	ranking Ranking
	all     []planned
	swaps   map[string]*Buy
	renews  map[string]*Buy
	adds    map[string]*Buy
}

// planned is what is kept of a household beside what the ranking keeps.
type planned struct {
	errors, warnings map[Act]int
	over             []Excess
	lacks            []Buy
	room             int64
	judged           bool
}

// Excess is somebody's load over the cap.
type Excess struct {
	Name   string
	OverMG int64
}

// Buy is a thing on the shopping list.
type Buy struct {
	What string
	// Thing is what it does, as the rule's fix names it, "" where it names nothing.
	Thing string
	// Count is how many things; Amount is how much of what is bought by amount, in Unit, 0 for things.
	Count, Amount int64
	Unit          kinds.Unit
	// For are the households by their numbers in the order in which they were added, sorted and each once.
	For []int
}

// NewPlan begins a plan under the rules that judged.
func NewPlan(rules []finding.Rule) *Plan {
	p := &Plan{rules: make(map[string]finding.Rule, len(rules)), swaps: map[string]*Buy{}, renews: map[string]*Buy{}, adds: map[string]*Buy{}}
	for _, r := range rules {
		p.rules[r.Name] = r
	}
	return p
}

// Add takes a household in, with its tasks.
func (p *Plan) Add(h *Audited, tasks []Task) {
	n := len(p.all)
	one := planned{errors: map[Act]int{}, warnings: map[Act]int{}, judged: h.Household.Judged}
	for _, t := range tasks {
		one.errors[t.Act], one.warnings[t.Act] = t.Errors, t.Warnings
		if t.Act == PutIn {
			one.lacks = p.lacks(t.Findings)
		}
	}
	for _, l := range one.lacks {
		b := p.adds[l.What]
		if b == nil {
			b = &Buy{What: l.What, Thing: l.Thing, Unit: l.Unit}
			p.adds[l.What] = b
		}
		b.Count, b.Amount, b.For = b.Count+l.Count, b.Amount+l.Amount, append(b.For, n)
	}
	if s := h.Sheet; s != nil {
		one.room = s.RoomMG
		for i := range s.Bearers {
			if b := &s.Bearers[i]; b.LoadMG > b.CapMG && b.CapMG > 0 {
				one.over = append(one.over, Excess{b.Name, b.LoadMG - b.CapMG})
			}
		}
		p.swap(h, tasks, n)
	}
	p.ranking.Add(h)
	p.all = append(p.all, one)
}

// lacks are what findings say is missing, sorted. What one rule lacks is added up; of several rules that lack the same, the one that
// lacks most counts, since one purchase is for all. Notes are left out, and so is what tells of somebody's health.
func (p *Plan) lacks(fs []*finding.Finding) (out []Buy) {
	type key struct{ what, rule string }
	sums := map[key]*Buy{}
	for _, f := range fs {
		l := f.Lack
		if l == nil || l.Amount <= 0 || f.Level == finding.Note || OfHealth(f.Rule) {
			continue
		}
		k := key{l.What, f.Rule}
		b := sums[k]
		if b == nil {
			b = &Buy{What: l.What, Thing: p.rules[f.Rule].Mend.Thing, Unit: l.Unit}
			sums[k] = b
		}
		if l.Unit == kinds.UnitCount {
			b.Count += l.Amount
		} else {
			b.Amount += l.Amount
		}
	}
	for _, k := range slices.SortedFunc(maps.Keys(sums), func(a, b key) int { return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.rule, b.rule)) }) {
		b := sums[k]
		last := len(out) - 1
		if last < 0 || out[last].What != b.What {
			out = append(out, *b)
			continue
		}
		out[last].Count, out[last].Amount = max(out[last].Count, b.Count), max(out[last].Amount, b.Amount)
	}
	return out
}

// swap puts what is past its date on the list, by its name, and on another what the kit says is to be renewed on a day, such as the
// water in a bottle; medicines are on none.
func (p *Plan) swap(h *Audited, tasks []Task, n int) {
	dates := make(map[string]*Due, len(h.Sheet.Due))
	for i := range h.Sheet.Due {
		dates[h.Sheet.Due[i].Spot] = &h.Sheet.Due[i]
	}
	for _, t := range tasks {
		if t.Act != Swap {
			continue
		}
		for _, f := range t.Findings {
			d := dates[f.Spot]
			if d == nil || d.Medicine || f.Level == finding.Note || area(f.Rule) != "dates" {
				continue
			}
			key := strings.ToLower(strings.TrimSpace(d.Name))
			list := p.swaps
			if d.Kind == kinds.DateRotate {
				list = p.renews
			}
			b := list[key]
			if b == nil {
				b = &Buy{What: d.Name}
				list[key] = b
			}
			b.Count++
			b.For = with(b.For, n)
		}
	}
}

// with adds the last household to a list, once.
func with(list []int, n int) []int {
	if len(list) > 0 && list[len(list)-1] == n {
		return list
	}
	return append(list, n)
}

// Deed is one of the five steps.
type Deed struct {
	Acts []Act
	// Errors and Warnings are how many findings it clears, Ready how many households have no error left once it and all before it are done.
	Errors, Warnings, Ready int
	// MassMG is what it adds to all packs, negative where it takes out; Unknown is how many findings have no known mass.
	MassMG  int64
	Unknown int
	For     []DeedFor
}

// DeedFor is a step in one household.
type DeedFor struct {
	// Household is its number in the order in which they were added.
	Household        int
	Errors, Warnings int
	MassMG           int64
	Unknown          int
	// Over are the loads over their caps, where something is to come out.
	Over []Excess
	// Lacks say what goes in, in the words of the rules.
	Lacks []Buy
	// RoomMG is what its carriers could take below their caps as it is.
	RoomMG int64
}

// deeds are the acts of the five steps.
var deeds = [][]Act{{Order}, {Swap}, {Lighten, Repack}, {PutIn}, {Decide, Check, Record}}

// Deeds are the steps that have something to do, in their order.
func (p *Plan) Deeds() (out []Deed) {
	left := make([]int, len(p.all)) // errors
	for i := range p.all {
		for _, n := range p.all[i].errors {
			left[i] += n
		}
	}
	usual := p.ranking.usual()
	for _, acts := range deeds {
		d := Deed{Acts: acts}
		for i := range p.all {
			of := DeedFor{Household: i, RoomMG: p.all[i].room}
			for _, a := range acts {
				of.Errors += p.all[i].errors[a]
				of.Warnings += p.all[i].warnings[a]
			}
			if left[i] -= of.Errors; left[i] == 0 && p.all[i].judged {
				d.Ready++
			}
			if of.Errors+of.Warnings == 0 {
				continue
			}
			p.weigh(i, acts, &of, usual)
			d.Errors, d.Warnings, d.MassMG, d.Unknown = d.Errors+of.Errors, d.Warnings+of.Warnings, d.MassMG+of.MassMG, d.Unknown+of.Unknown
			d.For = append(d.For, of)
		}
		if len(d.For) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// weigh works out what a step adds to the packs of a household. What is taken out is the load over the caps. Of what several rules
// lack by amount, the largest counts, since one purchase is for all; things are added up.
func (p *Plan) weigh(i int, acts []Act, of *DeedFor, usual map[string]int64) {
	one := &p.all[i]
	if slices.Contains(acts, Lighten) && one.errors[Lighten]+one.warnings[Lighten] > 0 {
		for _, x := range one.over {
			of.MassMG -= x.OverMG
		}
		of.Over = one.over
	}
	if !slices.Contains(acts, PutIn) {
		return
	}
	stuff := map[string]int64{}
	for _, level := range []finding.Level{finding.Error, finding.Warning} {
		open := p.ranking.needs[i].open[level]
		for _, name := range slices.Sorted(maps.Keys(open)) {
			rule := p.rules[name]
			if ActOf(name, rule.Mend.Work) != PutIn {
				continue
			}
			o := open[name]
			mg, known := p.ranking.mass(&rule, o, usual)
			switch {
			case !known:
				of.Unknown += o.findings
			case finding.Stuffs[rule.Mend.Thing] != "":
				stuff[rule.Mend.Thing] = max(stuff[rule.Mend.Thing], mg)
			default:
				of.MassMG += mg
			}
		}
	}
	for _, mg := range stuff {
		of.MassMG += mg
	}
	of.Lacks = one.lacks
}

// Shopping is what to buy, like for like and what is missing, and what to renew; each the most first, then by name.
func (p *Plan) Shopping() (swaps, adds, renews []Buy) {
	return sorted(p.swaps), sorted(p.adds), sorted(p.renews)
}

func sorted(all map[string]*Buy) (out []Buy) {
	for _, k := range slices.Sorted(maps.Keys(all)) {
		out = append(out, *all[k])
	}
	slices.SortStableFunc(out, func(a, b Buy) int { return cmp.Compare(b.Count, a.Count) })
	return out
}

// Nearer is what alone lies between most households and being ready: those that have errors of this act and of no other, by their
// numbers; "" and none where nobody has.
func (p *Plan) Nearer() (act Act, households []int) {
	by := map[Act][]int{}
	for i := range p.all {
		var only []Act
		for _, a := range Acts {
			if p.all[i].errors[a] > 0 {
				only = append(only, a)
			}
		}
		if len(only) == 1 && only[0] != Unnamed && p.all[i].judged {
			by[only[0]] = append(by[only[0]], i)
		}
	}
	for _, a := range Acts {
		if len(by[a]) > len(households) {
			act, households = a, by[a]
		}
	}
	return act, households
}
