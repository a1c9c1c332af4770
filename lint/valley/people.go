package valley

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// person is a member of a household, as far as packing asks.
type person struct {
	key, name  string
	months     int // of age on On
	kg         int
	female     bool
	carries    bool
	glasses    bool
	daily      string // the key of a medication taken each day
	whenNeeded string
	severe     bool // allergic, with pens against it
	// text is what the file says about the person, without braces.
	text []string
	body []thing
}

func (p *person) adult() bool { return p.months >= 18*12 }

type animal struct {
	key, name, species string
	kg, kcal, ml       int // energy and water a day
	carries            bool
	text               string
}

type household struct {
	r       *rand.Rand
	taken   map[string]bool
	name    string
	place   *place
	people  []*person
	animals []*animal
	packs   []*pack
	season  string
	weighed string // the day of the household's own scale
	waivers []string
	// extra are small things that fill the packs up to the number wanted.
	extra int
}

func newHousehold(r *rand.Rand, name string, at *place, items int) *household {
	h := &household{
		r: r, taken: map[string]bool{}, name: name, place: at, weighed: fmt.Sprintf("2026-%02d-%02d", between(r, 7, 10), between(r, 1, 28)),
		season: pick(r, "", "", "", "flood", "hot", "winter"), // mostly what the village plans for
	}
	h.gather()
	h.pack(items)
	h.slip()
	return h
}

// gather says who lives here: 1 to 6 people, most often two.
func (h *household) gather() {
	r := h.r
	// Shares of kinds of households: our own figures, for variety only.
	switch n := r.IntN(100); {
	case n < 30:
		h.grown(between(r, 24, 76), r.IntN(2) == 0)
	case n < 66:
		h.couple(between(r, 24, 74))
	case n < 74:
		h.grown(between(r, 28, 46), r.IntN(3) > 0)
		h.children(1)
	case n < 92:
		h.couple(between(r, 27, 46))
		h.children(pick(r, 1, 1, 2))
	case n < 96:
		h.couple(between(r, 32, 46))
		h.children(between(r, 3, 4))
	default:
		h.couple(between(r, 34, 50))
		h.grown(between(r, 60, 74), r.IntN(2) == 0)
		h.children(r.IntN(2))
	}
	switch n := r.IntN(100); {
	case n < 20:
		h.dog()
	case n < 30:
		h.cat()
	}
}

func (h *household) couple(age int) {
	h.grown(age, true)
	h.grown(max(20, age+between(h.r, -4, 5)), false)
}

func (h *household) add(p *person) {
	r := h.r
	p.name = title(h.given())
	p.key = strings.ToLower(p.name)
	born := (2026*12 + 10) - p.months // the month; the day keeps clear of On
	year, month := (born-1)/12, (born-1)%12+1
	sex := "male"
	if p.female {
		sex = "female"
	}
	p.text = append([]string{
		fmt.Sprintf("name: %q, born: \"%d-%02d-%02d\", sex: %q, bodyMass: \"%d kg\"", p.name, year, month, between(r, 1, 28), sex, p.kg),
	}, p.text...)
	h.people = append(h.people, p)
}

func (h *household) grown(age int, female bool) {
	r := h.r
	p := &person{months: age*12 + r.IntN(12), female: female, carries: true, kg: between(r, 78, 104), glasses: chance(r, 350+age*4)}
	height := between(r, 170, 194)
	if female {
		p.kg, height = between(r, 68, 92), between(r, 158, 180)
	}
	fitness := "good"
	if age > 58 {
		fitness = "fair"
	}
	p.text = append(p.text, fmt.Sprintf("height: \"%d cm\", fitness: %q", height, fitness))
	if p.glasses {
		p.text = append(p.text, "glasses: true")
	}
	var takes []string
	if chance(r, 120+age*5) {
		p.daily = pick(r, "blood_pressure", "thyroid", "cholesterol", "stomach")
		takes = append(takes, fmt.Sprintf("%s: {name: %q, perDay: %d}", p.daily, strings.ReplaceAll(p.daily, "_", " ")+" tablet", between(r, 1, 2)))
	}
	switch {
	case chance(r, 30):
		p.severe, p.whenNeeded = true, "allergy_pen"
		takes = append(takes, `allergy_pen: {name: "allergy pen", asNeeded: true}`)
		p.text = append(p.text, `allergies: stings: {to: "insect", severe: true, medication: "allergy_pen"}`)
	case chance(r, 70):
		p.whenNeeded = "inhaler"
		takes = append(takes, `inhaler: {name: "relief inhaler", asNeeded: true}`)
	}
	if len(takes) > 0 {
		p.text = append(p.text, "medications: {"+strings.Join(takes, ", ")+"}")
	}
	h.add(p)
}

func (h *household) children(n int) {
	r := h.r
	for range n {
		age := between(r, 3, 16)
		if len(h.people) == 2 && chance(r, 120) {
			age = between(r, 1, 2)
		}
		p := &person{months: age*12 + between(r, 1, 11), female: r.IntN(2) == 0}
		// About the middle of common growth charts, from memory.
		p.kg = []int{10, 12, 15, 17, 19, 22, 24, 27, 30, 34, 38, 43, 48, 53, 57, 60}[age-1] + r.IntN(2+age/3)
		p.carries = age >= 9
		text := fmt.Sprintf("height: \"%d cm\", fitness: \"good\"", 75+age*6+min(age, 13)+r.IntN(8))
		switch {
		case p.months < 36:
			text += fmt.Sprintf(", carries: false, carriedBy: %q", h.people[len(h.people)-1].key)
			if h.people[0].kg > h.people[min(1, len(h.people)-1)].kg {
				text = strings.Replace(text, h.people[len(h.people)-1].key, h.people[0].key, 1)
			}
		case !p.carries:
			text += ", carries: false"
		}
		p.text = append(p.text, text)
		if chance(r, 60) {
			p.text = append(p.text, `allergies: penicillin: {to: "medicine", note: "rash"}`)
		}
		h.add(p)
	}
}

func (h *household) dog() {
	r := h.r
	name := title(h.given())
	a := &animal{key: strings.ToLower(name), name: name, species: "dog", kg: between(r, 5, 27)}
	a.kcal, a.ml = 180+a.kg*38, (200+a.kg*42)/50*50
	a.carries = a.kg >= 18 && len(h.people) > 1
	a.text = fmt.Sprintf("name: %q, species: \"dog\", bodyMass: \"%d kg\", age: \"%d y\", fitness: \"good\", energyPerDay: \"%d kcal\", waterPerDay: \"%d mL\"",
		name, a.kg, between(r, 2, 10), a.kcal, a.ml)
	if a.carries {
		a.text += ", carries: true"
	}
	h.animals = append(h.animals, a)
}

func (h *household) cat() {
	r := h.r
	name := title(h.given())
	a := &animal{key: strings.ToLower(name), name: name, species: "cat", kg: between(r, 3, 6)}
	a.kcal, a.ml = 70+a.kg*40, 50+a.kg*40
	a.text = fmt.Sprintf("name: %q, species: \"cat\", bodyMass: \"%d kg\", age: \"%d y\", neutered: true, energyPerDay: \"%d kcal\", waterPerDay: \"%d mL\"",
		name, a.kg, between(r, 1, 14), a.kcal, a.ml)
	h.waivers = append(h.waivers, fmt.Sprintf("%s_photo: {rule: \"animals/papers-photo\", spot: \"animals/%s\", reason: \"Hides from the camera; the vet reads the chip in November.\", until: \"2026-11-%02d\", agreed: %q}",
		a.key, a.key, between(r, 10, 28), h.people[0].name))
	h.animals = append(h.animals, a)
}
