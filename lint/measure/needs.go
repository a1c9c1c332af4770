package measure

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"kitmuster/lint/body"
	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

const (
	// ownFoodMonths: below, a child is fed by other figures and eats what is meant for it alone. Our own line.
	ownFoodMonths = 12
	fedMixed      = "mixed"
	fedFormula    = "formula"
	fedSolids     = "solids"
	formulaReady  = "ready"
)

const (
	waterAccount = "fluids of the adequate intake of total water by age and sex (IOM 2005, NAP 10925; PMC4473081), 0.1 L more in a pregnancy and 0.9 L for each infant nursed; " +
		"times 1 up to a mean of the day of 20 °C, 1.5 at 30 °C, 2 at 40 °C and between by a straight line (IOM 2005, pp. 129 and 155; for children assumed)"
	energyAccount = "a day of light activity by age and sex (UNHCR/WFP 1997, Annex I), of an infant by its mass (Butte 2005), 285 kcal more in a pregnancy and 500 kcal for each infant nursed; " +
		"never less than the resting energy; 2100 kcal where no age is recorded"
	feedAccount   = "165 ml for each kg of its body and at most 960 ml (American Academy of Pediatrics, second-hand); half of it where it is nursed as well (common practice, no source)"
	sodiumAccount = "adequate intake by age (NASEM 2019, NAP 25353); none for an infant, and none for people told to eat little salt"
)

// heat is by how much the season planned for raises what is drunk at rest; 1 where no season is planned for.
func (m *measurer) heat() float64 {
	if !m.f.Plan.SeasonKnown {
		return 1
	}
	return body.HeatFactor(float64(m.f.Plan.DayMC+m.f.Plan.NightMC) / 2000)
}

// needs works out once for everyone what a day in camp needs; the forecast and the rules take it from there.
func (m *measurer) needs() {
	nursed := m.nursing()
	h, heat := &m.f.Household, m.heat()
	m.f.Plan.Thirsty = heat > 1
	var water, energy []facts.Input
	for i := range m.f.People {
		p := &m.f.People[i]
		ml, joules := 1000*body.RestWater(p.AgeMonths, p.AgeKnown, p.Sex), body.DayEnergy(p.AgeMonths, p.AgeKnown, p.Sex, float64(p.BodyMassMG)/1e6)
		joules = max(joules, float64(p.RestEnergyJ))
		p.SodiumMG = int64(body.SodiumIntake(p.AgeMonths, p.AgeKnown))
		if infant(p) || lowSalt(&m.h.People[i]) {
			p.SodiumMG = 0
		}
		switch {
		case infant(p) && p.Breastfed:
			ml, joules = 0, 0
		case infant(p) && p.Fed == fedMixed, infant(p) && p.Fed == fedSolids && nursed[p.ID]:
			ml, joules = ml/2, joules/2 // half comes from the breast: common practice, no source
		}
		if infant(p) && (p.Fed == fedMixed || p.Fed == fedFormula) {
			feed := body.Feed(float64(p.BodyMassMG) / 1e6)
			if p.Fed == fedMixed {
				feed /= 2
			}
			p.FeedML = int64(math.Round(feed))
			ml = max(0, ml-m.readyFeed(p.Key))
			m.l.Add(facts.Posting{ID: p.ID + "/feed", Spot: p.ID, What: "formula of one day of", Of: p.Name, Amount: facts.AmountOf(kinds.QuantityVolume, unit.Volume(p.FeedML*1000)), Account: feedAccount})
		}
		ml *= heat
		if p.Pregnant {
			ml, joules = ml+1000*body.PregnantWater, joules+body.PregnantEnergy
		}
		if n := float64(len(p.Nursing)); n > 0 {
			ml, joules = ml+n*1000*body.NursingWater, joules+n*body.NursingEnergy
		}
		p.WaterML, p.EnergyJ = int64(math.Round(ml)), int64(math.Round(joules))
		h.NeedML += p.WaterML
		h.NeedJ += p.EnergyJ
		add := func(leaf, what string, a facts.Amount, account string) {
			m.l.Add(facts.Posting{ID: p.ID + leaf, Spot: p.ID, What: what, Of: p.Name, Amount: a, Account: account})
		}
		ofWater, ofEnergy := facts.AmountOf(kinds.QuantityVolume, unit.Volume(p.WaterML*1000)), facts.AmountOf(kinds.QuantityEnergy, unit.Energy(p.EnergyJ))
		add("/need-water", "water of one day of", ofWater, waterAccount)
		add("/need-energy", "food energy of one day of", ofEnergy, energyAccount)
		add("/need-sodium", "sodium of one day of", facts.AmountOf(kinds.QuantityMass, unit.Mass(p.SodiumMG*1000)), sodiumAccount)
		water, energy = append(water, facts.Input{ID: p.ID + "/need-water", Amount: ofWater}), append(energy, facts.Input{ID: p.ID + "/need-energy", Amount: ofEnergy})
	}
	for i := range m.f.Animals {
		a := &m.f.Animals[i]
		if a.Drinks = !m.grazes(a.Species); a.Drinks {
			h.NeedML += a.NeedML
			water = append(water, facts.Input{ID: a.ID + "/need-water", Amount: facts.AmountOf(kinds.QuantityVolume, unit.Volume(a.NeedML*1000))})
		}
	}
	m.l.Add(facts.Posting{ID: householdID + "/need-water", Spot: "people", What: "water of everyone, one day", Amount: facts.AmountOf(kinds.QuantityVolume, unit.Volume(h.NeedML*1000)), Account: "people, and the animals that find none on the way", Inputs: facts.Listed(water)})
	m.l.Add(facts.Posting{ID: householdID + "/need-energy", Spot: "people", What: "food energy of all people, one day", Amount: facts.AmountOf(kinds.QuantityEnergy, unit.Energy(h.NeedJ)), Account: "a day in camp", Inputs: facts.Listed(energy)})
}

// readyFeed is what an infant drinks of formula that is ready to drink, in ml a day of the plan: it needs no water besides.
func (m *measurer) readyFeed(key string) float64 {
	minutes := cmp.Or(m.f.Plan.Minutes, defaultPlan)
	var net unit.Mass
	for i := range m.things {
		t := &m.things[i]
		if fd := &t.it.Food.Value; t.it.Food.Set && fd.For == key && fd.Formula == formulaReady {
			each := t.dry
			if fd.NetMass.Set {
				each = min(each, fd.NetMass.Value*unit.Mass(t.count))
			}
			net += each
		}
	}
	return float64(net.Milligrams()) / 1000 * 24 * 60 / float64(minutes)
}

// infant reports whether a person is known to be below a year.
func infant(p *facts.Person) bool { return p.AgeKnown && p.AgeMonths < ownFoodMonths }

// nursing says who nurses whom. An infant whom nobody is written to nurse is the one grown woman's. Where there is not
// exactly one, an infant fed at the breast alone stands for its mother: someone must drink and eat for it. It gives the infants
// who are written to be nursed.
func (m *measurer) nursing() (nursed map[string]bool) {
	var women []int
	nursed = map[string]bool{}
	for i := range m.f.People {
		p := &m.f.People[i]
		if p.Adult && p.Sex == "female" {
			women = append(women, i)
		}
		for _, key := range m.h.People[i].Nursing {
			if id := m.idOf(key); id != "" {
				p.Nursing, nursed[id] = append(p.Nursing, id), true
			}
		}
	}
	for i := range m.f.People {
		p := &m.f.People[i]
		if !infant(p) || !p.Breastfed && p.Fed != fedMixed || nursed[p.ID] {
			continue
		}
		switch {
		case len(women) == 1:
			mother := &m.f.People[women[0]]
			mother.Nursing = append(mother.Nursing, p.ID)
		case p.Breastfed:
			p.Nursing = append(p.Nursing, p.ID)
		}
	}
	for i := range m.f.People {
		m.f.People[i].Nursing = sorted(m.f.People[i].Nursing)
	}
	return nursed
}

// By these conditions, and by these words in a need, someone is taken to have been told to eat little salt.
var (
	saltConditions = []string{"heart", "kidney", "low-salt"}
	saltWords      = []string{"heart", "kidney", "salt", "sodium", "blood pressure", "dialysis"}
)

// lowSalt reports whether a person is written to eat little salt: how much, a practitioner says and no sum.
func lowSalt(p *kit.Person) bool {
	if slices.ContainsFunc(p.Conditions, func(c string) bool { return slices.Contains(saltConditions, c) }) {
		return true
	}
	for _, n := range p.Needs {
		text := strings.ToLower(n.Key + " " + n.Text)
		if slices.ContainsFunc(saltWords, func(w string) bool { return strings.Contains(text, w) }) {
			return true
		}
	}
	return false
}
