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
	// Text writes so many of it for people.
	Text func(int64) string
}

// Quantities are all of them.
var Quantities = []QuantityRow{
	{QuantityMass, "micrograms", func(n int64) string { return unit.Mass(n).String() }},
	{QuantityVolume, "microlitres", func(n int64) string { return unit.Volume(n).String() }},
	{QuantityEnergy, "joules", func(n int64) string { return unit.Energy(n).String() }},
	{QuantityStored, "joules", func(n int64) string { return unit.Energy(n).WattHours() }},
	{QuantityLength, "micrometres", func(n int64) string { return unit.Length(n).String() }},
	{QuantityDuration, "seconds", func(n int64) string { return unit.Duration(n).String() }},
	{QuantityTemperature, "thousandths of a degree Celsius", func(n int64) string { return unit.Temperature(n).String() }},
	{QuantityShare, "millionths of one", func(n int64) string { return unit.Share(n).String() }},
	{QuantityDate, "days since 1970-01-01", func(n int64) string { return unit.Date(n).String() }},
	{QuantityCount, "thousandths", func(n int64) string { return unit.Count(n).String() }},
}

// Row is the row of a quantity; its Kind is "" where there is no such quantity.
func (q Quantity) Row() QuantityRow {
	return row(Quantities, func(r *QuantityRow) Quantity { return r.Kind }, q)
}
