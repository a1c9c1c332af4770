package kinds

import "kitmuster/lint/unit"

// Quantity is what a number counts, and so the base unit that it is in.
type Quantity string

// The quantities.
const (
	QuantityMass        Quantity = "mass"
	QuantityVolume      Quantity = "volume"
	QuantityEnergy      Quantity = "energy" // as food
	QuantityStored      Quantity = "stored" // energy as in a battery
	QuantityLength      Quantity = "length"
	QuantityDuration    Quantity = "duration"
	QuantityTemperature Quantity = "temperature"
	QuantityShare       Quantity = "share"
	QuantityDate        Quantity = "date"
	QuantityCount       Quantity = "count"
)

// QuantityRow is what outputs need to know of a quantity.
type QuantityRow struct {
	Kind Quantity
	// Base is the unit that it is counted in.
	Base string
	// Text writes so many of it for people who think in a system of units.
	Text func(unit.System, int64) string
}

// Quantities are all of them.
var Quantities = []QuantityRow{
	{QuantityMass, "micrograms", func(s unit.System, n int64) string { return s.Mass(unit.Mass(n)) }},
	{QuantityVolume, "microlitres", func(s unit.System, n int64) string { return s.Volume(unit.Volume(n)) }},
	{QuantityEnergy, "joules", func(_ unit.System, n int64) string { return unit.Energy(n).String() }},
	{QuantityStored, "joules", func(_ unit.System, n int64) string { return unit.Energy(n).WattHours() }},
	{QuantityLength, "micrometres", func(s unit.System, n int64) string { return s.Length(unit.Length(n)) }},
	{QuantityDuration, "seconds", func(_ unit.System, n int64) string { return unit.Duration(n).String() }},
	{QuantityTemperature, "thousandths of a degree Celsius", func(s unit.System, n int64) string { return s.Temperature(unit.Temperature(n)) }},
	{QuantityShare, "millionths of one", func(_ unit.System, n int64) string { return unit.Share(n).String() }},
	{QuantityDate, "days since 1970-01-01", func(_ unit.System, n int64) string { return unit.Date(n).String() }},
	{QuantityCount, "thousandths", func(_ unit.System, n int64) string { return unit.Count(n).String() }},
}

// Row is the row of a quantity; its Kind is "" where there is no such quantity.
func (q Quantity) Row() QuantityRow {
	return row(Quantities, func(r *QuantityRow) Quantity { return r.Kind }, q)
}
