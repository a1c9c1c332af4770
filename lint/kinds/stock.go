package kinds

import (
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Stock is a kind of stock that a plan uses up.
type Stock string

// The stocks.
const (
	StockWater  Stock = "water"
	StockEnergy Stock = "energy" // food, for people in the facts and in the forecast also for an animal that eats its own
	StockSodium Stock = "sodium"
	StockLight  Stock = "light"
	StockDoses  Stock = "doses"
	StockFuel   Stock = "fuel"
	// StockAnimalFood is StockEnergy of an animal, where outputs tell it from the people's.
	StockAnimalFood Stock = "animal food"
)

// StockRow is what outputs need to know of a kind of stock.
type StockRow struct {
	Kind Stock
	// Unit is the unit of its amounts as JSON names it; Text writes an amount for people. Sodium is in milligrams on every label.
	Unit string
	Text func(unit.System, int64) string
	// Name names it in the forecast, Page on a page.
	Name, Page string
	// Told is the kind under which others hear how long it lasts, None where they hear nothing; ToldWords names it for them.
	Told      Stock
	ToldWords string
}

// Stocks are all kinds of stock, in the order in which others hear of them.
var Stocks = []StockRow{
	{StockWater, "ml", inUnits(words.Amounts.Volume), "water", "water", StockWater, "water"},
	{StockEnergy, "J", always(words.Energy), "food", "food energy", StockEnergy, "food"},
	{StockSodium, "mg", always(words.Mass), "sodium", "sodium, of food and rehydration salts", StockSodium, "sodium"},
	{StockLight, "min", always(words.Minutes), "light", "light", StockLight, "light"},
	{StockDoses, "thousandths of a dose", always(thousandths), "doses", "doses", None, None}, // medicine
	{StockFuel, "ml", inUnits(words.Amounts.Volume), "fuel, as water it boils", "fuel, as water brought to the boil", StockFuel, "fuel to boil water"},
	{StockAnimalFood, "J", always(words.Energy), "animal food", "animal food", StockEnergy, None},
}

// Row is the row of a kind; its Kind is "" where there is no such kind.
func (s Stock) Row() StockRow { return row(Stocks, func(r *StockRow) Stock { return r.Kind }, s) }

// WaterLimit is why water is short.
type WaterLimit string

// Why water is short; "" where it is not.
const (
	LimitSources WaterLimit = "sources"
	LimitVessels WaterLimit = "vessels"
	LimitTreat   WaterLimit = "treatment"
	LimitBoth    WaterLimit = "vessels and treatment"
)

// WaterLimitRow is what outputs need to know of it.
type WaterLimitRow struct {
	Kind WaterLimit
	// Words end a sentence that says why; others hear the same in Told.
	Words, Told string
	// NoVessel and NoSource stand in the place of Words where there is no vessel at all, or no water on the way; None where it
	// makes no difference.
	NoVessel, NoSource string
	// Treat says that water is left behind which nothing carried makes safe.
	Treat bool
}

// WaterLimits are all of them.
var WaterLimits = []WaterLimitRow{
	{
		LimitSources, "the water on the way comes too late or does not give enough: larger containers and more treatment do not help", "what is carried and found on the way is too little or comes too late",
		None, "what is carried is all there is: the plan names no drinkable water on the way", false,
	},
	{
		LimitVessels, "the containers are too small to reach from one water to the next; treatment keeps up", "the containers are too small, or not enough",
		"there is no container to carry it in; treatment keeps up", None, false,
	},
	{LimitTreat, "too little can be made safe, or not soon enough; the containers keep up", "too little can be made safe, or not soon enough", None, None, true},
	{
		LimitBoth, "the containers are too small and too little can be treated: either alone does not help", "the containers are too small and too little can be made safe",
		"there is no container to carry it in and too little can be treated: either alone does not help", None, true,
	},
}

// Row is the row of a kind; its Kind is "" where there is no such kind.
func (l WaterLimit) Row() WaterLimitRow {
	return row(WaterLimits, func(r *WaterLimitRow) WaterLimit { return r.Kind }, l)
}
