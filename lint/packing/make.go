package packing

import (
	"context"
	"fmt"
	"io/fs"
	"slices"

	"kitmuster/lint"
	"kitmuster/lint/facts"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Product is the packing list of a household: a *PackingList.
var Product = lint.Product{Name: "list", Make: List}

// List reads and measures the household in folder dir and makes its packing list; its cards speak by the ages of the rulebook.
func List(_ context.Context, tree fs.FS, rulebook *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := household.Measure(tree, dir, o)
	out := m.Outcome()
	if m.Facts != nil {
		of := func(name string) int64 { n, _ := rulebook.InForce("people", name, m.Facts.Limits); return n }
		l := packing(m, ages{call: of("call_months"), hand: of("hand_months")})
		for _, f := range m.Findings {
			l.Unread = append(l.Unread, fmt.Sprintf("%s:%d: %s", f.At.File, f.At.Start.Line, f.Message))
		}
		out.Extra = l
	}
	return out
}

// lister makes the packing list of one household.
type lister struct {
	m     *household.Measured
	out   *PackingList
	ages  ages
	items map[string]int // place in Facts.Items, by id
	days  map[string]itemDays
	// bodies are the names of people and animals by key.
	bodies map[string]string
	// last are the places in out.LastMinute of the items that stand there, by spot.
	last map[string]int
	// entries are all items, undated those whose mass has no day of weighing and is not marked as estimated.
	entries, undated int
}

func packing(m *household.Measured, a ages) *PackingList {
	forPaper(m.Kit)
	l := &lister{
		m: m, ages: a, out: &PackingList{Household: m.Household, LoadMG: m.Facts.Household.LoadMG, WornMG: m.Facts.Household.OnBodyMG},
		items: map[string]int{}, days: map[string]itemDays{}, bodies: map[string]string{}, last: map[string]int{},
	}
	for i := range m.Facts.Items {
		l.items[m.Facts.Items[i].ID] = i
	}
	l.datesOf()
	people, animals := l.bodiesAsWritten()
	if p := m.Facts.Plan; p.SeasonKnown {
		l.out.Season = fmt.Sprintf("%s: %s by day, %s by night", p.Season, l.in().Units.Temperature(unit.Temperature(p.DayMC)), l.in().Units.Temperature(unit.Temperature(p.NightMC)))
	}
	for _, key := range append(keysOf(people, func(p *kit.Person) string { return p.Key }), keysOf(animals, func(a *kit.Animal) string { return a.Key })...) {
		again := false
		for _, p := range written(l, m.Kit.Packs, func(p *kit.Pack) string { return p.Spot }) {
			if p.Carrier == key {
				l.pack(p, again)
				again = true
			}
		}
	}
	again := map[string]bool{} // vehicles
	for _, p := range written(l, m.Kit.Packs, func(p *kit.Pack) string { return p.Spot }) {
		if p.Carrier == "" {
			l.pack(p, again[p.Vehicle])
			again[p.Vehicle] = true
		}
	}
	for _, p := range people {
		if len(p.OnBody) > 0 {
			part := l.part(PackedPart{Name: p.Name}, p.OnBody, p.Key, "worn by "+p.Name)
			l.out.WornLeast = l.out.WornLeast || part.MassLeast
			l.out.Worn = append(l.out.Worn, part)
		}
	}
	l.weighing()
	for _, p := range people {
		l.cold(p)
	}
	for _, p := range people {
		l.glasses(p)
	}
	for _, p := range people {
		l.person(p)
	}
	for _, a := range animals {
		l.animal(a)
	}
	return l.out
}

// forPaper puts blanks into the names of entries that have none but their keys.
func forPaper(h *kit.Household) {
	items := func(its []kit.Item) {
		for i := range its {
			its[i].Name = words.OnPaper(its[i].Name)
		}
	}
	for i := range h.People {
		p := &h.People[i]
		p.Name = words.OnPaper(p.Name)
		items(p.OnBody)
		for k := range p.Medications {
			p.Medications[k].Name = words.OnPaper(p.Medications[k].Name)
		}
	}
	for i := range h.Animals {
		h.Animals[i].Name = words.OnPaper(h.Animals[i].Name)
	}
	for i := range h.Vehicles {
		h.Vehicles[i].Name = words.OnPaper(h.Vehicles[i].Name)
	}
	for i := range h.Packs {
		p := &h.Packs[i]
		if p.Name = words.OnPaper(p.Name); p.Name == words.OnPaper(p.Key) {
			p.Name = "pack " + p.Name // a key such as mum or kid reads like a person
		}
		for k := range p.Compartments {
			p.Compartments[k].Name = words.OnPaper(p.Compartments[k].Name)
			items(p.Compartments[k].Items)
		}
	}
}

func keysOf[T any](xs []*T, key func(*T) string) (out []string) {
	for _, x := range xs {
		out = append(out, key(x))
	}
	return out
}

// written puts entries into the order in which the family wrote them: files by name, then lines. What was made
// in one place, as by a comprehension, stays in the order of the keys.
func written[T any](l *lister, xs []T, spot func(*T) string) []*T {
	return source.InOrder(xs, func(x *T) source.Span { return l.m.Locate(spot(x)).At })
}

// outsideIn is the order of a pack's compartments; see kit.OutsideIn.
func (l *lister) outsideIn(cs []kit.Compartment) []*kit.Compartment {
	out := written(l, cs, func(c *kit.Compartment) string { return c.Spot })
	slices.SortStableFunc(out, kit.OutsideIn)
	return out
}

func (l *lister) bodiesAsWritten() ([]*kit.Person, []*kit.Animal) {
	people := written(l, l.m.Kit.People, func(p *kit.Person) string { return p.Spot })
	animals := written(l, l.m.Kit.Animals, func(a *kit.Animal) string { return a.Spot })
	for _, p := range people {
		l.bodies[p.Key] = p.Name
	}
	for _, a := range animals {
		l.bodies[a.Key] = a.Name
	}
	return people, animals
}

// bearer is who carries a pack, or the vehicle that it never leaves.
func (l *lister) bearer(p *kit.Pack) string {
	for i := range l.m.Kit.Vehicles {
		if v := &l.m.Kit.Vehicles[i]; p.Carrier == "" && v.Key == p.Vehicle {
			return v.Name
		}
	}
	return l.bodies[p.Carrier]
}

func (l *lister) pack(p *kit.Pack, again bool) {
	f := l.fact(p)
	out := PackedPack{Name: p.Name, Carrier: l.bearer(p), Colours: p.Colours, MassMG: f.MassMG, MassLeast: !f.MassKnown, EmptyMG: f.EmptyMG, EmptyLeast: p.MassUnknown, Again: again}
	if !again {
		out.OnTop = l.borne(p.Carrier, "%s (%s)")
	}
	l.out.LoadLeast = l.out.LoadLeast || out.MassLeast
	for _, c := range l.outsideIn(p.Compartments) {
		part := PackedPart{Name: c.Name, Reach: c.Reach, For: c.For, Layer: c.Layer, QuickShed: c.QuickShed}
		part = l.part(part, c.Items, p.Carrier, p.Name+", "+c.Name)
		for _, f := range l.m.Facts.Compartments {
			if f.ID == c.Spot {
				part.MassMG, part.MassLeast = f.MassMG, !f.MassKnown
			}
		}
		out.Parts = append(out.Parts, part)
	}
	l.out.Packs = append(l.out.Packs, out)
}

func (l *lister) fact(p *kit.Pack) *facts.Pack {
	i := slices.IndexFunc(l.m.Facts.Packs, func(f facts.Pack) bool { return f.ID == p.Spot })
	return &l.m.Facts.Packs[i]
}

// part fills a part with its items; where is what the household calls the place.
func (l *lister) part(part PackedPart, items []kit.Item, carrier, where string) PackedPart {
	for _, it := range written(l, items, func(it *kit.Item) string { return it.Spot }) {
		out := l.item(it, carrier)
		part.MassMG += out.MassMG
		part.MassLeast = part.MassLeast || out.MassLeast
		part.Items = append(part.Items, out)
		if out.AtLast != "" {
			l.last[it.Spot] = len(l.out.LastMinute)
			l.out.LastMinute = append(l.out.LastMinute, LastMinute{What: countAndName(it), Why: out.AtLast, Where: where, Past: out.Past})
		}
	}
	return part
}

func countAndName(it *kit.Item) string {
	if it.Count == 1 {
		return it.Name
	}
	return fmt.Sprintf("%d × %s", it.Count, it.Name)
}

const (
	staysHome  = "stays at home until you leave"
	keepCold   = "then keep it as its label says"
	needsCold  = "in the cold until you leave; " + keepCold
	wearNeeded = "needed to see"
)

// neverWeighed is the note on an item; where most have it, it is said once of the household.
const neverWeighed = "no day of weighing"

// weighing says of most items at once that no day of weighing is recorded.
func (l *lister) weighing() {
	if 2*l.undated <= l.entries || l.undated < 3 {
		return
	}
	l.out.Unweighed = l.undated
	for _, p := range l.out.Packs {
		forget(p.Parts)
	}
	forget(l.out.Worn)
}

// forget takes the note from the items.
func forget(parts []PackedPart) {
	for _, part := range parts {
		for i := range part.Items {
			it := &part.Items[i]
			it.Notes = slices.DeleteFunc(it.Notes, func(n string) bool { return n == neverWeighed })
		}
	}
}

func (l *lister) item(it *kit.Item, carrier string) PackedItem {
	f, days := &l.m.Facts.Items[l.items[it.Spot]], l.days[it.Spot]
	out := PackedItem{
		Name: it.Name, Count: f.Count, MassMG: f.MassMG, MassLeast: !f.MassKnown, EachMG: f.EachMG, WaterML: f.WaterML, Weighed: f.Weighed, Until: days.until(),
		AtLast: l.whyAtLast(it), Past: days.past(),
	}
	note := func(is bool, text string) {
		if is {
			out.Notes = append(out.Notes, text)
		}
	}
	note(f.Count == 0, "none is left")
	note(out.AtLast != "", "last minute: "+out.AtLast)
	note(f.WaterML > 0, "with "+l.in().Volume(f.WaterML)+" of water")
	if md := it.Medicine.Value; it.Medicine.Set {
		name := md.Medication
		if _, m := l.medication(it); m != nil {
			name = m.Name
		}
		doses := md.Doses * unit.Count(f.Count)
		note(true, fmt.Sprintf("%s for %s, %s", name, l.bodies[md.Person], words.Thousandths(int64(doses), "dose")))
	}
	note(it.Shared, "for everyone")
	told := []string{"", carrier, it.Medicine.Value.Person}
	for _, key := range []string{it.Owner, it.Food.Value.For} {
		note(!slices.Contains(told, key), "for "+l.bodies[key])
		told = append(told, key)
	}
	out.Notes = append(out.Notes, l.goodUntil(days)...)
	guess := !f.Weighed && f.MassKnown && f.Count > 0
	note(guess && it.Estimated, "mass estimated")
	if guess && !it.Estimated {
		note(true, neverWeighed)
		l.undated++
	}
	l.entries++
	return out
}

// in says amounts in the units of the household.
func (l *lister) in() words.Amounts { return words.Amounts{Units: l.m.Facts.Audit.Units} }

// medication is what an item is a supply of, and whose.
func (l *lister) medication(it *kit.Item) (*kit.Person, *kit.Medication) {
	for i := range l.m.Kit.People {
		p := &l.m.Kit.People[i]
		for j := range p.Medications {
			if it.Medicine.Set && p.Key == it.Medicine.Value.Person && p.Medications[j].Key == it.Medicine.Value.Medication {
				return p, &p.Medications[j]
			}
		}
	}
	return nil, nil
}

// whyAtLast says why an item is taken when the household leaves; "" where it lies packed or none is left. What has left the cold for good stays packed.
func (l *lister) whyAtLast(it *kit.Item) string {
	_, md := l.medication(it)
	cold := md != nil && md.ColdChain && !it.OutOfCold.Set
	switch {
	case it.Count == 0:
		return ""
	case cold && it.LastMinute:
		return staysHome + "; " + keepCold
	case cold:
		return needsCold
	case it.LastMinute:
		return staysHome
	}
	return ""
}

// everything walks all items with who has them and where they are.
func (l *lister) everything(do func(it *kit.Item, carrier, where string)) {
	for i := range l.m.Kit.Packs {
		p := &l.m.Kit.Packs[i]
		for j := range p.Compartments {
			c := &p.Compartments[j]
			for k := range c.Items {
				do(&c.Items[k], p.Carrier, p.Name+", "+c.Name)
			}
		}
	}
	for i := range l.m.Kit.People {
		p := &l.m.Kit.People[i]
		for k := range p.OnBody {
			do(&p.OnBody[k], p.Key, "worn by "+p.Name)
		}
	}
}

// cold lists a person's medicines that are still in the cold, where no item on the last-minute list holds them.
func (l *lister) cold(p *kit.Person) {
	for i := range p.Medications {
		if md := &p.Medications[i]; l.stillCold(md) {
			l.out.LastMinute = append(l.out.LastMinute, LastMinute{What: fmt.Sprintf("%s for %s, all that is still in the cold", md.Name, p.Name), Why: needsCold})
		}
	}
}

// stillCold reports whether a medicine is kept in the cold and no item that is packed last holds it.
func (l *lister) stillCold(md *kit.Medication) bool {
	listed := false
	l.everything(func(it *kit.Item, _, _ string) {
		_, of := l.medication(it)
		_, is := l.last[it.Spot]
		listed = listed || of == md && is
	})
	return md.ColdChain && !listed
}

// glasses lists the glasses of a person who needs them: those they wear, or a pair that the kit does not hold.
func (l *lister) glasses(p *kit.Person) {
	if !p.Glasses {
		return
	}
	for i := range p.OnBody {
		it := &p.OnBody[i]
		if slices.ContainsFunc(it.Can, func(c kit.Capability) bool { return c.Name == kinds.CanSee }) {
			if at, ok := l.last[it.Spot]; ok {
				l.out.LastMinute[at].Why += "; " + wearNeeded
			} else {
				l.out.LastMinute = append(l.out.LastMinute, LastMinute{What: fmt.Sprintf("%s of %s", countAndName(it), p.Name), Why: wearNeeded, Where: "worn by " + p.Name, Past: l.days[it.Spot].past()})
			}
			return
		}
	}
	l.out.LastMinute = append(l.out.LastMinute, LastMinute{What: "glasses or lenses of " + p.Name, Why: wearNeeded})
}
