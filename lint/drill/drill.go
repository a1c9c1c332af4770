// Package drill changes a household as a mishap would: a pack lost, a person alone, help
// late (All, Pairs: kit in, kit out), and tells what that would mean (Make).
//
// Each drill is the same move: the kit value is changed, measured and judged again, and
// compared with the household as it is, by rule and spot. A changed household shares nothing
// that can be written to with the one it was made of. What is left keeps its spot, so that
// every number still leads to its written line.
package drill

import (
	"cmp"
	"slices"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// Drill is one what-if.
type Drill struct {
	// Key tells drills apart, such as "pack-lost/rust"; Kind is its first part; Text says it in words.
	Key, Text string
	Kind      kinds.Drill
	Household *kit.Household
	// Fits is false where a pack could not be handed over whole; Left is what stays behind, Takers how many others carry a pack.
	Fits   bool
	Left   []kit.Item
	Takers int
}

// late is how long help is late.
const late = unit.Duration(24 * 3600)

// All makes every single drill of a household in a fixed order. Most gives the most load
// that the carrier of a key may carry, walks whether the person of a key can walk: those who cannot
// are never apart from the others; may says whether an item is for the hands of a carrier.
func All(h *kit.Household, most func(carrier string) unit.Mass, walks func(person string) bool, may func(carrier string, it *kit.Item) bool) []Drill {
	h = sorted(h)
	var out []Drill
	add := func(kind kinds.Drill, key, text string, changed *kit.Household) *Drill {
		if key != "" {
			key = "/" + key
		}
		out = append(out, Drill{Key: string(kind) + key, Kind: kind, Text: text, Household: changed, Fits: true})
		return &out[len(out)-1]
	}
	for i := range h.Packs {
		p := &h.Packs[i]
		add(kinds.DrillPackLost, p.Key, "without "+kit.Called(p), without(h, p.Key))
	}
	for i := range h.Vehicles {
		if v := &h.Vehicles[i]; serves(h, v.Key) {
			add(kinds.DrillVehicleLost, v.Key, "without "+v.Name+", on foot", afoot(h, v.Key))
		}
	}
	var walkers []*kit.Person
	for i := range h.People {
		if p := &h.People[i]; walks(p.Key) {
			walkers = append(walkers, p)
		}
	}
	if len(walkers) > 1 {
		for _, p := range walkers {
			add(kinds.DrillAlone, p.Key, p.Name+" alone", only(h, p.Key))
		}
	}
	if len(walkers) > 2 {
		for i, p := range walkers {
			for _, q := range walkers[i+1:] {
				add(kinds.DrillPair, p.Key+"+"+q.Key, p.Name+" and "+q.Name+" alone together", only(h, p.Key, q.Key))
			}
		}
	}
	for _, c := range carriers(h) {
		d := add(kinds.DrillUnable, c.key, c.name+" cannot carry", nil)
		d.Household, d.Left, d.Takers = handOver(h, c.key, most, may)
		d.Fits = len(d.Left) == 0
	}
	for i := range h.Plan.Seasons {
		if s := &h.Plan.Seasons[i]; s.Key != h.Plan.Season {
			changed := h.Clone()
			changed.Plan.Season = s.Key
			add(kinds.DrillSeason, s.Key, "season "+s.Key, changed)
		}
	}
	changed := h.Clone()
	changed.Plan.Duration, changed.Plan.DurationSet = cmp.Or(h.Plan.Duration, 3*late)+late, true
	add(kinds.DrillLate, "", "help comes 24 h later", changed)
	if len(h.Plan.WaterSources) > 0 {
		changed = h.Clone()
		changed.Plan.WaterSources = nil
		add(kinds.DrillDry, "", "no water on the way", changed)
	}
	if changed, any := shed(h); any {
		add(kinds.DrillShed, "", "without what is quick to drop", changed)
	}
	return out
}

// Pairs makes a drill of every two packs lost; none where there are more packs than most.
func Pairs(h *kit.Household, most int) []Drill {
	h = sorted(h)
	if len(h.Packs) > most {
		return nil
	}
	var out []Drill
	for i := range h.Packs {
		for j := i + 1; j < len(h.Packs); j++ {
			p, q := &h.Packs[i], &h.Packs[j]
			out = append(out, Drill{
				Key: string(kinds.DrillPacksLost) + "/" + p.Key + "+" + q.Key, Kind: kinds.DrillPacksLost, Text: "without " + kit.Called(p) + " and " + kit.Called(q), Household: without(h, p.Key, q.Key), Fits: true,
			})
		}
	}
	return out
}

// sorted is a household in the order that package kit documents.
func sorted(h *kit.Household) *kit.Household {
	c := h.Clone()
	slices.SortFunc(c.People, func(a, b kit.Person) int { return cmp.Compare(a.Key, b.Key) })
	slices.SortFunc(c.Packs, func(a, b kit.Pack) int { return cmp.Compare(a.Key, b.Key) })
	slices.SortFunc(c.Animals, func(a, b kit.Animal) int { return cmp.Compare(a.Key, b.Key) })
	c.Plan.Seasons = slices.Clone(h.Plan.Seasons)
	slices.SortFunc(c.Plan.Seasons, func(a, b kit.Season) int { return cmp.Compare(a.Key, b.Key) })
	return c
}

// without is a household that has lost some packs.
func without(h *kit.Household, packs ...string) *kit.Household {
	c := h.Clone()
	c.Packs = slices.DeleteFunc(c.Packs, func(p kit.Pack) bool { return slices.Contains(packs, p.Key) })
	return c
}

// serves reports whether a leg is gone by a vehicle, or a pack rides in it.
func serves(h *kit.Household, vehicle string) bool {
	return slices.ContainsFunc(h.Plan.Legs, func(l kit.Leg) bool { return l.By == vehicle }) ||
		slices.ContainsFunc(h.Packs, func(p kit.Pack) bool { return p.Vehicle == vehicle })
}

// afoot is a household that has lost a vehicle: what nobody carries or was kept in it is gone, the rest is borne, and its legs
// are walked.
func afoot(h *kit.Household, vehicle string) *kit.Household {
	c := h.Clone()
	c.Vehicles = slices.DeleteFunc(slices.Clone(h.Vehicles), func(v kit.Vehicle) bool { return v.Key == vehicle })
	c.Packs = slices.DeleteFunc(c.Packs, func(p kit.Pack) bool {
		return p.Vehicle == vehicle && (p.Carrier == "" || p.Kept == "car")
	})
	for i := range c.Packs {
		if p := &c.Packs[i]; p.Vehicle == vehicle {
			p.Vehicle = ""
		}
	}
	c.Plan.Legs = slices.Clone(h.Plan.Legs)
	for i := range c.Plan.Legs {
		if l := &c.Plan.Legs[i]; l.By == vehicle {
			l.By, l.Pace = "", kit.Opt[unit.Duration]{} // a pace of wheels
		}
	}
	return c
}

// only is what some people are without the others: they, the people they carry, what they wear, their
// packs. Animals stay with the others. Food for one who is not there is nobody's, and what serves only its
// owner serves nobody else; another's medicine counts for nobody, as it names the one who takes it.
func only(h *kit.Household, people ...string) *kit.Household {
	c := h.Clone()
	there := slices.Clone(people)
	for grown := true; grown; {
		grown = false
		for i := range h.People {
			if p := &h.People[i]; p.CarriedBy != "" && slices.Contains(there, p.CarriedBy) && !slices.Contains(there, p.Key) {
				there, grown = append(there, p.Key), true
			}
		}
	}
	c.People = slices.DeleteFunc(c.People, func(p kit.Person) bool { return !slices.Contains(there, p.Key) })
	c.Animals = nil
	c.Packs = slices.DeleteFunc(c.Packs, func(p kit.Pack) bool { return !slices.Contains(there, p.Carrier) })
	each(c, func(it *kit.Item) {
		if it.Food.Set && it.Food.Value.For != "" && !slices.Contains(there, it.Food.Value.For) {
			it.Food = kit.Opt[kit.Food]{}
		}
		if it.Owner != "" && !slices.Contains(there, it.Owner) {
			it.Can = slices.DeleteFunc(slices.Clone(it.Can), func(c kit.Capability) bool { return slices.Contains(personal, c.Name) })
			it.Documents = slices.DeleteFunc(slices.Clone(it.Documents), func(d string) bool { return slices.Contains(papers, d) })
		}
	})
	return c
}

// What serves only its owner: capabilities and papers. Our own line.
var (
	personal = []kinds.Capability{kinds.CanFootwear, kinds.CanIdentify, kinds.CanSee}
	papers   = []string{"identity", "medical", "prescription"}
)

// each goes through all items of a household, worn or packed.
func each(h *kit.Household, do func(*kit.Item)) {
	for i := range h.People {
		for j := range h.People[i].OnBody {
			do(&h.People[i].OnBody[j])
		}
	}
	for i := range h.Packs {
		for j := range h.Packs[i].Compartments {
			for k := range h.Packs[i].Compartments[j].Items {
				do(&h.Packs[i].Compartments[j].Items[k])
			}
		}
	}
}

// shed drops everything that is quick to shed from the packs; any tells whether there is something.
func shed(h *kit.Household) (c *kit.Household, any bool) {
	c = h.Clone()
	for i := range c.Packs {
		p := &c.Packs[i]
		n := len(p.Compartments)
		p.Compartments = slices.DeleteFunc(p.Compartments, func(x kit.Compartment) bool { return x.QuickShed })
		any = any || len(p.Compartments) < n
		for j := range p.Compartments {
			x := &p.Compartments[j]
			n := len(x.Items)
			x.Items = slices.DeleteFunc(x.Items, func(it kit.Item) bool { return it.QuickShed })
			any = any || len(x.Items) < n
		}
	}
	return c, any
}
