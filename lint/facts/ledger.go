package facts

import (
	"cmp"
	"slices"
	"sync"

	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
)

// Amount is a number with what it counts, which says its base unit. Text stands instead of a number where there is none.
// The zero Amount says nothing.
type Amount struct {
	Kind  kinds.Quantity
	Value int64
	Text  string
	// Least: a part is not known, so it is at least so much.
	Least bool
}

// String writes the amount for people; "" where there is none.
func (a Amount) String() string { return a.In(unit.Metric) }

// In writes the amount for people in a system of units; "" where there is none.
func (a Amount) In(units unit.System) string {
	if a.Text != "" {
		return a.Text
	}
	if write := a.Kind.Row().Text; write != nil {
		write := func(n int64) string { return write(units, n) }
		switch {
		case a.Least && a.Value == 0 && a.Kind == kinds.QuantityMass:
			return "mass not recorded"
		case a.Least && a.Value == 0:
			return "not recorded"
		case a.Least:
			return "at least " + write(a.Value)
		}
		return write(a.Value)
	}
	return ""
}

// AmountOf is a number of a kind.
func AmountOf[T ~int64](kind kinds.Quantity, v T) Amount { return Amount{Kind: kind, Value: int64(v)} }

// AtLeast is the amount, which is only at least so much where a part of it is not known.
func (a Amount) AtLeast(least bool) Amount {
	a.Least = least
	return a
}

// CountOf is so many whole things.
func CountOf(n int64) Amount { return Amount{Kind: kinds.QuantityCount, Value: n * 1000} }

// TextOf is what is no number.
func TextOf(s string) Amount { return Amount{Text: s} }

// Entry is one thing or number that a person may ask about.
type Entry struct {
	ID string
	// Spots are where its words stand in the kit, best first. Not every one needs
	// to be written: the loader's locator answers with the entry around it.
	Spots  []string
	Label  string // such as "load of Ana"
	Amount Amount // zero for a thing that is no number
	// Account says in one line how the number was made, with the source of any
	// published figure; "" where the family wrote the number.
	Account string
	// Inputs are what the number was made of, heaviest first, ties by ID.
	Inputs []Input
}

// AmountText is the amount for people; "" where there is none.
func (e Entry) AmountText() string { return e.Amount.String() }

// Input is what one entry gives to another; ID is its own entry.
type Input struct {
	ID     string
	Label  string
	Amount Amount
}

// AmountText is the amount for people; "" where there is none.
func (i Input) AmountText() string { return i.Amount.String() }

// Ledger knows of every number how it was made and where its words stand. It
// may be used by several goroutines at once.
type Ledger struct {
	records []Posting
	once    sync.Once
	index   map[string]int32
}

// Posting is an entry before anyone asks for it: no text is formatted and no
// list is made until then, because most entries are never asked for.
type Posting struct {
	ID        string
	Spot, Alt string // Spot "" means that the ID is the spot; Alt is the second best, or ""
	What, Of  string // the two halves of the label
	Amount    Amount
	Account   string
	Inputs    func() []Input // without labels; may see only what never changes after Of
}

// Add posts to the ledger; nothing may be added once an entry was asked for.
func (l *Ledger) Add(r Posting) { l.records = append(l.records, r) }

// Grow makes room for so many postings.
func (l *Ledger) Grow(n int) { l.records = slices.Grow(l.records, n) }

func (l *Ledger) find(id string) (*Posting, bool) {
	l.once.Do(func() {
		l.index = make(map[string]int32, len(l.records))
		for i := range l.records {
			l.index[l.records[i].ID] = int32(i)
		}
	})
	i, ok := l.index[id]
	if !ok {
		return nil, false
	}
	return &l.records[i], true
}

func (r *Posting) label() string {
	if r.Of == "" {
		return r.What
	}
	return r.What + " " + r.Of
}

// Entry answers for an ID of the facts or of another entry.
func (l *Ledger) Entry(id string) (Entry, bool) {
	r, ok := l.find(id)
	if !ok {
		return Entry{}, false
	}
	e := Entry{ID: id, Spots: []string{cmp.Or(r.Spot, id)}, Label: r.label(), Amount: r.Amount, Account: r.Account}
	if r.Alt != "" {
		e.Spots = append(e.Spots, r.Alt)
	}
	if r.Inputs == nil {
		return e, true
	}
	e.Inputs = r.Inputs()
	for i := range e.Inputs {
		if in, ok := l.find(e.Inputs[i].ID); ok {
			e.Inputs[i].Label = in.label()
		}
	}
	slices.SortFunc(e.Inputs, func(a, b Input) int {
		return cmp.Or(cmp.Compare(b.Amount.Value, a.Amount.Value), cmp.Compare(a.ID, b.ID))
	})
	return e, true
}

// IDs lists all entries, sorted.
func (l *Ledger) IDs() []string {
	out := make([]string, len(l.records))
	for i := range l.records {
		out[i] = l.records[i].ID
	}
	slices.Sort(out)
	return out
}

// Listed makes the inputs of amounts that are known already.
func Listed(in []Input) func() []Input {
	return func() []Input { return slices.Clone(in) }
}
