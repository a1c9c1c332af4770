package load

import (
	"cmp"
	"slices"

	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/lint/wire"
)

// A household as it was read depends on its files alone, and on no day. So it can be kept, and needs no evaluation as long as these
// are the same. Where a spot was written takes the evaluated files to find out, and few spots are ever asked for: those that were are
// kept too, and for another the household is read again.

// Placed is a spot that was asked for, and where it is written.
type Placed struct {
	Spot string
	source.Place
}

// form is what is kept of a household.
type form struct {
	Kit    kit.Household
	Faults []Fault
}

// Keep writes down what was read; nil where the household could not be read.
func (l *Loaded) Keep() []byte {
	if l.Kit == nil {
		return nil
	}
	return wire.Append(nil, &form{*l.Kit, l.Faults})
}

// Kept is a household as it was kept by the same program, with the places that are known of it; again reads it from its files for any
// other. The error says that the bytes are not whole.
func Kept(b []byte, places []Placed, again func() *Loaded) (*Loaded, error) {
	var f form
	if err := wire.Read(b, &f); err != nil {
		return nil, err
	}
	l := &Loaded{Kit: &f.Kit, Faults: f.Faults, asked: make(map[string]source.Place, len(places)), again: again}
	for _, p := range places {
		l.asked[p.Spot] = p.Place
	}
	return l, nil
}

// Places lists the spots that Locate has answered for and those that were known before, in order.
func (l *Loaded) Places() []Placed {
	out := make([]Placed, 0, len(l.asked))
	for spot, p := range l.asked {
		out = append(out, Placed{spot, p})
	}
	slices.SortFunc(out, func(a, b Placed) int { return cmp.Compare(a.Spot, b.Spot) })
	return out
}
