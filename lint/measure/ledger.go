package measure

import (
	"cmp"
	"slices"
	"sync"

	"kitmuster/lint/kinds"
)

// Amount is a number with what it counts, which says its base unit. Text stands instead of a number where there is none.
// The zero Amount says nothing.
type Amount struct {
	Kind  kinds.Quantity
	Value int64
	Text  string
}

// String writes the amount for people; "" where there is none.
func (a Amount) String() string {
	if a.Text != "" {
		return a.Text
	}
	if write := a.Kind.Row().Text; write != nil {
		return write(a.Value)
	}
	return ""
}

func amount[T ~int64](kind kinds.Quantity, v T) Amount { return Amount{Kind: kind, Value: int64(v)} }

func count(n int64) Amount { return Amount{Kind: kinds.QuantityCount, Value: n * 1000} }

func words(s string) Amount { return Amount{Text: s} }

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
	records []record
	once    sync.Once
	index   map[string]int32
}

// record is an entry before anybody asks for it: no text is formatted and no
// list is made until then, because most entries are never asked for.
type record struct {
	id        string
	spot, alt string // spot "": the id is the spot; alt: the second best, or ""
	what, of  string // the two halves of the label
	amount    Amount
	account   string
	inputs    func() []Input // without labels; may see only what never changes after Of
}

func (l *Ledger) add(r record) { l.records = append(l.records, r) }

func (l *Ledger) find(id string) (*record, bool) {
	l.once.Do(func() {
		l.index = make(map[string]int32, len(l.records))
		for i := range l.records {
			l.index[l.records[i].id] = int32(i)
		}
	})
	i, ok := l.index[id]
	if !ok {
		return nil, false
	}
	return &l.records[i], true
}

func (r *record) label() string {
	if r.of == "" {
		return r.what
	}
	return r.what + " " + r.of
}

// Entry answers for an ID of the facts or of another entry.
func (l *Ledger) Entry(id string) (Entry, bool) {
	r, ok := l.find(id)
	if !ok {
		return Entry{}, false
	}
	e := Entry{ID: id, Spots: []string{cmp.Or(r.spot, id)}, Label: r.label(), Amount: r.amount, Account: r.account}
	if r.alt != "" {
		e.Spots = append(e.Spots, r.alt)
	}
	if r.inputs == nil {
		return e, true
	}
	e.Inputs = r.inputs()
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
		out[i] = l.records[i].id
	}
	slices.Sort(out)
	return out
}

// listed makes the inputs function of amounts that are known already.
func listed(in []Input) func() []Input {
	return func() []Input { return slices.Clone(in) }
}
