package measure

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

const (
	adultMonths = 18 * 12
	// A grown animal is one year old: common practice for dogs and cats, no source.
	grownAnimal = 12
	// Below three years a child is carried and counts no walk: our own line.
	walkerMonths = 3 * 12

	month   = 31_556_952 / 12 // seconds in the mean Gregorian month, as in package unit
	kcal    = 4184            // J, thermochemical: NIST SP 811 (2008) App. B.8
	daySecs = 86_400
)

// age is in whole months on a day. It is not known where neither a birth date
// nor an age is written, or a birth is still to come.
func age(born opt[unit.Date], written opt[unit.Duration], on unit.Date) (months int64, known bool) {
	switch {
	case born.Set && born.Value > on:
	case born.Set:
		return unit.AgeMonths(born.Value, on), true
	case written.Set:
		return int64(written.Value) / month, true
	}
	return 0, false
}

// Walks reports whether a person goes on their own feet: nobody carries them, and they are three years old or more.
func Walks(p *facts.Person) bool {
	return p.CarriedBy == "" && (!p.AgeKnown || p.AgeMonths >= walkerMonths)
}

type opt[T any] = kit.Opt[T]

// adult takes a person of unknown age for grown. The loader asks for an age, so this is for kits made in other ways.
func adult(months int64, known bool) bool { return !known || months >= adultMonths }

// people measures everyone, each alone with what they wear and carry.
func (m *measurer) people() {
	m.f.People = make([]facts.Person, 0, len(m.h.People))
	for i := range m.h.People {
		p := &m.h.People[i]
		b := m.bearer(p.Key)
		f := facts.Person{
			ID: p.Spot, Key: p.Key, Name: p.Name, Fitness: p.Fitness, Carries: p.Carries, Glasses: p.Glasses,
			BodyMassMG: p.BodyMass.Milligrams(), BodyMassKnown: !p.BodyMassUnknown, PackCount: int64(len(b.packs)), Packs: sorted(b.packs),
		}
		var known bool
		f.AgeMonths, known = age(p.Born, p.Age, m.on)
		f.AgeKnown, f.Sex, f.Diets, f.Breastfed, f.CarriedBy = known, p.Sex, sorted(p.Diets), p.Breastfed, m.idOf(p.CarriedBy)
		f.Fed, f.Acclimatised = p.Fed, p.Acclimatised
		f.Pregnant, f.DueKnown, f.DueDay = p.Pregnant.Set, p.Pregnant.Value.Due.Set, int64(p.Pregnant.Value.Due.Value)
		if f.DueKnown {
			f.DueDays = f.DueDay - int64(m.on)
		}
		f.Adult, f.Nappies = adult(f.AgeMonths, known), !p.NoNappies
		f.Conditions, f.MustNot, f.Moves, f.HelpedBy = sorted(p.Conditions), sorted(p.MustNot), p.Moves, m.idOf(p.HelpedBy)
		f.Hears, f.Sees, f.AidCount, f.AidSize = p.Hears, p.Sees, p.HearingAids.Value.Count, p.HearingAids.Value.Size
		for _, key := range p.With { // a drill may have taken one out
			if id := m.idOf(key); id != "" {
				f.With = append(f.With, id)
			}
		}
		f.With = sorted(f.With)
		rest, by := restEnergy(f.AgeMonths, known, p.Sex, p.BodyMass, p.Height)
		f.RestEnergyJ, f.RestBy = int64(rest), by
		m.total.rest += rest
		f.Alone = m.supply(group{p.Spot + "/alone", p.Spot, "with " + p.Name + " alone", b.alone, b.reach})
		f.Allergies, f.Severe, f.Licences, f.Needs = m.words(p)
		m.f.People = append(m.f.People, f)

		add := func(leaf, what string, a facts.Amount) {
			m.l.Add(facts.Posting{ID: p.Spot + "/" + leaf, What: what, Of: p.Name, Amount: a})
		}
		m.l.Add(facts.Posting{ID: p.Spot, What: p.Name})
		m.l.Add(facts.Posting{ID: p.Spot + "/bodyMass", What: "body weight of", Of: p.Name, Amount: facts.AmountOf(kinds.QuantityMass, p.BodyMass), Account: bodyAccount(p)})
		add("carries", "whether a load is carried by", facts.Amount{})
		add("fitness", "fitness of", facts.TextOf(p.Fitness))
		if p.Born.Set {
			add("born", "birth date of", facts.AmountOf(kinds.QuantityDate, p.Born.Value))
		}
		if p.Age.Set {
			add("age", "age of", facts.AmountOf(kinds.QuantityDuration, p.Age.Value))
		}
		if p.Height.Set {
			add("height", "height of", facts.AmountOf(kinds.QuantityLength, p.Height.Value))
		}
		if p.CarriedBy != "" {
			add("carriedBy", "who carries", facts.Amount{})
		}
		if p.Glasses {
			add("glasses", "glasses of", facts.Amount{})
		}
		m.care(p, add)
		m.l.Add(facts.Posting{
			ID: p.Spot + "/rest-energy", Spot: p.Spot, What: "resting energy of one day of", Of: p.Name, Amount: facts.AmountOf(kinds.QuantityEnergy, rest), Account: by,
			Inputs: facts.Listed([]facts.Input{{ID: p.Spot + "/bodyMass", Amount: facts.AmountOf(kinds.QuantityMass, p.BodyMass)}}),
		})
	}
}

// words lists what a person must not meet, holds, and needs.
func (m *measurer) words(p *kit.Person) (allergies, severe, licences, needs []string) {
	for _, a := range p.Allergies {
		allergies = append(allergies, a.Key)
		if a.Severe {
			severe = append(severe, a.Key)
		}
		m.l.Add(facts.Posting{ID: a.Spot, What: "allergy of", Of: p.Name, Amount: facts.TextOf(a.Key)})
	}
	for _, l := range p.Licences {
		if !l.Until.Set || l.Until.Value >= m.on {
			licences = append(licences, l.Service)
		}
		m.l.Add(facts.Posting{ID: l.Spot, What: "licence of", Of: p.Name, Amount: facts.TextOf(l.Service)})
	}
	for _, n := range p.Needs {
		needs = append(needs, n.Spot)
		m.l.Add(facts.Posting{ID: n.Spot, What: "need of", Of: p.Name, Amount: facts.TextOf(n.Text)})
	}
	return sorted(allergies), sorted(severe), sorted(licences), sorted(needs)
}

// schofield holds kcal a day = a × kg + b by sex up to an age: Schofield 1985, as used by FAO/WHO/UNU 2001, Table 5.2.
var schofield = []struct {
	below                          int64 // months
	maleA, maleB, femaleA, femaleB float64
}{
	{3 * 12, 59.512, -30.4, 58.317, -31.1},
	{10 * 12, 22.706, 504.3, 20.315, 485.9},
	{18 * 12, 17.686, 658.2, 13.384, 692.6},
	{30 * 12, 15.057, 692.2, 14.818, 486.6},
	{60 * 12, 11.472, 873.1, 8.126, 845.6},
	{math.MaxInt64, 11.711, 587.7, 9.082, 658.5},
}

// The names that Person.RestBy gives the formulas.
const (
	byMifflin       = "Mifflin-St Jeor 1990, rounded form"
	bySchofield     = "Schofield 1985"
	bySchofieldBoth = "Schofield 1985, mean of both sexes"
)

// restEnergy is what a body at rest takes in one day, in J, and the formula
// used: Mifflin–St Jeor (Am J Clin Nutr 1990;51:241-247, adults from 19 years;
// whole years) where sex and height are known, otherwise Schofield. An unknown
// sex takes the mean of both, an unknown age the row for 30 to 60 years. Both
// are averages of healthy people.
func restEnergy(months int64, ageKnown bool, sex string, body unit.Mass, height opt[unit.Length]) (unit.Energy, string) {
	kg := float64(body) / 1e9
	if ageKnown && months >= 19*12 && height.Set && sex != "" {
		constant := 5.0
		if sex == "female" {
			constant = -161
		}
		cm := float64(height.Value) / 1e4
		return joules(float64(10*kg) + float64(6.25*cm) - 5*float64(months/12) + constant), byMifflin
	}
	if !ageKnown {
		months = 59 * 12
	}
	row := schofield[0]
	for _, r := range schofield[1:] {
		if months >= row.below {
			row = r
		}
	}
	male, female := float64(row.maleA*kg)+row.maleB, float64(row.femaleA*kg)+row.femaleB
	switch sex {
	case "male":
		return joules(male), bySchofield
	case "female":
		return joules(female), bySchofield
	}
	return joules((male + female) / 2), bySchofieldBoth
}

// joules rounds kilocalories to the joule; a formula outside its range may not go below zero.
func joules(kilocalories float64) unit.Energy {
	return unit.Energy(math.Round(max(0, kilocalories) * kcal))
}

// petFactor is the usual multiplier on the resting energy requirement of pets:
// veterinary nutrition tables as quoted second-hand, that of the intact cat from
// memory. An animal of unknown age counts as grown.
func petFactor(a *kit.Animal, months int64, ageKnown bool) (factor float64, account string) {
	const rer = "resting requirement 70 kcal × kg^0.75 (Merck Veterinary Manual, small-animal nutrition)"
	species, neutered, young := a.Species, a.Neutered, ageKnown && months < grownAnimal
	switch {
	case species == "dog" && young && months < 4:
		return 3, rer + " × 3 for a dog below four months"
	case species == "dog" && young:
		return 2, rer + " × 2 for a growing dog"
	case species == "cat" && young:
		return 2.5, rer + " × 2.5 for a growing cat"
	case species == "dog" && neutered:
		return 1.6, rer + " × 1.6 for a neutered grown dog"
	case species == "dog":
		return 1.8, rer + " × 1.8 for an intact grown dog"
	case species == "cat" && neutered:
		return 1.2, rer + " × 1.2 for a neutered grown cat"
	case species == "cat":
		return 1.4, rer + " × 1.4 for an intact grown cat (from memory)"
	}
	return 1, rer + "; no multiplier is known for this species, so ask a vet and write energyPerDay"
}

// petEnergy is the food energy of one day. The root is taken in two steps, as
// square roots round alike on every machine.
func petEnergy(body unit.Mass, factor float64) unit.Energy {
	kg := float64(body) / 1e9
	return joules(float64(70*factor) * float64(math.Sqrt(kg)*math.Sqrt(math.Sqrt(kg))))
}

const (
	petWater = "one millilitre for each kilocalorie of the day's food energy, water in food included (Merck Veterinary Manual, small-animal nutrition)"
	// Small-animal formulas would give a horse a third of what it drinks.
	otherWater = "50 ml for each kilogram of body (common practice for horses, from memory); ask a vet and write waterPerDay"
	warmWater  = "; more in the heat of the season, as assumed for people's drink (no figure for animals was found)"
	byFamily   = "as the family wrote"
)

// animals measures what each animal needs and what is packed for it.
func (m *measurer) animals() {
	m.f.Animals = make([]facts.Animal, 0, len(m.h.Animals))
	for i := range m.h.Animals {
		a := &m.h.Animals[i]
		f := facts.Animal{ID: a.Spot, Key: a.Key, Name: a.Name, Species: a.Species, BodyMassMG: a.BodyMass.Milligrams(), Fitness: a.Fitness, Carries: a.Carries, Chip: strings.TrimSpace(a.Chip) != ""}
		f.AgeMonths, f.AgeKnown = age(a.Born, a.Age, m.on)
		f.CarriedBy, f.CarriedWritten = m.idOf(m.borneBy[i].by), m.borneBy[i].written
		f.CrateRides = m.rides(&m.h.Animals[i])

		factor, energyBy := petFactor(a, f.AgeMonths, f.AgeKnown)
		energy := petEnergy(a.BodyMass, factor)
		if a.Energy.Set {
			energy, energyBy = a.Energy.Value, byFamily
		}
		// One millilitre is 1000 base units: kcal to ml is J × 1000 / 4184, rounded.
		water, waterBy := unit.Volume((int64(energy)*2000+kcal)/(2*kcal)), petWater
		if a.Species != "dog" && a.Species != "cat" {
			water, waterBy = unit.Volume(a.BodyMass/1000*50/1000), otherWater
		}
		if heat := m.heat(); heat > 1 {
			water, waterBy = unit.Volume(math.Round(float64(water)*heat)), waterBy+warmWater
		}
		if a.Water.Set {
			water, waterBy = a.Water.Value, byFamily
		}
		f.NeedJ, f.NeedML = int64(energy), water.Millilitres()
		m.total.animalNeed += energy
		m.total.animalWater += water
		m.total.drinks = append(m.total.drinks, facts.Input{ID: a.Spot + "/need-water", Amount: facts.AmountOf(kinds.QuantityVolume, water)})

		var food int64
		var in []facts.Input
		for j := range m.things {
			t := &m.things[j]
			if t.eater != a.Key || t.count == 0 {
				continue
			}
			e := int64(t.it.Food.Value.Energy) * t.count
			food += e
			in = append(in, facts.Input{ID: t.id + "/food/energy", Amount: facts.Amount{Kind: kinds.QuantityEnergy, Value: e}})
		}
		f.FoodJ = food
		m.f.Household.AnimalFoodJ += food
		m.f.Animals = append(m.f.Animals, f)

		body := facts.Listed([]facts.Input{{ID: a.Spot + "/bodyMass", Amount: facts.AmountOf(kinds.QuantityMass, a.BodyMass)}})
		add := func(r facts.Posting) {
			r.ID, r.Of = a.Spot+"/"+r.ID, a.Name
			m.l.Add(r)
		}
		m.l.Add(facts.Posting{ID: a.Spot, What: a.Name})
		add(facts.Posting{ID: "bodyMass", What: "body weight of", Amount: facts.AmountOf(kinds.QuantityMass, a.BodyMass)})
		add(facts.Posting{ID: "carries", What: "whether a load is carried by"})
		if a.CarriedBy != "" {
			add(facts.Posting{ID: "carriedBy", What: "who carries"})
		}
		add(facts.Posting{ID: "species", What: "species of", Amount: facts.TextOf(a.Species)})
		add(facts.Posting{ID: "fitness", What: "fitness of", Amount: facts.TextOf(a.Fitness)})
		if a.Born.Set {
			add(facts.Posting{ID: "born", What: "birth date of", Amount: facts.AmountOf(kinds.QuantityDate, a.Born.Value)})
		}
		if a.Age.Set {
			add(facts.Posting{ID: "age", What: "age of", Amount: facts.AmountOf(kinds.QuantityDuration, a.Age.Value)})
		}
		add(facts.Posting{ID: "need-energy", Spot: a.Spot, Alt: a.Spot + "/energyPerDay", What: "food energy of one day of", Amount: facts.AmountOf(kinds.QuantityEnergy, energy), Account: energyBy, Inputs: body})
		add(facts.Posting{ID: "need-water", Spot: a.Spot, Alt: a.Spot + "/waterPerDay", What: "water of one day of", Amount: facts.AmountOf(kinds.QuantityVolume, water), Account: waterBy, Inputs: body})
		add(facts.Posting{ID: "food", Spot: a.Spot, What: "food packed for", Amount: facts.AmountOf(kinds.QuantityEnergy, unit.Energy(food)), Account: "items whose food is meant for it", Inputs: facts.Listed(in)})
	}
}

// medications counts the doses of each medication. A dose in
// an item is usable while none of the item's dates has passed.
func (m *measurer) medications() {
	m.f.Medications, m.f.AnimalMedications = []facts.Medication{}, []facts.Medication{}
	for i := range m.h.People {
		p := &m.h.People[i]
		for j := range p.Medications {
			m.f.Medications = append(m.f.Medications, m.taken(&p.Medications[j], p.Key, p.Spot, p.Name))
		}
	}
	for i := range m.h.Animals {
		a := &m.h.Animals[i]
		for j := range a.Medications {
			m.f.AnimalMedications = append(m.f.AnimalMedications, m.taken(&a.Medications[j], a.Key, a.Spot, a.Name))
		}
	}
}

// taken measures what one person or animal takes.
func (m *measurer) taken(md *kit.Medication, key, spot, name string) facts.Medication {
	f := facts.Medication{
		ID: md.Spot, Name: md.Name, Person: spot, PersonKey: key, AsNeeded: md.AsNeeded, ColdChain: md.ColdChain, ColdLifeKnown: md.ColdLife.Set,
		PerDayMilli: int64(md.PerDay), PersonName: name, PersonPacks: int64(len(m.bearer(key).packs)),
		RescueKnown: md.Rescue.Set, Rescue: md.Rescue.Value, Pressurised: md.Pressurised, Original: md.Original,
		KeepFromKnown: md.KeepFrom.Set, KeepFromMC: int64(md.KeepFrom.Value), KeepToKnown: md.KeepTo.Set, KeepToMC: int64(md.KeepTo.Value),
	}
	in := m.doses(key, spot, md, &f)
	f.Items = sorted(f.Items)
	f.DaysMilli = days(f.UsableMilli, f.PerDayMilli)

	what := md.Name + " of"
	m.l.Add(facts.Posting{ID: md.Spot, What: what, Of: name})
	m.l.Add(facts.Posting{ID: md.Spot + "/perDay", What: "daily doses of " + what, Of: name, Amount: facts.Amount{Kind: kinds.QuantityCount, Value: f.PerDayMilli}})
	m.l.Add(facts.Posting{ID: md.Spot + "/doses", Spot: md.Spot, What: "doses of " + what, Of: name, Amount: facts.Amount{Kind: kinds.QuantityCount, Value: f.DosesMilli}, Inputs: facts.Listed(in)})
	m.l.Add(facts.Posting{ID: md.Spot + "/usable", Spot: md.Spot, What: "usable doses of " + what, Of: name, Amount: facts.Amount{Kind: kinds.QuantityCount, Value: f.UsableMilli}, Account: "those with no date passed on the audit date; the label and the pharmacist decide", Inputs: facts.Listed(in)})
	m.l.Add(facts.Posting{ID: md.Spot + "/days", Spot: md.Spot, What: "days of " + what, Of: name, Amount: facts.Amount{Kind: kinds.QuantityCount, Value: f.DaysMilli}, Account: "usable doses over doses a day, rounded down"})
	return f
}

// doses counts the doses of one medication that the household has: all of them, those that the one who takes it carries, those that
// are usable; and gives the entries that they are made of.
func (m *measurer) doses(key, spot string, md *kit.Medication, f *facts.Medication) (in []facts.Input) {
	for i := range m.things {
		t := &m.things[i]
		s := t.it.Medicine.Value
		if !t.it.Medicine.Set || t.count == 0 || s.Person != key || s.Medication != md.Key {
			continue
		}
		doses := int64(s.Doses) * t.count
		own, usable := t.carrier == spot, m.usable(t, md)
		f.DosesMilli += doses
		if own {
			f.OwnMilli += doses
		}
		if usable {
			f.UsableMilli += doses
		}
		if own && usable {
			f.OwnUsableMilli += doses
		}
		if usable && slices.ContainsFunc(m.bearers, func(b bearer) bool { return b.id == t.carrier && b.kind == person }) {
			f.PeopleUsableMilli += doses
		}
		f.Items = append(f.Items, t.id)
		in = append(in, facts.Input{ID: t.id + "/medicine", Amount: facts.Amount{Kind: kinds.QuantityCount, Value: doses}})
	}
	return in
}

// days is doses over doses a day, in thousandths, rounded down; 0 where nothing is taken by the day.
func days(doses, perDay int64) int64 {
	if perDay <= 0 {
		return 0
	}
	return doses/perDay*1000 + doses%perDay*1000/perDay
}

// household sums everything once more for all.
func (m *measurer) household() {
	h := &m.f.Household
	t := &m.total
	t.mass = t.load + t.body
	h.ID, h.Name = householdID, m.h.Name
	h.PeopleCount, h.AnimalCount = int64(len(m.f.People)), int64(len(m.f.Animals))
	var walkers int64
	for i := range m.f.People {
		if m.f.People[i].Adult {
			h.AdultCount++
		}
		p := &m.h.People[i]
		if months, known := age(p.Born, p.Age, m.on); !known || months >= walkerMonths {
			walkers++
		}
	}
	h.ChildCount = h.PeopleCount - h.AdultCount
	h.PackCount, h.ItemCount = int64(len(m.f.Packs)), int64(len(m.f.Items))
	h.MassKnown = !t.least
	h.MassMG, h.LoadMG, h.OnBodyMG = t.mass.Milligrams(), t.load.Milligrams(), t.body.Milligrams()
	h.BaseMG, h.UnweighedMG = t.base.Milligrams(), t.unweighed.Milligrams()
	h.PlanMin = m.f.Plan.Minutes
	h.RestEnergyJ = int64(t.rest)
	walk := minutes(m.walkMS)
	h.WalkMin = int64(walk) / 60
	var sweat unit.Mass
	if m.hot {
		sweat = unit.Mass(walkers * sweatSodium(m.walkMS))
	}
	h.SweatMG = sweat.Milligrams()
	h.AnimalNeedJ, h.AnimalNeedML = int64(t.animalNeed), t.animalWater.Millilitres()

	var packs, bases, bodies, rest, needs, animalFood []facts.Input
	for i := range m.loads {
		p := &m.f.Packs[i]
		packs = append(packs, facts.Input{ID: p.MassID, Amount: facts.AmountOf(kinds.QuantityMass, m.loads[i].mass)})
		bases = append(bases, facts.Input{ID: p.ID + "/base-mass", Amount: facts.AmountOf(kinds.QuantityMass, m.loads[i].base)})
	}
	for i := range m.bearers {
		if b := &m.bearers[i]; b.kind == person {
			bodies = append(bodies, facts.Input{ID: b.id + "/on-body", Amount: facts.AmountOf(kinds.QuantityMass, b.body)})
		}
	}
	for i := range m.f.People {
		p := &m.f.People[i]
		rest = append(rest, facts.Input{ID: p.ID + "/rest-energy", Amount: facts.AmountOf(kinds.QuantityEnergy, unit.Energy(p.RestEnergyJ))})
	}
	for i := range m.f.Animals {
		a := &m.f.Animals[i]
		needs = append(needs, facts.Input{ID: a.ID + "/need-energy", Amount: facts.AmountOf(kinds.QuantityEnergy, unit.Energy(a.NeedJ))})
		animalFood = append(animalFood, facts.Input{ID: a.ID + "/food", Amount: facts.AmountOf(kinds.QuantityEnergy, unit.Energy(a.FoodJ))})
	}
	add := func(key, spot, what string, a facts.Amount, account string, in []facts.Input) {
		m.l.Add(facts.Posting{ID: householdID + "/" + key, Spot: cmp.Or(spot, householdID), What: what, Amount: a, Account: account, Inputs: facts.Listed(in)})
	}
	m.l.Add(facts.Posting{ID: householdID, What: "the household", Amount: facts.TextOf(m.h.Name)})
	m.l.Add(facts.Posting{ID: "people", What: "the people", Amount: facts.CountOf(h.PeopleCount)})
	m.l.Add(facts.Posting{ID: "animals", What: "the animals", Amount: facts.CountOf(h.AnimalCount)})
	m.l.Add(facts.Posting{ID: "packs", What: "the packs", Amount: facts.CountOf(h.PackCount)})
	add("mass", "", "mass of everything", facts.AmountOf(kinds.QuantityMass, t.mass).AtLeast(t.least), "all packs and all that is worn or pocketed", slices.Concat(packs, bodies))
	add("load", "", "mass of all packs", facts.AmountOf(kinds.QuantityMass, t.load).AtLeast(t.least), "", packs)
	add("on-body", "", "mass of all that is worn or pocketed", facts.AmountOf(kinds.QuantityMass, t.body), "", bodies)
	add("base-mass", "", "base mass of all packs", facts.AmountOf(kinds.QuantityMass, t.base), "without water, food and fuel", bases)
	add("unweighed", "", "mass not weighed", facts.AmountOf(kinds.QuantityMass, t.unweighed), "entries with no day of weighing or marked as estimated, without the water in them", t.guesses)
	add("rest-energy", "people", "resting energy of all people, one day", facts.AmountOf(kinds.QuantityEnergy, t.rest), "each by the formula named at the person", rest)
	add("walk", "plan/legs", "walking time", facts.AmountOf(kinds.QuantityDuration, walk), walkAccount, m.legInputs())
	add("sweat-sodium", "plan", "sodium lost in sweat on the walks", facts.AmountOf(kinds.QuantityMass, sweat), sweatAccount, nil)
	add("animal-food", "animals", "food packed for animals", facts.AmountOf(kinds.QuantityEnergy, unit.Energy(h.AnimalFoodJ)), "", animalFood)
	add("animal-need-energy", "animals", "food energy of all animals, one day", facts.AmountOf(kinds.QuantityEnergy, t.animalNeed), "", needs)
	add("animal-need-water", "animals", "water of all animals, one day", facts.AmountOf(kinds.QuantityVolume, t.animalWater), "", t.drinks)
}

const householdID = "household"
