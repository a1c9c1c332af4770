package lint

import (
	"fmt"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
)

// Answer is an outcome whose findings are counted and packed: as it goes through
// pipes, lies in files and waits for its turn among ten thousand others.
type Answer struct {
	Household finding.Household
	Summary   finding.Summary
	Faults    []judge.Problem
	// Packed holds the sorted findings in CBOR (RFC 8949).
	Packed []byte
	// Extra holds what a product made, packed.
	Extra    []byte
	Standing household.Standing
	// Reads is all that was read for it, where that is known; Recalled says that the household itself was known, from Job.Known.
	Reads    []repo.Read
	Recalled bool
	// Kept is what there is to be kept for another day, of which no output is made.
	Kept Kept
}

// Pack sorts, bounds, counts and packs.
func Pack(o household.Outcome) Answer {
	bound(&o)
	a := Answer{Household: o.Household, Faults: o.Faults, Standing: o.Standing}
	if o.Extra != nil {
		if a.Extra = packed(o.Extra); len(a.Extra) > mostExtra {
			text := fmt.Sprintf("what there is to show of this household has %d MiB, and at most %d MiB are shown; look for a list, template or comprehension that multiplies itself", len(a.Extra)>>20, mostExtra>>20)
			o.Findings = finding.Sort(append(o.Findings, household.InputFinding(load.Fault{Rule: "input/too-much", Spot: "household", Message: text, At: o.At}, o.Household.Name, o.Household.Path)))
			a.Extra, o.Household.Judged, a.Household.Judged = nil, false, false
		}
	}
	a.Summary.Household(&o.Household)
	a.pack(o.Findings)
	return a
}

// pack counts findings and packs them.
func (a *Answer) pack(fs []finding.Finding) {
	for i := range fs {
		a.Summary.Finding(&fs[i])
	}
	if len(fs) == 0 {
		return
	}
	a.Packed = packed(fs)
}

func packed(v any) []byte {
	b, err := cbor.Marshal(v)
	if err != nil {
		panic(err) // plain values always pack
	}
	return b
}

// Trend is the household's line in an audit. Commit and Day are left to who asked.
func (a *Answer) Trend() finding.Trend {
	s := &a.Summary
	t := finding.Trend{
		Path: a.Household.Path, There: true, Judged: a.Household.Judged && len(a.Faults) == 0,
		Errors: s.Errors, Warnings: s.Warnings, Notes: s.Notes, Waived: s.Waived,
	}
	if x := &a.Standing; t.Judged {
		t.LoadPermille, t.WaterHours, t.WaterKnown, t.PlanHours = x.LoadPermille, x.WaterHours, x.WaterKnown, x.PlanHours
	}
	return t
}

// mostElements is how many elements one list may have that is unpacked. Our own figure, far above what fits into an answer.
const mostElements = 1 << 20

// Findings unpacks; the error says that the packed bytes are not whole.
func (a *Answer) Findings() ([]finding.Finding, error) { return unpack(a.Packed) }

func unpack(b []byte) (fs []finding.Finding, err error) {
	if len(b) == 0 {
		return nil, nil
	}
	err = Packing.Unmarshal(b, &fs)
	return fs, err
}

// Packing unpacks what was packed. It takes text as it is: a name made of bytes need not be
// UTF-8, and one such name must not make everything unreadable.
var Packing = func() cbor.DecMode {
	m, err := cbor.DecOptions{UTF8: cbor.UTF8DecodeInvalid, MaxArrayElements: mostElements, MaxMapPairs: mostElements}.DecMode()
	if err != nil {
		panic(err) // the options are constant
	}
	return m
}()
