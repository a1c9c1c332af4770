package lint

import (
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// What a card warns of. Each defers to a label, local law or licensed practice; the words are those of the base
// standard's cautions, said to the person who holds the card.
const (
	childAlone    = "If you are alone: stay where you are, blow the whistle and wait to be found. Make no fire and treat no water; leave fuel and chemicals to an adult."
	carriedChild  = "Carry with a carrier made for that mass and age, with the airway free; follow its label."
	loadCaution   = "Load: put things down before it hurts, numbs or takes the breath; in doubt ask a licensed practitioner whether you can carry it."
	medicineWord  = "Medicine: never stretch, swap or share doses. The label, the prescriber and the pharmacist decide, also on storage."
	severeAllergy = "An allergy that can threaten life: what to take and when is for whoever treats it; call the emergency number."
	stoveCaution  = "Stoves and fuel: burn outdoors only, never in a tent, a house or a vehicle (carbon monoxide); follow labels and local fire rules."
	waterCaution  = "Water treatment: follow the label for dose, waiting time and who must not use it. No treatment removes fuel, metals or most chemicals, and ordinary filters do not stop viruses."
	defendCaution = "Things for defence: check local law before you carry them; they are not for a child's pack."
	radioCaution  = "Radio: who may speak on a service, with what power and licence, differs by country; check local law."
	flareCaution  = "A flare burns and starts fires; follow its label and check local law."
	knifeCaution  = "Knives and saws: check local law; keep them out of a young child's reach."
	powerCaution  = "Cells and power banks: keep them from heat, water and blows, and use none that is swollen; follow the label."
	animalCaution = "Never let an animal go dry to save water, never tie it where water can rise, and never leave it in a closed car. Ask a veterinarian about food, water and load."
)

// held is everything that somebody has about them.
type held []*kit.Item

func (h held) any(is func(*kit.Item) bool) bool { return slices.ContainsFunc(h, is) }

func (h held) can(name string, means ...string) bool {
	return h.any(func(it *kit.Item) bool {
		return slices.ContainsFunc(it.Can, func(c kit.Capability) bool {
			return c.Name == name && (len(means) == 0 || slices.Contains(means, c.Means))
		})
	})
}

func (l *lister) held(key string) (out held) {
	l.everything(func(it *kit.Item, carrier, _ string) {
		if carrier == key && it.Count > 0 {
			out = append(out, it)
		}
	})
	return out
}

func (l *lister) person(p *kit.Person) {
	c := finding.Card{Name: p.Name}
	child := false
	for _, f := range l.m.Facts.People {
		if f.ID == p.Spot && f.AgeKnown {
			child = !f.Adult
			c.About = age(f.AgeMonths)
			if child {
				c.About += ", a child"
			}
		}
	}
	section := sectionsOf(&c)
	section("Carries", l.carries(p.Key))
	var carried []string
	for _, q := range l.m.Kit.People {
		if q.CarriedBy == p.Key {
			carried = append(carried, q.Name)
		}
	}
	section("Carries a person", carried)
	if p.CarriedBy != "" {
		section("Is carried by", []string{l.bodies[p.CarriedBy]})
	}
	section("We meet at", l.meetings())
	section("Call", l.contacts())
	var allergies []string
	severe := false
	for i := range p.Allergies {
		a := &p.Allergies[i]
		severe = severe || a.Severe
		allergies = append(allergies, allergy(p, a))
	}
	section("Must not meet (allergies)", allergies)
	var medications []string
	for i := range p.Medications {
		medications = append(medications, l.takes(p, &p.Medications[i]))
	}
	section("Takes", medications)
	var needs []string
	for _, n := range p.Needs {
		needs = append(needs, n.Text)
	}
	if p.Glasses {
		needs = append(needs, "glasses or lenses")
	}
	section("Needs", needs)
	section("Eats", p.Diets)
	h := l.held(p.Key)
	loaded := slices.ContainsFunc(l.m.Kit.Packs, func(k kit.Pack) bool { return k.Carrier == p.Key })
	medicine := len(p.Medications) > 0 || h.any(func(it *kit.Item) bool { return it.Medicine.Set })
	section("Mind", l.cautions(h, caution{child, childAlone}, caution{len(carried) > 0, carriedChild}, caution{loaded, loadCaution}, caution{severe, severeAllergy}, caution{medicine, medicineWord}))
	l.out.Cards = append(l.out.Cards, c)
}

func (l *lister) animal(a *kit.Animal) {
	c := finding.Card{Name: a.Name, About: a.Species}
	section := sectionsOf(&c)
	section("Carries", l.carries(a.Key))
	for _, f := range l.m.Facts.Animals {
		if f.ID != a.Spot {
			continue
		}
		if f.AgeKnown {
			c.About += ", " + age(f.AgeMonths)
		}
		section("Needs each day", []string{unit.Energy(f.NeedJ).String() + " of food", unit.Volume(f.NeedML*1000).String() + " of water"})
	}
	section("We meet at", l.meetings())
	section("Call", l.contacts())
	section("Mind", l.cautions(l.held(a.Key), caution{true, animalCaution}))
	l.out.Cards = append(l.out.Cards, c)
}

// sectionsOf adds sections to a card; one without lines is left out.
func sectionsOf(c *finding.Card) func(title string, lines []string) {
	return func(title string, lines []string) {
		if len(lines) > 0 {
			c.Sections = append(c.Sections, finding.CardSection{Title: title, Lines: lines})
		}
	}
}

// age is said in months up to two years.
func age(months int64) string {
	switch {
	case months == 1:
		return "1 month"
	case months < 24:
		return fmt.Sprintf("%d months", months)
	}
	return fmt.Sprintf("%d years", months/12)
}

func (l *lister) carries(key string) (out []string) {
	for _, p := range written(l, l.m.Kit.Packs, func(p *kit.Pack) string { return p.Spot }) {
		if p.Carrier == key {
			mass := unit.Mass(l.fact(p).MassMG * 1000)
			out = append(out, fmt.Sprintf("%s: %s (%s)", p.Name, mass, mass.Pounds()))
		}
	}
	return out
}

func (l *lister) meetings() (out []string) {
	for _, m := range written(l, l.m.Kit.Plan.MeetingPoints, func(m *kit.MeetingPoint) string { return m.Spot }) {
		out = append(out, m.Where)
	}
	return out
}

func (l *lister) contacts() (out []string) {
	for _, c := range written(l, l.m.Kit.Plan.Contacts, func(c *kit.Contact) string { return c.Spot }) {
		text := c.Name
		if c.OutOfArea {
			text += ", far away"
		}
		if c.Phone != "" {
			text += ": " + c.Phone
		}
		out = append(out, text)
	}
	return out
}

func allergy(p *kit.Person, a *kit.Allergy) string {
	text := a.Key
	if a.To != "" {
		text += " (" + a.To + ")"
	}
	if a.Severe {
		text += ", can threaten life"
	}
	for _, md := range p.Medications {
		if md.Key == a.Medication {
			text += "; against it: " + md.Name
		}
	}
	if a.Note != "" {
		text += "; " + a.Note
	}
	return text
}

// takes says what somebody takes, how often, and where it is.
func (l *lister) takes(p *kit.Person, md *kit.Medication) string {
	text := md.Name + ", as needed"
	if !md.AsNeeded {
		text = fmt.Sprintf("%s, %s a day", md.Name, md.PerDay)
	}
	if md.ColdChain {
		text += ", kept in the cold"
	}
	var where []string
	l.everything(func(it *kit.Item, _, at string) {
		if _, of := l.medication(it); of == md && it.Count > 0 && !slices.Contains(where, at) {
			where = append(where, at)
		}
	})
	if len(where) == 0 {
		return text + "; none is packed"
	}
	return text + "; " + strings.Join(where, "; ")
}

// caution is a line for those whom it fits.
type caution struct {
	fits bool
	text string
}

// cautions are the lines that fit a person, before those that fit what is held.
func (l *lister) cautions(h held, who ...caution) (out []string) {
	stove := func(it *kit.Item) bool { return it.Stove.Set || it.Fuel.Set }
	treat := func(it *kit.Item) bool { return it.Treat.Set }
	speaks := func(it *kit.Item) bool { return it.Radio.Value.Service != "" }
	cells := func(it *kit.Item) bool { return it.Cells.Set && it.Cells.Value.Chemistry != "alkaline" }
	for _, c := range append(who,
		caution{h.any(stove) || h.can("cook"), stoveCaution}, caution{h.any(treat), waterCaution}, caution{h.can("cut", "knife", "multi-tool", "saw"), knifeCaution},
		caution{h.can("defend"), defendCaution}, caution{h.any(speaks), radioCaution}, caution{h.can("signal", "flare"), flareCaution}, caution{h.any(cells), powerCaution},
	) {
		if c.fits {
			out = append(out, c.text)
		}
	}
	return out
}
