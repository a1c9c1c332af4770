package words

import (
	"fmt"
	"strings"

	"kitmuster/lint/unit"
)

// Mass says milligrams.
func Mass(mg int64) string { return unit.Mass(mg * 1000).String() }

// BodyMass says the mass of a body; one to plan with in whole kilograms, as it is no weighing.
func BodyMass(known bool, mg int64) string {
	if !known {
		return fmt.Sprintf("%d kg assumed", (mg+500_000)/1_000_000)
	}
	return Mass(mg)
}

// Volume says millilitres.
func Volume(ml int64) string { return unit.Volume(ml * 1000).String() }

// Energy says joules.
func Energy(j int64) string { return unit.Energy(j).String() }

// Minutes says minutes.
func Minutes(n int64) string { return unit.Duration(n * 60).String() }

// AtLeast says an amount of which a part is not known; of one that is nothing, that it is not recorded.
func AtLeast(least bool, amount string) string {
	if least && strings.HasPrefix(amount, "0 ") {
		return "not recorded"
	}
	if least {
		return "at least " + amount
	}
	return amount
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
