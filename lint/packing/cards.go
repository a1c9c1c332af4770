package packing

import (
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// What a card warns of. Each defers to a label, local law or licensed practice; the words are those of the base
// standard's cautions, said to the person who holds the card, or to those who look after a small child.
const (
	childFound    = "Stay with the child, who is too small to be sent anywhere or to wait alone. Call the numbers here; if nobody answers, the emergency number. Give nothing that is named under allergies, and medicine only as its label and the prescriber say."
	childLoad     = "Load: take it off the child before it hurts, numbs or takes their breath; if in doubt ask a licensed practitioner whether the child can carry it."
	childAlone    = "If you are alone: stay where you are, %s and wait to be found. Make no fire and use no knife, fuel or chemicals; leave them to an adult."
	youthAlone    = "If you are alone: stay where it is safe, %s and wait to be found. Make fire, cut and treat water only as you have practised with an adult, and by the label."
	carriedChild  = "Carry with a carrier made for that mass and age, with the airway free; follow its label."
	loadCaution   = "Load: put things down before it hurts, numbs or takes your breath; if in doubt ask a licensed practitioner whether you can carry it."
	medicineWord  = "Medicine: never stretch, swap or share doses. The label, the prescriber and the pharmacist decide, also on storage."
	severeAllergy = "An allergy that can threaten life: what to take and when is for the doctor who treats it; call the emergency number."
	stoveCaution  = "Stoves and fuel: burn outdoors only, never in a tent, a house or a vehicle (carbon monoxide); follow labels and local fire rules."
	waterCaution  = "Water treatment: follow the label for dose, waiting time and who must not use it. No treatment removes fuel, metals or most chemicals, and ordinary filters do not stop viruses."
	defendCaution = "Things for defence: check local law before you carry them; they are not for a child's pack."
	radioCaution  = "Radio: who may transmit on a service, with what power and licence, differs by country; check local law."
	flareCaution  = "A flare burns and starts fires; follow its label and check local law."
	knifeCaution  = "Knives and saws: check local law; keep them out of a young child's reach."
	powerCaution  = "Batteries and power banks: keep them from heat, water and blows, and use none that is swollen; follow the label."
	animalCaution = "Never let an animal go dry to save water, never tie it where water can rise, and never leave it in a closed car. Ask a veterinarian about food, water and load."
)

// held is everything that one person or animal carries or wears.
type held []*kit.Item

func (h held) any(is func(*kit.Item) bool) bool { return slices.ContainsFunc(h, is) }

func (h held) can(name kinds.Capability, means ...string) bool {
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

// ages are those of the standard, in months, by which cards and rules speak alike.
type ages struct {
	// call: from it a card speaks to a child, who is then told to stay put and be heard; before it, to those who find or look
	// after the child. hand: from it someone makes fire and handles blades and chemicals.
	call, hand int64
}

func younger(f *facts.Person, months int64) bool { return f.AgeKnown && f.AgeMonths < months }

// card is a card that is being written.
type card struct{ *Card }

// add adds a section; one without lines is left out.
func (c card) add(title string, lines []CardLine) {
	if len(lines) > 0 {
		c.Sections = append(c.Sections, CardSection{Title: title, Lines: lines})
	}
}

// ask adds a section that belongs on the card: without lines it says what is missing.
func (c card) ask(title, missing string, lines []string) {
	s := CardSection{Title: title, Lines: plain(lines), Missing: len(lines) == 0}
	if s.Missing {
		s.Lines = plain([]string{missing})
	}
	c.Sections = append(c.Sections, s)
}

func plain(lines []string) (out []CardLine) {
	for _, s := range lines {
		out = append(out, CardLine{Text: s})
	}
	return out
}

const (
	noneWritten   = "none recorded"
	nobodyWritten = "nobody recorded"
)

func (l *lister) person(p *kit.Person) {
	c, f := card{&Card{Name: p.Name}}, l.facts(p)
	if f.AgeKnown {
		c.About = age(f.AgeMonths)
		switch {
		case younger(f, l.ages.hand):
			c.About += ", a child"
		case !f.Adult:
			c.About += ", under 18"
		}
	}
	if younger(f, l.ages.call) {
		// First what a stranger has to know who finds the child.
		c.ask("Belongs to", nobodyWritten, l.grownUps())
		l.beside(c, p)
		l.health(c, p)
		l.carrier(c, p)
		c.ask("Call", noneWritten, l.contacts())
		c.ask("We meet at", noneWritten, l.meetings())
		c.add("Carries", plain(l.carries(p.Key)))
	} else {
		c.add("Carries", plain(l.carries(p.Key)))
		c.add("Carries a person", plain(l.names(func(q *facts.Person) bool { return q.CarriedBy == p.Spot })))
		c.add("Carries an animal", plain(l.borne(p.Key, "%s: %s")))
		if f.Adult {
			c.add("Nobody is recorded as carrying", plain(l.names(func(q *facts.Person) bool { return q.CarriedBy == "" && !measure.Walks(q) })))
		}
		l.carrier(c, p)
		l.beside(c, p)
		c.ask("We meet at", noneWritten, l.meetings())
		c.ask("Call", noneWritten, l.contacts())
		l.health(c, p)
	}
	c.add("Mind", plain(l.mind(p)))
	l.out.Cards = append(l.out.Cards, *c.Card)
}

func (l *lister) facts(p *kit.Person) *facts.Person {
	i := slices.IndexFunc(l.m.Facts.People, func(f facts.Person) bool { return f.ID == p.Spot })
	return &l.m.Facts.People[i]
}

// borne are the animals that a person carries, each with its mass in this form.
func (l *lister) borne(key, form string) (out []string) {
	by := ""
	for i := range l.m.Facts.People {
		if p := &l.m.Facts.People[i]; p.Key == key {
			by = p.ID
		}
	}
	for _, a := range written(l, l.m.Kit.Animals, func(a *kit.Animal) string { return a.Spot }) {
		if slices.ContainsFunc(l.m.Facts.Animals, func(f facts.Animal) bool { return f.ID == a.Spot && f.CarriedBy != "" && f.CarriedBy == by }) {
			out = append(out, fmt.Sprintf(form, a.Name, l.in().Mass(a.BodyMass.Milligrams())))
		}
	}
	return out
}

// grownUps names the adults of the household.
func (l *lister) grownUps() []string {
	return l.names(func(q *facts.Person) bool { return q.Adult })
}

// names are those of the people for whom is holds, as written.
func (l *lister) names(is func(*facts.Person) bool) (out []string) {
	for _, q := range written(l, l.m.Kit.People, func(q *kit.Person) string { return q.Spot }) {
		if is(l.facts(q)) {
			out = append(out, q.Name)
		}
	}
	return out
}

// carrier says who carries a person who does not walk.
func (l *lister) carrier(c card, p *kit.Person) {
	if measure.Walks(l.facts(p)) {
		return
	}
	var by []string
	if p.CarriedBy != "" {
		by = []string{l.bodies[p.CarriedBy]}
	}
	c.ask("Is carried by", nobodyWritten, by)
}

// beside names who is always with a person.
func (l *lister) beside(c card, p *kit.Person) {
	var who []string
	for _, key := range p.With {
		who = append(who, l.bodies[key])
	}
	c.add("Always with", plain(who))
}

// heard is how a person who is alone makes themselves heard, with what they have.
func (h held) heard() string {
	if h.can(kinds.CanSignal, "whistle") {
		return "blow the whistle"
	}
	return "call, wave"
}

// ailments are conditions as a helper reads them.
var ailments = map[string]string{
	"insulin": "needs insulin", "thyroid": "thyroid disease", "seizures": "seizures", "heart": "heart disease", "lungs": "lung disease",
	"kidney": "kidney disease", "memory": "forgets, and may get lost", "low-salt": "must eat little salt",
}

// aids are ways to move as a helper reads them.
var aids = map[string]string{
	"cane": "walks with a cane", "frame": "walks with a frame", "crutches": "walks on crutches", "prosthesis": "walks on a prosthesis",
	"wheelchair": "uses a wheelchair", "power-chair": "uses a power chair", "carried": "must be carried",
}

// body is what is the matter with a person, and how they get about.
func (l *lister) body(p *kit.Person) (out []string) {
	for _, c := range p.Conditions {
		out = append(out, ailments[c])
	}
	if p.Pregnant.Set {
		text := "pregnant"
		if due := p.Pregnant.Value.Due; due.Set {
			text += ", due " + due.Value.String()
		}
		out = append(out, text)
	}
	for _, key := range p.Nursing {
		out = append(out, "nurses "+l.bodies[key])
	}
	for i := range l.m.Kit.People {
		if q := &l.m.Kit.People[i]; slices.Contains(q.Nursing, p.Key) {
			out = append(out, "is nursed by "+q.Name)
		}
	}
	if p.Fed == "formula" {
		out = append(out, "is fed formula")
	}
	if words, ok := aids[p.Moves]; ok {
		out = append(out, words)
	}
	if p.HelpedBy != "" {
		out = append(out, "is helped by "+l.bodies[p.HelpedBy])
	}
	for _, s := range []struct{ verb, how string }{{"hear", p.Hears}, {"see", p.Sees}} {
		switch s.how {
		case "no":
			out = append(out, "does not "+s.verb)
		case "badly":
			out = append(out, s.verb+"s badly")
		}
	}
	for i := range p.Devices {
		d := &p.Devices[i]
		out = append(out, fmt.Sprintf("%s needs power, %s for %s a day", d.Name, d.Power, d.HoursPerDay))
	}
	return out
}

// sugar says where quick sugar is for someone who needs insulin.
func (l *lister) sugar(p *kit.Person) (out []string) {
	if !slices.Contains(p.Conditions, "insulin") {
		return nil
	}
	l.everything(func(it *kit.Item, _, where string) {
		if it.Count > 0 && (it.Owner == "" || it.Owner == p.Key) && (held{it}).can(kinds.CanCare, "glucose") {
			out = append(out, it.Name+": "+where)
		}
	})
	return out
}

// health is what a helper must know.
func (l *lister) health(c card, p *kit.Person) {
	var allergies, needs []string
	for i := range p.Allergies {
		allergies = append(allergies, allergy(p, &p.Allergies[i]))
	}
	var takes []CardLine
	for i := range p.Medications {
		takes = append(takes, l.dosing(p, &p.Medications[i])...)
	}
	for _, n := range p.Needs {
		needs = append(needs, n.Text)
	}
	if p.Glasses {
		needs = append(needs, "glasses or lenses")
	}
	for _, way := range p.MustNot {
		allergies = append(allergies, "water treated with "+way)
	}
	c.add("Health and help", plain(l.body(p)))
	c.add("Quick sugar, when shaky or confused", plain(l.sugar(p)))
	c.add("Must avoid (allergies)", plain(allergies))
	c.add("Takes", takes)
	c.add("Needs", plain(needs))
	c.add("Eats", plain(p.Diets))
}

func (l *lister) mind(p *kit.Person) []string {
	f, h := l.facts(p), l.held(p.Key)
	tiny, child := younger(f, l.ages.call), younger(f, l.ages.hand)
	loaded := slices.ContainsFunc(l.m.Kit.Packs, func(k kit.Pack) bool { return k.Carrier == p.Key })
	carries := slices.ContainsFunc(l.m.Kit.People, func(q kit.Person) bool { return q.CarriedBy == p.Key })
	severe := slices.ContainsFunc(p.Allergies, func(a kit.Allergy) bool { return a.Severe })
	medicine := len(p.Medications) > 0 || h.any(func(it *kit.Item) bool { return it.Medicine.Set })
	return l.cautions(h, caution{tiny, childFound}, caution{!tiny && child, fmt.Sprintf(childAlone, h.heard())}, caution{!tiny && !child && !f.Adult, fmt.Sprintf(youthAlone, h.heard())}, caution{carries || tiny && !measure.Walks(f), carriedChild},
		caution{tiny && loaded, childLoad}, caution{!tiny && loaded, loadCaution}, caution{severe, severeAllergy}, caution{medicine, medicineWord})
}

func (l *lister) animal(a *kit.Animal) {
	c := card{&Card{Name: a.Name, About: a.Species}}
	c.add("Carries", plain(l.carries(a.Key)))
	for _, f := range l.m.Facts.Animals {
		if f.ID != a.Spot {
			continue
		}
		if f.AgeKnown {
			c.About += ", " + age(f.AgeMonths)
		}
		c.add("Is carried by", plain(l.names(func(q *facts.Person) bool { return q.ID == f.CarriedBy })))
		c.add("Needs each day", plain([]string{
			words.Energy(f.NeedJ) + " of food, " + whose(a.Energy.Set), l.in().Volume(f.NeedML) + " of water, " + whose(a.Water.Set),
		}))
	}
	c.ask("We meet at", noneWritten, l.meetings())
	c.ask("Call", noneWritten, l.contacts())
	c.add("Mind", plain(l.cautions(l.held(a.Key), caution{true, animalCaution})))
	l.out.Cards = append(l.out.Cards, *c.Card)
}

// whose tells a figure of the family's from one that a formula gives for an animal of that mass.
func whose(family bool) string {
	if family {
		return "as the family wrote"
	}
	return "estimated, as none is recorded"
}

// age is said in months up to two years.
func age(months int64) string {
	if months < 24 {
		return words.Count(months, "month")
	}
	return words.Count(months/12, "year")
}

func (l *lister) carries(key string) (out []string) {
	for _, p := range written(l, l.m.Kit.Packs, func(p *kit.Pack) string { return p.Spot }) {
		if p.Carrier == key {
			f := l.fact(p)
			out = append(out, p.Name+": "+l.in().Load(!f.MassKnown, f.MassMG))
		}
	}
	return out
}

func (l *lister) meetings() (out []string) {
	for _, m := range written(l, l.m.Kit.Plan.MeetingPoints, func(m *kit.MeetingPoint) string { return m.Spot }) {
		text := m.Where
		if m.Altitude.Set {
			text += ", altitude " + l.in().Units.Length(m.Altitude.Value)
		}
		out = append(out, text)
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
		} else {
			text += ": no number recorded"
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
			text += "; medication: " + md.Name
		}
	}
	if a.Note != "" {
		text += "; " + a.Note
	}
	return text
}

// dosing says which medicine a person takes and how often, and under it each supply: doses, where it is, and how long it is good.
func (l *lister) dosing(p *kit.Person, md *kit.Medication) []CardLine {
	head := CardLine{Text: md.Name + ", as needed"}
	if !md.AsNeeded {
		head.Text = fmt.Sprintf("%s, %s a day", md.Name, md.PerDay)
	}
	var under []CardLine
	good := false
	l.everything(func(it *kit.Item, _, at string) {
		if _, of := l.medication(it); of == md && it.Count > 0 {
			line := l.supply(it, md, at)
			under, good = append(under, line), good || l.days[it.Spot].good()
		}
	})
	switch {
	case len(under) == 0:
		head.Text += "; none is packed"
	case !good:
		head.Past = "PAST: none of it is good on " + l.m.Facts.Audit.On
	}
	if l.stillCold(md) {
		under = append(under, CardLine{Text: "what is still at home, kept in the cold: take it along when you leave", Under: true})
	}
	return append([]CardLine{head}, under...)
}

func (l *lister) supply(it *kit.Item, md *kit.Medication, at string) CardLine {
	days := l.days[it.Spot]
	text := []string{words.Thousandths(int64(it.Medicine.Value.Doses*unit.Count(it.Count)), "dose") + ": " + at}
	switch {
	case md.ColdChain && !it.OutOfCold.Set:
		text = append(text, "kept in the cold until you leave")
	case it.LastMinute:
		text = append(text, staysHome)
	}
	text = append(text, l.goodUntil(days)...)
	if days.last == nil {
		text = append(text, "no expiry date recorded")
	}
	return CardLine{Text: strings.Join(text, "; "), Past: days.past(), Under: true}
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
		caution{h.any(stove) || h.can(kinds.CanCook), stoveCaution}, caution{h.any(treat), waterCaution}, caution{h.can(kinds.CanCut, "knife", "multi-tool", "saw"), knifeCaution},
		caution{h.can(kinds.CanDefend), defendCaution}, caution{h.any(speaks), radioCaution}, caution{h.can(kinds.CanSignal, "flare"), flareCaution}, caution{h.any(cells), powerCaution},
	) {
		if c.fits {
			out = append(out, c.text)
		}
	}
	return out
}
