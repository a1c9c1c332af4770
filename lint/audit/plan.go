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
	alone   bool
	ranking Ranking
	all     []planned
	lists   Lists
	// at is where a thing stands in its list.
	at map[listed]int
}

// listed is a thing on one of the lists.
type listed struct {
	list *[]Buy
	what string
	unit kinds.Unit
}

// Lists are what to get, each the most first, then by name.
type Lists struct {
	// Orders are medicines, Swaps what is past its date, Kinds what is of the wrong kind, Adds what is missing, Renews what the kit
	// says is to be renewed on a day, such as the water in a bottle.
	Orders, Swaps, Kinds, Adds, Renews []Buy
}

// planned is what the plan keeps of a household, beside what the ranking keeps.
type planned struct {
	errors, warnings map[Act]int
	over             []Excess
	lacks            []Buy
	room             int64
	judged           bool
	// dated and kinds say what is to be swapped: what has a date, and what is of the wrong kind.
	dated, kinds bool
	// adding and unknown are what goes in weighs, and how many findings have no known mass; see weigh.
	adding  int64
	unknown int
	// urgent is the part of it that errors ask for.
	urgent  int64
	weighed bool
	// measured says whether room is known.
	measured bool
}

// stays is how much comes out of packs that are too heavy and fits into no other pack.
func (p *planned) stays() int64 { return max(0, p.comesOut()-p.room) }

// comesOut is by how much packs are too heavy, where a rule objects to that.
func (p *planned) comesOut() (mg int64) {
	if p.errors[Lighten]+p.warnings[Lighten] == 0 {
		return 0
	}
	for _, x := range p.over {
		mg += x.OverMG
	}
	return mg
}

// Excess is by how much the load of a carrier is over the cap.
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
	// Says are the findings' own sentences, each once: for whom it is, and how much. Of several households there are none.
	Says []string
}

// NewPlan begins a plan under the rules that judged. Alone says that it is of one household, whose own health it may tell.
func NewPlan(rules []finding.Rule, alone bool) *Plan {
	p := &Plan{rules: make(map[string]finding.Rule, len(rules)), alone: alone, at: map[listed]int{}}
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
		switch t.Act {
		case Order:
			if p.alone {
				p.join(&p.lists.Orders, p.lacks(t.Findings, n))
			}
		case Swap:
			one.dated = slices.ContainsFunc(t.Findings, func(f *finding.Finding) bool { return f.Level != finding.Note && Area(f.Rule) == "dates" })
			wrong := p.lacks(t.Findings, n)
			one.kinds = wrong != nil
			p.join(&p.lists.Kinds, wrong)
		case PutIn:
			one.lacks = p.lacks(t.Findings, n)
			p.join(&p.lists.Adds, one.lacks)
		}
	}
	if s := h.Sheet; s != nil {
		one.room, one.measured = s.RoomMG, true
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

// join puts what a household gets to what others get.
func (p *Plan) join(list *[]Buy, more []Buy) {
	for _, m := range more {
		key := listed{list, strings.ToLower(strings.TrimSpace(m.What)), m.Unit}
		k, ok := p.at[key]
		if !ok {
			p.at[key] = len(*list)
			*list = append(*list, m)
			continue
		}
		b := &(*list)[k]
		b.Count, b.Amount, b.For = b.Count+m.Count, b.Amount+m.Amount, with(b.For, m.For[0])
	}
}

// what names what settles a finding, for a shopping list: the most exact that the rule says, else its title.
func (p *Plan) what(f *finding.Finding) string {
	r := p.rules[f.Rule]
	return cmp.Or(r.Mend.Get, kinds.Capability(r.Mend.Thing).Row().Only, r.Title, f.Rule)
}

// lacks are what findings of household n say is missing, sorted. What one rule lacks is added up; of several rules that lack the same,
// the one that lacks most counts, since one purchase is for all. What states no amount is named without one. Notes are left out, and
// among others what tells of somebody's health; so are dates, which are told by the name of what is past them.
func (p *Plan) lacks(fs []*finding.Finding, n int) (out []Buy) {
	type key struct{ what, rule string }
	sums := map[key]*Buy{}
	for _, f := range fs {
		if f.Level == finding.Note || Area(f.Rule) == "dates" || !p.alone && OfHealth(f.Rule) {
			continue
		}
		l := f.Lack
		if l == nil || l.Amount <= 0 {
			l = &finding.Shortfall{What: p.what(f)}
		}
		k := key{l.What, f.Rule}
		b := sums[k]
		if b == nil {
			b = &Buy{What: l.What, Thing: p.rules[f.Rule].Mend.Thing, Unit: l.Unit, For: []int{n}}
			sums[k] = b
		}
		if l.Unit == kinds.UnitCount {
			b.Count += l.Amount
		} else {
			b.Amount += l.Amount
		}
		if p.alone && !slices.Contains(b.Says, f.Message) {
			b.Says = append(b.Says, f.Message)
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
		out[last].Says = append(out[last].Says, b.Says...)
	}
	return out
}

// swap puts what is past its date on the list, by its name, and on another what is to be renewed; medicines are on none.
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
			if d == nil || d.Medicine || f.Level == finding.Note || Area(f.Rule) != "dates" {
				continue
			}
			list := &p.lists.Swaps
			if d.Kind == kinds.DateRotate {
				list = &p.lists.Renews
			}
			p.join(list, []Buy{{What: d.Name, Count: 1, For: []int{n}}})
		}
	}
}

// with adds a household to a list, once. Households come in order.
func with(list []int, n int) []int {
	if len(list) > 0 && list[len(list)-1] == n {
		return list
	}
	return append(list, n)
}

// Deed is one of the five steps.
type Deed struct {
	Acts []Act
	// Errors and Warnings are how many findings it clears, Ready how many households have no error left once it and all before it are
	// done. Those who have no room for what errors ask for are not among them.
	Errors, Warnings, Ready int
	// MassMG is what it adds to all packs, negative where it takes out; Unknown is how many findings have no known mass.
	MassMG  int64
	Unknown int
	// Dated and Kinds say of a swap that it is of what has a date, and of what is of the wrong kind; NoRoom, that what goes in does not
	// fit in some household.
	Dated, Kinds, NoRoom bool
	For                  []DeedFor
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
	// RoomMG is what its carriers could take below their caps before this step: what comes out of a pack takes room in another.
	RoomMG int64
	// StaysMG is what comes out and nobody has room for. TooMuchMG is by how much what goes in, with what came out before, is more than
	// the packs have room for; 0 where it fits.
	StaysMG, TooMuchMG int64
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
	p.weighAll()
	for _, acts := range deeds {
		d := Deed{Acts: acts}
		for i := range p.all {
			one := &p.all[i]
			of := DeedFor{Household: i, RoomMG: one.room}
			for _, a := range acts {
				of.Errors += one.errors[a]
				of.Warnings += one.warnings[a]
			}
			if left[i] -= of.Errors; left[i] == 0 && one.judged && !one.stuck() {
				d.Ready++
			}
			if of.Errors+of.Warnings == 0 {
				continue
			}
			one.fill(acts[0], &of)
			d.Dated, d.Kinds, d.NoRoom = d.Dated || one.dated, d.Kinds || one.kinds, d.NoRoom || of.TooMuchMG > 0
			d.Errors, d.Warnings, d.MassMG, d.Unknown = d.Errors+of.Errors, d.Warnings+of.Warnings, d.MassMG+of.MassMG, d.Unknown+of.Unknown
			d.For = append(d.For, of)
		}
		if len(d.For) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// fill says what comes out and what goes in.
func (p *planned) fill(act Act, of *DeedFor) {
	switch act {
	case Lighten:
		if of.MassMG = -p.comesOut(); of.MassMG < 0 {
			of.Over, of.StaysMG = p.over, p.stays()
		}
	case PutIn:
		of.Lacks, of.MassMG, of.Unknown = p.lacks, p.adding, p.unknown
		of.RoomMG = max(0, p.room-p.comesOut())
		of.TooMuchMG = p.tooMuch()
	}
}

// tooMuch is by how much the packs lack room for what comes out of others and what goes in; 0 where nothing goes in.
func (p *planned) tooMuch() int64 {
	if p.adding == 0 {
		return 0
	}
	return max(0, p.adding+p.comesOut()-p.room)
}

// stuck reports whether there is no room for what errors ask for, even where that goes in first.
func (p *planned) stuck() bool { return p.measured && p.urgent > p.room }

// weighAll works out what goes into the packs of each household.
func (p *Plan) weighAll() {
	usual := p.ranking.usual()
	for i := range p.all {
		if one := &p.all[i]; !one.weighed {
			one.adding, one.unknown = p.weigh(i, usual, finding.Error, finding.Warning)
			one.urgent, _ = p.weigh(i, usual, finding.Error)
			one.weighed = true
		}
	}
}

// weigh works out what missing things add to the packs of a household, and for how many findings that is not known. Of what several
// rules of these levels lack by amount, the largest counts, since one purchase is for all; things are added up.
func (p *Plan) weigh(i int, usual map[string]int64, levels ...finding.Level) (all int64, unknown int) {
	stuff := map[string]int64{}
	for _, level := range levels {
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
				unknown += o.findings
			case finding.Stuffs[rule.Mend.Thing] != "":
				stuff[rule.Mend.Thing] = max(stuff[rule.Mend.Thing], mg)
			default:
				all += mg
			}
		}
	}
	for _, mg := range stuff {
		all += mg
	}
	return all, unknown
}

// Shopping is what to get.
func (p *Plan) Shopping() Lists {
	l := p.lists
	for _, list := range []*[]Buy{&l.Orders, &l.Swaps, &l.Kinds, &l.Adds, &l.Renews} {
		*list = slices.SortedStableFunc(slices.Values(*list), func(a, b Buy) int {
			return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(strings.ToLower(a.What), strings.ToLower(b.What)))
		})
	}
	return l
}

// Nearer returns the act that most households need, and no other, to be ready, with the numbers of these households: all their errors are
// of that act, and what goes in has room. "" where there is none.
func (p *Plan) Nearer() (act Act, households []int) {
	p.weighAll()
	by := map[Act][]int{}
	for i := range p.all {
		var only []Act
		for _, a := range Acts {
			if p.all[i].errors[a] > 0 {
				only = append(only, a)
			}
		}
		if len(only) == 1 && only[0] != Unnamed && p.all[i].judged && !p.all[i].stuck() {
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
