package unit

// The bounds outside which a written quantity is taken for a slip. All are our
// own choice: wide enough for any household, its animals and its vehicles,
// and narrow enough that thousands of such lines still sum within 64 bits.
const (
	MaxMass        Mass        = 1000e9           // 1000 kg: the body of a heavy horse
	MaxVolume      Volume      = 10000e6          // 10000 L: a cistern
	MaxLength      Length      = 1000e9           // 1000 km: a long route
	MinTemperature Temperature = -100e3           // -100 °C
	MaxTemperature Temperature = 1000e3           // 1000 °C: a flame
	MaxEnergy      Energy      = 1e9              // 1 GJ: a month of food for many people
	MaxCharge      Charge      = 10000e6          // 10000 Ah: a room of batteries
	MaxDuration    Duration    = 200 * year       // 200 y
	MaxShare       Share       = 10e6             // 1000 %
	MaxCount       Count       = 1_000_000 * 1000 // a million pieces
	MaxPace        Duration    = 24 * 3600        // 24 h for one kilometre
	MaxSpeed       Speed       = 60_000           // 60 m/s: no mean wind in which anybody walks
	MaxPower       Power       = 10_000_000       // 10 kW: more than a home's socket gives
	MaxLatitude    Latitude    = 90_000           // 90 degrees: the poles, no choice of ours
)

// MaxItemMass is the mass above which a single item is taken for a slip:
// 100 kg, our own bound, more than one person can carry. ParseMass does not
// apply it, as it also reads the masses of bodies.
const MaxItemMass Mass = 100e9

// A year is the mean Gregorian year of 365.2425 days, which follows from the
// calendar's 97 leap years in 400; a month is a twelfth of it. Both are whole
// seconds.
const (
	year  = 31_556_952
	month = year / 12
)
