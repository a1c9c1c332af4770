package kinds

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Unit is the unit of a limit, and of what a finding misses.
type Unit string

// The units.
const (
	UnitPermille Unit = "permille"
	UnitMass     Unit = "mg"
	UnitVolume   Unit = "ml"
	UnitLength   Unit = "mm"
	UnitStored   Unit = "mwh"
	UnitDegree   Unit = "mc"
	UnitMilli    Unit = "milli"
	UnitEnergy   Unit = "j"
	UnitMinutes  Unit = "min"
	UnitDays     Unit = "days"
	UnitMonths   Unit = "months"
	UnitYears    Unit = "years"
	UnitCount    Unit = "count"
	// UnitList is that of a limit that is a list, and has no row.
	UnitList Unit = "list"
)

// UnitRow is what there is to know of a unit.
type UnitRow struct {
	Kind Unit
	// Text writes a limit for people, Parse reads one as people write it, and Example is one, in quotes.
	Text    func(int64) string
	Parse   func(string) (int64, error)
	Example string
	// Lack names the unit where a finding may miss by so much of it, and LackText writes by how much; None and nil where it may not.
	Lack     string
	LackText func(int64) string
}

// Units are all units of a single value.
var Units = []UnitRow{
	{UnitMass, steps(step{1_000_000, "kg"}, step{1000, "g"}, step{1, "mg"}), in(unit.ParseMass, 1, 1000), `"12 kg"`, "milligrams", words.Mass},
	{UnitVolume, steps(step{1000, "L"}, step{1, "ml"}), in(unit.ParseVolume, 1, 1000), `"2 L"`, "millilitres", words.Volume},
	// 1 kcal = 4184 J, the thermochemical calorie: NIST SP 811 (2008) App. B.8.
	{UnitEnergy, func(n int64) string { return scaled(n, 4184, 0) + " kcal" }, in(unit.ParseEnergy, 1, 1), `"2000 kcal"`, "joules", words.Energy},
	{UnitMinutes, hoursAndMinutes, in(unit.ParseDuration, 1, 60), `"9 h"`, "minutes", words.Minutes},
	{UnitDays, plural("day"), in(unit.ParseDuration, 1, 24*60*60), `"5 days"`, "days", plural("day")},
	{UnitCount, whole, in(unit.ParseCount, 1, 1000), `"2"`, "whole things", whole},
	{UnitMilli, func(n int64) string { return scaled(n, 1000, 3) }, in(unit.ParseCount, 1, 1), `"1.5"`, "thousandths of one", thousandths},
	{UnitPermille, func(n int64) string { return scaled(n, 10, 1) + " %" }, in(unit.ParseShare, 1, 1000), `"12 %"`, None, nil},
	{UnitLength, steps(step{1_000_000, "km"}, step{1000, "m"}, step{1, "mm"}), in(unit.ParseLength, 1, 1000), `"30 m"`, None, nil},
	{UnitStored, steps(step{1000, "Wh"}, step{1, "mWh"}), in(unit.ParseEnergy, 10, 36), `"10 Wh"`, None, nil},
	{UnitDegree, func(n int64) string { return scaled(n, 1000, 3) + " °C" }, in(unit.ParseTemperature, 1, 1), `"5 °C"`, None, nil},
	{UnitMonths, plural("month"), calendar("month"), `"6 months"`, None, nil},
	{UnitYears, plural("year"), calendar("year"), `"6 years"`, None, nil},
}

// Row is the row of a unit; its Kind is "" where there is no such unit.
func (u Unit) Row() UnitRow { return row(Units, func(r *UnitRow) Unit { return r.Kind }, u) }

// Lacks lists the units in which a finding may state by how much it misses.
func Lacks() (out []Unit) {
	for i := range Units {
		if Units[i].LackText != nil {
			out = append(out, Units[i].Kind)
		}
	}
	return out
}

// in reads a quantity into a unit of so many of its base units, times for each by.
func in[T ~int64](parse func(string) (T, error), times, by int64) func(string) (int64, error) {
	return func(text string) (int64, error) {
		v, err := parse(text)
		n := int64(v) * times
		if err == nil && n%by != 0 {
			return 0, fmt.Errorf("%s is finer than the limit can be", text)
		}
		return n / by, err
	}
}

// calendar reads whole months or years: a written age in months is no round number of seconds.
func calendar(noun string) func(string) (int64, error) {
	return func(text string) (int64, error) {
		rest, ok := strings.CutSuffix(strings.TrimSuffix(strings.TrimSpace(text), "s"), noun)
		n, err := strconv.ParseInt(strings.TrimSpace(rest), 10, 32)
		if !ok || err != nil || n < 0 {
			return 0, fmt.Errorf("write a whole number of %ss", noun)
		}
		return n, nil
	}
}

type step struct {
	size int64
	name string
}

// steps picks the largest unit that the value fills.
func steps(list ...step) func(int64) string {
	return func(n int64) string {
		for _, s := range list {
			if max(n, -n) >= s.size || s.size == 1 {
				return scaled(n, s.size, 3) + " " + s.name
			}
		}
		return ""
	}
}

// scaled is n/size with at most the given decimals, rounded half away from zero.
func scaled(n, size int64, decimals int) string {
	s := big.NewRat(n, size).FloatString(decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func plural(noun string) func(int64) string {
	return func(n int64) string { return words.Count(n, noun) }
}

func whole(n int64) string { return strconv.FormatInt(n, 10) }

func hoursAndMinutes(n int64) string {
	h, m := n/60, n%60
	switch {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	}
	return fmt.Sprintf("%d h %d min", h, m)
}

// Figure is the unit of a figure of two states that are compared; "" is that of one that only is there or is not.
type Figure string

// The units of figures.
const (
	FigureMass      Figure = "mg"
	FigureVolume    Figure = "ml"
	FigureEnergy    Figure = "J"
	FigurePermille  Figure = "permille"
	FigureHours     Figure = "hours"
	FigureMillidays Figure = "millidays"
	FigureDay       Figure = "day"
)

// FigureRow is what outputs need to know of the unit of a figure.
type FigureRow struct {
	Kind Figure
	// Text writes the figure, Change by how much it differs, without its sign.
	Text, Change func(unit.System, int64) string
}

// inUnits writes an amount in the units that are wanted, always in the same ones.
func inUnits(write func(words.Amounts, int64) string) func(unit.System, int64) string {
	return func(s unit.System, n int64) string { return write(words.Amounts{Units: s}, n) }
}

func always(write func(int64) string) func(unit.System, int64) string {
	return func(_ unit.System, n int64) string { return write(n) }
}

// Figures are all of them.
var Figures = []FigureRow{
	{FigureMass, inUnits(words.Amounts.Mass), inUnits(words.Amounts.Mass)},
	{FigureVolume, inUnits(words.Amounts.Volume), inUnits(words.Amounts.Volume)},
	{FigureEnergy, always(words.Energy), always(words.Energy)},
	{FigurePermille, always(permille(" %")), always(permille(" points"))},
	{FigureHours, always(hours), always(hours)},
	{FigureMillidays, always(millidays), always(millidays)},
	{FigureDay, always(func(n int64) string { return unit.Date(n).String() }), always(plural("day"))},
}

// Row is the row of a unit; its Kind is "" where there is no such unit.
func (f Figure) Row() FigureRow { return row(Figures, func(r *FigureRow) Figure { return r.Kind }, f) }

func hours(n int64) string { return fmt.Sprintf("%d h", n) }

// permille writes a share with one decimal.
func permille(after string) func(int64) string {
	return func(n int64) string { return fmt.Sprintf("%d.%d%s", n/10, n%10, after) }
}

func millidays(n int64) string { return words.Thousandths(n, "day") }

func thousandths(n int64) string { return unit.Count(n).String() }
