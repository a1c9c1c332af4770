package audit

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Ranking finds out what a group should do first. It keeps of every household only what it needs for that.
type Ranking struct {
	needs         []need
	things        map[string][]int64
	foodMG, foodJ int64
}

// need is what is open in one household, by level and rule.
type need struct {
	judged bool
	roomMG int64
	// measured says whether it is known what it can still take.
	measured bool
	open     map[finding.Level]map[string]*owing
}

// owing is what one rule needs of one household.
type owing struct {
	findings int
	lack     int64
	unit     kinds.Unit
	// unstated says that a finding states no amount.
	unstated bool
}

// Step is one thing to do.
type Step struct {
	Rule finding.Rule
	// Households has it open, in so many Findings. Clear is how many have nothing open of the level once this and all steps before it are done.
	Households, Findings, Clear int
	// MassMG is the sum of what is added, negative where something is left behind; MassKnown is false where work has no known mass.
	MassMG    int64
	MassKnown bool
	// NoRoom is how many of the households could not add it, after all that the steps before it add, and stay below their caps.
	NoRoom int
}

// Add takes a household in.
func (r *Ranking) Add(h *Audited) {
	n := need{judged: h.Household.Judged, open: map[finding.Level]map[string]*owing{}}
	if s := h.Sheet; s != nil {
		n.roomMG, n.measured = s.RoomMG, len(s.Bearers) > 0
		r.foodMG += s.FoodMG
		r.foodJ += s.FoodJ
		if r.things == nil {
			r.things = map[string][]int64{}
		}
		for _, t := range s.Things {
			thing := string(t.Capability)
			r.things[thing] = append(r.things[thing], t.EachMG...)
		}
	}
	for i := range h.Findings {
		f := &h.Findings[i]
		if f.Waived != nil || f.Level == finding.Note {
			continue
		}
		of := n.open[f.Level]
		if of == nil {
			of = map[string]*owing{}
			n.open[f.Level] = of
		}
		o := of[f.Rule]
		if o == nil {
			o = &owing{}
			of[f.Rule] = o
		}
		o.findings++
		if f.Lack == nil || f.Lack.Amount <= 0 {
			o.unstated = true
		} else {
			o.lack, o.unit = o.lack+f.Lack.Amount, f.Lack.Unit
		}
	}
	r.needs = append(r.needs, n)
}

// First is what to do first about one level: the rules to see to, one after the other, and how many more there are.
type First struct {
	Level finding.Level
	Steps []Step
	More  int
}

// Steps are the rules to see to, at most so many. Households are looked at together with all that keeps them from having nothing
// open of the level: next come the rules of the one after which most of them are clear for each rule that is seen to, fewest rules
// first. Of these rules, the one that most households have comes first, then the one with the lightest work, then the least
// mass to add, what is not known last, then the fewest findings.
func (r *Ranking) Steps(level finding.Level, rules map[string]finding.Rule, most int) First {
	f := r.front(level, rules)
	out := First{Level: level}
	for len(f.left) > 0 && len(out.Steps) < most {
		next := f.next()
		for _, name := range next[:min(len(next), most-len(out.Steps))] {
			s := f.take(name)
			s.NoRoom = r.add(f, name)
			out.Steps = append(out.Steps, *s)
		}
	}
	out.More = len(f.left)
	return out
}

// front is what is open while steps are chosen.
type front struct {
	left map[string]*Step
	// open are the rules that each household has left, sorted; counts says whether it can become clear.
	open   [][]string
	counts []bool
	clear  int
	// masses is what each household must add for each rule, in mg; used, what the steps so far have added.
	masses []map[string]int64
	used   []int64
}

// front is where the choice begins: everything of a level is open.
func (r *Ranking) front(level finding.Level, rules map[string]finding.Rule) *front {
	f := &front{left: map[string]*Step{}, used: make([]int64, len(r.needs))}
	usual := r.usual()
	for i := range r.needs {
		n := &r.needs[i]
		masses := map[string]int64{}
		for name, o := range n.open[level] {
			s := f.left[name]
			if s == nil {
				rule, ok := rules[name]
				if !ok {
					rule.Name = name
				}
				s = &Step{Rule: rule, MassKnown: true}
				f.left[name] = s
			}
			s.Households++
			s.Findings += o.findings
			mg, known := r.mass(&s.Rule, o, usual)
			s.MassMG += mg
			s.MassKnown = s.MassKnown && known
			masses[name] = mg
		}
		names := slices.Sorted(maps.Keys(n.open[level]))
		if len(names) == 0 && n.judged {
			f.clear++
		}
		f.open = append(f.open, names)
		f.counts = append(f.counts, n.judged)
		f.masses = append(f.masses, masses)
	}
	return f
}

// add packs what a rule asks for into each household, and returns how many have no room for it.
func (r *Ranking) add(f *front, name string) (noRoom int) {
	for i, masses := range f.masses {
		mg := masses[name]
		f.used[i] += mg
		if n := &r.needs[i]; mg > 0 && n.measured && f.used[i] > n.roomMG {
			noRoom++
		}
	}
	return noRoom
}

// next are the rules to see to next, in their order.
func (f *front) next() []string {
	sets := map[string]int{} // households by what they have left
	for i, names := range f.open {
		if len(names) > 0 && f.counts[i] {
			sets[strings.Join(names, "\n")]++
		}
	}
	keys := slices.Sorted(maps.Keys(sets))
	each := make([]map[string]bool, len(keys))
	for i, k := range keys {
		each[i] = map[string]bool{}
		for n := range strings.SplitSeq(k, "\n") {
			each[i][n] = true
		}
	}
	var best []string
	bestGain, bestWork := 0, 0
	for i, k := range keys {
		gain := 0
		for j, o := range keys {
			if len(each[j]) <= len(each[i]) && within(each[j], each[i]) {
				gain += sets[o]
			}
		}
		names := strings.Split(k, "\n")
		work := 0
		for _, n := range names {
			work += f.left[n].Rule.Mend.Work.Rank()
		}
		// gain for each rule, by multiplying
		if c := cmp.Or(cmp.Compare(gain*len(best), bestGain*len(names)), cmp.Compare(len(best), len(names)), cmp.Compare(bestWork, work)); best == nil || c > 0 {
			best, bestGain, bestWork = names, gain, work
		}
	}
	if best == nil { // only of those who could not be judged
		best = slices.Sorted(maps.Keys(f.left))
	}
	slices.SortFunc(best, func(a, b string) int {
		x, y := f.left[a], f.left[b]
		return cmp.Or(
			cmp.Compare(y.Households, x.Households), cmp.Compare(x.Rule.Mend.Work.Rank(), y.Rule.Mend.Work.Rank()), cmp.Compare(unknown(x), unknown(y)),
			cmp.Compare(x.MassMG, y.MassMG), cmp.Compare(x.Findings, y.Findings), cmp.Compare(a, b),
		)
	})
	return best
}

func within(a, b map[string]bool) bool {
	for n := range a {
		if !b[n] {
			return false
		}
	}
	return true
}

func unknown(s *Step) int {
	if s.MassKnown {
		return 0
	}
	return 1
}

// take counts a rule as fixed in all households.
func (f *front) take(name string) *Step {
	s := f.left[name]
	delete(f.left, name)
	for i, names := range f.open {
		if k, ok := slices.BinarySearch(names, name); ok {
			if f.open[i] = slices.Delete(names, k, k+1); len(f.open[i]) == 0 && f.counts[i] {
				f.clear++
			}
		}
	}
	s.Clear = f.clear
	return s
}

// usual is what one thing of each capability usually weighs in these kits: the median of all, the lower of two in the middle.
func (r *Ranking) usual() map[string]int64 {
	out := map[string]int64{}
	for c, all := range r.things {
		if len(all) > 0 {
			slices.Sort(all)
			out[c] = all[(len(all)-1)/2]
		}
	}
	return out
}

// mass is what mending adds to a household's packs. A litre of water is a kilogram; food is as dense as that of these kits; a
// thing weighs what such things usually weigh in these kits.
func (r *Ranking) mass(rule *finding.Rule, o *owing, usual map[string]int64) (mg int64, known bool) {
	switch m := rule.Mend; {
	case m.Work == finding.ToLeave && o.unit == kinds.UnitMass && !o.unstated:
		return -o.lack, true
	case m.Work == finding.ToLeave:
		return 0, false
	case m.Work != finding.ToAdd:
		return 0, m.Work != ""
	case m.Thing == "water" && !o.unstated:
		return o.lack * 1000, true
	case m.Thing == "food" && !o.unstated && r.foodJ > 0:
		return int64(float64(o.lack) * float64(r.foodMG) / float64(r.foodJ)), true
	case usual[m.Thing] > 0:
		n := int64(o.findings)
		if o.unit == kinds.UnitCount && !o.unstated {
			n = o.lack
		}
		return n * usual[m.Thing], true
	}
	return 0, false
}
