package compare

import (
	"fmt"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
)

// Figures are the numbers of a household that a person asks for first when something has changed.
func Figures(f *facts.Facts) (out []Figure) {
	add := func(group, id, label string, unit kinds.Figure, value int64) {
		out = append(out, Figure{Group: group, ID: group + "/" + id, Label: label, Unit: unit, Value: value})
	}
	if len(f.Packs) > 0 {
		add("mass", "all", "all packs", kinds.FigureMass, f.Household.LoadMG)
		add("mass", "base", "all packs without water, food and fuel", kinds.FigureMass, f.Household.BaseMG)
	}
	for _, p := range f.Packs {
		label := p.Name
		if p.CarrierName != "" {
			label = fmt.Sprintf("%s, carried by %s", p.Name, p.CarrierName)
		}
		add("mass", p.ID, label, kinds.FigureMass, p.MassMG)
	}
	for _, c := range f.Carriers {
		if len(c.Packs) > 0 {
			add("mass", c.ID+"/share", fmt.Sprintf("load of %s, of body weight", c.Name), kinds.FigurePermille, c.ShareP)
		}
	}
	for _, c := range f.Household.Supply.Can {
		add("capabilities", "household/"+string(c.Capability), string(c.Capability)+", for the household", "", 1)
	}
	for _, p := range f.People {
		for _, c := range p.Alone.Can {
			add("capabilities", p.ID+"/"+string(c.Capability), fmt.Sprintf("%s, for %s alone", c.Capability, p.Name), "", 1)
		}
	}
	s := &f.Household.Supply
	add("food", "energy", "food energy", kinds.FigureEnergy, s.FoodEnergyJ)
	add("food", "no-cook", "of it, edible without cooking", kinds.FigureEnergy, s.NoCookEnergyJ)
	add("food", "sodium", "sodium in food", kinds.FigureMass, s.SodiumMG)
	add("water", "carried", "water carried", kinds.FigureVolume, s.WaterML)
	add("water", "vessels", "room in containers", kinds.FigureVolume, s.ContainerML)
	add("water", "boils", "water that the fuel can boil", kinds.FigureVolume, s.BoilableML)
	for _, l := range f.Endurance.Stocks {
		label := string(l.Kind)
		for _, of := range []string{l.Name, l.BodyName} {
			if of != "" {
				label += " of " + of
			}
		}
		add("endurance", l.ID, label+" lasts", kinds.FigureHours, l.Lasts)
	}
	for _, m := range f.Medications {
		if !m.AsNeeded && m.PerDayMilli > 0 {
			add("medication", m.ID, fmt.Sprintf("%s of %s, enough for", m.Name, m.PersonName), kinds.FigureMillidays, m.DaysMilli)
		}
	}
	for _, d := range f.Dates {
		add("dates", d.ID, fmt.Sprintf("%s, %s", d.Name, d.Kind.Row().Figure), kinds.FigureDay, d.Day)
	}
	return out
}
