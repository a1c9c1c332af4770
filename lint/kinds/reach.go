package kinds

// Reach is where a compartment can be reached.
type Reach string

// The reaches.
const (
	ReachWalking Reach = "walking"
	ReachHalted  Reach = "halted"
	// ReachOnBody is what is worn; no compartment has it.
	ReachOnBody Reach = "on-body"
)

// ReachRow is what outputs need to know of a reach.
type ReachRow struct {
	Kind Reach
	// Words says it for people on a packing list; None for what is worn, which has no compartment to say it of.
	Words string
	// Compartment says that a compartment may have it.
	Compartment bool
}

// Reaches are all of them, the first to be reached first.
var Reaches = []ReachRow{{ReachOnBody, None, false}, {ReachWalking, "while walking", true}, {ReachHalted, "when halted", true}}

// Row is the row of a reach; its Kind is "" where there is no such reach.
func (r Reach) Row() ReachRow { return row(Reaches, func(r *ReachRow) Reach { return r.Kind }, r) }
