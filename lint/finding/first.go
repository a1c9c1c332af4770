package finding

import (
	"cmp"
	"maps"
	"slices"
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
	// masses says that the household may be told of in masses.
	measured bool
	open     map[Level]map[string]*owing
}

// owing is what one rule asks of one household.
type owing struct {
	findings int
	lack     int64
	unit     string
	// unstated says that a finding states no amount.
	unstated bool
}

// Step is one thing to do.
type Step struct {
	Rule Rule
	// Households has it open, in so many Findings. Clear is how many have nothing open of the level once this and all steps before it are done.
	Households, Findings, Clear int
	// MassMG is what is added in all, less than nothing where something is left behind; it is not known for all work.
	MassMG    int64
	MassKnown bool
	// NoRoom is how many of the households could not add it and stay below their caps.
	NoRoom int
}

// Add takes a household in.
func (r *Ranking) Add(h *Audited) {
	n := need{judged: h.Household.Judged, open: map[Level]map[string]*owing{}}
	if s := h.Sheet; s != nil {
		n.roomMG, n.measured = s.RoomMG, len(s.Bearers) > 0
		r.foodMG += s.FoodMG
		r.foodJ += s.FoodJ
		if r.things == nil {
			r.things = map[string][]int64{}
		}
		for _, t := range s.Things {
			r.things[t.Capability] = append(r.things[t.Capability], t.EachMG...)
		}
	}
	for i := range h.Findings {
		f := &h.Findings[i]
		if f.Waived != nil || f.Level == Note {
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

// Steps are the rules to see to, one after the other, at most so many: each time the one after which most households
// have nothing open of the level; of several such, the one that most households have open, then the one with the lightest
// work, then the least mass to add, then the fewest findings.
func (r *Ranking) Steps(level Level, rules map[string]Rule, most int) (out []Step) {
	left := map[string]*Step{}
	open := make([]map[string]bool, len(r.needs))
	clear := 0
	usual := r.usual()
	for i := range r.needs {
		n := &r.needs[i]
		open[i] = map[string]bool{}
		for name, o := range n.open[level] {
			open[i][name] = true
			s := left[name]
			if s == nil {
				rule, ok := rules[name]
				if !ok {
					rule.Name = name
				}
				s = &Step{Rule: rule, MassKnown: true}
				left[name] = s
			}
			s.Households++
			s.Findings += o.findings
			mg, known := r.mass(&s.Rule, o, usual)
			s.MassMG += mg
			s.MassKnown = s.MassKnown && known
			if known && n.measured && mg > n.roomMG {
				s.NoRoom++
			}
		}
		if len(open[i]) == 0 && n.judged {
			clear++
		}
	}
	for len(left) > 0 && len(out) < most {
		gain := map[string]int{}
		for i := range open {
			if len(open[i]) == 1 && r.needs[i].judged {
				for name := range open[i] {
					gain[name]++
				}
			}
		}
		names := slices.SortedFunc(maps.Keys(left), func(a, b string) int {
			x, y := left[a], left[b]
			return cmp.Or(
				cmp.Compare(gain[b], gain[a]), cmp.Compare(y.Households, x.Households), cmp.Compare(x.Rule.Mend.Work.Rank(), y.Rule.Mend.Work.Rank()),
				cmp.Compare(x.MassMG, y.MassMG), cmp.Compare(x.Findings, y.Findings), cmp.Compare(a, b),
			)
		})
		s := left[names[0]]
		delete(left, names[0])
		clear += gain[names[0]]
		s.Clear = clear
		for i := range open {
			delete(open[i], names[0])
		}
		out = append(out, *s)
	}
	return out
}

// Rank is the place among Works, from the lightest to the heaviest.
func (w Work) Rank() int { return slices.Index(Works, w) }

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
func (r *Ranking) mass(rule *Rule, o *owing, usual map[string]int64) (mg int64, known bool) {
	switch m := rule.Mend; {
	case m.Work == ToLeave && o.unit == "mg" && !o.unstated:
		return -o.lack, true
	case m.Work == ToLeave:
		return 0, false
	case m.Work != ToAdd:
		return 0, m.Work != ""
	case m.Thing == "water" && !o.unstated:
		return o.lack * 1000, true
	case m.Thing == "food" && !o.unstated && r.foodJ > 0:
		return int64(float64(o.lack) * float64(r.foodMG) / float64(r.foodJ)), true
	case usual[m.Thing] > 0:
		n := int64(o.findings)
		if o.unit == "count" && !o.unstated {
			n = o.lack
		}
		return n * usual[m.Thing], true
	}
	return 0, false
}
