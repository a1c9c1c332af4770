// Package unit reads quantities as people write them and keeps them as whole
// numbers of a small base unit, so that sums are exact and do not depend on
// order, and equality is safe.
//
// A quantity is a number and a unit: "28.5 oz", "28.5oz", "1 lb 4 oz". The
// space may be a no-break one. A number is digits with at most one decimal
// point and a digit on both sides of it, or a common fraction: "1/2", "½",
// "1 1/2", "1½". Refused, each with what to write instead: a bare number, a
// decimal comma, a separator of thousands, a power of ten, a leading plus, a
// sign or word for an estimate, a range, a negative amount of anything but
// temperature, more than 24 significant digits, and more than the bound of the
// quantity, such as MaxMass. In a compound the larger unit comes first, all but
// the last number are whole, and each part is less than one of the unit before.
//
// Case matters in SI symbols, as mg is not Mg; other units and all unit words
// may be written in any case. Cups, pints and gallons are US customary ones
// unless "imp" or "imperial" precedes.
//
// Arithmetic is exact up to one rounding to the base unit, half away from zero.
// String methods round for people; sums and comparisons take the integers.
package unit

// The quantities, each a count of its base unit.
type (
	Mass        int64 // micrograms
	Volume      int64 // microlitres
	Length      int64 // micrometres
	Temperature int64 // thousandths of a degree Celsius
	Energy      int64 // joules
	Charge      int64 // microampere-hours
	Duration    int64 // seconds
	Share       int64 // millionths of one
	Count       int64 // thousandths of a piece: half a tablet is 500
	Date        int64 // days since 1970-01-01, proleptic Gregorian
	Speed       int64 // millimetres a second
	Power       int64 // milliwatts
	Clock       int64 // minutes since midnight
	Latitude    int64 // thousandths of a degree, north positive
)
