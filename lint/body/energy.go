package body

import "math"

// kilocalorie is the thermochemical one in J: NIST SP 811 (2008) App. B.8.
const kilocalorie = 4184

// eaten holds the energy of a day of light activity in kcal by sex up to an age: UNHCR/WFP, Guidelines for Estimating Food
// and Nutritional Needs, 1997, Annex I, in a copy of its own pages.
var eaten = []struct {
	below        int64 // months
	male, female float64
}{
	{2 * 12, 1250, 1190},
	{3 * 12, 1430, 1330},
	{4 * 12, 1560, 1440},
	{5 * 12, 1690, 1540},
	{10 * 12, 1980, 1730},
	{15 * 12, 2370, 2040},
	{20 * 12, 2700, 2120},
	{60 * 12, 2460, 1990},
	{math.MaxInt64, 2010, 1780},
}

// What a day takes more in a pregnancy and of a woman who nurses, in J: the same guidelines, a mean of all months.
const (
	PregnantEnergy = 285 * kilocalorie
	NursingEnergy  = 500 * kilocalorie
)

// HeadEnergy is the energy of a day of someone of whom nothing is known, in J: 2,100 kcal, a mean over a whole population
// (UNHCR/WFP 1997, par. 17: for as long as only their number is known; the Sphere Handbook the same).
const HeadEnergy = 2100 * kilocalorie

// DayEnergy is the energy of a day of light activity, in J, from completed months of age, the sex, "male" or "female",
// and the body's mass in kg, which counts for infants only. An unknown sex takes the mean of both; an unknown age is
// a head of the population; an age below nought counts as newborn.
//
// From a year on, by UNHCR/WFP 1997 (see above): by age, not by mass, since how much is eaten by
// heavier people is a matter of their habits and not of what a few days ask. Infants by Butte,
// Public Health Nutr 2005;8(7A):953 (abstract): 110 kcal a kg at one month, 81 at six and until the first
// birthday, a straight line between; the mean of both sexes, rounded.
func DayEnergy(ageMonths int64, ageKnown bool, sex string, kg float64) float64 {
	if !ageKnown {
		return HeadEnergy
	}
	if ageMonths < 12 {
		months := float64(min(6, max(1, ageMonths)))
		return kilocalorie * kg * (110 - (months-1)*(110-81)/5)
	}
	row := eaten[0]
	for _, row = range eaten {
		if ageMonths < row.below {
			break
		}
	}
	return kilocalorie * ofSex(sex, row.male, row.female)
}

// Feed is the made-up formula that an infant of a mass in kg drinks in a day, in ml: 165 ml a kg and at most 960 ml (American
// Academy of Pediatrics, 2.5 fl oz a pound and at most 32, second-hand).
func Feed(kg float64) float64 { return min(960, 165*max(0, kg)) }
