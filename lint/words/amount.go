package words

import (
	"fmt"

	"kitmuster/lint/unit"
)

// Amount says n of a unit of facts, lacks and figures: "mg", "ml", "j" or "J" (joules), "min" (minutes), "hours", "days", "millidays" and
// "milli" (thousandths), "permille", "day" (a date, as days since 1970), and "count". Of another unit it is the bare number.
func Amount(of string, n int64) string {
	switch of {
	case "mg":
		return Mass(n)
	case "ml":
		return Volume(n)
	case "j", "J":
		return Energy(n)
	case "min":
		return Minutes(n)
	case "hours":
		return fmt.Sprintf("%d h", n)
	case "days":
		return Count(n, "day")
	case "millidays":
		return Thousandths(n, "day")
	case "milli":
		return unit.Count(n).String()
	case "permille":
		return Percent(n, 1000)
	case "day":
		return unit.Date(n).String()
	}
	return fmt.Sprint(n)
}

// Mass says milligrams.
func Mass(mg int64) string { return unit.Mass(mg * 1000).String() }

// Volume says millilitres.
func Volume(ml int64) string { return unit.Volume(ml * 1000).String() }

// Energy says joules.
func Energy(j int64) string { return unit.Energy(j).String() }

// Minutes says minutes.
func Minutes(n int64) string { return unit.Duration(n * 60).String() }

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
