package kit

import "kitmuster/lint/unit"

// SodiumOfSalt is the sodium in a mass of table salt: 22.9898/58.443 of it, from
// the molar masses of Na and NaCl (IUPAC standard atomic weights; computed,
// 0.3934). Rounded to the microgram.
func SodiumOfSalt(salt unit.Mass) unit.Mass {
	return (salt/584430)*229898 + (salt%584430*229898+584430/2)/584430
}
