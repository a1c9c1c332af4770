package body

import "math"

// quart is one US liquid quart in litres: NIST Handbook 44 (2024) App. C, second-hand.
const quart = 0.946352946

// The most that anyone should drink in an hour and in a day, in litres: 1.5 and
// 12 quarts, with the work and rest table of Fluid (own page). More can kill by
// thinning the blood's salt (from memory).
const (
	HourCap = 1.5 * quart
	DayCap  = 12 * quart
)

// Class is how hard a body works.
type Class int

// The classes of the US Army's work and rest table.
const (
	Easy Class = iota
	Moderate
	Hard
)

// Hour is what the table asks of an hour: minutes of work and of rest, and litres to drink.
type Hour struct {
	// Category is the heat category, 1 to 5; 0 below them.
	Category   int
	Work, Rest int
	Litres     float64
}

// The heat categories: the highest WBGT of each in °F, and for each class the minutes of work and
// the quarts of an hour.
var categories = []struct {
	to   float64
	work [3]int
	qt   [3]float64
}{
	{81.9, [3]int{60, 60, 40}, [3]float64{0.5, 0.75, 0.75}},
	{84.9, [3]int{60, 50, 30}, [3]float64{0.5, 0.75, 1}},
	{87.9, [3]int{60, 40, 30}, [3]float64{0.75, 0.75, 1}},
	{89.9, [3]int{60, 30, 20}, [3]float64{0.75, 0.75, 1}},
	{math.Inf(1), [3]int{50, 20, 10}, [3]float64{1, 1, 1}},
}

// firstCategory is the WBGT in °F from which the table asks anything.
const firstCategory = 78

// Fluid is the US Army's work, rest and fluid table at a WBGT in °F (own page; it points to TB MED
// 507; its basis is Montain, Latzka & Sawka, Mil Med 1999;164:502, abstract on its own page).
// It was made for an acclimatised soldier in hot-weather uniform at four hours of work
// or more. Needs differ by a quarter of a quart an hour either way from one person to the
// next, and as much again between sun and shade. Children stand heat otherwise and have a table of
// their own, which was not seen: do not plan a child's day by this one.
//
// Where copies and edges disagree, the hotter reading is taken:
//   - The table prints 81.9 and then 82, 84.9 and then 85, and so on. What lies in such a gap
//     belongs to the hotter category: 81.95 to the second.
//   - "Over 90" in some copies is "90 or more" in others: 90.0, and 89.95, belong to the fifth.
//   - One copy prints 84 for the start of the third category and half a quart for its
//     easy work; all others print 85 and three quarters, which is used.
//
// Below 78 °F there is no table: category 0 has no limit on work and no litres
// of its own, and the hour drinks its part of RestWater.
func Fluid(wbgt float64, class Class) Hour {
	if wbgt < firstCategory {
		return Hour{Work: 60}
	}
	i := 0
	for wbgt > categories[i].to {
		i++
	}
	c := &categories[i]
	return Hour{Category: i + 1, Work: c.work[class], Rest: 60 - c.work[class], Litres: c.qt[class] * quart}
}

// The marks of the work classes, in m/s and kg: 2.5 miles an hour, 30 and 40 pounds.
const (
	strolling = 2.5 * 1609.344 / 3600
	mediumLb  = 30 * 0.45359237
	heavyLb   = 40 * 0.45359237
)

// brisk is 3.5 miles an hour in m/s, the fastest that the classes name.
const brisk = 3.5 * 1609.344 / 3600

// WorkClass is the class of the US Army's table (own page) for a walk at a speed in m/s with
// a load in kg. The page names five walks. On a hard surface: 2.5 mph below 30 lb is
// easy, 3.5 mph below 40 lb moderate, 3.5 mph from 40 lb on hard. In loose sand: 2.5 mph
// with no load is moderate, any load hard.
//
// The rest is our own line. A speed between the two belongs to the upper, one above 3.5 mph is
// hard, and at 2.5 mph or less a load from 30 lb on is moderate. Ground whose Terrain is
// 1.5 or more (heavy brush, snow, bog) counts as sand, and sand above 2.5 mph is
// hard even without load. All other ground is a hard surface.
func WorkClass(speed, load float64, ground string) Class {
	fast := speed > strolling
	switch {
	case speed > brisk:
		return Hard
	case soft(ground) && (fast || load > 0), fast && load >= heavyLb:
		return Hard
	case soft(ground), fast, load >= mediumLb:
		return Moderate
	}
	return Easy
}

// soft reports whether a ground counts as sand in the work classes.
func soft(ground string) bool { return Terrain(ground) >= 1.5 }

// drinks holds the adequate intake of fluids in litres a day by sex up to an age.
var drinks = []struct {
	below        int64 // months
	male, female float64
}{
	{7, 0.7, 0.7},  // 0 to 6 months, as milk
	{12, 0.6, 0.6}, // 7 to 12 months, from memory
	{4 * 12, 0.9, 0.9},
	{9 * 12, 1.2, 1.2},
	{14 * 12, 1.8, 1.6},
	{19 * 12, 2.6, 1.8},
	{math.MaxInt64, 3.0, 2.2},
}

// RestWater is what is drunk on an ordinary temperate day, in litres: the fluids in the adequate intake of
// total water of the US Institute of Medicine (2005, NAP 10925), from completed months of age and the sex,
// "male" or "female". Those of grown people and of girls of 14 to 18 are from its own pages, the others second-hand,
// that of 7 to 12 months from memory. An unknown sex takes the mean of both, an unknown age counts as grown,
// an age below nought as newborn.
//
// Food brings a fifth (19 %) of all water in the ordinary way; who lives on dry food alone drinks up to a quarter
// more. The European authority's figures of 2010 are lower (men 2.0, women 1.6); the higher are used.
// A copy that gives grown people the row of 14 to 18 is not followed.
func RestWater(ageMonths int64, ageKnown bool, sex string) float64 {
	row := drinks[len(drinks)-1]
	if ageKnown {
		for _, row = range drinks {
			if ageMonths < row.below {
				break
			}
		}
	}
	return ofSex(sex, row.male, row.female)
}

// ofSex is the figure of a sex, "male" or "female", and of an unknown one the mean of both.
func ofSex(sex string, male, female float64) float64 {
	switch sex {
	case "male":
		return male
	case "female":
		return female
	}
	return (male + female) / 2
}

// What is drunk more on a day in a pregnancy and by a woman who nurses, in litres: the same institute's, second-hand
// (PMC4473081, Table 1: total water 0.30 and 1.10 more).
const (
	PregnantWater = 0.1
	NursingWater  = 0.9
)

// HeatFactor is by how much what is drunk on a day at rest grows with the heat, from the mean temperature of the
// day in °C: 1 up to 20 °C, 1.5 at 30 °C, 2 at 40 °C and straight on, and never more than 3.
//
// At a mean of 30 °C soldiers who rested in the shade drank 4.5 L (Brown 1947) or 3.8 L (US Army 1959) a day, and at
// about 40 °C the need doubles or triples, by a model (Institute of Medicine, 2005, NAP 10925, pp. 129, 130, 155; a copy of its own
// pages). That it starts at 20 °C, and the lines between, are our own. No figure was found for the rest of
// children in the heat: that theirs grows alike is assumed.
func HeatFactor(mean float64) float64 { return min(3, max(1, 1+(mean-20)/20)) }

// sodium is the mass of a millimole of sodium, in mg.
const sodium = 22.99

// SweatSodium is the sodium in litres of sweat, in mg: 43.2 mmol a litre, the typical of
// Del Coso et al., J Int Soc Sports Nutr 2016;13:31, Table 2 (own page; 157 people, of
// whom the low lost 21.4 and the salty 71.0). Other bodies print 30 to 50 and 10 to 70.
// A negative amount counts as none.
func SweatSodium(litres float64) float64 { return max(0, litres) * 43.2 * sodium }

// ORSSodium is the sodium in litres of oral rehydration solution made from packets, in mg:
// 75 mmol a litre in the reduced formula of WHO and UNICEF of 2003, second-hand.
// Made after the packet's own words only: home mixes differ by two in their salt, and
// no figure is given for them. A negative amount counts as none.
func ORSSodium(litres float64) float64 { return max(0, litres) * 75 * sodium }

// salts holds the adequate intake of sodium in mg a day up to an age in months.
var salts = []struct {
	below int64
	mg    float64
}{
	{7, 110}, {12, 370}, {4 * 12, 800}, {9 * 12, 1000},
	{14 * 12, 1200}, // from memory
	{math.MaxInt64, 1500},
}

// SodiumIntake is the sodium of an ordinary day, in mg, from completed months of age: the adequate intake
// of the US National Academies (2019, NAP 25353), second-hand; that of 9 to 13 years from
// memory. An unknown age counts as grown, an age below nought as newborn.
func SodiumIntake(ageMonths int64, ageKnown bool) float64 {
	row := salts[len(salts)-1]
	if ageKnown {
		for _, row = range salts {
			if ageMonths < row.below {
				break
			}
		}
	}
	return row.mg
}
