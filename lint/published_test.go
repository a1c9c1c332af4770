package lint_test

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/body"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
	"kitmuster/schema"
)

// Limits against the figures that bodies publish, in the figures' own units. A
// limit that names a published source and has no row here fails, so that no
// source stands unchecked; one of common practice needs none.
func TestLimitsAgainstPublishedFigures(t *testing.T) {
	b := rulebook(t)
	has := func(name, want string) func() string {
		return func() string {
			l, ok := b.Limit(name)
			if !ok {
				return "is not there"
			}
			return cmp.Diff(want, l.Value)
		}
	}
	// holds demands that a list limit has these entries; the others are the standard's own.
	holds := func(name string, entries ...string) func() string {
		return func() string {
			_, list := limitOf(b, name)
			for _, e := range entries {
				if !slices.Contains(list, e) {
					return "lacks " + e
				}
			}
			return ""
		}
	}
	// between demands a number within a range of figures, in the limit's unit.
	between := func(name string, low, high float64) func() string {
		return func() string {
			if n, _ := limitOf(b, name); float64(n) < low || float64(n) > high {
				return fmt.Sprintf("%d is not from %v to %v", n, low, high)
			}
			return ""
		}
	}
	const foot, kilocalorie = 304.8, 4184
	rows := map[string]struct {
		source string
		differ func() string
	}{
		"infant.boil_months":      {"CDC, Cronobacter: powder for infants under 2 months with boiled water; seen second-hand", has("infant.boil_months", "2 months")},
		"heat.day_mc":             {"WHO Europe, advice on heat: rooms below 32 °C by day; seen second-hand", has("heat.day_mc", "32 °C")},
		"heat.night_mc":           {"WHO Europe, advice on heat: rooms below 24 °C at night; seen second-hand", has("heat.night_mc", "24 °C")},
		"food.energy":             {"Sphere Handbook, food transfers standard 1, 2011: 2,100 kcal per person and day, a population mean", has("food.energy", "2100 kcal")},
		"medication.days":         {"American Red Cross, survival kit list: 7 days; seen second-hand, 2020", has("medication.days", "7 days")},
		"medication.own_days":     {"CDC officer on television: 3 at least, 7 better; seen second-hand", between("medication.own_days", 3, 7)},
		"medication.days_left":    {"FDA: not after its expiration date; seen second-hand", has("medication.days_left", "0 days")},
		"water.boil_min":          {"CDC, Making Water Safe in an Emergency: 1 min at a rolling boil; EPA the same", has("water.boil_min", "1 min")},
		"water.boil_high_min":     {"CDC above 6,500 ft and EPA above 5,000 ft (1,000 m): 3 min; EPA 810/F-93-002, 1993: 3 min everywhere", has("water.boil_high_min", "3 min")},
		"water.boil_high_mm":      {"no higher than the lowest of EPA's 5,000 ft and its 1,000 m, and CDC's 6,500 ft", between("water.boil_high_mm", 0, min(5000*foot, 1_000_000, 6500*foot))},
		"water.wait_chlorine":     {"EPA, household bleach: at least 30 min; seen second-hand", has("water.wait_chlorine", "30 min")},
		"water.wait_iodine":       {"iodine tincture 2 %, credited to EPA: 30 min; seen second-hand", has("water.wait_iodine", "30 min")},
		"medication.sure_days":    {"CDC officer on television: 3 at least; seen second-hand", has("medication.sure_days", "3 days")},
		"medication.heat":         {"FDA, insulin in an emergency: 59 to 86 °F", has("medication.heat", "30 °C")},
		"medication.heat_insulin": {"98.6 °F for insulin in a pump; from memory", has("medication.heat_insulin", "37 °C")},
		"medication.heat_can":     {"a can under pressure bursts above 120 °F; seen second-hand", between("medication.heat_can", 48_000, 1000*(120-32)/1.8+112)},
		"medication.heat_other":   {"US Pharmacopeia, controlled room temperature: excursions to 40 °C for a day; from memory", has("medication.heat_other", "40 °C")},
		"care.days":               {"CDC: 7 to 10 days of prescriptions", between("care.days", 7, 10)},
		"care.power_share":        {"10 to 20 % of a battery's energy are lost; seen second-hand", between("care.power_share", 800, 900)},
		"care.cell_days_10":       {"3 to 7 days; seen second-hand, 2018", has("care.cell_days_10", "3 days")},
		"care.cell_days_312":      {"4 to 10 days; seen second-hand, 2018", has("care.cell_days_312", "4 days")},
		"care.cell_days_13":       {"6 to 14 days; seen second-hand, 2018", has("care.cell_days_13", "6 days")},
		"care.cell_days_675":      {"9 to 20 days; seen second-hand, 2018", has("care.cell_days_675", "9 days")},
		"mobility.closed_grounds": {"US Access Board: oxygen per metre of 1.31 on sand against 0.12 on asphalt; seen second-hand", holds("mobility.closed_grounds", "sand")},
		"mobility.alone_mm":       {"IDRiM Journal: 280.6 m were hard for 10 of 13 helpers", between("mobility.alone_mm", 0, 280_600)},
		"mobility.alone_climb":    {"US Access Board, Fig. 2: a slope of 5 % takes 53.5 of work a metre, asphalt 13.8", has("mobility.alone_climb", "5 %")},
		"first_aid.whole_kits":    {"DIN 13164:2022 and 13157, ANSI Z308.1-2014 class A, second-hand tables: wound dressings or trauma pads in each", holds("first_aid.whole_kits", "din-13164", "ansi-a")},
		"animals.lead_cat":        {"an animal-health association's kit list, in a copy of 2017: a carrier for each cat; seen second-hand", has("animals.lead_cat", "carrier")},
		"animals.medicine_days":   {"an animal-health association's kit list, in a copy of 2017: 2 weeks; seen second-hand", has("animals.medicine_days", "14 days")},
		"animals.harmful_words":   {"pages after the ASPCA and of veterinary hospitals: chocolate, raisins, onion, xylitol, macadamia; seen second-hand", holds("animals.harmful_words", "chocolat", "raisin", "onion", "xylit", "macadamia")},
		"animals.harmed_species":  {"the same pages: dogs and cats", has("animals.harmed_species", "dog, cat")},
		"water.wait_chlorine_dioxide": {"the label's 4 h; by 40 CFR 141.720(b)(1), 0.25 log a CT of 107 mg·min/L at 5 °C, 4 mg/L held for that long is more than 2 log of Cryptosporidium", func() string {
			wait, _ := limitOf(b, "water.wait_chlorine_dioxide")
			if logs := 0.25 * 4 * float64(wait) / 107; wait != 240 || logs < 2 {
				return fmt.Sprintf("%d min are %.2f log", wait, logs)
			}
			return ""
		}},
		"water.wait_cold":             {"EPA doubles the dose of bleach in very cold water; twice the 30 min gives the same product", has("water.wait_cold", "1 h")},
		"water.cold_mc":               {"a row of 40 CFR 141.720(b)(1): CT 107 at 5 °C against 29 at 20 °C", has("water.cold_mc", "5 °C")},
		"water.organisms":             {"the four columns of the CDC Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use", has("water.organisms", "bacteria, viruses, Giardia, Cryptosporidium")},
		"water.chemical":              {"40 CFR 141.720 (chlorine dioxide), EPA (chlorine): slower in the cold", holds("water.chemical", "chlorine", "chlorine-dioxide")},
		"medication.frost_night":      {"FDA: insulin is never used once frozen", has("medication.frost_night", "0 °C")},
		"water.cold_free":             {"CDC guide: boiling grades very high for all four; EPA 1987: purifiers 6, 4 and 3 log; a filter leaves viruses", func() string { return without(b, "water.cold_free", "filter", "boil", "purifier") }},
		"water.clears":                {"WHO/FWC/WSH/15.02, 2015: boiling works in turbid water", holds("water.clears", "boil")},
		"food.low_salt":               {"diets with little salt: about 2,000 mg of sodium a day; from memory", has("food.low_salt", "2 g")},
		"load.youth_short_cap":        {"American Academy of Pediatrics, 10 to 20 % (spokesperson, 2018); seen second-hand", has("load.youth_short_cap", "20 %")},
		"load.child_cap":              {"BMC Pediatrics 2019;19:157: gait changes above 10 % of body mass; AAP 10 to 20 %, AOTA 10 %, both second-hand", has("load.child_cap", "10 %")},
		"load.animal_cap":             {"a veterinary surgeon for dogs: below 10 %; seen on its own page", has("load.animal_cap", "10 %")},
		"load.short_way_cap":          {"ADP 3-90: 30 % keeps much of the agility; seen second-hand", has("load.short_way_cap", "30 %")},
		"load.carried_cap":            {"ADP 3-90: 30 % as an upper bound; seen second-hand", has("load.carried_cap", "30 %")},
		"hazard.pace":                 {"survey of the tsunami of 2011: 2.65 km/h; seen second-hand", between("hazard.pace", 2.64e6/60, 2.68e6/60)},
		"hazard.slow_pace":            {"the same, with children or old people: 1.96 km/h", between("hazard.slow_pace", 1.94e6/60, 1.97e6/60)},
		"hazard.start_min":            {"a Japanese prefecture's guide: three minutes to start, three to climb; seen second-hand", has("hazard.start_min", "6 min")},
		"hazard.ways":                 {"CAL FIRE: two different ways out", has("hazard.ways", "2")},
		"vehicle.can_mc":              {"label of pressurised cans: below 120 °F or 50 °C", between("vehicle.can_mc", (120-32)/1.8*1000, 50_000)},
		"vehicle.child_seat_months":   {"New York City: until the eighth birthday", has("vehicle.child_seat_months", "96 months")},
		"vehicle.frost_mc":            {"water freezes at 0 °C", has("vehicle.frost_mc", "0 °C")},
		"vehicle.medicine_mc":         {"the usual label, 15 to 30 °C, from memory", has("vehicle.medicine_mc", "30 °C")},
		"vehicle.payload":             {"labels of small cars: 900 lb and more; our own figure lies just below", between("vehicle.payload", 840*453_592, 900*453_592)},
		"vehicle.rack":                {"ISO 11243: carriers up to 25 kg, from memory", has("vehicle.rack", "25 kg")},
		"vehicle.rise_mc":             {"40 °F within the hour; a published test, seen in a copy", between("vehicle.rise_mc", 40/1.8*1000-500, 40/1.8*1000)},
		"vehicle.tank_share":          {"half a tank always, Sacramento county", has("vehicle.tank_share", "50 %")},
		"data.energy_density":         {"fat: 9 kcal/g of 4.184 kJ (University of Minnesota), 37 kJ/g (FAO paper 77); the larger, so that no honest label is faulted", between("data.energy_density", max(9*kilocalorie, 37_000), 9*kilocalorie)},
		"documents.copies":            {"FEMA lists of 2014 and 2022: identification and insurance; seen second-hand", holds("documents.copies", "identity", "insurance")},
		"growth.small_days":           {"a podiatrist: half a size in two to four months until three years; copy of its own page", between("growth.small_days", 60, 122)},
		"growth.days":                 {"the same: in four to six months after; copy of its own page", between("growth.days", 120, 183)},
		"people.mask_months":          {"PEHSU (US), July 2021: a small N95 may fit from 7 years; copy of its own page", has("people.mask_months", "84 months")},
		"shoes.barefoot":              {"CAL FIRE: sturdy shoes by each bed, for quakes; seen second-hand", holds("shoes.barefoot", "quake")},
		"shoes.bedside":               {"CAL FIRE: sturdy shoes and a flashlight near each bed; seen second-hand", holds("shoes.bedside", "quake")},
		"documents.dry":               {"FEMA: copies in a waterproof container; NYC adds cards; seen second-hand", holds("documents.dry", "identity", "insurance")},
		"children.nappies":            {"pages for parents: 4 to 6 a day from one to three years; seen second-hand", has("children.nappies", "6")},
		"children.nappies_infant":     {"pages for parents: 8 to 10 a day in the first months, 6 to 9 to a year; seen second-hand", has("children.nappies_infant", "10")},
		"children.nappies_half_year":  {"pages for parents: 6 to 9 a day after the first months; seen second-hand", has("children.nappies_half_year", "9")},
		"infant.nut_months":           {"NHS: no whole nuts below five years; from memory", has("infant.nut_months", "60 months")},
		"light.means":                 {"City of Himeji: one torch each if possible", has("light.means", "1")},
		"people.call_months":          {"Hug-A-Tree and Survive: children of 5 to 12 years", has("people.call_months", "60 months")},
		"navigation.compass_settings": {"NPS Ten Essentials: map and compass for the back country; seen second-hand", holds("navigation.compass_settings", "woodland")},
		"power.charge_mc":             {"lithium-ion cells are charged from 0 °C on; seen second-hand", has("power.charge_mc", "0 °C")},
		"power.heat_mc":               {"lithium-ion cells are charged up to 45 °C; seen second-hand", has("power.heat_mc", "45 °C")},
		"water.frost_mc":              {"water freezes at 0 °C", has("water.frost_mc", "0 °C")},
		"water.frost_fill":            {"ice has 0.917 of the density of water, so that what is fuller bursts", between("water.frost_fill", 0, 917)},
		"practice.audit_days":         {"FEMA and CDC: every 6 months; seen second-hand", between("practice.audit_days", 181, 184)},
		"radio.family":                {"47 CFR 95.179 (now 95.1705): a GMRS licence covers the family; amateur names one person (97.5)", func() string { return without(b, "radio.family", "amateur", "gmrs") }},
		"radio.licensed":              {"82 FR 41096, 2017: GMRS licence, FRS by rule; 47 CFR 97.5: amateur", func() string { return without(b, "radio.licensed", "frs", "gmrs", "amateur") }},
		"radio.shared_channels":       {"FCC fact sheet, 27 April 2017: 22 channels that FRS shares with GMRS", has("radio.shared_channels", "frs, gmrs")},
		"radio.news":                  {"Ready/FEMA: battery or crank radio, NOAA weather radio; NYC: AM/FM", holds("radio.news", "am", "fm", "weather")},
		"endurance.chill_mc": {"NWS 2001: 0 °F and 15 mph is -19 °F, skin freezes in 30 minutes; seen second-hand", func() string {
			printed := math.Round(body.Fahrenheit(body.WindChill((0-32)/1.8, 15*0.44704))) // -19 °F
			celsius := (printed - 32) / 1.8                                                // -28.3, said as -28
			return between("endurance.chill_mc", math.Floor(celsius*1000), math.Ceil(celsius)*1000)()
		}},
		"endurance.heat_day":                {"CDC on extreme heat: no cooling by air warmer than the skin, about 35 °C; from memory", has("endurance.heat_day", "35 °C")},
		"power.weak_chemistries":            {"makers' data sheets, from memory", holds("power.weak_chemistries", "alkaline")},
		"power.weak_mc":                     {"makers' data sheets: about half of the charge at -10 °C; from memory", has("power.weak_mc", "-10 °C")},
		"pregnancy.papers_days":             {"NHS: the first visit by the tenth week of 40; from memory", has("pregnancy.papers_days", fmt.Sprintf("%d days", (40-10)*7))},
		"water.mild_mc":                     {"a row of 40 CFR 141.720(b)(1): 15 °C; from memory", has("water.mild_mc", "15 °C")},
		"water.wait_chlorine_dioxide_usual": {"labels of tablets: 30 min for bacteria and viruses; from memory", has("water.wait_chlorine_dioxide_usual", "30 min")},
		"water.wait_chlorine_dioxide_mild": {"by 40 CFR 141.720(b)(1), 45 mg·min/L at 15 °C (from memory) do what 107 do at 5 °C, so that the label's 4 h there are 101 min here", func() string {
			cold, _ := limitOf(b, "water.wait_chlorine_dioxide")
			if mild, _ := limitOf(b, "water.wait_chlorine_dioxide_mild"); mild*107 < cold*45 {
				return fmt.Sprintf("%d min do less than %d min at 5 °C", mild, cold)
			}
			return ""
		}},
		"shelter.sleep": {"Ready/FEMA additional: sleeping bag or blanket each; seen second-hand", holds("shelter.sleep", "sleeping-bag", "blanket")},
		"tools.mending": {"NPS Ten Essentials: duct tape; seen second-hand", holds("tools.mending", "tape")},
	}
	for name, r := range rows {
		if diff := r.differ(); diff != "" {
			t.Errorf("%s (%s): %s", name, r.source, diff)
		}
	}
	for _, l := range b.Limits() {
		if _, ok := rows[l.Name]; !ok && !strings.HasPrefix(l.Source, "common practice, no source") {
			t.Errorf("%s names a source and is held to none: %s", l.Name, l.Source)
		}
	}
}

// limitOf is a limit's number or list.
func limitOf(b *judge.Rulebook, name string) (int64, []string) {
	area, key, _ := strings.Cut(name, ".")
	return b.InForce(area, key, nil)
}

// without demands that a list limit has the entries named and not the first.
func without(b *judge.Rulebook, name, not string, entries ...string) string {
	_, list := limitOf(b, name)
	if slices.Contains(list, not) {
		return "holds " + not
	}
	for _, e := range entries {
		if !slices.Contains(list, e) {
			return "lacks " + e
		}
	}
	return ""
}

// The amounts of the official lists against the bodies' own words: the US gallon
// is 3.785 411 784 L (NIST Handbook 44, 2024, App. C), cut to the millilitre.
func TestListsAgainstPublishedAmounts(t *testing.T) {
	b := rulebook(t)
	const litres = 3.785411784
	gallon := int64(math.Floor(litres * 1000))
	for _, c := range []struct {
		list, line string
		want       judge.Line // amounts only
		source     string
	}{
		{"red-cross-us", "water", judge.Line{WaterML: gallon, Days: 3}, "American Red Cross: 1 gallon, 3 days to evacuate; seen second-hand, 2020"},
		{"red-cross-us", "medicine", judge.Line{MedicineDays: 7}, "American Red Cross: 7 days; seen second-hand, 2020"},
		{"cal-fire", "water", judge.Line{WaterML: gallon, Days: 3}, "CAL FIRE: 3 gallons per person in 3 days; seen second-hand"},
		{"nz-supplies", "water", judge.Line{WaterML: 3000, Days: 3}, "Get Ready (New Zealand): 9 L per person in all"},
		{"australia-abc", "water", judge.Line{WaterML: (10_000 + 2) / 3, Days: 3}, "ABC: 10 L per person for the 3 days, rounded up to the millilitre; seen second-hand"},
		{"canada-72-hours", "water-to-drink", judge.Line{WaterML: 2000, Days: 3}, "Get Prepared (Canada), 2007: 2 L a day, 72 h"},
		{"canada-72-hours-recommended", "water-in-all", judge.Line{WaterML: 4000, Days: 3}, "Get Prepared (Canada): 2 L more to cook and clean; seen second-hand"},
		{"cdc-personal-needs", "medicine", judge.Line{MedicineDays: 7}, "CDC, 2019: 7 to 10 days"},
		{"himeji-home", "water", judge.Line{WaterML: 3000, Days: 3}, "City of Himeji: 3 L, 3 days at least"},
		{"ready-basic", "water", judge.Line{WaterML: gallon, Days: 1}, "Ready.gov/FEMA: 1 gallon a day, several days; one counted; seen second-hand, 2024"},
		{"cdc-personal-needs", "water", judge.Line{WaterML: gallon, Days: 3}, "CDC, 2019: 1 gallon, 3 days"},
		{"bbk-pack", "medicine", judge.Line{MedicineDays: 2}, "BBK emergency pack, as told by the DLRG: 2 days; seen second-hand"},
		{"bbk-pack", "food", judge.Line{FoodDays: 2}, "BBK emergency pack: 2 days; seen second-hand, 2022"},
	} {
		l, ok := b.List(c.list)
		if !ok {
			t.Errorf("no list %s", c.list)
			continue
		}
		i := slices.IndexFunc(l.Lines, func(x judge.Line) bool { return x.Key == c.line })
		if i < 0 {
			t.Errorf("list %s has no line %s", c.list, c.line)
			continue
		}
		x := l.Lines[i]
		got := judge.Line{WaterML: x.WaterML, Days: x.Days, FoodDays: x.FoodDays, MedicineDays: x.MedicineDays}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s, %s (%s): %s", c.list, c.line, c.source, d)
		}
	}
	if n := len(b.Lists()); n < 9 {
		t.Errorf("%d lists", n)
	}
}

var (
	canLine   = regexp.MustCompile(`(?m)^\t(\w+)\?:\s+=~"\^\(([a-z0-9|-]+)\)\$"`)
	wordsLine = regexp.MustCompile(`(?m)^\t(documents|receives|kind)[?!]:\s+(?:\[\.\.\.)?=~"\^\(([a-z0-9|-]+)\)\$"`)
	countLine = regexp.MustCompile(`(?m)^\t(\w+)\?:\s+int$`)
)

// definition is the text of one definition of the schema.
func definition(t *testing.T, name string) string {
	t.Helper()
	_, text, ok := strings.Cut(string(schema.Kit), "\n"+name+": {\n")
	if !ok {
		t.Fatal("the schema has no " + name)
	}
	text, _, _ = strings.Cut(text, "\n}\n")
	return text
}

// Every line of every official list can be answered: its words are made of what a family can write.
func TestListsAskForWhatCanBeWritten(t *testing.T) {
	known := map[string]bool{"can:treat-water": true}
	for _, w := range []string{
		"food", "food:no-cook", "food:chosen", "food:infant", "food:animal", "water", "vessel", "cells", "cells:usb", "cells:10", "cells:312", "cells:13", "cells:675", "cash", "cash:small-notes",
		"medicine", "medicine:animal", "care-supplies", "device-battery", "first-aid", "radio", "radio:two-way", "plan:meeting-points",
		"needs:child", "needs:infant", "needs:infant-food", "needs:nappies", "needs:period", "needs:animal", "needs:animal-medicine", "needs:glasses", "needs:prescription",
		"needs:diet", "needs:wheels", "needs:aid", "needs:hearing", "needs:deaf", "needs:care-supplies", "needs:device", "needs:car", "needs:two-packs",
	} {
		known[w] = true
	}
	for _, m := range canLine.FindAllStringSubmatch(definition(t, "#Can"), -1) {
		known["can:"+m[1]] = true
		for means := range strings.SplitSeq(m[2], "|") {
			known["can:"+m[1]+":"+means] = true
			known["packed:can:"+m[1]+":"+means], known["waterproof:can:"+m[1]+":"+means] = m[1] == "see", m[1] == "fire"
		}
	}
	for def, prefix := range map[string]string{"#Item": "document:", "#Radio": "radio:", "#Insulation": "insulation:"} {
		for _, m := range wordsLine.FindAllStringSubmatch(definition(t, def), -1) {
			for w := range strings.SplitSeq(m[2], "|") {
				known[prefix+w], known["waterproof:"+prefix+w] = true, true
			}
		}
	}
	for _, m := range countLine.FindAllStringSubmatch(definition(t, "#FirstAid"), -1) {
		known["first-aid:"+m[1]] = true
	}
	asked := 0
	for _, l := range rulebook(t).Lists() {
		for _, line := range l.Lines {
			asks := slices.Concat(line.Any, line.All, []string{line.When})
			for _, part := range line.Parts {
				asks = append(asks, part...)
			}
			for _, w := range asks {
				if asked++; w != "" && !known[w] {
					t.Errorf("%s, %s asks for %q, which no family can write", l.Key, line.Key, w)
				}
			}
		}
	}
	if asked < 100 || len(known) < 150 {
		t.Errorf("%d words asked, %d known", asked, len(known))
	}
}

// printed is what is in print for a size and chemistry: mAh from low to high, and the mass of one cell.
type printed struct{ low, high, gram float64 }

// Cells of the examples against the capacities and masses in print for their
// IEC 60086 sizes: LR6 1,700 to 2,900 mAh and 23 g, FR6 3,000 mAh and 15 g, LR03
// 900 to 1,155 mAh and 11.5 g, FR03 1,100 mAh and 7.6 g (encyclopedia and trade
// pages; seen second-hand), each with a tenth to spare.
func TestCellsAgainstPrintedFigures(t *testing.T) {
	table := map[string]printed{
		"AA alkaline": {1700, 2900, 23}, "AA lithium": {3000, 3000, 15},
		"AAA alkaline": {900, 1155, 11.5}, "AAA lithium": {1100, 1100, 7.6},
	}
	checked := 0
	for _, dir := range []string{"alder", "birch", "cedar"} {
		m := household.Measure(os.DirFS(".."), "examples/harrow-valley/"+dir, household.Options{On: day(t)})
		for _, p := range m.Kit.Packs {
			for _, c := range p.Compartments {
				for _, it := range c.Items {
					if p, ok := table[it.Cells.Value.Size+" "+it.Cells.Value.Chemistry]; ok {
						checkCells(t, it, p)
						checked++
					}
				}
			}
		}
	}
	if checked == 0 {
		t.Error("no cell was checked")
	}
}

func checkCells(t *testing.T, it kit.Item, p printed) {
	t.Helper()
	cells := it.Cells.Value
	if mah := float64(cells.Capacity.Value) / 1000; cells.Capacity.Set && (mah < 0.9*p.low || mah > 1.1*p.high) {
		t.Errorf("%s: %v mAh, printed %v to %v", it.Spot, mah, p.low, p.high)
	}
	if each := float64(it.Mass) / float64(unit.Mass(1_000_000)) / float64(cells.Cells); each < 0.9*p.gram || each > 1.1*p.gram {
		t.Errorf("%s: %v g a cell, printed %v g", it.Spot, each, p.gram)
	}
}
