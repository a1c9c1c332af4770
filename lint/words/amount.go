package words

import (
	"fmt"
	"strings"

	"kitmuster/lint/unit"
)

// Amounts says amounts in a system of units; "" is metric.
type Amounts struct{ Units unit.System }

// Mass says milligrams.
func (a Amounts) Mass(mg int64) string { return a.Units.Mass(unit.Mass(mg * 1000)) }

// Brief says milligrams in those units alone, where there is no room for both.
func (a Amounts) Brief(mg int64) string {
	if a.Units == unit.US {
		return unit.Mass(mg * 1000).Pounds()
	}
	return a.Mass(mg)
}

// BodyMass says the mass of a body; one to plan with in whole kilograms and pounds, as it is no weighing.
func (a Amounts) BodyMass(known bool, mg int64) string {
	if known {
		return a.Mass(mg)
	}
	kg := fmt.Sprintf("%d kg", (mg+500_000)/1_000_000)
	if a.Units == unit.US {
		return fmt.Sprintf("%d lb (%s) assumed", (mg*100+22_679_618)/45_359_237, kg)
	}
	return kg + " assumed"
}

// Load says a mass in milligrams that somebody carries.
func (a Amounts) Load(least bool, mg int64) string { return AtLeast(least, a.Mass(mg)) }

// Volume says millilitres.
func (a Amounts) Volume(ml int64) string { return a.Units.Volume(unit.Volume(ml * 1000)) }

// Mass says milligrams in metric units.
func Mass(mg int64) string { return Amounts{}.Mass(mg) }

// BodyMass is that of Amounts in metric units.
func BodyMass(known bool, mg int64) string { return Amounts{}.BodyMass(known, mg) }

// Volume says millilitres in metric units.
func Volume(ml int64) string { return Amounts{}.Volume(ml) }

// Energy says joules.
func Energy(j int64) string { return unit.Energy(j).String() }

// Minutes says minutes.
func Minutes(n int64) string { return unit.Duration(n * 60).String() }

const notRecorded = "not recorded"

// AtLeast says an amount of which a part is not known; of one that is nothing, that it is not recorded.
func AtLeast(least bool, amount string) string {
	if least && strings.HasPrefix(amount, "0 ") {
		return notRecorded
	}
	if least {
		return "at least " + amount
	}
	return amount
}

// Where says an amount of mass and where it is, such as "in 2 packs" or "worn or pocketed"; of one that is not recorded, that.
func Where(least bool, amount, where string) string {
	if AtLeast(least, amount) == notRecorded {
		return "no mass is recorded of what is " + where
	}
	return AtLeast(least, amount) + " " + where
}

// Thousandths says thousandths of a thing with its noun, as in "1 dose" and "1.5 doses".
func Thousandths(n int64, noun string) string {
	if n == 1000 {
		return "1 " + noun
	}
	return unit.Count(n).String() + " " + noun + "s"
}

// Percent says n of d, neither of them negative, with one decimal, rounded half up; "-" where d is zero.
func Percent(n, d int64) string {
	if d == 0 {
		return "-"
	}
	t := (n*2000 + d) / (2 * d)
	return fmt.Sprintf("%d.%d %%", t/10, t%10)
}
