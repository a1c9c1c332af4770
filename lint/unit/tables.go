package unit

import (
	"math/big"
	"strings"
)

// A measure is one unit of a dimension.
type measure struct {
	symbol string
	// factor is how many base units one of it is; offset is added after.
	factor, offset *big.Rat
	exact          []string // names in which case matters: mg is not Mg
	folded         []string // names in lower case that may be written in any case
}

// A dimension is a kind of quantity with the units it is written in.
type dimension struct {
	noun     string // with its article: "a mass"
	write    string // units to suggest: "g, kg, oz or lb"
	first    string // the unit to suggest for a bare number
	sample   string // an example number for it
	compound bool   // "1 lb 4 oz" is allowed
	signed   bool
	min, max int64
	bounds   [2]string         // min and max as people write them
	hints    map[string]string // what to say after a name in lower case
	units    []measure

	exact, folded map[string]*measure
}

func (d *dimension) name() string {
	_, n, _ := strings.Cut(d.noun, " ")
	return n
}

func (d *dimension) example() string { return quote(d.sample + " " + d.first) }

// smaller is the unit that people write after one of the symbol, or nothing.
func smaller(symbol string) string {
	switch symbol {
	case "lb":
		return "oz"
	case "ft":
		return "in"
	case "gal":
		return "qt"
	case "h":
		return "min"
	case "y":
		return "months"
	}
	return ""
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("unit: bad factor " + s)
	}
	return r
}

func unitOf(symbol, factor string, exact, folded []string) measure {
	return measure{symbol: symbol, factor: rat(factor), exact: exact, folded: folded}
}

func (d dimension) index() *dimension {
	d.exact, d.folded = map[string]*measure{}, map[string]*measure{}
	for i := range d.units {
		u := &d.units[i]
		for _, n := range u.exact {
			d.exact[n] = u
		}
		for _, n := range u.folded {
			d.folded[n] = u
		}
	}
	return &d
}

func (d *dimension) lookup(name string) *measure {
	if u := d.exact[name]; u != nil {
		return u
	}
	return d.folded[strings.ToLower(name)]
}

func names(n ...string) []string { return n }

// prefixed returns every name after every prefix.
func prefixed(prefixes []string, n ...string) []string {
	var all []string
	for _, p := range prefixes {
		for _, s := range n {
			all = append(all, p+s)
		}
	}
	return all
}

var (
	us  = names("", "us ", "u.s. ")
	imp = names("imp ", "imp. ", "imperial ")
)

// The pound is 0.45359237 kg exactly: NIST SP 811 (2008), footnote 22; the
// ounce is a sixteenth of it.
var massDim = dimension{
	noun: "a mass", write: "g, kg, oz or lb", first: "g", sample: "28.5", compound: true,
	max: int64(MaxMass), bounds: [2]string{"", "1000 kg"},
	hints: map[string]string{
		"gr":     `can be read as gram or as grain: write g`,
		"t":      `is not read: write a large mass in kg`,
		"ton":    `has several sizes: write kg or lb`,
		"tons":   `has several sizes: write kg or lb`,
		"tonne":  `is not read: write a large mass in kg`,
		"tonnes": `is not read: write a large mass in kg`,
		"st":     `is not read: write lb, 14 to the stone, or kg`,
		"stone":  `is not read: write lb, 14 to the stone, or kg`,
	},
	units: []measure{
		unitOf("g", "1000000", names("g"), names("gram", "grams", "gramme", "grammes")),
		unitOf("kg", "1000000000", names("kg", "kgs"), names("kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes")),
		unitOf("oz", "453592370/16", nil, names("oz", "ounce", "ounces")),
		unitOf("lb", "453592370", nil, names("lb", "lbs", "pound", "pounds")),
		unitOf("mg", "1000", names("mg"), names("milligram", "milligrams")),
		unitOf("µg", "1", names("µg", "ug", "mcg"), names("microgram", "micrograms")),
	},
}.index()

// The US gallon is 231 cubic inches, 3.785411784 L exactly: NIST Handbook 44
// (2024), App. C. Its quart, pint, cup, fluid ounce, tablespoon and teaspoon
// are a 4th, 8th, 16th, 128th, 256th and 768th. The imperial gallon is
// 4.54609 L exactly: NIST SP 811 (2008), App. B.8; its fluid ounce is a 160th.
var volumeDim = dimension{
	noun: "a volume", write: "ml, L, fl oz, cup, pt, qt or gal", first: "ml", sample: "750", compound: true,
	max: int64(MaxVolume), bounds: [2]string{"", "10000 L"},
	hints: map[string]string{
		"oz":        `is a unit of mass: for a volume write fl oz`,
		"ounce":     `is a unit of mass: for a volume write fl oz`,
		"ounces":    `is a unit of mass: for a volume write fl oz`,
		"cc":        `is not read: write ml, which is the same`,
		"t":         `can be read as teaspoon or as tablespoon: write tsp or tbsp`,
		"c":         `is not read: write cup`,
		"uk gal":    `is not read: write imp gal for the imperial gallon`,
		"uk gallon": `is not read: write imp gal for the imperial gallon`,
		"uk pint":   `is not read: write imp pt for the imperial pint`,
		"uk fl oz":  `is not read: write imp fl oz for the imperial fluid ounce`,
	},
	units: []measure{
		unitOf("ml", "1000", names("ml", "mL"), names("milliliter", "milliliters", "millilitre", "millilitres")),
		unitOf("cl", "10000", names("cl", "cL"), names("centiliter", "centiliters", "centilitre", "centilitres")),
		unitOf("dl", "100000", names("dl", "dL"), names("deciliter", "deciliters", "decilitre", "decilitres")),
		unitOf("L", "1000000", names("l", "L"), names("liter", "liters", "litre", "litres")),
		unitOf("fl oz", "3785411784/128000", nil, prefixed(us, "fl oz", "fl. oz.", "fl.oz.", "floz", "fluid ounce", "fluid ounces")),
		unitOf("cup", "3785411784/16000", nil, prefixed(us, "cup", "cups")),
		unitOf("pt", "3785411784/8000", nil, prefixed(us, "pt", "pint", "pints")),
		unitOf("qt", "3785411784/4000", nil, prefixed(us, "qt", "quart", "quarts")),
		unitOf("gal", "3785411784/1000", nil, prefixed(us, "gal", "gallon", "gallons")),
		unitOf("tbsp", "3785411784/256000", nil, prefixed(us, "tbsp", "tablespoon", "tablespoons")),
		unitOf("tsp", "3785411784/768000", nil, prefixed(us, "tsp", "teaspoon", "teaspoons")),
		unitOf("imp fl oz", "4546090/160", nil, prefixed(imp, "fl oz", "fl. oz.", "fl.oz.", "floz", "fluid ounce", "fluid ounces")),
		unitOf("imp pt", "4546090/8", nil, prefixed(imp, "pt", "pint", "pints")),
		unitOf("imp qt", "4546090/4", nil, prefixed(imp, "qt", "quart", "quarts")),
		unitOf("imp gal", "4546090", nil, prefixed(imp, "gal", "gallon", "gallons")),
	},
}.index()

// The inch is 25.4 mm exactly, the foot 12 in, the yard 3 ft, the mile
// 5280 ft: NIST SP 811 (2008), App. B.8.
var lengthDim = dimension{
	noun: "a length", write: "mm, cm, m, km, in, ft, yd or mi", first: "m", sample: "850", compound: true,
	max: int64(MaxLength), bounds: [2]string{"", "1000 km"},
	units: []measure{
		unitOf("mm", "1000", names("mm"), names("millimeter", "millimeters", "millimetre", "millimetres")),
		unitOf("cm", "10000", names("cm"), names("centimeter", "centimeters", "centimetre", "centimetres")),
		unitOf("m", "1000000", names("m"), names("meter", "meters", "metre", "metres")),
		unitOf("km", "1000000000", names("km"), names("kilometer", "kilometers", "kilometre", "kilometres")),
		unitOf("in", "25400", names(`"`, "″", "”"), names("in", "inch", "inches")),
		unitOf("ft", "304800", names("'", "′", "’"), names("ft", "foot", "feet")),
		unitOf("yd", "914400", nil, names("yd", "yds", "yard", "yards")),
		unitOf("mi", "1609344000", nil, names("mi", "mile", "miles")),
	},
}.index()

// t/°C = (t/°F - 32)/1.8 and t/°C = T/K - 273.15, both exact: NIST SP 811
// (2008), App. B.8.
var temperatureDim = dimension{
	noun: "a temperature", write: "°C, °F or K", first: "°C", sample: "21", signed: true,
	min: int64(MinTemperature), max: int64(MaxTemperature), bounds: [2]string{"-100 °C", "1000 °C"},
	hints: map[string]string{"°k": `is not read, as the kelvin has no degree sign: write K`},
	units: []measure{
		{"°C", rat("1000"), nil, names("C", "°C", "° C", "℃"),
			names("degc", "deg c", "degree c", "degrees c", "celsius", "degree celsius", "degrees celsius")},
		{"°F", rat("5000/9"), rat("-160000/9"), names("F", "°F", "° F", "℉"),
			names("degf", "deg f", "degree f", "degrees f", "fahrenheit", "degree fahrenheit", "degrees fahrenheit")},
		{"K", rat("1000"), rat("-273150"), names("K"), names("kelvin")},
	},
}.index()

// The calorie is the thermochemical one, 4.184 J exactly: NIST SP 811 (2008),
// App. B.8.
var energyDim = dimension{
	noun: "an energy", write: "kcal, kJ or Wh", first: "kcal", sample: "2100",
	max: int64(MaxEnergy), bounds: [2]string{"", "1 GJ"},
	hints: map[string]string{
		"calorie":  `can be read as cal or as kcal: food labels mean kcal`,
		"calories": `can be read as cal or as kcal: food labels mean kcal`,
		"cal":      `can be read as cal or as kcal: food labels mean kcal`,
	},
	units: []measure{
		unitOf("kcal", "4184", names("kcal", "Cal"), names("kilocalorie", "kilocalories")),
		unitOf("kJ", "1000", names("kJ"), names("kilojoule", "kilojoules")),
		unitOf("Wh", "3600", names("Wh", "W h"), names("watt-hour", "watt-hours", "watt hour", "watt hours")),
		unitOf("mWh", "3600/1000", names("mWh", "mW h"), names("milliwatt-hour", "milliwatt-hours")),
		unitOf("kWh", "3600000", names("kWh", "kW h"), names("kilowatt-hour", "kilowatt-hours", "kilowatt hour", "kilowatt hours")),
		unitOf("J", "1", names("J"), names("joule", "joules")),
		unitOf("MJ", "1000000", names("MJ"), names("megajoule", "megajoules")),
	},
}.index()

var chargeDim = dimension{
	noun: "a charge", write: "mAh or Ah", first: "mAh", sample: "2500",
	max: int64(MaxCharge), bounds: [2]string{"", "10000 Ah"},
	units: []measure{
		unitOf("mAh", "1000", names("mAh", "mA h"), names("milliampere-hour", "milliampere-hours")),
		unitOf("Ah", "1000000", names("Ah", "A h"), names("ampere-hour", "ampere-hours", "amp-hour", "amp-hours")),
	},
}.index()

var durationDim = dimension{
	noun: "a duration", write: "s, min, h, d, weeks, months or y", first: "h", sample: "72", compound: true,
	max: int64(MaxDuration), bounds: [2]string{"", "200 y"},
	hints: map[string]string{
		"m":  `is a unit of length: for minutes write min`,
		"'":  `is not a unit of duration: for minutes write min`,
		`"`:  `is not a unit of duration: for seconds write s`,
		"mn": `is not a unit of duration: for minutes write min`,
	},
	units: []measure{
		unitOf("s", "1", names("s"), names("sec", "secs", "second", "seconds")),
		unitOf("min", "60", nil, names("min", "mins", "minute", "minutes")),
		unitOf("h", "3600", names("h"), names("hr", "hrs", "hour", "hours")),
		unitOf("d", "86400", names("d"), names("day", "days")),
		unitOf("weeks", "604800", nil, names("wk", "wks", "week", "weeks")),
		unitOf("months", "2629746", nil, names("mo", "month", "months")),
		unitOf("y", "31556952", names("y"), names("yr", "yrs", "year", "years")),
	},
}.index()

var shareDim = dimension{
	noun: "a share", write: "% or ‰", first: "%", sample: "15",
	max: int64(MaxShare), bounds: [2]string{"", "1000 %"},
	units: []measure{
		unitOf("%", "10000", names("%"), names("percent", "per cent", "pct")),
		unitOf("‰", "1000", names("‰"), names("permille", "per mille")),
	},
}.index()

var countDim = dimension{
	noun: "a count", sample: "2",
	max: int64(MaxCount), bounds: [2]string{"", "1000000"},
}.index()

// The factors follow from the kilometre, the mile and the hour. ParsePace reads
// speeds with it too, without its bound.
var speedDim = dimension{
	noun: "a speed", write: "km/h, m/s or mph", first: "km/h", sample: "5",
	max: int64(MaxSpeed), bounds: [2]string{"", "60 m/s"},
	hints: map[string]string{
		"kn":    `is not read: write km/h, 1.852 to the knot`,
		"kt":    `is not read: write km/h, 1.852 to the knot`,
		"kts":   `is not read: write km/h, 1.852 to the knot`,
		"knot":  `is not read: write km/h, 1.852 to the knot`,
		"knots": `is not read: write km/h, 1.852 to the knot`,
		"bft":   `is a step of a scale, not a speed: write km/h, m/s or mph`,
	},
	units: []measure{
		unitOf("km/h", "1000000/3600", nil, names("km/h", "km / h", "km per h", "km per hour", "kph", "kmh")),
		unitOf("m/s", "1000", names("m/s", "m / s"), names("m per s", "metres per second", "meters per second")),
		unitOf("mph", "1609344/3600", nil, names("mph", "mi/h", "mi / h", "miles per hour")),
	},
}.index()

var powerDim = dimension{
	noun: "a power", write: "W or kW", first: "W", sample: "40",
	max: int64(MaxPower), bounds: [2]string{"", "10 kW"},
	hints: map[string]string{"hp": `is not read: write W, about 746 to the horsepower`},
	units: []measure{
		unitOf("W", "1000", names("W"), names("watt", "watts")),
		unitOf("kW", "1000000", names("kW"), names("kilowatt", "kilowatts")),
		unitOf("mW", "1", names("mW"), names("milliwatt", "milliwatts")),
	},
}.index()

// Beside "/km" minutes are meant, and kilometres beside "/h".
var (
	paceTimeDim     = durationDim.with("12", "min")
	paceDistanceDim = lengthDim.with("5", "km")
)

func (d dimension) with(sample, first string) *dimension {
	d.sample, d.first = sample, first
	return &d
}

// dimensions are the ones a unit can be mistaken for.
var dimensions = []*dimension{
	massDim, volumeDim, lengthDim, temperatureDim, energyDim, chargeDim, durationDim, shareDim, speedDim, powerDim,
}
