package finding

import "kitmuster/lint/kinds"

// Stock is how long a stock lasts, as outputs tell it. A drill tells no amounts, an audit no LostMin, and others hear of Kind,
// Known and Lasts alone.
type Stock struct {
	Kind kinds.Stock `json:"kind"`
	// Of names whose or what it is, "" where it is everyone's; Name is that of a medication.
	Of   string `json:"of,omitempty"`
	Name string `json:"name,omitempty"`
	// Known is whether what the plan asks is.
	Known bool `json:"known"`
	// Lasts is whole hours until it is first short, the plan's hours where it never is.
	Lasts int64 `json:"lasts_hours"`
	Have  int64 `json:"have,omitempty"`
	Need  int64 `json:"need,omitempty"`
	Short int64 `json:"short,omitempty"`
	// Past is what of Have is food past its date, and Good how many whole hours the rest lasts; an audit tells them of food alone.
	Past int64 `json:"past,omitempty"`
	// Least: there may be more, which is not recorded, so it lasts at least so long; Unrecorded: nothing of it is recorded.
	Least      bool  `json:"least,omitempty"`
	Unrecorded bool  `json:"unrecorded,omitempty"`
	Good       int64 `json:"lasts_good_hours,omitempty"`
	// LostMin is how many minutes less than as it is; of what lasts to the end of the plan as it is, how many less than to the end
	// of this one.
	LostMin int64 `cbor:"lost" json:"-"`
}
