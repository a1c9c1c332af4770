package lint_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/household"
	"kitmuster/lint/packing"
)

// lines are those of a card's section, what is under another by two spaces, what is past in stars.
func lines(c packing.Card, title string) (out []string) {
	for _, s := range c.Sections {
		if s.Title != title {
			continue
		}
		for _, l := range s.Lines {
			text := l.Text
			if l.Under {
				text = "  " + text
			}
			if l.Past != "" {
				text += " *" + l.Past + "*"
			}
			out = append(out, text)
		}
		if s.Missing {
			out = append(out, "____")
		}
	}
	return out
}

func titles(c packing.Card) (out []string) {
	for _, s := range c.Sections {
		out = append(out, s.Title)
	}
	return out
}

func cardOf(t *testing.T, l *packing.PackingList, name string) packing.Card {
	t.Helper()
	i := slices.IndexFunc(l.Cards, func(c packing.Card) bool { return c.Name == name })
	if i < 0 {
		t.Fatalf("no card of %s", name)
	}
	return l.Cards[i]
}

// Each supply of a medicine says doses, place and the first of its last days; what is past is said plainly.
func TestCardsSayHowLongAMedicineIsGood(t *testing.T) {
	const pen = `mass: "9 g", medicine: {person: "ana", of: "pen", doses: 20}`
	const home = "  what is still at home, kept in the cold: take it along when you leave"
	for _, c := range []struct {
		name, items string
		want        []string
	}{
		{"none", "", []string{"Pen, 4 a day; none is packed", home}},
		{"none is left", `x: {count: 0, ` + pen + `}`, []string{"Pen, 4 a day; none is packed", home}},
		{"in the cold", `x: {expires: "2027-05-31", ` + pen + `}`, []string{"Pen, 4 a day", "  20 doses: pack rust, lid; kept in the cold until you leave; expires 2027-05-31"}},
		{"out of the cold, label later", `x: {outOfCold: "2026-10-08", expires: "2027-05-31", ` + pen + `}`,
			[]string{"Pen, 4 a day", "  20 doses: pack rust, lid; out of the cold, good until 2026-11-05, in 4 days", home}},
		{"out of the cold, label first", `x: {outOfCold: "2026-10-08", expires: "2026-11-03", ` + pen + `}`,
			[]string{"Pen, 4 a day", "  20 doses: pack rust, lid; expires 2026-11-03, in 2 days, before the plan is over", home}},
		{"opened first", `x: {outOfCold: "2026-10-08", opened: "2026-10-20", openedLife: "13 d", ` + pen + `}`,
			[]string{"Pen, 4 a day", "  20 doses: pack rust, lid; opened, good until 2026-11-02, in 1 day, before the plan is over", home}},
		{"no date", `x: {` + pen + `}`, []string{"Pen, 4 a day", "  20 doses: pack rust, lid; kept in the cold until you leave; no expiry date recorded"}},
		{"one past, one good", `x: {outOfCold: "2026-10-03", expires: "2027-05-31", ` + pen + `}, y: {count: 2, expires: "2027-05-31", ` + pen + `}`,
			[]string{"Pen, 4 a day", "  20 doses: pack rust, lid *PAST its last day out of the cold, 2026-10-31: replace it*", "  40 doses: pack rust, lid; kept in the cold until you leave; expires 2027-05-31"}},
		{"all past", `x: {outOfCold: "2026-10-03", ` + pen + `}`,
			[]string{"Pen, 4 a day *PAST: none of it is good on 2026-11-01*", "  20 doses: pack rust, lid *PAST its last day out of the cold, 2026-10-31: replace it*", home}},
		{"due for exchange, and good", `x: {outOfCold: "2026-10-08", rotate: "2026-10-30", ` + pen + `}`,
			[]string{"Pen, 4 a day", "  20 doses: pack rust, lid; out of the cold, good until 2026-11-05, in 4 days *PAST its day of replacement, 2026-10-30: replace it*", home}},
	} {
		l := listed(t, map[string]string{"kit.cue": packer + `people: ana: medications: pen: {name: "Pen", perDay: 4, coldChain: true, coldLife: "28 d"}
plan: duration: "72 h"
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: {` + c.items + "}}}\n"})
		if diff := cmp.Diff(c.want, lines(l.Cards[0], "Takes")); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// A medicine that stays at home and needs no cold says so.
func TestCardsSayWhatStaysAtHome(t *testing.T) {
	l := listed(t, map[string]string{"kit.cue": packer + `people: ana: medications: pills: {name: "Pills", perDay: 1}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: x: {mass: "9 g", lastMinute: true, expires: "2027-05-31", medicine: {person: "ana", of: "pills", doses: 1}}}}
`})
	if diff := cmp.Diff([]string{"Pills, 1 a day", "  1 dose: pack rust, lid; stays at home until you leave; expires 2027-05-31"}, lines(l.Cards[0], "Takes")); diff != "" {
		t.Error(diff)
	}
}

// How near a day is: to the last day of the plan, to thirty days, and no further.
func TestNearDays(t *testing.T) {
	for _, c := range []struct{ plan, on, want string }{
		{"72 h", "2026-11-01", "expires 2026-11-01, today, before the plan is over"},
		{"72 h", "2026-11-03", "expires 2026-11-03, in 2 days, before the plan is over"},
		{"72 h", "2026-11-04", "expires 2026-11-04, in 3 days"},
		{"73 h", "2026-11-04", "expires 2026-11-04, in 3 days, before the plan is over"},
		{"72 h", "2026-12-01", "expires 2026-12-01, in 30 days"},
		{"72 h", "2026-12-02", "expires 2026-12-02"},
		{"30 d", "2026-11-30", "expires 2026-11-30, in 29 days, before the plan is over"},
	} {
		l := listed(t, map[string]string{"kit.cue": packer + `plan: duration: "` + c.plan + `"
people: ana: onBody: jam: {mass: "9 g", weighed: "2026-10-01", expires: "` + c.on + `"}
`})
		if diff := cmp.Diff([]string{c.want}, l.Worn[0].Items[0].Notes); diff != "" {
			t.Errorf("%s: %s", c.plan, diff)
		}
	}
}

// The example's pen is named as past on the card by the day on which checking finds no usable dose.
func TestCardsAgreeWithCheck(t *testing.T) {
	tree := os.DirFS("../examples/harrow-valley")
	for _, on := range []string{"2026-11-05", "2026-11-06", "2026-12-01"} {
		o := household.Options{On: dayOf(t, on)}
		l := packing.List(t.Context(), tree, rulebook(t), "cedar", o).Extra.(*packing.PackingList)
		said := strings.Join(lines(cardOf(t, l, "Odile"), "Takes"), "\n")
		usable := int64(-1)
		for _, m := range household.Measure(tree, "cedar", o).Facts.Medications {
			if m.Name == "insulin pen" {
				usable = m.UsableMilli
			}
		}
		if past := strings.Contains(said, "PAST: none of it is good on "+on); past != (usable == 0) || usable < 0 {
			t.Errorf("%s: %d thousandths of a dose are usable, and the card says %s", on, usable, said)
		}
	}
}

// What is missing keeps its heading, and room to be filled in.
func TestCardsSayWhatIsMissing(t *testing.T) {
	l := listed(t, map[string]string{"kit.cue": packer + `animals: puss: {species: "cat", bodyMass: "4 kg", age: "3 y"}
people: mia: {age: "5 months", bodyMass: "7 kg"}
`})
	for _, c := range l.Cards {
		for _, title := range []string{"We meet at", "Call"} {
			if diff := cmp.Diff([]string{"none recorded", "____"}, lines(c, title)); diff != "" {
				t.Errorf("%s, %s: %s", c.Name, title, diff)
			}
		}
	}
}

// A person who does not walk is carried by someone, or by nobody who is written: their own card and each grown-up's say so.
func TestCardsSayWhoCarriesWhom(t *testing.T) {
	for _, c := range []struct {
		name, mia, abe     string
		is, carries, nobod []string
	}{
		{"nobody", `age: "5 months"`, "", []string{"nobody recorded", "____"}, nil, []string{"Mia"}},
		{"somebody", `age: "5 months", carriedBy: "ana"`, "", []string{"Ana"}, []string{"Mia"}, nil},
		{"two years", `age: "35 months"`, "", []string{"nobody recorded", "____"}, nil, []string{"Mia"}},
		{"walks", `age: "37 months"`, "", nil, nil, nil},
		{"carried, and of an age to walk", `age: "4 y", carriedBy: "ana"`, "", []string{"Ana"}, []string{"Mia"}, nil},
		{"carried, and spoken to", `age: "9 y", carriedBy: "ana"`, "", []string{"Ana"}, []string{"Mia"}, nil},
	} {
		l := listed(t, map[string]string{"kit.cue": packer + `people: mia: {name: "Mia", bodyMass: "9 kg", carries: false, ` + c.mia + `}
people: kim: {name: "Kim", age: "12 y", bodyMass: "40 kg"}
`})
		ana, mia := cardOf(t, l, "Ana"), cardOf(t, l, "Mia")
		for title, want := range map[string][]string{"Carries a person": c.carries, "Nobody is recorded as carrying": c.nobod} {
			if diff := cmp.Diff(want, lines(ana, title)); diff != "" {
				t.Errorf("%s: Ana: %s: %s", c.name, title, diff)
			}
			if got := lines(cardOf(t, l, "Kim"), title); got != nil {
				t.Errorf("%s: Kim, a child: %s: %s", c.name, title, got)
			}
		}
		if diff := cmp.Diff(c.is, lines(mia, "Is carried by")); diff != "" {
			t.Errorf("%s: Mia: %s", c.name, diff)
		}
	}
}

// A stranger reads the card: what is the matter, how someone moves and who helps, and where the quick sugar is.
func TestCardsSayWhatAHelperMustKnow(t *testing.T) {
	l := listed(t, map[string]string{"kit.cue": packer + `people: {
	tuva: {name: "Tuva", age: "11 y", bodyMass: "36 kg", conditions: ["insulin", "seizures"], mustNot: ["iodine"], onBody: sweets: {name: "sweets", mass: "30 g", owner: "tuva", can: care: "glucose"}}
	rike: {name: "Rike", age: "40 y", bodyMass: "60 kg", moves: "wheelchair", helpedBy: "tuva", hears: "badly", sees: "no", devices: vent: {name: "ventilator", power: "40 W", hoursPerDay: "8 h"}}
	sanna: {name: "Sanna", age: "30 y", bodyMass: "60 kg", pregnant: due: "2027-04-10", nursing: ["pim"], conditions: ["heart", "lungs", "kidney", "thyroid", "memory", "low-salt"], moves: "alone", onBody: gel: {name: "gel", mass: "30 g", can: care: "glucose"}}
	pim: {name: "Pim", age: "5 months", bodyMass: "7 kg", carriedBy: "sanna", fed: "breast"}
	lio: {name: "Lio", age: "6 months", bodyMass: "7 kg", carriedBy: "rike", fed: "formula"}
	eero: {name: "Eero", age: "16 y", bodyMass: "60 kg", pregnant: {}, hears: "no", sees: "badly", onBody: own: {name: "Eero's", mass: "30 g", owner: "eero", can: care: "glucose"}}
}
`})
	for name, want := range map[string][]string{
		"Tuva":  {"needs insulin", "seizures"},
		"Rike":  {"uses a wheelchair", "is helped by Tuva", "hears badly", "does not see", "ventilator needs power, 40 W for 8 h a day"},
		"Sanna": {"heart disease", "lung disease", "kidney disease", "thyroid disease", "forgets, and may get lost", "must eat little salt", "pregnant, due 2027-04-10", "nurses Pim"},
		"Pim":   {"is nursed by Sanna"},
		"Lio":   {"is fed formula"},
		"Eero":  {"pregnant", "does not hear", "sees badly"},
	} {
		if diff := cmp.Diff(want, lines(cardOf(t, l, name), "Health and help")); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	tuva := cardOf(t, l, "Tuva")
	if diff := cmp.Diff([]string{"gel: worn by Sanna", "sweets: worn by Tuva"}, lines(tuva, "Quick sugar, when shaky or confused")); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"water treated with iodine"}, lines(tuva, "Must avoid (allergies)")); diff != "" {
		t.Error(diff)
	}
	if got := lines(cardOf(t, l, "Sanna"), "Quick sugar, when shaky or confused"); got != nil {
		t.Errorf("Sanna, who needs none: %s", got)
	}
	if a, b := tuva.About, cardOf(t, l, "Eero").About; a != "11 years, a child" || b != "16 years, under 18" {
		t.Errorf("%q and %q", a, b)
	}
}

// A card speaks to a child from the age of five; before it, to whoever finds the child, with what they have to know first.
func TestCardsOfChildren(t *testing.T) {
	card := func(age string) packing.Card {
		return cardOf(t, listed(t, map[string]string{"kit.cue": packer + `people: bo: {name: "Bo", bodyMass: "17 kg", age: "` + age + `", allergies: nuts: {}, medications: syrup: asNeeded: true, needs: naps: "naps"}
packs: blue: {name: "Blue", carrier: "bo", mass: "0.2 kg"}
`}), "Bo")
	}
	found, spoken := card("59 months"), card("61 months")
	if diff := cmp.Diff([]string{"Belongs to", "Must avoid (allergies)", "Takes", "Needs", "Call", "We meet at", "Carries", "Mind"}, titles(found)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"Ana"}, lines(found, "Belongs to")); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"Carries", "We meet at", "Call", "Must avoid (allergies)", "Takes", "Needs", "Mind"}, titles(spoken)); diff != "" {
		t.Error(diff)
	}
	for _, c := range []struct {
		card    packing.Card
		say     []string
		nothing string
	}{
		{found, []string{"Stay with the child", "Load: take it off the child"}, "you are"},
		{spoken, []string{"If you are alone", "Load: put things down"}, "the child"},
	} {
		said := lines(c.card, "Mind")
		for i, head := range c.say {
			if !strings.HasPrefix(said[i], head) || strings.Contains(said[i], c.nothing) {
				t.Errorf("%s: %q, want %s", c.card.About, said[i], head)
			}
		}
	}
	// Below the age of hands of the standard a child makes no fire and leaves blades to others.
	for age, want := range map[string]string{"143 months": "Make no fire and use no knife", "145 months": "Make fire, cut and treat water only as you have practised"} {
		if said := lines(card(age), "Mind"); !strings.Contains(said[0], want) {
			t.Errorf("%s: %q, want %s", age, said[0], want)
		}
	}
	// Who is told to whistle has one, and who is always beside a child is named.
	for worn, want := range map[string]string{"": "stay where you are, call, wave and wait", `, onBody: w: {mass: "10 g", can: signal: "whistle"}`: "stay where you are, blow the whistle and wait"} {
		c := cardOf(t, listed(t, map[string]string{"kit.cue": packer + "people: bo: {name: \"Bo\", bodyMass: \"24 kg\", age: \"7 y\", with: [\"ana\"]" + worn + "}\n"}), "Bo")
		if said := lines(c, "Mind"); !strings.Contains(said[0], want) {
			t.Errorf("%q, want %s", said[0], want)
		}
		if diff := cmp.Diff([]string{"Ana"}, lines(c, "Always with")); diff != "" {
			t.Error(diff)
		}
	}
	alone := listed(t, map[string]string{"kit.cue": "household: \"Fam\"\npeople: bo: {bodyMass: \"17 kg\", age: \"4 y\"}\n"}).Cards[0]
	if diff := cmp.Diff([]string{"nobody recorded", "____"}, lines(alone, "Belongs to")); diff != "" {
		t.Error(diff)
	}
}

// Meeting points stand as the family wrote them, files by name and then lines, with the altitude where there is one.
func TestMeetingPointsAsWritten(t *testing.T) {
	l := listed(t, map[string]string{
		"b.cue": packer + "plan: meetingPoints: {\n\tzoo: where: \"the zoo\"\n\tark: {where: \"the ark\", altitude: \"1250 ft\"}\n}\n",
		"a.cue": "plan: meetingPoints: pier: {where: \"the pier\", altitude: \"0 m\"}\n",
	})
	// 1250 ft × 0.3048 m (exact: NIST SP 811, 2008, App. B.8) = 381 m.
	if diff := cmp.Diff([]string{"the pier, altitude 0 m", "the zoo", "the ark, altitude 381 m"}, lines(l.Cards[0], "We meet at")); diff != "" {
		t.Error(diff)
	}
}

// An animal's day is the family's figure or an estimate, and says which. 70 kcal × 4^0.75 × 1.4 = 277 kcal, and a
// millilitre for each: Merck Veterinary Manual, small-animal nutrition; 1.4 for an intact grown cat from memory.
func TestCardsSayWhoseFigureItIs(t *testing.T) {
	for own, want := range map[string][]string{
		"":                         {"277 kcal of food, estimated, as none is recorded", "277 ml of water, estimated, as none is recorded"},
		`energyPerDay: "300 kcal"`: {"300 kcal of food, as the family wrote", "300 ml of water, estimated, as none is recorded"},
		`waterPerDay: "200 ml"`:    {"277 kcal of food, estimated, as none is recorded", "200 ml of water, as the family wrote"},
	} {
		l := listed(t, map[string]string{"kit.cue": packer + `animals: puss: {name: "Puss", species: "cat", bodyMass: "4 kg", age: "3 y"}
animals: puss: {` + own + "}\n"})
		if diff := cmp.Diff(want, lines(cardOf(t, l, "Puss"), "Needs each day")); diff != "" {
			t.Errorf("%s: %s", own, diff)
		}
	}
}
